"""A supply behind its resistance, and what is left in a lead-acid battery."""

from __future__ import annotations

import pytest

from calc.facts.lead_acid import LEAD_ACID
from calc.physics.supply.supplies import (
    battery_resistance_ohm,
    battery_state_percent,
    capacity_at_current_ah,
    current_for_power_a,
    largest_current_a,
    power_at_current_w,
    usable_ah,
)

_FLOODED = LEAD_ACID["flooded"]
_SEALED = LEAD_ACID["agm"]


def test_power_at_the_charger_is_what_the_lead_leaves() -> None:
    # 10 A through 20 mΩ lose 0.2 V.
    assert power_at_current_w(source_v=12.0, resistance_ohm=0.02, current_a=10.0) == pytest.approx(118.0)


def test_past_half_the_voltage_more_current_brings_less_power() -> None:
    # 12 V behind 1 Ω: 6 A bring 36 W, 8 A bring 32 W.
    assert power_at_current_w(12.0, 1.0, 6.0) == pytest.approx(36.0)
    assert power_at_current_w(12.0, 1.0, 8.0) == pytest.approx(32.0)


def test_a_stiff_supply_gives_power_over_voltage() -> None:
    assert current_for_power_a(source_v=12.0, resistance_ohm=0.0, power_w=120.0) == pytest.approx(10.0)


def test_a_lead_makes_the_charger_draw_more() -> None:
    # 118 W through 20 mΩ from 12 V is 10 A again.
    assert current_for_power_a(source_v=12.0, resistance_ohm=0.02, power_w=118.0) == pytest.approx(10.0)


def test_the_lower_of_the_two_currents_is_the_one_that_flows() -> None:
    # 32 W behind 1 Ω would also flow at 8 A.
    assert current_for_power_a(source_v=12.0, resistance_ohm=1.0, power_w=32.0) == pytest.approx(4.0)


def test_no_power_takes_no_current() -> None:
    assert current_for_power_a(source_v=12.0, resistance_ohm=0.1, power_w=0.0) == 0


def test_more_power_than_can_pass_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot pass"):
        current_for_power_a(source_v=12.0, resistance_ohm=1.0, power_w=36.1)


def test_the_current_at_which_the_voltage_sinks_to_the_charger_s_lowest_input() -> None:
    assert largest_current_a(source_v=12.5, resistance_ohm=0.05, least_v=11.0) == pytest.approx(30.0)


def test_a_supply_below_the_charger_s_lowest_input_gives_no_current() -> None:
    assert largest_current_a(source_v=10.5, resistance_ohm=0.05, least_v=11.0) == 0


@pytest.mark.parametrize("battery_ah, milliohms", [(100, 5), (50, 10), (10, 50)])
def test_a_smaller_battery_has_more_resistance(battery_ah: float, milliohms: float) -> None:
    assert battery_resistance_ohm(battery_ah) == pytest.approx(milliohms / 1000)


def test_between_two_rows_the_state_lies_on_a_straight_line() -> None:
    # Half way from 12.24 V to 12.45 V is half way from 50 % to 75 %.
    assert battery_state_percent(_FLOODED, 12.345) == pytest.approx(62.5)


@pytest.mark.parametrize("resting_v, percent", [(10.0, 0), (11.89, 0), (12.65, 100), (13.4, 100)])
def test_outside_the_table_a_battery_is_empty_or_full(resting_v: float, percent: float) -> None:
    assert battery_state_percent(_FLOODED, resting_v) == percent


def test_a_sealed_battery_at_the_same_voltage_holds_less() -> None:
    assert battery_state_percent(_SEALED, 12.4) == 50
    assert battery_state_percent(_FLOODED, 12.4) > 60


def test_at_the_twenty_hour_current_a_battery_gives_its_label() -> None:
    assert capacity_at_current_ah(battery_ah=100, current_a=5, exponent=1.3) == pytest.approx(100)


def test_at_less_than_that_current_it_gives_no_more_than_its_label() -> None:
    assert capacity_at_current_ah(battery_ah=100, current_a=0.5, exponent=1.3) == 100


def test_without_peukert_s_loss_it_gives_its_label_at_any_current() -> None:
    assert capacity_at_current_ah(battery_ah=100, current_a=50, exponent=1.0) == pytest.approx(100)


def test_from_full_down_to_the_floor_half_can_be_used() -> None:
    # 3.5 A is the twenty-hour current of 70 Ah.
    assert usable_ah(_FLOODED, battery_ah=70, resting_v=12.65, current_a=3.5, floor_percent=50) == pytest.approx(35.0)


@pytest.mark.parametrize("resting_v", [12.24, 12.1, 11.0])
def test_at_or_below_its_floor_nothing_can_be_used(resting_v: float) -> None:
    assert usable_ah(_FLOODED, battery_ah=70, resting_v=resting_v, current_a=3.5, floor_percent=50) == 0


def test_a_higher_current_leaves_less_to_use() -> None:
    assert usable_ah(_FLOODED, 70, 12.65, current_a=20, floor_percent=50) < usable_ah(_FLOODED, 70, 12.65, current_a=5, floor_percent=50)
