"""For any pack: what the check page would not charge is charged nowhere, and no current passes what the rules leave."""

from __future__ import annotations

from typing import Any

from hypothesis import example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties import own_evening, own_plan
from tests.properties.own_condition import condition_ceilings_a, forbidding, warmth, worn_out
from tests.properties.test_charge_current import BOOT_BATTERY, COURSE
from tests.properties.typed_entries import CHARGING_KEYS, Entries, charges, packs
from tests.units.calc.joined_charge import REST

IN_UNKNOWN_AIR = "Let it cool in the shade, or enter how warm the air is where that is asked"
FORBIDS = (
    "Charge it elsewhere",
    IN_UNKNOWN_AIR,
    "Let it dry first",
    "Rest it, then read every cell",
    "Take it out of use",
    "Get away from it",
)
CHARGE = COURSE | BOOT_BATTERY | {"planned_charges": "2", "requested_rate_c": "20", "label_charge_rate_c": "20", "charger_current_a": "60"}
ROOMY = REST | {"charger_cells": "16", "port_cells": "16", "balance_ports": "4", "balance_plugs_into": "ports", "charger_power_w": "3000"}

PLAN = ROOMY | {
    "charger_outputs": "1", "watched_charges": "1", "aim": "soonest", "start_clock": "8:00", "change_min": "3", "day_begun": "new",
    "time_left_min": "600", "discharge_current_a": "5", "requested_rate_c": "20",
}  # fmt: skip
# All that a plan asks of a pack.
OF_A_PLAN = ("chemistry", "cells", "capacity_mah", "resting_v", "label_charge_rate_c", "pack_degc")


def checked(entries: Entries) -> Any:
    return answer("cell_check", entries)


def charged_a(found: Any) -> float:
    """What a page dials in; nothing for a refusal, and nothing where packs are not joined yet."""
    setting = getattr(found, "charge_current", None) or getattr(found, "joint_current", None)
    return 0.0 if isinstance(found, Refusal) or setting is None else float(setting.figure.number)


def in_a_row(pack: Entries) -> Entries:
    """The pack beside its twin."""
    return ROOMY | {f"packs_{number}_{name}": text for number in (1, 2) for name, text in pack.items() if name != "requested_rate_c"}


@given(charges())
@example(CHARGE | {"resting_v": "3.8 3.8 3.5"})
@example(CHARGE | {"resting_v": "3.80 3.80 3.80", "look": "swollen"})
@example(CHARGE | {"measured_capacity_mah": "2120"})
@example(CHARGE | {"air_degc": "40.1"})
@example(CHARGE | {"pack_degc": "40.1"})
@example(CHARGE | {"resting_v": "3.80 3.80 3.80", "cell_resistances_mohm": "5 5 10"})
@example(CHARGE | {"chemistry": "lihv", "resting_v": "4.25 4.25 4.37"})
def test_the_check_page_finds_what_the_rules_find(entries: Entries) -> None:
    found = checked({"look": "sound", "read_when": "rested"} | entries)
    # A reading that can mean two things is sent back on every page.
    if not isinstance(found, Refusal):
        assert (found.verdict.figure in FORBIDS) == bool(forbidding(entries))


@given(charges(), st.sampled_from(CHARGING_KEYS))
@example(CHARGE | {"resting_v": "3.8 3.8 3.5"}, "charge_settings")
@example(CHARGE | {"look": "swollen"}, "charge_course")
@example(CHARGE | {"measured_capacity_mah": "1325"}, "charging_card")
@example(CHARGE | {"cell_resistance_mohm": "10", "new_resistance_mohm": "5"}, "charge_settings")
def test_what_the_rules_forbid_is_charged_on_no_page(entries: Entries, key: str) -> None:
    if forbidding(entries):
        assert isinstance(answer(key, entries), Refusal)


@given(packs(), st.sampled_from(("packs_in_parallel", "packs_in_series")))
def test_what_the_rules_forbid_is_not_joined_to_another_pack(pack: Entries, key: str) -> None:
    if forbidding(pack):
        assert isinstance(answer(key, in_a_row(pack)), Refusal)


@given(charges())
@example(CHARGE | {"goal": "storage", "resting_v": "3.6 3.6 3.2", "discharge_current_a": "1"})
def test_what_the_rules_forbid_is_not_brought_to_storage_either(entries: Entries) -> None:
    if forbidding(entries) - warmth(entries):
        assert isinstance(answer("storage", entries), Refusal)


@given(charges())
@example(CHARGE | {"measured_capacity_mah": "2120", "reserve_percent": "20", "flights_1_flown_min": "5", "flights_1_put_back_mah": "1000"})
def test_a_worn_or_a_harmed_pack_gets_no_flight(entries: Entries) -> None:
    if worn_out(entries) or forbidding(entries) & {"its look"}:
        assert isinstance(answer("flight_timer", entries), Refusal)
        assert isinstance(answer("model_fit", entries), Refusal)


@given(charges(), st.sampled_from(CHARGING_KEYS))
@example(CHARGE | {"resting_v": "3.1 3.1 3.1"}, "charge_settings")
@example(CHARGE | {"resting_v": "3.80 3.84 3.80"}, "charge_course")
@example(CHARGE | {"look": "watched"}, "charging_card")
@example(CHARGE | {"pack_degc": "12", "air_degc": "1"}, "charge_settings")
@example(CHARGE | {"pack_degc": "5", "measured_capacity_mah": "2200"}, "charge_settings")
def test_no_current_passes_what_the_condition_leaves(entries: Entries, key: str) -> None:
    current_a = charged_a(answer(key, entries))
    assert {because: most for because, most in condition_ceilings_a(entries).items() if current_a > most + 1e-8} == {}


@given(packs())
def test_a_pack_in_series_is_charged_no_faster_than_its_condition_leaves(pack: Entries) -> None:
    current_a = charged_a(answer("packs_in_series", in_a_row(pack)))
    assert {because: most for because, most in condition_ceilings_a(pack).items() if current_a > most + 1e-8} == {}


def in_a_plan(pack: Entries) -> tuple[Entries, Entries]:
    """What a plan knows of a pack, and a plan of it and its twin."""
    known = {name: pack[name] for name in OF_A_PLAN}
    rows = {f"packs_{number}_{name}": text for number in (1, 2) for name, text in (known | {"stands": "waiting"}).items()}
    return known, PLAN | rows | {"pack_degc": pack["pack_degc"]}


@given(packs())
@example(CHARGE | {"resting_v": "3.8 3.8 3.5"})
@example(CHARGE | {"resting_v": "3.6 3.6 3.6", "pack_degc": "41"})
@example(CHARGE | {"resting_v": "3.1 3.1 3.1"})
def test_no_plan_charges_what_the_rules_forbid_nor_faster_than_they_leave(pack: Entries) -> None:
    known, entries = in_a_plan(pack)
    day, evening = answer("day_plan", entries), answer("going_home", entries)
    assert isinstance(day, Refusal) or not forbidding(known)
    # A pack that is left as it is for the night may be as warm as it is.
    assert isinstance(evening, Refusal) or not forbidding(known) - warmth(known)
    lines = [] if isinstance(day, Refusal) else own_plan.lines_of(day)
    of_evening = [] if isinstance(evening, Refusal) else [line for line in own_evening.lines_of(evening) if line.is_charge]
    assert not of_evening or not forbidding(known)
    most_a = min(condition_ceilings_a(known).values(), default=float("inf"))
    # A hundredth of an ampere is what a shown figure may hide.
    assert all(line.current_a <= most_a + 0.006 for line in [*lines, *of_evening])
