"""Where a pack is to be left, and whether it is there already."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.readings import Reading
from calc.physics.storing import Goal, cutoff_cell_v, is_for_storage, storage_target_cell_v


def _at(cell_v: float) -> Reading:
    return Reading(pack_v=cell_v, cell_v=(cell_v,), each_cell=True)


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_the_target_lies_in_the_band(key: str) -> None:
    assert is_for_storage(CHEMISTRIES[key], _at(storage_target_cell_v(CHEMISTRIES[key])))


@pytest.mark.parametrize("cell_v, left_alone", [(3.77, False), (3.78, True), (3.87, True), (3.88, False)])
def test_two_hundredths_of_a_volt_beside_the_band_are_the_meter_s(cell_v: float, left_alone: bool) -> None:
    assert is_for_storage(CHEMISTRIES["lipo"], _at(cell_v)) is left_alone


def test_the_careful_cutoff_is_above_the_maker_s() -> None:
    for chemistry in CHEMISTRIES.values():
        assert cutoff_cell_v(Goal.CAREFUL_CUTOFF, chemistry) > cutoff_cell_v(Goal.MAKER_CUTOFF, chemistry)
