"""What is left in a lead-acid battery, and what it rests at."""

from __future__ import annotations

import pytest

from calc.facts.lead_acid import LEAD_ACID
from calc.physics.supply.lead_acid import battery_resistance_ohm, battery_rest_v, battery_state_percent, capacity_at_current_ah, usable_ah

_FLOODED = LEAD_ACID["flooded"]
_SEALED = LEAD_ACID["agm"]


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


@pytest.mark.parametrize("kind", LEAD_ACID)
@pytest.mark.parametrize("percent", [0, 10, 25, 40, 50, 74, 75, 99, 100])
def test_the_charge_comes_back_from_its_own_resting_voltage(kind: str, percent: float) -> None:
    assert battery_state_percent(LEAD_ACID[kind], battery_rest_v(LEAD_ACID[kind], percent)) == pytest.approx(percent)


def test_half_way_between_two_rows_a_battery_rests_half_way_between_their_voltages() -> None:
    # 50 % at 12.24 V and 75 % at 12.45 V; below the table the line from 0 % at 11.89 V to 25 % at 12.06 V goes on.
    assert battery_rest_v(LEAD_ACID["flooded"], 62.5) == pytest.approx(12.345)
    assert battery_rest_v(LEAD_ACID["flooded"], -25) == pytest.approx(11.72)
