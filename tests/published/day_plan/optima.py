"""Where the solver's optima lie: packs left out, cost and last minute of each day, as OR-Tools 9.15 found and proved them."""

from __future__ import annotations

from pathlib import Path

FROZEN = Path(__file__).with_name("optima.csv")
