"""What a day may take from a lead-acid battery, on numbers that can be followed by hand."""

from __future__ import annotations

import pytest

from calc.inputs.supply import SupplyEntries
from calc.rules.plan.battery import Battery, battery_of

# A battery of 100 Ah has 5 mΩ, and connectors of 40 mΩ make the lead next to nothing beside them. At its floor, half, it rests at 12.24 V.
FLOODED = SupplyEntries(
    supply_kind="battery", battery_kind="flooded", battery_ah=100, battery_resting_v=12.65, lead_length_m=0.05, lead_area_mm2=70,
    connector_mohm=40,
)  # fmt: skip
OHM = 0.04503


def test_what_a_charge_takes_is_its_energy_through_the_charger_at_the_charger_s_voltage() -> None:
    battery = Battery(before_percent=90, floor_percent=50, usable_ah=20, whole_ah=50, charger_v=12.5)
    # 100 Wh at 80 % are 125 Wh, at 12.5 V 10 Ah: a fifth of 50 Ah.
    assert battery.taken_ah(100, 80) == pytest.approx(10)
    assert battery.left_percent(10) == pytest.approx(70)


def test_a_battery_gives_what_it_gives_at_the_highest_current_and_the_lowest_voltage_of_the_day() -> None:
    found = battery_of(FLOODED, pack_power_w=60, efficiency_percent=80)
    # 75 W from 12.24 V behind 45 mΩ: the lower root of P = (U - I R) I.
    current_a = (12.24 - (12.24**2 - 4 * OHM * 75) ** 0.5) / (2 * OHM)
    assert found.charger_v == pytest.approx(12.24 - current_a * OHM, rel=1e-5)
    assert found.charger_v * current_a == pytest.approx(75, rel=1e-5)
    # Peukert: Q = I 20 h (100 Ah / (I 20 h))^1.3, and half of it lies above the floor.
    whole_ah = current_a * 20 * (100 / (current_a * 20)) ** 1.3
    assert found.whole_ah == pytest.approx(whole_ah, rel=1e-4)
    assert found.usable_ah == pytest.approx(whole_ah / 2, rel=1e-4)
    assert (found.before_percent, found.floor_percent) == (100, 50)
