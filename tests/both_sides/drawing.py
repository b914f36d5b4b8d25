"""Draws entries for the questions to both sides, and prints them as JSON: `python -m tests.both_sides.drawing`.

It runs in a process of its own: hypothesis puts the constants of every module that is loaded among what it draws, so beside other tests
it would draw other entries.
"""

from __future__ import annotations

import json

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.strategies import SearchStrategy

from tests.properties.typed_entries import KEYS, Entries, charges, nearly_charges

SOUND, SPOILT = 60, 20  # drawn for each calculator


def drawn(strategy: SearchStrategy[Entries], count: int) -> list[Entries]:
    """Return what is drawn for all calculators, the same in every run."""
    found: list[Entries] = []

    @settings(
        derandomize=True,
        database=None,
        deadline=None,
        max_examples=count * len(KEYS),
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(strategy)
    def draw(entries: Entries) -> None:
        found.append(entries)

    draw()
    return found


if __name__ == "__main__":
    print(json.dumps([drawn(charges(), SOUND), drawn(nearly_charges(), SPOILT)]))
