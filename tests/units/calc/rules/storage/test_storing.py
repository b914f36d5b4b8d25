"""Where a pack is to be left, and whether it is there already."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.calculators import storage
from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.entries import read
from calc.inputs.equipment import PackEntries
from calc.inputs.refusals import Problem, Refused
from calc.rules.pack.readings import Reading
from calc.rules.storage.storing import Goal, StoragePlan, Way, cutoff_of, loaded_limit, storage_plan, storage_target_cell_v, way_to_storage
from tests.units.calc.sound_charge import ENTRIES


def _at(cell_v: float) -> Reading:
    return Reading(pack_v=cell_v, cell_v=(cell_v,), each_cell=True)


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_the_target_lies_in_the_band(key: str) -> None:
    assert way_to_storage(CHEMISTRIES[key], key, _at(storage_target_cell_v(CHEMISTRIES[key]))) is Way.LEAVE


@pytest.mark.parametrize("cell_v, left_alone", [(3.77, False), (3.78, True), (3.86, True), (3.87, False)])
def test_two_hundredths_of_a_volt_beside_the_band_are_the_meter_s(cell_v: float, left_alone: bool) -> None:
    assert (way_to_storage(CHEMISTRIES["lipo"], "lipo", _at(cell_v)) is Way.LEAVE) is left_alone


def test_the_careful_cutoff_is_above_the_maker_s() -> None:
    for chemistry in CHEMISTRIES.values():
        assert cutoff_of(Goal.CAREFUL_CUTOFF, chemistry).value > cutoff_of(Goal.MAKER_CUTOFF, chemistry).value


# Six cells of 5 Ah that are full, on a charger that discharges with 5 A and 500 W.
FULL = {
    "cells": "6", "capacity_mah": "5000", "resting_v": "4.2 4.2 4.2 4.2 4.2 4.2", "discharge_current_a": "5", "discharge_power_w": "500",
}  # fmt: skip
LOW = {"resting_v": "3.6 3.6 3.6 3.6 3.6 3.6"}


def _plan(goal: Goal = Goal.STORAGE, requested_rate_c: float = 1, **changes: str) -> StoragePlan:
    one = read(storage.Inputs, ENTRIES | {"goal": "storage"} | FULL | changes)
    return storage_plan(pack=one, charger=one, supply=one, goal=goal, requested_rate_c=requested_rate_c)


def _problems(goal: Goal = Goal.STORAGE, **changes: str) -> list[tuple[str, bool]]:
    with pytest.raises(Refused) as refused:
        _plan(goal, **changes)
    return [(problem.field, problem.missing) for problem in refused.value.problems]


def test_a_full_pack_goes_down_and_a_low_one_up_each_by_its_own_limits() -> None:
    down, up = _plan(), _plan(**LOW)
    assert (down.way, down.move.goes_up, up.way, up.move.goes_up) == (Way.DISCHARGE, False, Way.CHARGE, True)
    assert (down.move.stop_cell_v, up.move.stop_cell_v) == (3.80, 3.84)
    assert [limit.because for limit in down.move.dial.limits] == ["the charger's highest discharge current", "the rate you asked for"]
    assert down.move.dial.power.because == "the charger's highest discharge power"
    assert up.move.dial.limits[0].because == "the charge rate on the label" and up.move.dial.power is None


def test_a_charger_whose_discharge_is_not_known_is_asked_for_it_as_missing() -> None:
    with pytest.raises(Refused) as refused:
        _plan(discharge_current_a="")
    sentence = (
        "Enter the charger's highest discharge current: it is on its label. If it cannot discharge, fly the charge out instead, or use a "
        "charger that can."
    )
    assert refused.value.problems == (Problem("discharge_current_a", sentence, missing=True),)


@pytest.mark.parametrize("cells", [FULL["resting_v"], LOW["resting_v"]])
def test_a_pack_too_small_for_a_step_of_the_charger_is_told_so_on_both_ways(cells: str) -> None:
    assert _problems(capacity_mah="50", resting_v=cells) == [("capacity_mah", False)]


def test_what_speaks_against_pack_charger_supply_and_warmth_is_told_at_once() -> None:
    every = {"look": "swollen", "pack_degc": "50", "charger_cells": "4", "supply_v": "9"}
    assert [field for field, _ in _problems(**every)] == ["look", "pack_degc", "cells", "supply_v"]


def test_a_pack_of_unknown_kind_is_told_that_and_what_else_does_not_fit() -> None:
    assert [field for field, _ in _problems(chemistry="unknown", supply_v="9")] == ["chemistry", "supply_v"]


@pytest.mark.parametrize(("cells", "pack_degc"), [(LOW["resting_v"], "0"), ("3.70 3.90 3.82 3.82 3.82 3.82", "45")])
def test_a_charge_and_a_balancing_keep_to_the_window_of_a_charge(cells: str, pack_degc: str) -> None:
    assert _problems(resting_v=cells, pack_degc=pack_degc) == [("pack_degc", False)]


@pytest.mark.parametrize(("goal", "cutoff_v"), [(Goal.CAREFUL_CUTOFF, 3.2), (Goal.MAKER_CUTOFF, 3.0)])
def test_a_pack_with_one_cell_at_the_cutoff_stays_as_it_is(goal: Goal, cutoff_v: float) -> None:
    low_v = cutoff_v + 0.01
    above, at = (_plan(goal, resting_v=f"{cell_v:.2f} " + " ".join([f"{low_v:.2f}"] * 5)) for cell_v in (low_v, cutoff_v))
    assert (above.way, at.way, at.move) == (Way.DISCHARGE, Way.LEAVE, None)
    assert above.move.stop_cell_v == cutoff_v


@pytest.mark.parametrize(("goal", "shows"), [(Goal.CAREFUL_CUTOFF, "3.20"), (Goal.MAKER_CUTOFF, "3.00")])
def test_the_current_is_held_below_that_which_shows_the_chosen_cutoff_at_once(goal: Goal, shows: str) -> None:
    # 100 mΩ of each cell lose 0.5 V with the 5 A of the charger: more than lies between 3.6 V and either cutoff.
    limits = _plan(goal, **LOW, cell_resistance_mohm="100").move.dial.limits
    assert str(limits[-1].because).replace("\u00a0", " ") == f"the lowest cell, which would show {shows} V at once with more"


def test_uneven_cells_that_would_move_less_than_a_step_are_balanced() -> None:
    # A tenth of an ampere-hour or so is left between the lowest cell and the band's end; the dial has steps of 1000 mAh.
    uneven = {"resting_v": "3.90 3.90 3.90 3.90 3.90 3.86"}
    assert _plan(**uneven).way is Way.DISCHARGE
    coarse = _plan(**uneven, capacity_step_mah="1000")
    assert (coarse.way, coarse.move) == (Way.BALANCE, None)
    even = _plan(resting_v="3.90 3.90 3.90 3.90 3.90 3.90", capacity_step_mah="1000")
    assert even.way is Way.DISCHARGE


@pytest.mark.parametrize(
    ("cells", "way"),
    [
        ((3.82, 3.82), Way.LEAVE), ((3.89, 3.88), Way.DISCHARGE), ((3.77, 3.76), Way.CHARGE), ((3.77, 3.88), Way.BALANCE),
        ((3.88, 3.80), Way.BALANCE), ((3.77, 3.84), Way.BALANCE), ((3.77, 3.81), Way.CHARGE), ((3.88, 3.84), Way.DISCHARGE),
    ],
)  # fmt: skip
def test_every_cell_has_a_say_in_the_way(cells: tuple[float, ...], way: Way) -> None:
    assert way_to_storage(CHEMISTRIES["lipo"], "lipo", Reading(pack_v=sum(cells), cell_v=cells, each_cell=True)) is way


# A cell that a meter gives 10 milliohm has 20 over a whole discharge: it shows what lies 0.05 V off with 2.5 A.
_MEASURED = PackEntries(
    chemistry="lipo", cells=2, capacity_mah=5000, resting_v=(3.85, 4.0), pack_degc=25, label_charge_rate_c=1, cell_resistance_mohm=10
)


@pytest.mark.parametrize(
    "cell_v, stop_v, goes_up, ceiling_a", [((3.85, 4.0), 3.80, False, 2.5), ((3.5, 3.80), 3.85, True, 2.5), ((3.8, 4.0), 3.80, False, 0.0)]
)
def test_the_cell_that_ends_the_way_limits_the_current_by_its_room_and_its_resistance(
    cell_v: tuple[float, ...], stop_v: float, goes_up: bool, ceiling_a: float
) -> None:
    reading = Reading(pack_v=sum(cell_v), cell_v=cell_v, each_cell=True)
    assert loaded_limit(_MEASURED, reading, stop_v, goes_up=goes_up).ceiling == pytest.approx(ceiling_a)


@pytest.mark.parametrize(
    ("goes_up", "each_cell", "which"),
    [(True, True, "highest cell"), (False, True, "lowest cell"), (True, False, "mean of the cells"), (False, False, "mean of the cells")],
)
def test_the_current_is_held_in_the_name_of_the_cell_that_ends_the_way_or_of_their_mean(goes_up: bool, each_cell: bool, which: str) -> None:
    limit = loaded_limit(_MEASURED, Reading(pack_v=7.64, cell_v=(3.82, 3.82), each_cell=each_cell), 3.83, goes_up=goes_up)
    assert limit.because.replace("\u00a0", " ") == f"the {which}, which would show 3.83 V at once with more"


def test_the_way_up_keeps_to_what_the_supply_can_give() -> None:
    # 2 A at 13.8 V and 85 % are 23 W or so, which are 0.9 A at the 25.2 V of six full cells.
    assert _plan(**LOW, supply_current_a="2").move.dial.current_a == pytest.approx(0.9, abs=0.05)


def test_a_reading_beyond_the_resting_curve_has_the_room_of_the_end_of_the_curve() -> None:
    # 20 mΩ most likely: 0.35 V of room are 17.5 A.
    pack = replace(_MEASURED, chemistry="life")
    curve = CHEMISTRIES["life"].resting.likely.cell_v
    for cell_v, stop_v, goes_up in ((curve[0] - 0.1, curve[0] + 0.35, True), (curve[-1] + 0.1, curve[-1] - 0.35, False)):
        reading = Reading(pack_v=2 * cell_v, cell_v=(cell_v, cell_v), each_cell=True)
        assert loaded_limit(pack, reading, stop_v, goes_up=goes_up).ceiling == pytest.approx(17.5)


def test_a_reading_above_the_resting_curve_gives_no_more_room_than_the_curve() -> None:
    # Iron phosphate just off the charger reads 3.6 V, and sinks to its curve as soon as a current flows.
    pack = replace(_MEASURED, chemistry="life")
    just_charged, rested = (
        loaded_limit(pack, Reading(pack_v=2 * v, cell_v=(v, v), each_cell=True), 3.25, goes_up=False).ceiling
        for v in (3.6, CHEMISTRIES["life"].resting.likely.cell_v[-1])
    )
    assert just_charged == pytest.approx(rested)
