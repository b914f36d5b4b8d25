"""The way to storage and to a cutoff, on numbers that can be followed by hand."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.limits import Limit
from calc.inputs.equipment import PackEntries
from calc.physics.cell.cells import state_at, stored_wh_per_ah
from calc.rules.charge.charge_outlook import pack_cell_resistance_ohm
from calc.rules.pack.readings import clear_reading
from calc.rules.storage.storage_moves import Dial, Move, to_cutoff, to_storage

_LIMIT = Limit(1.0, "the charger")


def _pack(**changes: object) -> PackEntries:
    entries = {"chemistry": "lipo", "cells": 3, "capacity_mah": 2000, "resting_v": (12.6,), "pack_degc": 25, "label_charge_rate_c": 1}
    return PackEntries(**(entries | changes))


def _dial(current_a: float = 1.0, power_w: float | None = None) -> Dial:
    return Dial(current_a, _LIMIT, (_LIMIT,), None if power_w is None else Limit(power_w, "the charger's power"))


def _moved(**changes: object) -> Move:
    dial, band = changes.pop("dial", _dial()), changes.pop("band", (3.80, 3.85))
    goes_up = changes.pop("goes_up", False)
    pack = _pack(**changes)
    return to_storage(pack, clear_reading(pack, CHEMISTRIES[pack.chemistry]), band, dial, goes_up=goes_up)


def _cut_off(cutoff_cell_v: float, **changes: object) -> Move:
    dial = changes.pop("dial", _dial())
    pack = _pack(**changes)
    return to_cutoff(pack, clear_reading(pack, CHEMISTRIES[pack.chemistry]), cutoff_cell_v, dial)


def test_the_energy_is_the_charge_at_a_voltage_between_start_and_end() -> None:
    move = _moved()
    assert 3.7 * 3 < move.energy_wh.likely / move.charge_ah.likely < 4.2 * 3
    assert move.energy_wh.least <= move.energy_wh.likely <= move.energy_wh.most


def test_the_mean_current_moves_the_charge_in_the_time() -> None:
    move = _moved(dial=_dial(power_w=6.0))
    assert move.current_a.likely * move.time_min.likely / 60 == pytest.approx(move.charge_ah.likely, rel=1e-3)
    assert move.is_held_by_power


def test_power_that_is_never_asked_for_holds_nothing() -> None:
    assert not _moved(dial=_dial(power_w=100.0)).is_held_by_power
    assert not _moved().is_held_by_power


def test_the_power_is_that_of_the_charger_over_the_whole_way() -> None:
    # 6 W at 12.6 V is 0.476 A; it grows as the voltage falls.
    move = _moved(dial=_dial(power_w=6.0))
    assert 6.0 / 12.6 <= move.current_a.least < move.current_a.most < 6.0 / (3 * 3.7)


def test_a_pack_that_shows_the_cutoff_at_once_gives_nothing() -> None:
    move = _cut_off(3.2, resting_v=(9.63,), cell_resistance_mohm=50, dial=_dial(2.0))
    assert move.charge_ah.likely == move.time_min.likely == 0
    assert move.current_a.likely == 2.0


def test_the_bounds_of_a_cutoff_hold_the_likely_course() -> None:
    move = _cut_off(3.2)
    for span in (move.charge_ah, move.energy_wh, move.time_min, move.rests_cell_v):
        assert span.least <= span.likely <= span.most


def test_the_lowest_cell_ends_a_discharge_to_storage_and_the_highest_a_charge() -> None:
    level, uneven = _moved(resting_v=(4.1, 4.1, 4.1)), _moved(resting_v=(4.2, 4.2, 4.1))
    assert uneven.count.charge_ah == pytest.approx(level.count.charge_ah)
    up, uneven_up = _moved(resting_v=(3.7, 3.7, 3.7), goes_up=True), _moved(resting_v=(3.6, 3.6, 3.7), goes_up=True)
    assert uneven_up.count.charge_ah == pytest.approx(up.count.charge_ah)


def test_the_count_leaves_the_cells_as_far_apart_in_charge_as_they_were() -> None:
    count = _moved(resting_v=(4.2, 4.15, 4.1)).count
    assert 4.1 > count.rests_cell_v[0] > count.rests_cell_v[1] > count.rests_cell_v[2] > 3.80
    up = _moved(resting_v=(3.6, 3.65, 3.7), goes_up=True).count
    assert 3.6 < up.rests_cell_v[0] < up.rests_cell_v[1] < up.rests_cell_v[2] < 3.85
    assert up.rests_cell_v[2] > 3.7


def test_the_pack_shows_the_sum_of_its_cells_less_what_each_loses() -> None:
    # 5 mΩ as read count 10 mΩ most likely over a whole discharge: 1 A loses 10 mV in each of three cells.
    count = _moved(resting_v=(4.2, 4.15, 4.1), cell_resistance_mohm=5).count
    assert count.shows_pack_v.likely == pytest.approx(sum(count.rests_cell_v) - 3 * 0.010, abs=1e-3)
    assert count.shows_cell_v.likely == pytest.approx(min(count.rests_cell_v) - 0.010, abs=1e-3)


def test_a_cell_that_shows_the_end_of_the_band_at_once_rests_where_it_is() -> None:
    move = _moved(resting_v=(3.9, 3.9, 3.88), cell_resistance_mohm=100, dial=_dial(2.0))
    assert move.rests_cell_v.most == 3.88


def test_other_cells_that_stand_higher_make_a_power_bound_discharge_to_a_cutoff_slower() -> None:
    level = _cut_off(3.2, resting_v=(4.0, 4.0, 4.0), dial=_dial(power_w=6.0))
    uneven = _cut_off(3.2, resting_v=(4.2, 4.2, 4.0), dial=_dial(power_w=6.0))
    assert uneven.time_min.likely > level.time_min.likely and uneven.time_min.most > level.time_min.most
    assert uneven.time_min.least == pytest.approx(level.time_min.least)


def test_the_ends_of_a_cutoff_are_a_low_reading_behind_the_most_resistance_and_a_high_one_behind_the_least() -> None:
    table = CHEMISTRIES["lipo"].resting
    off_v, ohm = table.reading_error_v.value, pack_cell_resistance_ohm(_pack(cell_resistance_mohm=10))
    # 1 A out of 2 Ah from 3.90 V at rest until a cell shows 3.20 V.
    given_ah = [
        2.0 * (state_at(curve.cell_v, 3.9 + off) - state_at(curve.cell_v, 3.2 + cell_ohm))
        for curve in table.curves
        for off, cell_ohm in ((-off_v, ohm.most), (off_v, ohm.least))
    ]
    move = _cut_off(3.2, resting_v=(3.9, 3.9, 3.9), cell_resistance_mohm=10)
    assert (move.charge_ah.least, move.charge_ah.most) == pytest.approx((min(given_ah), max(given_ah)))


def test_power_flows_out_of_all_cells_and_not_as_if_each_were_the_lowest() -> None:
    move = _moved(resting_v=(4.2, 4.2, 4.0), dial=_dial(power_w=6.0))
    assert move.current_a.least == pytest.approx(6.0 / 12.4, rel=0.01)


def test_a_cutoff_goes_down_and_its_energy_is_the_charge_at_the_voltage_of_the_whole_pack() -> None:
    move = _cut_off(3.2)
    assert move.goes_up is False
    assert 3 * 3.2 < move.energy_wh.likely / move.charge_ah.likely < 3 * 4.2


def test_a_full_cell_gives_no_more_than_its_capacity_whatever_its_meter_shows() -> None:
    # A tenth of a milliohm loses nothing, so what is left is what the curve has below the cutoff.
    move = _cut_off(3.2, resting_v=(4.2, 4.2, 4.2), cell_resistance_mohm=0.1)
    assert move.charge_ah.most <= 2.0 * (1 - min(state_at(curve.cell_v, 3.2) for curve in CHEMISTRIES["lipo"].resting.curves)) + 1e-9


def test_the_power_carries_off_the_energy_of_all_cells_in_the_time_at_either_end_of_a_cutoff() -> None:
    level, uneven = (
        _cut_off(3.2, resting_v=cells, cell_resistance_mohm=0.1, dial=_dial(power_w=2.0)) for cells in ((3.8, 3.8, 3.8), (4.2, 4.2, 3.8))
    )
    # Cells alike: what leaves the terminals is the power times the time.
    assert level.energy_wh.least == pytest.approx(2.0 * level.time_min.least / 60, rel=1e-6)
    assert level.energy_wh.most == pytest.approx(2.0 * level.time_min.most / 60, rel=1e-6)
    # Cells that stand higher give the same charge at a higher voltage, which no course may forget at its slow end.
    all_wh = []
    for curve in CHEMISTRIES["lipo"].resting.curves:
        states = [min(state_at(curve.cell_v, cell_v), 1.0) for cell_v in (4.2, 4.2, 3.8)]
        given = states[2] - state_at(curve.cell_v, 3.2)
        all_wh.append(2.0 * sum(stored_wh_per_ah(curve.cell_v, state - given, state) for state in states))
    assert uneven.time_min.most / 60 * 2.0 > max(all_wh)
    assert level.time_min.most / 60 * 2.0 < max(all_wh)


def test_the_whole_way_is_that_of_the_cell_that_ends_it_to_the_middle_of_the_band() -> None:
    curve = CHEMISTRIES["lipo"].resting.likely.cell_v
    down, up = _moved(resting_v=(4.1, 4.2, 4.2)), _moved(resting_v=(3.6, 3.6, 3.7), goes_up=True)
    assert down.charge_ah.likely == pytest.approx(2.0 * (state_at(curve, 4.1) - state_at(curve, 3.825)))
    assert up.charge_ah.likely == pytest.approx(2.0 * (state_at(curve, 3.825) - state_at(curve, 3.7)))


# 1 A through a cell that a meter gives 50 mΩ: 0.1 V most likely.
def test_on_the_way_up_the_terminals_show_more_than_the_cells_rest_at() -> None:
    ohm = pack_cell_resistance_ohm(_pack(cell_resistance_mohm=50))
    move = _moved(resting_v=(3.5, 3.5, 3.6), cell_resistance_mohm=50, goes_up=True)
    highest_v, mean_v = max(move.count.rests_cell_v), sum(move.count.rests_cell_v) / 3
    assert move.count.shows_cell_v.likely == pytest.approx(highest_v + ohm.likely)
    assert move.count.shows_pack_v.likely == pytest.approx(3 * (mean_v + ohm.likely))
    # Stopped as soon as its highest cell shows the end of the band, it rests that much lower.
    assert move.rests_cell_v.likely == pytest.approx(3.85 - ohm.likely)
    assert move.energy_wh.most == pytest.approx(move.charge_ah.most * 3 * (3.825 + ohm.most))
    assert move.energy_wh.least == pytest.approx(move.charge_ah.least * 3 * 3.5)


def test_a_cell_that_shows_the_end_of_the_band_at_once_on_the_way_up_rests_where_it_is_too() -> None:
    assert _moved(resting_v=(3.5, 3.5, 3.82), cell_resistance_mohm=50, goes_up=True).rests_cell_v.least == 3.82


@pytest.mark.parametrize("capacity_mah", [500, 10_000])
def test_a_count_is_short_where_a_cell_could_pass_the_band_and_else_goes_to_its_middle(capacity_mah: float) -> None:
    # Lithium-ion has a band that is wide beside what its curves differ by; that of lithium-polymer is narrow.
    wide = _moved(chemistry="liion", band=(3.67, 3.84), resting_v=(3.94, 3.94, 3.94), capacity_mah=capacity_mah)
    assert (wide.count.charge_ah, wide.count.is_short) == (pytest.approx(wide.charge_ah.likely), False)
    narrow = _moved(resting_v=(4.1, 4.1, 4.1), capacity_mah=capacity_mah)
    assert narrow.count.charge_ah < narrow.charge_ah.likely and narrow.count.is_short


def test_a_count_of_nothing_to_where_the_cells_are_is_not_short() -> None:
    count = _moved(resting_v=(3.82, 3.82, 3.82)).count
    assert (count.charge_ah, count.is_short) == (0, False)
