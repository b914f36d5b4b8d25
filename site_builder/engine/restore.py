"""What a Python that wakes from a snapshot has to do anew: the snapshot is the same on every phone and at every start."""

from __future__ import annotations

import random


def renew() -> None:
    """Take fresh numbers for `random`, or every start would draw the same ones.

    The clock needs nothing: `time` and `datetime` ask the phone each time. Only `time.tzname` and its like stay as the build
    had them, UTC, and nothing here reads them.
    """
    random.seed()
