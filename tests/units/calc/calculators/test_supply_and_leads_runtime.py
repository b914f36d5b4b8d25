"""How far a battery goes, in words."""

from __future__ import annotations

from calc.calculators.parts.supply_and_leads_runtime import RuntimeShown, runtime_shown
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.battery_runtime import runtime_of

SUPPLY = SupplyEntries(
    supply_kind="battery", battery_kind="flooded", battery_ah=100, battery_resting_v=12.65, lead_length_m=1, lead_area_mm2=4
)


def battery(current_a: float, battery_degc: float | None = None) -> RuntimeShown:
    runtime = runtime_of(SUPPLY, current_a, floor_percent=50, lost_v=0.1, charger_input_least_v=11, battery_degc=battery_degc)
    return runtime_shown(SUPPLY, runtime, current_a=current_a, charger_input_least_v=11, battery_degc=battery_degc)


def test_a_long_time_is_told_in_hours() -> None:
    # At its twenty-hour current of 5 A it gives half of 100 Ah in ten hours.
    assert str(battery(5).time.figure) == "10.0\N{NO-BREAK SPACE}h"


def test_a_short_time_is_told_in_minutes() -> None:
    # 50 Ah by Peukert at 25 A with 1.30: 20 h / 5^1.3, halved, is 1.23 h.
    assert str(battery(25).time.figure) == "74\N{NO-BREAK SPACE}min"


def test_a_battery_that_starts_nothing_keeps_nothing_for_it() -> None:
    assert battery(5).kept_to_start is None


def test_a_temperature_that_was_entered_is_named_with_what_it_costs() -> None:
    assert "75\N{NO-BREAK SPACE}%" in battery(5, battery_degc=0).full_capacity.note
    assert "enter its temperature" in battery(5).full_capacity.note
