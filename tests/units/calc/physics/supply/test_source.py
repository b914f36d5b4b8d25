"""What passes the resistance of a supply and its lead."""

from __future__ import annotations

import pytest

from calc.physics.supply.source import current_for_power_a, largest_current_a, power_at_current_w


def test_power_at_the_charger_is_what_the_lead_leaves() -> None:
    # 10 A through 20 mΩ lose 0.2 V.
    assert power_at_current_w(open_v=12.0, resistance_ohm=0.02, current_a=10.0) == pytest.approx(118.0)


def test_past_half_the_voltage_more_current_brings_less_power() -> None:
    # 12 V behind 1 Ω: 6 A bring 36 W, 8 A bring 32 W.
    assert power_at_current_w(12.0, 1.0, 6.0) == pytest.approx(36.0)
    assert power_at_current_w(12.0, 1.0, 8.0) == pytest.approx(32.0)


def test_a_stiff_supply_gives_power_over_voltage() -> None:
    assert current_for_power_a(open_v=12.0, resistance_ohm=0.0, power_w=120.0) == pytest.approx(10.0)


def test_a_lead_makes_the_charger_draw_more() -> None:
    # 118 W through 20 mΩ from 12 V is 10 A again.
    assert current_for_power_a(open_v=12.0, resistance_ohm=0.02, power_w=118.0) == pytest.approx(10.0)


def test_the_lower_of_the_two_currents_is_the_one_that_flows() -> None:
    # 32 W behind 1 Ω would also flow at 8 A.
    assert current_for_power_a(open_v=12.0, resistance_ohm=1.0, power_w=32.0) == pytest.approx(4.0)


def test_no_power_takes_no_current() -> None:
    assert current_for_power_a(open_v=12.0, resistance_ohm=0.1, power_w=0.0) == 0


def test_the_most_that_can_pass_takes_half_of_the_voltage() -> None:
    # 36 W behind 1 Ω: 6 A, and 6 V are left.
    assert current_for_power_a(open_v=12.0, resistance_ohm=1.0, power_w=36.0) == pytest.approx(6.0)


def test_more_power_than_can_pass_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot pass"):
        current_for_power_a(open_v=12.0, resistance_ohm=1.0, power_w=36.1)


def test_the_current_at_which_the_voltage_sinks_to_the_charger_s_lowest_input() -> None:
    assert largest_current_a(open_v=12.5, resistance_ohm=0.05, least_v=11.0) == pytest.approx(30.0)


def test_a_supply_below_the_charger_s_lowest_input_gives_no_current() -> None:
    assert largest_current_a(open_v=10.5, resistance_ohm=0.05, least_v=11.0) == 0
