"""What a charge takes from the supply, and how many such charges a battery holds."""

from __future__ import annotations

from calc.calculators.parts.charge_settings_supply import charges_left, supply_load
from calc.figures.quantities import AMPERE_HOURS
from calc.figures.spans import Span
from calc.rules.supply.supply_demand import Demand
from tests.units.calc.sound_charge import BATTERY, VEHICLE, given

LEAST_INPUT_V = 11


def _one_charge_of(used_ah: float, peak_current_a: float) -> Demand:
    return Demand(
        start_current_a=1,
        mean_current_a=2,
        peak_current_a=peak_current_a,
        used_ah=Span(used_ah, used_ah, used_ah),
        used_wh=Span(24, 36, 48),
        ampere_hours=AMPERE_HOURS,
    )


def test_each_current_has_its_unit_and_what_set_it() -> None:
    load = supply_load(given(), _one_charge_of(4, peak_current_a=3.5), LEAST_INPUT_V)
    currents = (load.at_start, load.mean, load.at_peak)
    assert [str(current.figure) for current in currents] == ["1.0\N{NO-BREAK SPACE}A", "2.0\N{NO-BREAK SPACE}A", "3.5\N{NO-BREAK SPACE}A"]
    assert all(current.set_by for current in currents)


def test_what_is_taken_is_a_range_that_says_why() -> None:
    load = supply_load(given(), _one_charge_of(4, peak_current_a=3.5), LEAST_INPUT_V)
    assert str(load.energy.least) == "24.0\N{NO-BREAK SPACE}Wh"
    assert str(load.energy.most) == "48.0\N{NO-BREAK SPACE}Wh"
    assert load.used.because


def test_a_full_battery_holds_as_many_charges_as_fit_above_its_floor() -> None:
    # At its twenty-hour current of 3.5 A a full 70 Ah battery gives 35 Ah down to half: 8 charges of 4 Ah and no ninth.
    charges = charges_left(given(**BATTERY), _one_charge_of(4, peak_current_a=3.5), LEAST_INPUT_V)
    assert charges.figure.number == "8"
    assert "50\N{NO-BREAK SPACE}%" in charges.set_by
    assert "100\N{NO-BREAK SPACE}% charged" in charges.note


def test_a_charger_that_stops_before_the_floor_ends_the_count() -> None:
    # The lead and the battery's own 7.1 mΩ take 0.08 V at 9 A: a charger that needs 12.25 V stops it at a rest of 12.33 V, 60 % charged, and not at
    # 50 %.
    supply = given(**BATTERY)
    lost_v = 9 * (2 * float(supply.lead_length_m) * 0.017241 * 1.16 / float(supply.lead_area_mm2) + 0.5 / 70)
    stops_percent = 50 + 25 * (12.25 + lost_v - 12.24) / (12.45 - 12.24)
    full_ah = 9 * 20 * (70 / (9 * 20)) ** 1.3
    assert 50 < stops_percent < 75
    charges = charges_left(supply, _one_charge_of(1, peak_current_a=9), 12.25)
    assert charges.figure.value == int((100 - stops_percent) / 100 * full_ah)
    assert "lowest input" in charges.set_by
    assert "before the charger stops" in charges.note


def test_a_battery_at_its_floor_holds_no_charge() -> None:
    charges = charges_left(given(**BATTERY | {"battery_resting_v": "12.24"}), _one_charge_of(4, peak_current_a=3.5), LEAST_INPUT_V)
    assert charges.figure.number == "0"


def test_one_charge_is_counted_in_the_singular() -> None:
    charges = charges_left(given(**BATTERY), _one_charge_of(30, peak_current_a=3.5), LEAST_INPUT_V)
    assert str(charges.figure) == "1\N{NO-BREAK SPACE}charge"


def test_a_mains_supply_has_no_number_of_charges() -> None:
    assert charges_left(given(), _one_charge_of(4, peak_current_a=3.5), LEAST_INPUT_V) is None


def test_a_full_pack_that_takes_nothing_is_not_counted() -> None:
    assert charges_left(given(**BATTERY), _one_charge_of(0, peak_current_a=3.5), LEAST_INPUT_V) is None


def test_a_full_vehicle_s_battery_holds_as_many_charges_as_leave_three_quarters() -> None:
    # A quarter of 70 Ah is 17.5 Ah: 4 charges of 4 Ah and no fifth.
    charges = charges_left(given(**VEHICLE), _one_charge_of(4, peak_current_a=3.5), LEAST_INPUT_V)
    assert charges.figure.number == "4"
    assert charges.set_by.startswith("what the vehicle needs to start, 75")
