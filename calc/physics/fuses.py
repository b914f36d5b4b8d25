"""The fuse in a supply lead."""

from __future__ import annotations

from calc.facts.fuses import FUSE_OVER_LOAD


def fuse_carries_a(rating_a: float) -> float:
    """Return the current that a fuse carries hour after hour: I = rating / 1.25.

    Args:
        rating_a: the number on the fuse, A, above 0.

    Returns:
        A.

    Source: NEC 210.20(A).

    >>> fuse_carries_a(25)
    20.0
    """
    return rating_a / FUSE_OVER_LOAD.value
