"""A reading that is clear is passed on, however bad; one that can mean two things is sent back."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.refusals import Refused
from calc.physics.pack.packs import cell_counts_that_fit
from calc.rules.pack.readings import Reading, cell_name, clear_reading, counts_in_words, is_above_full, is_below_floor
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


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_two_hundredths_above_full_is_what_a_meter_may_be_off_and_three_is_above(key: str) -> None:
    full_hundredths = round(CHEMISTRIES[key].full_cell_v.value * 100)
    assert [is_above_full((full_hundredths + more) / 100, CHEMISTRIES[key]) for more in (2, 3)] == [False, True]


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


def test_a_voltage_that_no_cell_can_have_is_sent_back_and_one_that_is_only_wrong_is_read() -> None:
    assert _reading(resting_v="3.8 3.8 6.0").highest_cell_v == 6.0
    with pytest.raises(Refused) as refused:
        _reading(resting_v="3.8 3.8 6.1")
    (problem,) = refused.value.problems
    assert (problem.field, problem.sentence) == (
        "resting_v",
        "Cell 3 cannot rest at 6.1 V: enter one voltage for each cell, or the whole pack's.",
    )


@pytest.mark.parametrize(
    ("cells", "reading", "sentence"),
    [
        (
            "3", "3.8",
            "3.8 V is what one cell can have: enter all 3 cells, or the whole pack's voltage. If the whole pack reads this, do not charge it.",
        ),
        ("3", "5", "5 V fits no pack of this chemistry. Check the reading and the chemistry; do not charge it."),
        (
            "3", "16.8",
            ("16.8 V does not fit 3 cells: it fits 4 cells at 4.20 V each or 5 cells at 3.36 V each. Count the balance plug's wires, less one. If "
            "the count is right, it is above its full voltage: do not charge it."),
        ),
        (
            "4", "11.4",
            ("11.4 V does not fit 4 cells: it fits 3 cells at 3.80 V each. Count the balance plug's wires, less one. If the count is right, its cells "
            "are below their floor: do not charge it."),
        ),
    ],
)  # fmt: skip
def test_a_whole_pack_s_voltage_that_cannot_be_is_told_why_and_where_help_is(cells: str, reading: str, sentence: str) -> None:
    with pytest.raises(Refused) as refused:
        _reading(cells=cells, resting_v=reading)
    (problem,) = refused.value.problems
    assert (problem.field, problem.sentence, problem.go_to) == ("resting_v", sentence, "pack-in-trouble")


@pytest.mark.parametrize(("reading", "is_one_cell"), [("3.0", True), ("4.25", True), ("2.99", False), ("4.26", False)])
def test_one_cell_s_voltage_lies_between_its_floor_and_its_upper_limit(reading: str, is_one_cell: bool) -> None:
    with pytest.raises(Refused) as refused:
        _reading(cells="2", resting_v=reading)
    assert ("what one cell can have" in refused.value.problems[0].sentence) is is_one_cell


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_two_hundredths_of_a_volt_above_full_are_the_meter_s_and_three_are_not(key: str) -> None:
    # As typed: 4.35 + 0.02 is a little less than 4.37 in the last bit.
    full_v = CHEMISTRIES[key].full_cell_v.value
    assert not is_above_full(round(full_v + 0.02, 2), CHEMISTRIES[key])
    assert is_above_full(round(full_v + 0.03, 2), CHEMISTRIES[key])
    assert 6 in cell_counts_that_fit(CHEMISTRIES[key], round(6 * (full_v + 0.02), 2))
