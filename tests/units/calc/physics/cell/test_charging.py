"""A charge on a straight line, where every number can be worked out by hand, and at the edges of its phases."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.cell.cells import Cell, voltage_and_slope
from calc.physics.cell.charging import Charge, charge
from tests.units.calc.physics.cell.steps_of_time import charged_in_steps

# 5 Ah, 20 mohm, resting from 3.6 V empty to 4.2 V full. Textbook circuit: CC ends at 1 - I R / 0.6, tau = R Q / 0.6.
_STRAIGHT = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
_LIPO = CHEMISTRIES["lipo"].resting.likely.cell_v


def _charge(**given: object) -> Charge:
    return charge(_STRAIGHT, **({"start_state": 0.2, "full_cell_v": 4.2, "current_a": 5.0, "taper_rate_c": 0.1} | given))


def test_constant_current_ends_where_the_textbook_says() -> None:
    done = _charge()
    assert done.constant_current_min == pytest.approx(38.0, rel=1e-6)
    assert done.constant_power_min == 0


@pytest.mark.parametrize("taper_rate_c, tail_min, end_state", [(0.1, 23.03, 0.9833), (0.05, 29.96, 0.9917)])
def test_the_tail_falls_as_the_textbook_says(taper_rate_c: float, tail_min: float, end_state: float) -> None:
    done = _charge(taper_rate_c=taper_rate_c)
    assert done.constant_voltage_min == pytest.approx(tail_min, rel=0.001)
    assert done.end_state == pytest.approx(end_state, rel=0.001)


def test_the_charge_put_in_is_the_change_of_state() -> None:
    assert _charge().capacity_in_ah == pytest.approx(5.0 * (0.98333 - 0.2), rel=0.001)


def test_power_binds_where_current_times_voltage_reaches_it() -> None:
    # 20 W at 5 A is 4.0 V at the terminals: 3.9 V at rest, half full, 18 minutes after 20 %.
    done = _charge(power_w_per_cell=20.0)
    assert done.constant_current_min == pytest.approx(18.0, rel=1e-6)
    assert done.peak_power_w == pytest.approx(20.0)
    assert done.constant_power_min > 0


def test_power_that_is_never_asked_for_changes_nothing() -> None:
    assert _charge(power_w_per_cell=21.0 + 1e-9) == _charge()


def test_little_power_binds_from_the_first_minute() -> None:
    done = _charge(power_w_per_cell=10.0)
    assert done.constant_current_min == 0
    assert done.start_power_w == pytest.approx(10.0)


def test_a_cell_near_full_starts_at_constant_voltage_below_the_set_current() -> None:
    done = _charge(start_state=0.95)
    assert done.constant_current_min == 0
    # 0.03 V over 20 mohm.
    assert done.trace[0].current_a == pytest.approx(1.5)
    assert done.trace[0].cell_v == 4.2


@pytest.mark.parametrize("start_state", [0.99, 1.0, 1.01])
def test_a_full_cell_takes_no_time(start_state: float) -> None:
    done = _charge(start_state=start_state)
    assert done.time_min == done.capacity_in_ah == done.energy_in_wh == 0


def test_a_charge_may_stop_at_a_state_in_any_phase() -> None:
    assert _charge(until_state=0.5).time_min == pytest.approx(18.0)
    assert _charge(until_state=0.9).end_state == pytest.approx(0.9)


def test_six_cells_take_six_times_the_energy_and_the_power() -> None:
    one, six = _charge(), _charge(cell_count=6)
    assert six.energy_in_wh == pytest.approx(6 * one.energy_in_wh)
    assert six.heat_wh == pytest.approx(6 * one.heat_wh)
    assert six.peak_power_w == pytest.approx(6 * one.peak_power_w)
    assert six.start_power_w == pytest.approx(6 * one.start_power_w)
    assert six.time_min == one.time_min


@pytest.mark.parametrize("resistance", [0.3, 0.6])
@pytest.mark.parametrize("power_w", [None, 2.6])
def test_the_terminals_show_the_resting_voltage_and_the_loss_at_every_moment(power_w: float | None, resistance: float) -> None:
    # From 21 % the constant voltage passes bends of this curve.
    iron_phosphate = CHEMISTRIES["life"].resting.likely.cell_v
    cell = Cell(curve=iron_phosphate, capacity_ah=1.0, resistance_ohm_ah=resistance)
    given = {"start_state": 0.21, "full_cell_v": 3.65, "current_a": 1.0, "taper_rate_c": 0.02, "power_w_per_cell": power_w}
    for moment in charge(cell, **given).trace:
        resting_v = voltage_and_slope(iron_phosphate, moment.state)[0]
        assert moment.cell_v == pytest.approx(resting_v + moment.current_a * resistance, abs=1e-6)


def test_the_voltage_never_passes_the_full_voltage() -> None:
    cell = Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=0.2)
    done = charge(cell, start_state=0.0, full_cell_v=4.2, current_a=2.0, taper_rate_c=0.05)
    assert max(moment.cell_v for moment in done.trace) < 4.2 + 1e-6


def test_the_current_only_falls() -> None:
    cell = Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=0.2)
    done = charge(cell, start_state=0.0, full_cell_v=4.2, current_a=2.0, taper_rate_c=0.02, power_w_per_cell=7.8)
    currents = [moment.current_a for moment in done.trace]
    assert all(later <= earlier + 1e-9 for earlier, later in pairwise(currents))


@pytest.mark.parametrize("rate_c", [0.5, 1.0, 2.0])
def test_a_charge_takes_longer_than_the_charge_over_the_current(rate_c: float) -> None:
    cell = Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=0.03)
    done = charge(cell, start_state=0.2, full_cell_v=4.2, current_a=rate_c, taper_rate_c=0.05)
    assert 48.0 / rate_c < done.time_min < 2.2 * 48.0 / rate_c


# On a straight line a lead of 0.1 h costs what 0.06 ohm Ah cost: 0.6 V for the whole capacity, a tenth of it ahead at 1 C.
@pytest.mark.parametrize(
    "given",
    [
        {},
        {"start_state": 0.95},
        {"start_state": 0.97, "taper_rate_c": 0.05},
        {"start_state": 1.0},
        {"power_w_per_cell": 20.0},
        {"power_w_per_cell": 10.0},
        {"until_state": 0.5},
        {"until_state": 0.95},
        {"until_state": 0.7, "power_w_per_cell": 20.0},
    ],
)
def test_a_lead_on_a_straight_line_is_one_resistance_more(given: dict[str, float]) -> None:
    pack = {"start_state": 0.2, "full_cell_v": 4.2, "current_a": 5.0, "taper_rate_c": 0.1, "cell_count": 3} | given
    plain = charge(_STRAIGHT, **pack)
    led = charge(Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.04, lead_h=0.1), **pack)
    for name in ("constant_current_min", "constant_power_min", "constant_voltage_min", "energy_in_wh", "heat_wh", "end_state"):
        assert getattr(led, name) == pytest.approx(getattr(plain, name), rel=2e-5, abs=1e-9)
    assert led.trace[0] == pytest.approx(plain.trace[0])


@pytest.mark.parametrize("start_state", [0.0, 0.37, 0.85])
@pytest.mark.parametrize("power", [None, 3.0])
@pytest.mark.parametrize("resistance, lead_h", [(0.03, 0.0), (0.2, 0.0), (0.5, 0.0), (0.1, 0.25), (0.03, 0.1)])
def test_a_charge_agrees_with_small_steps_of_time(resistance: float, lead_h: float, power: float | None, start_state: float) -> None:
    done = charge(
        Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=resistance, lead_h=lead_h),
        start_state=start_state,
        full_cell_v=4.2,
        current_a=1.0,
        taper_rate_c=0.05,
        power_w_per_cell=power,
    )
    stepped = charged_in_steps(
        _LIPO,
        resistance_ohm_ah=resistance,
        lead_h=lead_h,
        start_state=start_state,
        full_v=4.2,
        rate_c=1.0,
        taper_c=0.05,
        power_w_per_ah=power,
    )
    # What is left is the steps' own error, in the short tail of a low resistance.
    assert done.time_min == pytest.approx(stepped.time_h * 60, rel=2e-4)
    assert done.end_state == pytest.approx(stepped.end_state, rel=1e-5)
    assert done.energy_in_wh == pytest.approx(stepped.energy, rel=1e-5)
    assert done.heat_wh == pytest.approx(stepped.heat, rel=1e-4)
