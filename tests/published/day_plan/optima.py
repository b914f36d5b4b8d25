"""Where the solver's optima lie: packs left out, cost and last minute of each day and evening, as OR-Tools 9.15 found and proved them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from calc.rules.plan.day import Bench, Lot
from tests.published.day_plan.days import (
    DAYS,
    EVENINGS,
    SINGLE_DAYS,
    SUPPLIED_DAYS,
    UNLIKE_DAYS,
    day,
    evening,
    single_day,
    supplied_day,
    unlike_day,
)


class Solved(NamedTuple):
    """A set of days that the solver has solved: how many, what draws one from its number, and where its optima lie."""

    count: int
    draw: Callable[[int], tuple[Bench, list[Lot]]]
    file: Path

    def each(self) -> list[tuple[Bench, list[Lot]]]:
        """The days, in order of their numbers."""
        return [self.draw(number) for number in range(self.count)]


HERE = Path(__file__).parent
ALIKE = Solved(DAYS, day, HERE / "optima.csv")
EVENING = Solved(EVENINGS, evening, HERE / "optima_of_evenings.csv")
UNLIKE = Solved(UNLIKE_DAYS, unlike_day, HERE / "optima_of_unlike_days.csv")
SUPPLIED = Solved(SUPPLIED_DAYS, supplied_day, HERE / "optima_of_supplied_days.csv")
SINGLE = Solved(SINGLE_DAYS, single_day, HERE / "optima_of_single_days.csv")
ALL = (ALIKE, EVENING, UNLIKE, SUPPLIED, SINGLE)
