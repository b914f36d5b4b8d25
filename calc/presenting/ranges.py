"""Spans, ready to be shown as ranges."""

from __future__ import annotations

from calc.figures.quantities import HOURS, MILLIAMPERE_HOURS, MINUTES, Figure, Quantity
from calc.figures.showing import Range
from calc.figures.spans import Span
from calc.figures.units import h_from_min, mah_from_ah
from calc.rules.charge.charge_outlook import STATE_UNSURE, Outlook


def range_of(span: Span, quantity: Quantity, because: str, note: str = "") -> Range:
    """Return a span in the quantity's unit as a range with its most likely value."""
    return Range(
        least=Figure(span.least, quantity),
        likely=Figure(span.likely, quantity),
        most=Figure(span.most, quantity),
        because=because,
        note=note,
    )


def ends_of(span: Span, quantity: Quantity, because: str, note: str = "") -> Range:
    """Return a span in the quantity's unit as a range by its two ends alone."""
    return Range(least=Figure(span.least, quantity), most=Figure(span.most, quantity), because=because, note=note)


def minutes_range(minutes: Span, because: str, note: str = "") -> Range:
    """Return a span of minutes as a range."""
    return range_of(minutes, MINUTES, because, note)


def minutes_or_hours(minutes: Span, because: str, note: str = "") -> Range:
    """Return a span of minutes as a range: in hours where it may last longer than two.

    >>> str(minutes_or_hours(Span(180, 300, 500), "the voltage").most).replace(chr(160), " ")
    '8.3 h'
    """
    if h_from_min(minutes.most) <= 2:
        return minutes_range(minutes, because, note)
    return range_of(Span(*(h_from_min(end) for end in (minutes.least, minutes.likely, minutes.most))), HOURS, because, note)


def charge_put_in(outlook: Outlook, note: str = "") -> Range:
    """Return the charge that goes into the pack, by its two ends."""
    return ends_of(outlook.charge_in_ah.times(mah_from_ah(1)), MILLIAMPERE_HOURS, STATE_UNSURE, note)


def balancing_range(outlook: Outlook) -> Range | None:
    """Return the minutes of balancing, or None where the balance current is not known, or there is but one cell."""
    if outlook.balancing is None or outlook.balancing.most == 0:
        return None
    return ends_of(
        outlook.balancing,
        MINUTES,
        "voltages hardly show how far apart cells are in charge; up to 5 % of the capacity (common practice, no source)",
        "A full charge at 1C with balancing takes 80 to 90 min by common practice; the charge alone is often over sooner.",
    )
