"""Minutes in the words of a clock: hours for what takes long, seconds for what is set on a timer."""

from __future__ import annotations

from calc.figures.quantities import HOURS, MINUTES, SECONDS, Figure
from calc.figures.units import h_from_min, min_from_h, min_from_s, s_from_min


def in_hours(time_min: float) -> str:
    """Return minutes as hours and minutes, rounded to the minute.

    >>> in_hours(150.4).replace("\\u00a0", " ")
    '2 h 30 min'
    """
    whole_min = round(time_min)
    hours = int(h_from_min(whole_min))
    if hours == 0:
        return str(Figure(whole_min, MINUTES))
    return f"{Figure(hours, HOURS.to_step(1))} {Figure(whole_min - min_from_h(hours), MINUTES)}"


def on_a_timer(time_min: float) -> str:
    """Return minutes as minutes and seconds, as a timer is set. A half minute as a decimal might be dialled in as five seconds.

    >>> on_a_timer(6.5).replace("\\u00a0", " ")
    '6 min 30 s'
    """
    seconds = round(s_from_min(time_min))
    whole_min = int(min_from_s(seconds))
    return f"{Figure(whole_min, MINUTES)} {Figure(seconds - s_from_min(whole_min), SECONDS)}"
