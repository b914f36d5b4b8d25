"""An answer that grows: whatever is entered besides never makes it bolder, and whatever is refused leaves no number."""

from __future__ import annotations

from typing import Any

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import PartialAnswer, answer, calculator
from calc.figures.quantities import Figure
from calc.figures.showing import parts_of
from calc.inputs.equipment import ChargerEntries
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from calc.inputs.supply import SupplyEntries
from tests.properties.test_charge_current import BOOT_BATTERY, CLUB_CHARGE
from tests.properties.typed_entries import GROWING_KEYS, SLIPS, Entries, charges, in_rows

LABEL = ("chemistry", "cells", "capacity_mah", "label_charge_rate_c", "requested_rate_c")
READINGS = (
    "resting_v", "pack_degc", "air_degc", "look", "read_when", "cell_resistance_mohm", "cell_resistances_mohm", "new_resistance_mohm",
    "measured_capacity_mah",
)  # fmt: skip
PARTS = {"readings": READINGS, "charger": tuple(entries_of(ChargerEntries)), "supply": tuple(entries_of(SupplyEntries))}
# What no further entry may raise.
CEILINGS = ("charge_current", "full_voltage", "capacity_cutout", "temperature_stop")
# More digits than any dial has.
NOISE = 1e-6
BY_STEPS = CLUB_CHARGE | {"current_step_a": "0.07", "capacity_step_mah": "7", "resting_v": "3.70 3.71 3.70"}

# A slower charge fills a cell further, and one of iron phosphate further than what counts as full.
NEARLY_FLAT = CLUB_CHARGE | {"cells": "1", "resting_v": "2.51", "charger_current_a": "0.5", "capacity_step_mah": "1"}


def with_parts(entries: Entries, parts: tuple[str, ...]) -> Entries:
    names = {*LABEL, *(name for part in parts for name in PARTS[part])}
    return {name: text for name, text in entries.items() if name in names}


def known_of(found: Any) -> Any:
    return found.known if isinstance(found, PartialAnswer) else found


def ceilings(found: Any) -> dict[str, float]:
    parts = {part.key: part.values[0] for part in parts_of(known_of(found))}
    return {key: parts[key].figure.value for key in CEILINGS if key in parts and isinstance(parts[key].figure, Figure)}


@st.composite
def growing(draw: st.DrawFn) -> list[Entries]:
    """A charge by its label alone, and then with one part more each time."""
    entries, order = draw(charges()), draw(st.permutations(sorted(PARTS)))
    # Before the charger is known, the stop is told to a whole mAh, and its step may be a hair finer.
    entries |= {"capacity_step_mah": f"{max(1, round(float(entries['capacity_step_mah'])))}"}
    return [with_parts(entries, tuple(order[:count])) for count in range(len(order) + 1)]


def _grown(entries: Entries, *order: str) -> list[Entries]:
    return [with_parts(entries, order[:count]) for count in range(len(order) + 1)]


@given(growing())
@example(_grown(CLUB_CHARGE, "readings", "charger", "supply"))
@example(_grown(CLUB_CHARGE | BOOT_BATTERY, "supply", "charger", "readings"))
@example(_grown(BY_STEPS, "readings", "supply", "charger"))
@example(_grown(NEARLY_FLAT | {"chemistry": "life"}, "readings", "charger", "supply"))
@example(_grown(NEARLY_FLAT | {"chemistry": "liion"}, "readings", "charger", "supply"))
def test_one_more_reading_charger_or_supply_never_raises_a_current_a_voltage_a_charge_or_a_temperature_stop(steps: list[Entries]) -> None:
    before: dict[str, float] = {}
    for entries in steps:
        found = answer("charge_settings", entries)
        if isinstance(found, Refusal):
            break
        now = ceilings(found)
        assert all(now[key] <= before[key] + NOISE for key in now.keys() & before.keys())
        before |= now


@given(growing())
@example(_grown(CLUB_CHARGE | {"balance_current_a": "0.3"}, "readings", "charger", "supply"))
@example(_grown(CLUB_CHARGE | BOOT_BATTERY | {"capacity_mah": "20000"}, "readings", "charger", "supply"))
def test_the_time_stop_grows_only_as_the_current_falls_and_never_past_two_hours(steps: list[Entries]) -> None:
    current_a, time_min = 0.0, 120.0
    for entries in steps:
        found = answer("charge_settings", entries)
        if isinstance(found, Refusal):
            break
        known = known_of(found)
        if hasattr(known, "time_cutout"):
            stop_min = known.time_cutout.figure.value
            assert stop_min <= (120.0 if known.charge_current.figure.value < current_a else time_min)
            current_a, time_min = known.charge_current.figure.value, stop_min


@given(growing())
@example(_grown(CLUB_CHARGE | {"resting_v": "9.1"}, "charger", "readings", "supply"))
def test_what_is_refused_stays_refused_whatever_is_entered_besides(steps: list[Entries]) -> None:
    kinds = [isinstance(answer("charge_settings", entries), Refusal) for entries in steps]
    assert kinds == sorted(kinds)


@given(charges(), st.sets(st.sampled_from(sorted(PARTS)), max_size=2))
@example(CLUB_CHARGE, {"readings"})
@example(CLUB_CHARGE, {"charger", "supply"})
def test_a_pack_may_be_started_once_it_was_read_and_never_before(entries: Entries, parts: set[str]) -> None:
    found = answer("charge_settings", with_parts(entries, tuple(parts)))
    assume(not isinstance(found, Refusal))
    assert isinstance(found, PartialAnswer)
    assert found.may_start == ("readings" in parts)
    assert hasattr(found.known, "time_cutout") == ("readings" in parts)


@given(charges(), st.sampled_from(sorted(name for name, entry in entries_of(SupplyEntries).items() if not entry.optional)))
@example(CLUB_CHARGE | BOOT_BATTERY, "battery_kind")
@example(CLUB_CHARGE | BOOT_BATTERY, "lead_area_mm2")
def test_without_the_kind_of_battery_or_the_lead_there_is_no_figure_of_the_supply(entries: Entries, left_out: str) -> None:
    assume(entries.get(left_out) and left_out != "supply_kind")
    found = answer("charge_settings", {name: text for name, text in entries.items() if name != left_out})
    assume(not isinstance(found, Refusal))
    is_asked = left_out in ("lead_length_m", "lead_area_mm2") or left_out.startswith("battery") == (entries["supply_kind"] != "mains")
    assert isinstance(found, PartialAnswer) == is_asked
    assert [part.key for part in parts_of(known_of(found)) if part.key.startswith("supply_")] == [] or not is_asked


@given(charges(), st.sampled_from(GROWING_KEYS))
@example(CLUB_CHARGE, "charge_settings")
def test_an_answer_to_everything_is_whole(entries: Entries, key: str) -> None:
    assert not isinstance(answer(key, entries), PartialAnswer)


@given(st.sampled_from(("pack_degc", "charger_power_w", "battery_ah", "lead_length_m", "look")), st.sampled_from(SLIPS))
@example("pack_degc", "20 Ah")
def test_what_cannot_be_read_takes_every_number_away(name: str, text: str) -> None:
    entries = with_parts(CLUB_CHARGE | BOOT_BATTERY, ("readings",)) | {name: text}
    alone = answer("charge_settings", CLUB_CHARGE | BOOT_BATTERY | {name: text})
    assume(isinstance(alone, Refusal))
    assert isinstance(answer("charge_settings", entries), Refusal)


COLD, FLAT, SWOLLEN = {"pack_degc": "-1"}, {"resting_v": "7.2 7.2 7.2"}, {"look": "swollen"}


@given(st.sampled_from((COLD, FLAT | {"resting_v": "2.4 2.4 2.4"}, SWOLLEN)), st.sets(st.sampled_from(("charger", "supply"))))
def test_one_reading_that_forbids_the_charge_is_enough(reading: Entries, parts: set[str]) -> None:
    entries = with_parts(CLUB_CHARGE, tuple(parts))
    assert isinstance(answer("charge_settings", entries), PartialAnswer)
    assert isinstance(answer("charge_settings", entries | reading), Refusal)
    # The page takes the refused reading away, and what is left is by the label, not to be started.
    assert not answer("charge_settings", entries).may_start


def test_every_calculator_whose_answer_grows_says_what_is_not_counted() -> None:
    for key in GROWING_KEYS:
        assert calculator(key).so_far.__doc__
        read = with_parts(CLUB_CHARGE, ("readings",))
        found = answer(key, read | in_rows(read))
        assert "your charger" in found.not_counted and "your supply" in found.not_counted


# The spans of the words, °C, by the test's own numbers.
WARMTH = {"cool": (10, 18), "normal": (18, 28), "warm": (28, 38)}


@given(charges(), st.sampled_from(sorted(WARMTH)), st.floats(0, 1))
@example(CLUB_CHARGE, "cool", 0.0)
@example(CLUB_CHARGE, "cool", 0.5)
@example(CLUB_CHARGE | {"label_charge_rate_c": "5", "requested_rate_c": "5"}, "warm", 1.0)
@example(CLUB_CHARGE | {"label_charge_rate_c": "3", "requested_rate_c": "3", "balance_current_a": "1"}, "normal", 1.0)
def test_a_word_for_the_warmth_is_never_bolder_than_any_number_that_it_stands_for(entries: Entries, word: str, share: float) -> None:
    coolest, warmest = WARMTH[word]
    measured = answer("charge_settings", entries | {"pack_degc": f"{coolest + share * (warmest - coolest):.1f}"})
    felt = answer("charge_settings", {name: text for name, text in entries.items() if name != "pack_degc"} | {"pack_warmth": word})
    assert isinstance(felt, Refusal) or not isinstance(measured, Refusal)
    assume(not isinstance(felt, Refusal))
    # A lower current takes longer, and fills a pack further.
    held = (
        CEILINGS if felt.charge_current.figure == measured.charge_current.figure else ("charge_current", "full_voltage", "temperature_stop")
    )
    by_word, by_number = ceilings(felt), ceilings(measured)
    assert all(by_word[key] <= by_number[key] + NOISE for key in by_word.keys() & by_number.keys() & set(held))
    if felt.charge_current.figure == measured.charge_current.figure:
        assert felt.time_cutout.figure.value <= measured.time_cutout.figure.value


@given(charges(), st.sampled_from(sorted(WARMTH)), st.sampled_from((0, 1)))
@example(CLUB_CHARGE, "cool", 1)
def test_the_minutes_by_a_word_hold_those_of_both_ends_of_its_span(entries: Entries, word: str, end: int) -> None:
    measured = answer("charge_settings", entries | {"pack_degc": str(WARMTH[word][end])})
    felt = answer("charge_settings", {name: text for name, text in entries.items() if name != "pack_degc"} | {"pack_warmth": word})
    assume(not isinstance(felt, Refusal) and felt.charge_current.figure == measured.charge_current.figure)
    assert felt.charge_time.least.value <= measured.charge_time.least.value + NOISE
    assert felt.charge_time.most.value >= measured.charge_time.most.value - NOISE
