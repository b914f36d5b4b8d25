"""A reading that is clear is passed on, however bad; one that can mean two things is sent back."""

from __future__ import annotations

import pytest

from calc.asking.refusals import Refused
from calc.facts.chemistries import CHEMISTRIES
from calc.physics.readings import Reading, cell_name, clear_reading, counts_in_words, is_above_full, is_below_floor
from tests.units.calc.sound_charge import given

LIPO = CHEMISTRIES["lipo"]


def _reading(**changes: str) -> Reading:
    return clear_reading(given(**changes), LIPO)


def test_a_dead_cell_among_good_ones_is_read_and_not_refused() -> None:
    assert _reading(resting_v="3.80 1.20 3.81").lowest_cell_v == 1.2


def test_an_overcharged_cell_is_read_and_not_refused() -> None:
    assert _reading(resting_v="4.20 4.40 4.20").highest_cell_v == 4.4


def test_a_pack_s_voltage_that_does_not_fit_its_count_is_sent_back() -> None:
    with pytest.raises(Refused):
        _reading(cells="3", resting_v="16.8")


def test_30_millivolts_are_a_spread_of_30_millivolts() -> None:
    reading = _reading(resting_v="3.80 3.83 3.81")
    assert reading.spread_v == 0.03
    assert not reading.is_uneven


def test_a_cell_is_called_by_its_number_where_there_are_several() -> None:
    assert cell_name(_reading(resting_v="3.8 3.8 3.8"), 3) == "Cell 3"
    assert cell_name(_reading(resting_v="11.4"), 1) == "The mean cell"
    assert cell_name(_reading(cells="1", resting_v="3.8"), 1) == "The cell"


def test_at_its_floor_a_cell_is_not_below_it_and_at_full_it_is_not_above() -> None:
    assert not is_below_floor(3.00, LIPO) and is_below_floor(2.99, LIPO)
    assert not is_above_full(4.20, LIPO) and is_above_full(4.23, LIPO)


def test_cell_counts_are_told_with_the_voltage_of_one_and_a_single_cell_is_one_cell() -> None:
    assert counts_in_words([1], 4.2) == "1 cell at 4.20 V each"
    assert counts_in_words([2, 3, 4], 12.0) == "2 cells at 6.00 V each, 3 cells at 4.00 V each or 4 cells at 3.00 V each"
