"""What a charge asks of its supply."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.supply.source import source_resistance_ohm
from calc.rules.charge.charge_outlook import outlook_of
from calc.rules.pack.readings import clear_reading
from calc.rules.supply.supply_demand import Demand, demand_of, state_of_supply
from tests.units.calc.sound_charge import BATTERY, SIX_CELLS, given

_STIFF = {"lead_length_m": "0.05", "lead_area_mm2": "70 mm²"}


def _demand(current_a: float, **changes: str) -> Demand:
    charge = given(**changes)
    chemistry = CHEMISTRIES[charge.chemistry]
    outlook = outlook_of(
        pack=charge,
        balance_current_a=charge.balance_current_a,
        chemistry=chemistry,
        reading=clear_reading(charge, chemistry),
        current_a=current_a,
    )
    return demand_of(pack=charge, charger=charge, supply=charge, chemistry=chemistry, current_a=current_a, outlook=outlook)


def test_the_peak_is_at_the_full_voltage_through_charger_and_lead() -> None:
    # 25.2 V x 5 A is 126 W, over 85 % and 12 V.
    assert _demand(5, **SIX_CELLS, supply_v="12", **_STIFF).peak_current_a == pytest.approx(12.35, abs=0.005)


def test_a_charge_starts_below_its_peak() -> None:
    demand = _demand(5, **SIX_CELLS)
    assert 0 < demand.start_current_a < demand.peak_current_a


def test_a_lead_makes_the_supply_give_more() -> None:
    stiff = _demand(5, **SIX_CELLS, supply_v="12", **_STIFF)
    long = _demand(5, **SIX_CELLS, supply_v="12", lead_length_m="2", lead_area_mm2="4 mm²")
    assert long.peak_current_a > stiff.peak_current_a
    assert long.used_ah.most > stiff.used_ah.most


def test_the_most_is_counted_at_the_lowest_voltage_of_a_battery_s_day() -> None:
    full = _demand(5, **SIX_CELLS, **BATTERY | {"battery_resting_v": "12.65", "battery_ah": "100"})
    # 25.2 V x 5 A over 85 % are 148.2 W, from 12.24 V at half its charge, behind the battery's 5 mΩ and the lead.
    charge = given(**SIX_CELLS, **BATTERY | {"battery_ah": "100"})
    ohm, power_w = source_resistance_ohm(charge), 25.2 * 5 / 0.85
    at_floor_v = (12.24 + (12.24**2 - 4 * ohm * power_w) ** 0.5) / 2
    assert full.used_ah.most == pytest.approx(full.used_wh.most / at_floor_v, rel=1e-6)


def test_a_charger_stops_before_it_takes_more_at_a_lower_voltage_than_its_lowest_input() -> None:
    demand = _demand(5, **SIX_CELLS, **BATTERY | {"battery_resting_v": "12.65", "charger_input_least_v": "12.2"})
    assert demand.used_ah.most == pytest.approx(demand.used_wh.most / 12.2)


def test_twice_the_efficiency_takes_half_the_ampere_hours() -> None:
    half = _demand(2.6, efficiency_percent="45", **_STIFF)
    whole = _demand(2.6, efficiency_percent="90", **_STIFF)
    assert half.used_ah.most == pytest.approx(2 * whole.used_ah.most, rel=0.001)


def test_a_battery_knows_its_charge_and_a_mains_supply_has_none() -> None:
    assert state_of_supply(given(**BATTERY | {"battery_resting_v": "12.45"})).charged_percent == 75
    assert state_of_supply(given()).charged_percent is None


def test_a_lead_loses_its_share_of_the_voltage_per_ampere() -> None:
    # 2 m of 2.5 mm² are 32 mΩ: 0.27 % of 12 V for each ampere.
    state = state_of_supply(given(supply_v="12", lead_length_m="2", lead_area_mm2="2.5"))
    assert state.drop_percent_per_a == pytest.approx(0.2667, rel=0.001)


def test_the_mean_current_flows_for_the_likely_time_and_makes_what_is_used() -> None:
    charge = given(**SIX_CELLS)
    lipo = CHEMISTRIES["lipo"]
    outlook = outlook_of(pack=charge, balance_current_a=None, chemistry=lipo, reading=clear_reading(charge, lipo), current_a=5)
    demand = demand_of(pack=charge, charger=charge, supply=charge, chemistry=lipo, current_a=5, outlook=outlook)
    assert demand.mean_current_a * outlook.charge_min.likely / 60 == pytest.approx(demand.used_ah.likely)
    # 85 % of what the supply gives goes into the pack.
    assert (demand.used_wh.least, demand.used_wh.likely, demand.used_wh.most) == pytest.approx(
        (outlook.energy_in_wh.least / 0.85, outlook.energy_in_wh.likely / 0.85, outlook.energy_in_wh.most / 0.85)
    )
    assert 0 < demand.mean_current_a < demand.peak_current_a


def test_a_full_pack_takes_no_mean_current() -> None:
    assert _demand(2.6, resting_v="4.2 4.2 4.2").mean_current_a == 0


def test_less_than_an_ampere_hour_is_told_in_hundredths() -> None:
    # 2650 mAh at 12 V or so take a few ampere-hours out of the supply, 150 mAh some tenths of one.
    assert _demand(2.6).ampere_hours.decimals == 1
    assert _demand(0.1, capacity_mah="150").ampere_hours.decimals == 2
