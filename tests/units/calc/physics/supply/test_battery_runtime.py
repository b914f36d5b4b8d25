"""A battery at a steady current: where it ends, what it gives in the cold, and how long it takes to fill again."""

from __future__ import annotations

from dataclasses import replace
from math import log

import pytest

from calc.inputs.supply import SupplyEntries
from calc.physics.supply.battery_runtime import cold_share, refill_h, runtime_of

FULL = SupplyEntries(
    supply_kind="battery", battery_kind="flooded", battery_ah=100, battery_resting_v=12.65, lead_length_m=1, lead_area_mm2=4
)


def runtime(
    battery: SupplyEntries = FULL,
    current_a: float = 5.0,
    floor_percent: float = 50,
    lost_v: float = 0.0,
    least_v: float = 11.0,
    degc: float | None = None,
):
    return runtime_of(battery, current_a, floor_percent=floor_percent, lost_v=lost_v, charger_input_least_v=least_v, battery_degc=degc)


def test_at_its_twenty_hour_current_half_of_the_label_is_used_in_ten_hours() -> None:
    assert (runtime().usable_ah, runtime().time_h) == pytest.approx((50.0, 10.0))


def test_the_charger_stops_where_the_battery_s_rest_less_the_loss_is_its_lowest_input() -> None:
    # 12.45 V, 75 %, less 0.45 V is 12.0 V.
    assert runtime(lost_v=0.45, least_v=12.0).charger_stops_percent == pytest.approx(75)


def test_the_end_that_comes_first_counts() -> None:
    early = runtime(lost_v=0.45, least_v=12.0)
    assert early.charger_stops_first and early.ends_percent == pytest.approx(75)
    late = runtime(least_v=11.0)
    assert not late.charger_stops_first and late.ends_percent == 50


def test_a_vehicle_ends_at_three_quarters() -> None:
    assert runtime(floor_percent=75).usable_ah == pytest.approx(25.0)


def test_a_battery_below_its_end_gives_nothing() -> None:
    assert runtime(replace(FULL, battery_resting_v=12.0)).usable_ah == 0


@pytest.mark.parametrize(("degc", "share"), [(27, 1.0), (40, 1.0), (0, 0.75), (13.333, 0.875)])
def test_between_two_rows_the_cold_costs_on_a_straight_line(degc: float, share: float) -> None:
    # 13.3 °C is 56 °F, half way from 32 to 80.
    assert cold_share(degc) == pytest.approx(share, abs=0.0005)


def test_no_cold_takes_more_than_all() -> None:
    # From 75 % at 32 °F to 40 % at 0 °F: nothing is left at -37 °F, which is -38 °C.
    assert cold_share(-40) == 0.0
    assert cold_share(-37) == pytest.approx(0.4 - 0.35 / 32 * 34.6)


def test_a_small_charger_gives_its_current_to_the_end() -> None:
    # 50 Ah are missing, 2 A is what the battery accepts at 98 % with a time constant of an hour: 48 Ah at 2 A, and 5 % on top.
    shortest, _ = refill_h(battery_ah=100, from_percent=50, charger_a=2)
    assert shortest == pytest.approx(24 * 1.05)


def test_a_large_charger_waits_for_the_battery() -> None:
    # 50 Ah missing fall to 2 Ah with a time constant of 1 h, or 3 h: ln 25 is 3.22.
    shortest, longest = refill_h(battery_ah=100, from_percent=50, charger_a=100)
    assert shortest == pytest.approx(log(25) * 1.05)
    assert longest == pytest.approx(3 * log(25) * 1.15)


def test_a_full_battery_needs_no_time() -> None:
    assert refill_h(battery_ah=100, from_percent=99, charger_a=10) == (0, 0)
