"""Where the solver's optima lie: packs left out, cost and last minute of each day and evening, as OR-Tools 9.15 found and proved them."""

from __future__ import annotations

from pathlib import Path

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

FROZEN = Path(__file__).with_name("optima.csv")
FROZEN_EVENINGS = Path(__file__).with_name("optima_of_evenings.csv")
FROZEN_UNLIKE_DAYS = Path(__file__).with_name("optima_of_unlike_days.csv")
FROZEN_SUPPLIED_DAYS = Path(__file__).with_name("optima_of_supplied_days.csv")
FROZEN_SINGLE_DAYS = Path(__file__).with_name("optima_of_single_days.csv")

# Each set: how many, what draws one from its number, and where its optima lie.
ALL = (
    (DAYS, day, FROZEN),
    (EVENINGS, evening, FROZEN_EVENINGS),
    (UNLIKE_DAYS, unlike_day, FROZEN_UNLIKE_DAYS),
    (SUPPLIED_DAYS, supplied_day, FROZEN_SUPPLIED_DAYS),
    (SINGLE_DAYS, single_day, FROZEN_SINGLE_DAYS),
)
