"""A discharge on a straight line, and the way to the storage voltage."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.physics.cell.cells import Cell
from calc.physics.cell.charging import Charge
from calc.physics.cell.discharging import Discharge, Storage, discharge, storage
from tests.units.calc.physics.cell.steps_of_time import discharged_in_steps

_STRAIGHT = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
_ENERGY_CELL = Span(0.17, 0.17, 0.17)


def _discharge(**given: object) -> Discharge:
    return discharge(_STRAIGHT, **({"start_state": 1.0, "current_a": 5.0, "cutoff_cell_v": 3.8} | given))


def _storage(**given: object) -> Storage:
    pack = {"resting_cell_v": 4.2, "target_cell_v": 3.82, "capacity_ah": 2.46632, "current_a": 1.23316}
    return storage("lipo", **(pack | {"resistance_ohm_ah": _ENERGY_CELL} | given))


def test_a_discharge_ends_when_the_terminals_show_the_cut_off() -> None:
    # 3.8 V under 5 A is 3.9 V at rest: half full, after half an hour.
    done = _discharge()
    assert done.time_min == pytest.approx(30.0)
    assert done.end_state == pytest.approx(0.5)


def test_power_binds_first_and_the_set_current_later() -> None:
    # 20 W at 5 A is 4.0 V at the terminals: 4.1 V at rest, 83 % full; from there 20 minutes to half full.
    done = _discharge(power_w_per_cell=20.0)
    assert done.constant_current_min == pytest.approx(20.0, rel=1e-5)
    assert done.constant_power_min > 10.0
    assert done.peak_power_w == pytest.approx(20.0)


def test_power_that_is_never_asked_for_changes_nothing() -> None:
    assert _discharge(power_w_per_cell=20.5 + 1e-9) == _discharge()


def test_more_power_than_the_cell_can_give_does_not_bind() -> None:
    assert _discharge(power_w_per_cell=10_000.0) == _discharge()


def test_a_cell_at_its_cut_off_takes_no_time() -> None:
    assert _discharge(start_state=0.4).time_min == 0


def test_the_energy_out_and_the_heat_are_what_the_cell_gave() -> None:
    # Mean resting voltage 4.05 V over 2.5 Ah; 25 A^2 through 20 mohm for half an hour.
    done = _discharge()
    assert done.heat_wh == pytest.approx(0.25)
    assert done.energy_out_wh + done.heat_wh == pytest.approx(4.05 * 2.5)


def test_a_count_may_end_a_discharge() -> None:
    assert _discharge(until_state=0.9).time_min == pytest.approx(6.0)


# A full run of the published pouch set, 0.5 C from 4.2 V: 43.3 % to move, 51.9 min by count; stopped by the terminals it
# rests at 3.90 V, and from 3.5 V up at 3.74 V.
def test_the_way_down_to_storage_is_that_of_the_published_set() -> None:
    way = _storage()
    assert not way.charges
    assert way.time_min.likely == pytest.approx(51.9, rel=0.01)
    assert way.capacity_ah.likely / 2.46632 == pytest.approx(0.433, rel=0.01)
    # Stopped when they show 3.82 V it rests as much above.
    assert 3.82 + way.lost_cell_v.likely == pytest.approx(3.90, abs=0.01)


def test_the_way_up_to_storage_is_that_of_the_published_set() -> None:
    way = _storage(resting_cell_v=3.5)
    assert way.charges
    assert way.time_min.likely == pytest.approx(62.7, rel=0.01)
    assert 3.82 - way.lost_cell_v.likely == pytest.approx(3.74, abs=0.01)


@pytest.mark.parametrize("resting_cell_v", [4.2, 3.5])
def test_the_terminals_are_off_by_the_current_times_the_resistance(resting_cell_v: float) -> None:
    # 0.5 C through 0.02, 0.04 and 0.10 ohm Ah.
    lost = _storage(resting_cell_v=resting_cell_v, resistance_ohm_ah=Span(0.02, 0.04, 0.10)).lost_cell_v
    assert (lost.least, lost.likely, lost.most) == pytest.approx((0.01, 0.02, 0.05))


def test_the_charge_is_that_of_the_cell_that_ends_the_way_and_the_power_binds_by_all() -> None:
    alike, uneven = _storage(power_w_per_cell=2.0, resting_cell_v=4.0), _storage(power_w_per_cell=2.0, resting_cell_v=4.0, mean_cell_v=4.15)
    assert uneven.capacity_ah == alike.capacity_ah
    # The pack stands higher, so 2 W for each cell let less current out of it.
    assert uneven.time_min.likely > alike.time_min.likely


def test_the_range_of_minutes_is_that_of_the_charge_over_the_current() -> None:
    way = _storage()
    hours = [capacity_ah / 1.23316 for capacity_ah in (way.capacity_ah.least, way.capacity_ah.most)]
    assert (way.time_min.least, way.time_min.most) == pytest.approx([hour * 60 for hour in hours])


def test_the_longest_time_of_a_weak_discharger_is_at_its_lowest_current() -> None:
    # 2 W at 4.165 V: 4.2 V at rest, less what 0.48 A loses in 70 mohm.
    way = _storage(power_w_per_cell=2.0)
    assert way.time_min.most == pytest.approx(way.capacity_ah.most / (2.0 / 4.165) * 60, rel=0.005)


def test_a_weak_discharger_takes_longer_and_its_range_holds_the_likely() -> None:
    weak, strong = _storage(power_w_per_cell=2.0).time_min, _storage().time_min
    assert weak.likely > 1.5 * strong.likely
    assert weak.least <= weak.likely <= weak.most


def test_a_pack_at_its_target_takes_no_time() -> None:
    assert _storage(resting_cell_v=3.82).time_min.likely == 0


def test_a_pack_below_its_floor_is_not_brought_to_storage() -> None:
    with pytest.raises(ValueError, match="no resting voltage of a sound"):
        _storage(resting_cell_v=2.9)


@pytest.mark.parametrize("power_w_per_cell", [None, 1.9, 3.9])
def test_a_discharge_agrees_with_small_steps_of_time(power_w_per_cell: float | None) -> None:
    curve = CHEMISTRIES["lipo"].resting.likely.cell_v
    done = discharge(
        Cell(curve=curve, capacity_ah=1.0, resistance_ohm_ah=0.05),
        start_state=0.95,
        current_a=1.0,
        cutoff_cell_v=3.3,
        power_w_per_cell=power_w_per_cell,
    )
    stepped = discharged_in_steps(
        curve, resistance_ohm_ah=0.05, start_state=0.95, cutoff_v=3.3, rate_c=1.0, power_w_per_ah=power_w_per_cell
    )
    assert done.time_min == pytest.approx(stepped.time_h * 60, rel=1e-5)
    assert done.end_state == pytest.approx(stepped.end_state, rel=1e-5)
    assert done.energy_out_wh == pytest.approx(stepped.energy, rel=1e-5)
    assert done.heat_wh == pytest.approx(stepped.heat, rel=1e-4)


def test_a_cell_that_cannot_give_the_power_gives_the_set_current() -> None:
    # 3.9 V behind 1 ohm give 3.8 W at most.
    weak = Cell(curve=(3.6, 4.2), capacity_ah=1.0, resistance_ohm_ah=1.0)
    done = discharge(weak, start_state=0.5, current_a=3.0, cutoff_cell_v=0.5, power_w_per_cell=5.0)
    assert done.constant_power_min == 0
    assert done.trace[0].current_a == 3.0


def test_a_cell_that_is_where_it_should_come_to_is_not_moved() -> None:
    cell = Cell(curve=(3.6, 4.2), capacity_ah=1.0, resistance_ohm_ah=0.05)
    shown_v = discharge(cell, start_state=0.5, current_a=1.0, cutoff_cell_v=3.6).trace[0].cell_v
    assert len(discharge(cell, start_state=0.5, current_a=1.0, cutoff_cell_v=shown_v).trace) == 1
    assert len(discharge(cell, start_state=0.5, current_a=1.0, cutoff_cell_v=3.0, until_state=0.5).trace) == 1


def test_a_way_up_is_ended_by_its_count_however_low_the_current_gets() -> None:
    # Behind 68 ohm Ah a flat cell is soon held at 4.20 V, with less than a charger's usual last current.
    way = storage(
        "liion",
        resting_cell_v=2.844,
        target_cell_v=3.755,
        capacity_ah=60,
        current_a=0.88,
        resistance_ohm_ah=Span(32.0, 68.0, 143.0),
        cell_count=14,
    )
    assert way.likely.capacity_in_ah == pytest.approx(way.capacity_ah.likely)
    assert way.time_min.least <= way.time_min.likely <= way.time_min.most


# A straight curve and 0.1 ohm Ah: at 4.0 V at rest no more can be had than 40 W per Ah, with 20 C and half of the voltage.
_THIN = Cell(curve=(3.0, 4.0), capacity_ah=2.0, resistance_ohm_ah=0.1)


def test_the_most_power_that_a_cell_can_give_takes_half_of_its_voltage() -> None:
    most = discharge(_THIN, start_state=1.0, current_a=60.0, cutoff_cell_v=1.0, power_w_per_cell=80.0)
    assert (most.trace[0].current_a, most.trace[0].cell_v) == (pytest.approx(40.0), pytest.approx(2.0))


def test_three_cells_give_three_times_the_power_of_one() -> None:
    one, three = (discharge(_THIN, start_state=1.0, current_a=2.0, cutoff_cell_v=3.2, cell_count=count) for count in (1, 3))
    assert three.peak_power_w == pytest.approx(3 * one.peak_power_w)
    assert one.peak_power_w == pytest.approx(2.0 * 3.9)


def test_a_way_is_that_of_one_cell_unless_more_are_named() -> None:
    likely = _storage().likely
    assert 3.7 < likely.energy_out_wh / likely.capacity_out_ah < 4.2


def test_to_where_a_cell_rests_already_is_a_charge_of_nothing() -> None:
    there = _storage(resting_cell_v=3.82)
    assert there.charges is True and isinstance(there.likely, Charge)
    assert (there.likely.time_min, there.capacity_ah.likely) == (0, 0)


def test_the_power_of_the_charger_holds_a_way_up_too() -> None:
    # 2 W are 0.54 A at 3.7 V, less than half of the current that is set.
    free, held = _storage(resting_cell_v=3.6), _storage(resting_cell_v=3.6, power_w_per_cell=2.0)
    assert held.charges and held.time_min.likely > 2 * free.time_min.likely
