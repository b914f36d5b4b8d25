"""A battery at its floor: where it rests there, and what has none."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.inputs.supply import SupplyEntries
from calc.rules.supply.battery_floor import at_its_floor, is_at_its_floor

FLOODED = SupplyEntries(
    supply_kind="battery", battery_kind="flooded", battery_ah=100, battery_resting_v=12.65, lead_length_m=1, lead_area_mm2=4
)


def test_at_its_floor_a_battery_rests_there_and_one_that_rests_lower_already_stays() -> None:
    assert at_its_floor(FLOODED).battery_resting_v == pytest.approx(12.24)
    low = replace(FLOODED, battery_resting_v=12.10)
    assert at_its_floor(low) == low
    vehicle = replace(FLOODED, supply_kind="vehicle")
    assert 12.24 < at_its_floor(vehicle).battery_resting_v < 12.65


def test_a_mains_supply_has_no_floor() -> None:
    mains = SupplyEntries(supply_kind="mains", supply_v=13.8, supply_current_a=20, lead_length_m=1, lead_area_mm2=4)
    assert at_its_floor(mains) is mains
    assert not is_at_its_floor(mains)


@pytest.mark.parametrize(
    ("rests_v", "battery", "vehicle"), [(12.24, True, True), (12.25, False, True), (12.45, False, True), (12.46, False, False)]
)
def test_a_battery_that_rests_exactly_at_its_floor_is_there(rests_v: float, battery: bool, vehicle: bool) -> None:
    supply = replace(FLOODED, battery_resting_v=rests_v)
    assert (is_at_its_floor(supply), is_at_its_floor(replace(supply, supply_kind="vehicle"))) == (battery, vehicle)
