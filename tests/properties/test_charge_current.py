"""The charge current, whatever the pack, the charger and the supply: below every limit, and no further below than a step."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties.own_ceilings import drawn_a, pack_side_ceilings_a, supply_side_ceilings_a
from tests.properties.typed_entries import CHARGING_KEYS, Entries, charges, numbers

# A current that stands within a billionth of a step of a ceiling counts as on it, and binary fractions lose as much again.
TOLERANCE = 1e-8

CLUB_CHARGE = {
    "chemistry": "lipo", "cells": "3", "capacity_mah": "2650", "resting_v": "11.1", "pack_degc": "20",
    "label_charge_rate_c": "1", "requested_rate_c": "1", "charger_current_a": "5", "charger_power_w": "50",
    "charger_cells": "6", "balance_ports": "1", "port_cells": "6", "current_step_a": "0.1", "capacity_step_mah": "100",
    "charger_input_least_v": "11", "efficiency_percent": "85", "supply_kind": "mains", "supply_v": "13.8",
    "supply_current_a": "20", "lead_length_m": "1", "lead_area_mm2": "4 mm²",
}  # fmt: skip
BOOT_BATTERY = {
    "supply_kind": "battery", "battery_kind": "flooded", "battery_ah": "70", "battery_resting_v": "12.6",
    "lead_length_m": "1.5", "lead_area_mm2": "2.5",
}  # fmt: skip
# The charger's power binds, and the step is fine enough to show a full voltage that is a twentieth of a volt off.
BY_POWER = CLUB_CHARGE | {"requested_rate_c": "5", "label_charge_rate_c": "5", "charger_current_a": "20", "current_step_a": "0.01"}
# A thick pack on the boot battery: its lead is what binds.
BY_LEAD = CLUB_CHARGE | BOOT_BATTERY | {"capacity_mah": "20000", "charger_power_w": "1000", "charger_current_a": "20"}
COURSE = CLUB_CHARGE | {"stop_after_min": "30", "wanted_percent": "80", "other_rate_c": "2"}

# A smaller number in one of these is a tighter limit; a longer lead and a higher lowest input are tighter too.
SMALLER_IS_TIGHTER = (
    "label_charge_rate_c", "requested_rate_c", "charger_current_a", "charger_power_w", "efficiency_percent", "supply_v",
    "supply_current_a", "battery_ah", "battery_resting_v", "lead_area_mm2", "lead_fuse_a", "pack_degc",
)  # fmt: skip
LARGER_IS_TIGHTER = ("lead_length_m", "connector_mohm", "charger_input_least_v")


def read_current_a(entries: Entries, key: str = "charge_settings") -> float:
    """The number that the pilot reads and dials in; 0 for a refusal, since then no current is given at all."""
    found = answer(key, entries)
    return 0.0 if isinstance(found, Refusal) else float(found.charge_current.figure.number)


def answered_current_a(entries: Entries) -> float:
    current_a = read_current_a(entries)
    assume(current_a > 0)
    return current_a


@given(charges())
@example(CLUB_CHARGE)
@example(CLUB_CHARGE | {"pack_degc": "10", "label_charge_rate_c": "5", "requested_rate_c": "5"})
@example(BY_POWER | {"chemistry": "lipo"})
@example(BY_POWER | {"chemistry": "lihv"})
@example(BY_POWER | {"chemistry": "liion"})
@example(BY_POWER | {"chemistry": "life", "resting_v": "9.9"})
@example(BY_LEAD)
def test_the_current_is_never_above_the_label_the_charger_or_the_cold(entries: Entries) -> None:
    current_a = answered_current_a(entries)
    broken = {because: most for because, most in pack_side_ceilings_a(entries).items() if current_a > most + TOLERANCE}
    assert broken == {}


@given(charges())
@example(BY_LEAD)
@example(BY_LEAD | {"lead_length_m": "20"})
@example(BY_LEAD | {"lead_fuse_a": "10"})
@example(BY_LEAD | {"connector_mohm": "150"})
@example(BY_LEAD | {"supply_kind": "vehicle"})
@example(CLUB_CHARGE | {"lead_area_mm2": "0.5", "capacity_mah": "20000", "charger_power_w": "1000"})
def test_the_current_never_asks_more_of_supply_and_lead_than_they_may_give(entries: Entries) -> None:
    at_supply_a = drawn_a(entries, answered_current_a(entries))
    ceilings = supply_side_ceilings_a(entries)
    # At the highest power that can pass, the last steps of the bisection are a part in ten million apart.
    broken = {because: most for because, most in ceilings.items() if at_supply_a > most * (1 + 1e-6)}
    assert broken == {}


@given(charges())
@example(CLUB_CHARGE)
@example(BY_POWER)
def test_the_current_is_not_a_step_lower_than_it_could_be(entries: Entries) -> None:
    one_step_more_a = answered_current_a(entries) + float(entries["current_step_a"])
    at_supply_a = drawn_a(entries, one_step_more_a)
    ceilings_a = [*pack_side_ceilings_a(entries).values()]
    at_supply = [*supply_side_ceilings_a(entries).values()]
    assert one_step_more_a > min(ceilings_a) - TOLERANCE or at_supply_a > min(at_supply) * (1 - 1e-6)


@given(charges(), st.sampled_from(SMALLER_IS_TIGHTER), st.floats(0.05, 1))
@example(BY_POWER, "pack_degc", 0.25)
@example(BY_LEAD | {"lead_length_m": "0.3"}, "lead_area_mm2", 0.2)
@example(BY_LEAD, "battery_ah", 0.1)
@example(BY_LEAD | {"lead_fuse_a": "30"}, "lead_fuse_a", 0.5)
def test_a_tighter_limit_never_raises_the_current(entries: Entries, field: str, factor: float) -> None:
    assume(field in entries)
    # Where no air was measured it is as warm as the pack: above 40 °C a colder pack is charged in cooler air, which is allowed.
    assume(field != "pack_degc" or float(entries[field]) <= 40)
    tighter = entries | {field: f"{float(entries[field].removesuffix(' mm²')) * factor:.4f}"}
    assert read_current_a(tighter) <= read_current_a(entries)


@given(charges(), st.sampled_from(LARGER_IS_TIGHTER), st.floats(1, 5))
@example(BY_LEAD, "lead_length_m", 5.0)
@example(BY_LEAD | {"lead_length_m": "5"}, "charger_input_least_v", 1.1)
@example(BY_LEAD | {"connector_mohm": "50"}, "connector_mohm", 3.0)
def test_a_longer_lead_or_a_hungrier_charger_never_raises_the_current(entries: Entries, field: str, factor: float) -> None:
    assume(field in entries)
    tighter = entries | {field: f"{float(entries[field].removesuffix(' mm²')) * factor:.4f}"}
    assert read_current_a(tighter) <= read_current_a(entries)


@given(charges(), st.floats(1, 10))
@example(CLUB_CHARGE | {"pack_degc": "5"}, 5.0)
def test_a_higher_rate_on_the_label_never_lowers_the_current(entries: Entries, factor: float) -> None:
    label_c = min(20.0, float(entries["label_charge_rate_c"]) * factor)
    assert read_current_a(entries | {"label_charge_rate_c": f"{label_c:.4f}"}) >= read_current_a(entries)


@given(charges())
@example(CLUB_CHARGE | {"capacity_mah": "1000"})
@example(CLUB_CHARGE | {"capacity_mah": "300", "current_step_a": "0.1"})
def test_the_current_is_a_whole_number_of_the_charger_s_steps(entries: Entries) -> None:
    found = answer("charge_settings", entries)
    assume(not isinstance(found, Refusal))
    steps = Decimal(found.charge_current.figure.number) / Decimal(entries["current_step_a"])
    assert steps == steps.to_integral_value() >= 1


@given(charges())
def test_the_limit_that_is_named_is_the_lowest_of_those_that_are_listed(entries: Entries) -> None:
    found = answer("charge_settings", entries)
    assume(not isinstance(found, Refusal))
    listed = found.charge_current.ceilings
    [binding] = [ceiling for ceiling in listed if ceiling.binds]
    assert binding.because == found.charge_current.set_by
    assert binding.figure.value == min(ceiling.figure.value for ceiling in listed)


@given(st.sampled_from(CHARGING_KEYS), charges())
@example("charging_card", CLUB_CHARGE)
@example("charge_course", COURSE | {"capacity_mah": "350", "other_rate_c": "0.05"})
def test_every_page_gives_the_same_current(key: str, entries: Entries) -> None:
    by_the_setting = {name: text for name, text in entries.items() if name != "dialled_a"}
    assert read_current_a(by_the_setting, key) == read_current_a(entries)


@given(charges(), numbers(0.01, 60))
@example(COURSE, "2.64")
@example(COURSE | {"pack_degc": "5"}, "1.32")
def test_a_current_that_is_dialled_by_hand_is_never_above_the_label_the_charger_or_the_cold(entries: Entries, dialled_a: str) -> None:
    current_a = read_current_a(entries | {"dialled_a": dialled_a}, "charge_course")
    ceilings = pack_side_ceilings_a(entries)
    hard = {because: most for because, most in ceilings.items() if because not in ("the rate asked for", "the charger's power")}
    assert {because: most for because, most in hard.items() if current_a > most + TOLERANCE} == {}


@given(charges(), numbers(0.05, 20))
@example(COURSE, "2")
def test_the_rate_that_is_compared_is_never_above_any_limit_either(entries: Entries, other_rate_c: str) -> None:
    found = answer("charge_course", entries | {"other_rate_c": other_rate_c})
    assume(not isinstance(found, Refusal) and found.two_rates is not None)
    compared_a = float(found.two_rates.rows[1].heading.split()[0])
    ceilings = pack_side_ceilings_a(entries | {"requested_rate_c": other_rate_c})
    assert {because: most for because, most in ceilings.items() if compared_a > most + TOLERANCE} == {}
