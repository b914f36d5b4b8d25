"""An hour of a planned day: a time of day where it is known when the day begins, else the time from the start."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import CLOCK, DAYS, HOURS, Figure
from calc.figures.units import h_from_min, min_from_h
from calc.presenting.clock import in_hours


@dataclass(frozen=True, slots=True)
class DayClock:
    """Where the day begins, in minutes since midnight, or None."""

    start_min: float | None

    def at(self, time_min: float) -> str:
        """Return the hour so many minutes after the start, and how many days later where it was that hour once before.

        >>> DayClock(540).at(65), DayClock(None).at(65).replace("\\u00a0", " ")
        ('10:05', '1 h 5 min after the start')
        """
        if self.start_min is None:
            return f"{in_hours(time_min)} after the start" if time_min else "the start"
        hour = self.hour(time_min)
        days = time_min // min_from_h(24)
        return f"{hour}, {Figure(days, DAYS)} later" if days else hour

    def hour(self, time_min: float) -> str:
        """Return the hour alone, for the axis of a picture.

        >>> DayClock(540).hour(90), DayClock(None).hour(120).replace("\\u00a0", " "), DayClock(None).hour(90).replace("\\u00a0", " ")
        ('10:30', '2 h', '1 h 30 min')
        """
        if self.start_min is not None:
            return Figure((self.start_min + time_min) % min_from_h(24), CLOCK).number
        hours = h_from_min(time_min)
        if not hours:
            return "start"
        return str(Figure(hours, HOURS.to_step(1))) if hours == int(hours) else in_hours(time_min)
