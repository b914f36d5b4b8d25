"""A battery's day, step by step on numbers that can be followed by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.facts.lead_acid import LEAD_ACID
from calc.inputs.equipment import ChargerEntries
from calc.inputs.supply import SupplyEntries
from calc.physics.cell.charging import Charge
from calc.physics.cell.courses import Moment
from calc.physics.supply.lead_acid import battery_rest_v, battery_state_percent
from calc.rules.supply.supply_day import Day, SupplyMoment, at_times, day_of

# A charge of an hour at a steady 5 A and 4 V a cell: 60 W into three cells, and 75 W out of the supply at 80 %.
RUN = Charge(
    constant_current_min=60.0, constant_power_min=0.0, constant_voltage_min=0.0, capacity_in_ah=5.0, energy_in_wh=60.0, heat_wh=0.0,
    start_power_w=60.0, peak_power_w=60.0, trace=(Moment(0.0, 5.0, 4.0, 0.0), Moment(60.0, 5.0, 4.0, 1.0)),
)  # fmt: skip
# A battery of 100 Ah has 5 mΩ, and connectors of 40 mΩ make the lead next to nothing beside them.
BATTERY = SupplyEntries(
    supply_kind="battery", battery_kind="flooded", battery_ah=100, battery_resting_v=12.65, lead_length_m=0.05, lead_area_mm2=70,
    connector_mohm=40,
)  # fmt: skip
CHARGER = ChargerEntries(
    charger_current_a=5, charger_power_w=250, charger_cells=6, balance_ports=1, port_cells=6, current_step_a=0.1, capacity_step_mah=100,
    charger_input_least_v=11, efficiency_percent=80,
)  # fmt: skip


def _day(charges: int = 1, resting_v: float = 12.65, least_v: float = 11, run: Charge = RUN, **supply: object) -> Day:
    battery, charger = replace(BATTERY, battery_resting_v=resting_v, **supply), replace(CHARGER, charger_input_least_v=least_v)
    return day_of(supply=battery, charger=charger, run=run, cell_count=3, charges=charges)


def _drawn_a(open_v: float, power_w: float = 75.0, ohm: float = 0.04503) -> float:
    """The lower root of P = (U - I R) I."""
    return (open_v - (open_v**2 - 4 * ohm * power_w) ** 0.5) / (2 * ohm)


def test_the_first_step_draws_the_current_of_a_full_battery_and_takes_its_share_of_what_it_gives_at_that() -> None:
    first = _day().trace[0]
    current_a = _drawn_a(12.65)
    assert first.current_a == pytest.approx(current_a, rel=1e-4)
    assert first.charger_input_v == pytest.approx(12.65 - current_a * 0.04503, rel=1e-5)
    # An hour in 48 steps. Peukert: Q = I 20 h (100 Ah / (I 20 h))^1.3.
    assert first.time_min == pytest.approx(1.25)
    full_ah = current_a * 20 * (100 / (current_a * 20)) ** 1.3
    assert first.charged_percent == pytest.approx(100 - 100 * current_a * (1.25 / 60) / full_ah, rel=1e-5)


def test_a_charge_is_told_from_its_beginning_to_its_end() -> None:
    day = _day(charges=2)
    first, second = day.charges
    assert (first.ended_min, second.ended_min) == pytest.approx((60.0, 120.0))
    assert (first.before_percent, second.before_percent) == (100, first.after_percent)
    assert first.after_percent == day.trace[47].charged_percent
    # 75 W at 12.3 V or so for an hour.
    assert first.taken_ah == pytest.approx(sum(moment.current_a for moment in day.trace[:48]) / 48)
    assert 75 / 12.65 < first.taken_ah < 75 / 12.0
    # The voltage sinks, so the current rises to the last step.
    assert (first.peak_current_a, first.least_input_v) == (day.trace[47].current_a, day.trace[47].charger_input_v)
    assert (second.peak_current_a, second.least_input_v) == (day.trace[95].current_a, day.trace[95].charger_input_v)
    assert len(day.trace) == 96
    assert day.floor_at is day.stopped_at is None


def test_a_charge_that_takes_nothing_leaves_the_battery_as_it_is() -> None:
    idle = replace(RUN, trace=(Moment(0.0, 0.0, 4.0, 0.0), Moment(60.0, 0.0, 4.0, 0.0)))
    (only,) = _day(run=idle).charges
    assert (only.before_percent, only.after_percent, only.taken_ah, only.peak_current_a) == (100, 100, 0, 0)
    assert only.least_input_v == pytest.approx(12.65)


def test_a_charge_of_no_time_shows_the_battery_at_rest() -> None:
    full = replace(RUN, constant_current_min=0.0, trace=(Moment(0.0, 0.0, 4.2, 1.0),))
    (only,) = _day(run=full).charges
    assert (only.taken_ah, only.peak_current_a, only.ended_min) == (0, 0, 0)


def test_the_floor_is_told_with_the_charge_and_its_minute() -> None:
    # A charge takes about 6.5 %: from 12.34 V, 61.9 %, half is passed in the second.
    day = _day(charges=3, resting_v=12.34)
    assert [charge.after_percent >= 50 for charge in day.charges] == [True, False, False]
    assert (day.floor_percent, day.charges_above_floor) == (50, 1)
    number, into_min = day.floor_at
    assert number == 2
    passed = next(place for place, moment in enumerate(day.trace) if moment.charged_percent < 50)
    # The middle of the step in which it is passed.
    assert into_min == pytest.approx((passed - 48 + 0.5) * 1.25)


def test_a_vehicle_has_its_floor_at_three_quarters() -> None:
    assert _day(supply_kind="vehicle").floor_percent == 75


def test_the_charger_stops_where_its_input_sinks_below_its_lowest() -> None:
    # 6.1 A through 45 mΩ lose 0.28 V: it stops where the battery rests at 12.18 V, which is 41 %.
    day = _day(charges=20, least_v=11.9)
    number, into_min = day.stopped_at
    assert number == len(day.charges) + 1
    assert battery_rest_v(LEAD_ACID["flooded"], day.trace[-1].charged_percent) == pytest.approx(11.9 + 0.28, abs=0.01)
    assert into_min == pytest.approx((len(day.trace) - 48 * len(day.charges) + 0.5) * 1.25)
    assert all(moment.charger_input_v >= 11.9 for moment in day.trace)


def test_an_input_of_exactly_the_lowest_still_charges() -> None:
    first = _day().trace[0]
    assert _day(least_v=first.charger_input_v).trace[0] == first


def test_more_power_than_can_pass_the_lead_stops_the_charger_at_once() -> None:
    # 12.65² over four times 1 Ω are 40 W, and 75 W are asked for.
    day = _day(connector_mohm=1000, least_v=1)
    assert (day.charges, day.trace, day.stopped_at) == ((), (), (1, 0.625))


def test_up_to_a_quarter_of_the_squared_voltage_over_the_resistance_passes_a_lead() -> None:
    # Over four times 0.5 Ω they are 80 W, and 75 W are asked for: the voltage sinks to less than two thirds, but it charges.
    first = _day(connector_mohm=495, least_v=1).trace[0]
    assert first.current_a == pytest.approx(_drawn_a(12.65, ohm=0.50003), rel=1e-4)


def test_an_empty_battery_stops_the_charger_at_once_and_gives_nothing() -> None:
    day = _day(resting_v=11.89, least_v=1)
    assert (day.trace, day.stopped_at) == ((), (1, 0.625))


def test_a_battery_that_stays_at_its_floor_has_not_passed_it() -> None:
    idle = replace(RUN, trace=(Moment(0.0, 0.0, 4.0, 0.0), Moment(60.0, 0.0, 4.0, 0.0)))
    day = _day(run=idle, resting_v=12.24)
    assert (day.charges[0].after_percent, day.floor_at, day.charges_above_floor) == (50, None, 1)


def test_each_time_shows_the_last_moment_before_it_or_the_first() -> None:
    trace = tuple(SupplyMoment(time_min, percent, 5, 12.3) for time_min, percent in ((10, 90), (20, 80), (30, 70)))
    assert at_times(trace, [0, 10, 19, 20, 30, 99], lambda moment: moment.charged_percent) == [90, 90, 90, 80, 70, 70]


def test_a_battery_that_is_emptied_by_the_last_of_a_charge_has_not_finished_it_and_holds_nothing() -> None:
    # 6.1 A for an hour take 8 % of what 100 Ah give at that: from 7.9 % on, the last step takes more than is left.
    kind = LEAD_ACID["flooded"]
    whole_percent = battery_state_percent(kind, 12.24) - _day(resting_v=12.24, least_v=1).trace[-1].charged_percent
    day = _day(resting_v=battery_rest_v(kind, whole_percent * 0.995), least_v=1)
    assert min(moment.charged_percent for moment in day.trace) == 0
    assert day.charges == ()
    assert day.stopped_at is not None
