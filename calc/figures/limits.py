"""A ceiling and the reason for it: the lowest of several is the one that binds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limit:
    """A ceiling in the unit of what it limits, and what sets it, in the pilot's words ("the label on the pack")."""

    ceiling: float
    because: str


def lowest(limits: Sequence[Limit]) -> Limit:
    """Return the limit that binds: the one with the lowest ceiling, and the first named where two are equal.

    >>> lowest([Limit(5.0, "the charger"), Limit(2.6, "the label")]).because
    'the label'
    """
    return min(limits, key=lambda limit: limit.ceiling)
