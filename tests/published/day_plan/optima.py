"""Where the solver's optima lie: packs left out, cost and last minute of each day and evening, as OR-Tools 9.15 found and proved them."""

from __future__ import annotations

from pathlib import Path

FROZEN = Path(__file__).with_name("optima.csv")
FROZEN_EVENINGS = Path(__file__).with_name("optima_of_evenings.csv")
FROZEN_UNLIKE_DAYS = Path(__file__).with_name("optima_of_unlike_days.csv")
FROZEN_SUPPLIED_DAYS = Path(__file__).with_name("optima_of_supplied_days.csv")
FROZEN_SINGLE_DAYS = Path(__file__).with_name("optima_of_single_days.csv")
