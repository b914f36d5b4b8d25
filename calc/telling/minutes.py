"""Spans of minutes, ready to be shown."""

from __future__ import annotations

from calc.figures.quantities import MINUTES, Figure
from calc.figures.showing import Range
from calc.figures.spans import Span
from calc.physics.charge_outlook import Outlook


def minutes_range(minutes: Span, because: str, note: str = "") -> Range:
    """Return a span of minutes, ready to be shown.

    Args:
        minutes: min.
        because: what the width comes from.
        note: what else is to be said.

    Returns:
        The range.

    Source: none; no number is involved.

    >>> minutes_range(Span(28, 49, 58), "the state of charge").likely.number
    '49'
    """
    return Range(
        least=Figure(minutes.least, MINUTES),
        likely=Figure(minutes.likely, MINUTES),
        most=Figure(minutes.most, MINUTES),
        because=because,
        note=note,
    )


def balancing_range(outlook: Outlook) -> Range | None:
    """Return the minutes of balancing, ready to be shown, or nothing where the balance current is not known.

    Args:
        outlook: the charge to come.

    Returns:
        The range.

    Source: common practice, no source, for how far the cells of a healthy pack differ.

    >>> balancing_range.__name__
    'balancing_range'
    """
    if outlook.balancing is None:
        return None
    return Range(
        least=Figure(outlook.balancing.least, MINUTES),
        most=Figure(outlook.balancing.most, MINUTES),
        because="how far the cells differ is not known; up to 5 % of the capacity (common practice, no source)",
        note="A full charge at 1C with balancing takes 80 to 90 min by common practice; the charge alone is often over sooner.",
    )
