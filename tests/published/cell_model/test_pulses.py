"""Packs that are joined meet the resistance of the first seconds: the published pulses of each kind, and what its packs have at least."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from tests.published.cell_model.reference import SETS

# The kinds as which each set is charged in the other tests of this folder.
_PULSES = sorted(
    (kind, name)
    for name, one in SETS.items()
    for kind in {one["chemistry"], *(("liion",) if "liion_ohm_ah" in one else ()), *(("lihv",) if one["chemistry"] == "lipo" else ())}
)


@pytest.mark.parametrize(("kind", "name"), _PULSES)
def test_no_published_cell_has_less_in_the_first_seconds_than_the_least_of_its_kind(kind: str, name: str) -> None:
    assert CHEMISTRIES[kind].resistance_class_ohm_ah.least.value <= SETS[name]["pulse_ohm_ah"]
