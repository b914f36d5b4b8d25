"""What holds of every answer: units, limits, ranges in order, and cut-outs that neither cut short nor let run on."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Any, TypeVar

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import PartialAnswer, answer
from calc.figures.quantities import Figure
from calc.figures.showing import Range, Setting, Step, Table
from calc.inputs.refusals import Refusal
from site_builder.engine.answer import respond_in_json
from tests.properties.own_ceilings import full_pack_v
from tests.properties.typed_entries import CHEMISTRY_KEYS, KEYS, Entries, any_entries, charges

Kind = TypeVar("Kind")

SMALL_PACK = {
    "chemistry": "lipo", "cells": "2", "capacity_mah": "350", "resting_v": "7.42", "pack_degc": "21",
    "label_charge_rate_c": "1", "requested_rate_c": "1", "charger_current_a": "5", "charger_power_w": "50",
    "charger_cells": "6", "balance_ports": "1", "port_cells": "6", "current_step_a": "0.1", "capacity_step_mah": "100",
    "charger_input_least_v": "11", "efficiency_percent": "85", "discharge_current_a": "1", "discharge_power_w": "5",
    "supply_kind": "battery", "battery_kind": "flooded", "battery_ah": "70", "battery_resting_v": "12.6",
    "lead_length_m": "1.5", "lead_area_mm2": "2.5",
}  # fmt: skip
AGED_PACK = SMALL_PACK | {"measured_capacity_mah": "280"}
FULL_PACK = SMALL_PACK | {"resting_v": "8.40"}


def answered(key: str, entries: Entries) -> Any:
    found = answer(key, entries)
    assume(not isinstance(found, (Refusal, PartialAnswer)))
    return found


def all_of(kind: type[Kind], thing: Any) -> Iterator[Kind]:
    """Every value of one kind in an answer, however deep."""
    if isinstance(thing, kind):
        yield thing
    parts = thing if isinstance(thing, tuple) else [getattr(thing, one.name) for one in fields(thing)] if is_dataclass(thing) else ()
    for part in parts:
        yield from all_of(kind, part)


def rounded_up(value: Decimal, step: str) -> Decimal:
    return (value / Decimal(step)).to_integral_value(ROUND_CEILING) * Decimal(step)


@given(st.sampled_from(KEYS), charges())
@example("charge_settings", SMALL_PACK)
@example("voltages", {"chemistry": "life", "cells": "14"})
def test_no_figure_stands_without_its_unit(key: str, entries: Entries) -> None:
    figures = list(all_of(Figure, answered(key, entries)))
    # A pack that must not be touched is answered in words alone.
    assume(figures)
    assert all(figure.sign.strip() and str(figure).endswith(figure.sign) for figure in figures)


@given(st.sampled_from(KEYS), charges())
def test_no_figure_is_infinite_or_no_number(key: str, entries: Entries) -> None:
    assert all(Decimal(figure.number).is_finite() for figure in all_of(Figure, answered(key, entries)))


# A pack that rests a little above full takes nothing in no time.
ABOVE_FULL = SMALL_PACK | {"resting_v": "8.44", "planned_charges": "2", "stop_after_min": "30", "wanted_percent": "80", "other_rate_c": "2"}
# What this label promises may be four times too much, and then no cell carries 18C.
OVERLOADED = SMALL_PACK | {
    "capacity_mah": "850", "resting_v": "8.02", "requested_rate_c": "18.5", "label_discharge_rate_c": "300", "discharge_current_a": "40",
    "discharge_power_w": "", "goal": "storage",
}  # fmt: skip


@given(st.sampled_from(KEYS), charges())
@example("storage", OVERLOADED)
def test_no_figure_but_a_temperature_is_below_nothing(key: str, entries: Entries) -> None:
    below = [figure for figure in all_of(Figure, answered(key, entries)) if figure.value < 0 and not figure.sign.startswith("°")]
    assert below == []


@given(st.sampled_from(KEYS), charges())
@example("supply_day", ABOVE_FULL)
@example("charge_course", ABOVE_FULL)
def test_every_answer_can_be_drawn(key: str, entries: Entries) -> None:
    assert json.loads(respond_in_json(key, json.dumps(entries)))["kind"] in ("answer", "partial", "refusal")


@given(st.sampled_from(KEYS), charges())
@example("charge_settings", SMALL_PACK)
@example("charge_settings", FULL_PACK)
def test_no_setting_stands_without_what_set_it(key: str, entries: Entries) -> None:
    found = answered(key, entries)
    assert all(setting.set_by.strip() for setting in all_of(Setting, found))
    assert all(step.set_by.strip() for step in all_of(Step, found) if step.figure is not None)


@given(st.sampled_from(KEYS), charges())
@example("charge_settings", FULL_PACK)
def test_a_range_rises_from_its_least_to_its_most_and_says_why_it_is_wide(key: str, entries: Entries) -> None:
    for one in all_of(Range, answered(key, entries)):
        likely = one.least if one.likely is None else one.likely
        assert one.least.value <= likely.value <= one.most.value
        assert one.least.value >= 0 or one.least.quantity.suffix == "degc"
        assert one.because.strip()


@given(charges())
@example(SMALL_PACK)
@example(FULL_PACK)
@example(AGED_PACK)
@example(SMALL_PACK | {"resting_v": "6.02", "measured_capacity_mah": "385", "capacity_step_mah": "1"})
def test_the_capacity_cutout_never_ends_a_charge_that_goes_as_predicted_unless_it_says_so(entries: Entries) -> None:
    found = answered("charge_settings", entries)
    cutout, most_mah = found.capacity_cutout, found.charge_put_in.most.value
    # A cut-out within a billionth of a step counts as on it.
    if isinstance(cutout.figure, Figure) and float(cutout.figure.number) < most_mah - 1e-6:
        assert "may end the charge a little early" in cutout.note


@given(charges(), st.floats(1.101, 3))
@example(SMALL_PACK, 1.2)
@example(SMALL_PACK | {"capacity_mah": "20"}, 1.101)
def test_a_pack_that_took_in_more_than_the_cutout_allows_is_refused(entries: Entries, factor: float) -> None:
    measured_mah = float(entries["capacity_mah"]) * factor
    assume(measured_mah <= 60_000)
    found = answer("charge_settings", entries | {"measured_capacity_mah": f"{measured_mah:.3f}"})
    assert isinstance(found, Refusal)
    assert "measured_capacity_mah" in {problem.field for problem in found.problems}


@given(charges())
@example(SMALL_PACK)
@example(SMALL_PACK | {"capacity_mah": "300", "capacity_step_mah": "100"})
@example(SMALL_PACK | {"capacity_mah": "20", "capacity_step_mah": "100"})
def test_the_capacity_cutout_is_never_above_a_tenth_over_what_the_pack_can_take_or_its_label(entries: Entries) -> None:
    found = answered("charge_settings", entries)
    if isinstance(found.capacity_cutout.figure, str):
        assert found.capacity_cutout.figure == "The charger's count cannot guard this charge"
        return
    most_mah = min(float(entries["capacity_mah"]), found.charge_put_in.most.value)
    assert 0 < float(found.capacity_cutout.figure.number) <= 1.1 * most_mah * (1 + 1e-9)


@given(charges())
@example(SMALL_PACK | {"capacity_mah": "300", "capacity_step_mah": "100"})
@example(SMALL_PACK | {"resting_v": "8.44"})  # full: it takes nothing, and nothing cannot be set
def test_a_charger_that_cannot_guard_a_pack_has_no_step_between_what_it_must_take_and_a_tenth_more(entries: Entries) -> None:
    found = answered("charge_settings", entries)
    if not isinstance(found.capacity_cutout.figure, str):
        return
    # Whole steps, counted exactly: one at or above the most that it takes, and no more than a tenth above, would serve.
    least_step = rounded_up(Decimal(repr(found.charge_put_in.most.value or 1e-9)), entries["capacity_step_mah"])
    most_mah = min(float(entries["capacity_mah"]), found.charge_put_in.most.value)
    assert float(least_step) > 1.1 * most_mah * (1 - 1e-9)


@given(charges(), st.sampled_from(("", "0.02", "0.5", "2")))
@example(SMALL_PACK, "")
@example(SMALL_PACK | {"requested_rate_c": "0.3"}, "0.02")
def test_a_time_cutout_leaves_a_tenth_over_the_forecast_and_never_passes_two_hours(entries: Entries, balance_current_a: str) -> None:
    found = answered("charge_settings", entries | {"balance_current_a": balance_current_a})
    longest_min = found.charge_time.most.value + (found.balancing_time.most.value if found.balancing_time else 0)
    stop_min = float(found.time_cutout.figure.number)
    assert stop_min <= 120
    assert stop_min >= min(120, 1.1 * longest_min)
    assert stop_min < 1.1 * longest_min + 10 or not balance_current_a
    # A stop that can come too soon says what to do then.
    assert ("read every cell" in found.time_cutout.note) == (longest_min > 120)


@given(charges())
@example(SMALL_PACK)
@example(SMALL_PACK | {"capacity_mah": "400"})
def test_the_capacity_setting_is_the_label_rounded_up_to_the_charger_s_step(entries: Entries) -> None:
    found = answered("charge_settings", entries)
    expected_mah = rounded_up(Decimal(entries["capacity_mah"]), entries["capacity_step_mah"])
    assert Decimal(found.capacity_setting.figure.number) == expected_mah


@given(charges())
@example(SMALL_PACK | {"capacity_step_mah": "33.5"})
@example(SMALL_PACK | {"current_step_a": "0.05"})
def test_a_step_is_named_as_it_was_entered(entries: Entries) -> None:
    found = answered("charge_settings", entries)
    current_step, capacity_step = (Decimal(entries[name]).normalize() for name in ("current_step_a", "capacity_step_mah"))
    assert f"step of {current_step:f}\u00a0A" in found.charge_current.note
    assert f"step of {capacity_step:f}\u00a0mAh" in found.capacity_setting.set_by


@given(charges())
@example(SMALL_PACK)
def test_the_full_voltage_is_never_above_that_of_the_cells(entries: Entries) -> None:
    found = answered("charge_settings", entries)
    # A hundredth of a volt is what the dial shows, so half of it is rounding.
    assert float(found.full_voltage.figure.number) <= full_pack_v(entries) + 0.005


@given(st.sampled_from(CHEMISTRY_KEYS), st.integers(1, 14))
def test_the_voltages_of_a_pack_fall_from_full_to_the_floor(chemistry: str, cells: int) -> None:
    found = answered("voltages", {"chemistry": chemistry, "cells": str(cells)})
    pack_v = {row.heading: row.cells[1] for row in found.this_pack.rows}
    falling = ("Full", "Nominal", "Land, under load", "Cutoff, careful", "Cutoff, the maker's", "Never below")
    # A kind that is sold by two nominal voltages has both, the lower first.
    values = [volts for name in falling for volts in sorted(map(float, re.findall(r"\d+\.\d+", str(pack_v[name]))), reverse=True)]
    assert len(values) >= len(falling)
    assert values == sorted(values, reverse=True)


@given(st.sampled_from(CHEMISTRY_KEYS), st.integers(1, 14))
def test_a_table_has_no_empty_place_but_the_words_that_are_not_needed(chemistry: str, cells: int) -> None:
    found = answered("voltages", {"chemistry": chemistry, "cells": str(cells)})
    for table in all_of(Table, found):
        assert all(len(row.cells) + 1 == len(table.columns) for row in table.rows)
        assert all(str(cell) for row in table.rows for cell in row.cells if isinstance(cell, Figure))


@given(st.sampled_from(KEYS), any_entries())
def test_the_same_entries_give_the_same_answer(key: str, entries: Entries) -> None:
    typed = json.dumps(entries)
    assert respond_in_json(key, typed) == respond_in_json(key, typed)
