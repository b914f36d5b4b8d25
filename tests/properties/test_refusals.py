"""Nothing that is typed breaks anything: each entry is answered or refused, and what is refused shows no number to dial in."""

from __future__ import annotations

import json
import re
from dataclasses import fields
from html.parser import HTMLParser

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer, calculator
from calc.inputs.fields import Kind, entries_of
from calc.inputs.refusals import Problem, Refusal
from site_builder.engine.answer import respond, respond_in_json
from tests.properties.test_charge_current import CLUB_CHARGE
from tests.properties.typed_entries import KEYS, SLIPS, Entries, any_entries, nearly_charges, wild_entries

# Classes of the elements that hold a number to dial in, a forecast or a step.
NUMBERED = {"figure", "also", "setting", "ceiling-figure", "range", "step", "reading"}

# The dot of a number, and not the one that ends a unit.
_DECIMAL_POINT = re.compile(r"\.(?=\d)|(?<=\d)\.")


class Classes(HTMLParser):
    """Every class that a piece of HTML uses."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: set[str] = set()
        self.feed(html)

    def handle_starttag(self, _: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.update((dict(attrs).get("class") or "").split())


def refused(key: str, entries: Entries) -> Refusal:
    found = answer(key, entries)
    assume(isinstance(found, Refusal))
    return found


@given(st.sampled_from(KEYS), any_entries())
@example("charge_settings", {})
@example("charge_settings", CLUB_CHARGE | {"resting_v": "0"})
@example("charge_settings", CLUB_CHARGE | {"resting_v": ";"})
@example("charge_settings", CLUB_CHARGE | {"lead_area_mm2": "99 gauge"})
@example("voltages", {"chemistry": "\ud800", "cells": "٣"})
def test_whatever_is_typed_is_answered_or_refused(key: str, entries: Entries) -> None:
    response = json.loads(respond_in_json(key, json.dumps(entries)))
    assert response["kind"] in ("answer", "partial", "refusal")
    assert response["html"].strip() and response["summary"].strip()


@pytest.mark.parametrize("text", SLIPS)
def test_no_slip_breaks_any_field_of_a_charge_that_is_else_in_order(text: str) -> None:
    for field in entries_of(calculator("charge_settings").Inputs):
        assert respond("charge_settings", CLUB_CHARGE | {field: text}).kind in ("answer", "partial", "refusal")


def test_a_problem_has_no_room_for_a_figure() -> None:
    assert {one.name: one.type for one in fields(Refusal)} == {"problems": "tuple[Problem, ...]"}
    assert {one.type for one in fields(Problem)} <= {"str", "bool"}


@given(st.sampled_from(KEYS), nearly_charges() | wild_entries())
@example("charge_settings", {})
@example("charge_settings", CLUB_CHARGE | {"resting_v": "25.2"})
@example("charging_card", CLUB_CHARGE | {"pack_degc": "-1"})
def test_a_refusal_shows_no_number_to_dial_in(key: str, entries: Entries) -> None:
    refused(key, entries)
    assert Classes(respond(key, entries).html).found & NUMBERED == set()


@given(st.sampled_from(KEYS), nearly_charges() | wild_entries())
@example("charge_settings", {})
@example("charge_settings", CLUB_CHARGE | {"supply_v": "9"})
def test_a_refusal_names_a_field_that_is_asked_and_says_something_of_it(key: str, entries: Entries) -> None:
    asked = entries_of(calculator(key).Inputs)
    for problem in refused(key, entries).problems:
        assert problem.field in ("", *asked)
        assert problem.sentence.endswith(".") and "None" not in problem.sentence


@given(st.sampled_from(KEYS), any_entries())
@example("charge_settings", CLUB_CHARGE | {"pack_degc": "7,5", "resting_v": " 11.1 "})
@example("charge_settings", CLUB_CHARGE | {"resting_v": "3.80 3.81 3.79", "cells": "3"})
@example("charge_settings", CLUB_CHARGE | {"capacity_mah": "2650mAh."})
def test_a_comma_for_a_dot_and_spaces_around_change_nothing(key: str, entries: Entries) -> None:
    choices = {name for name, entry in entries_of(calculator(key).Inputs).items() if entry.kind is Kind.CHOICE}
    # A dot before exactly three digits becomes a comma that is asked about, and a text with both marks is no number.
    assume(not any("," in text or ".." in text or _has_three_decimals(text) for text in entries.values()))
    respelt = {name: text if name in choices else f" \u00a0{_DECIMAL_POINT.sub(',', text)} " for name, text in entries.items()}
    assert _what_it_is_about(key, respelt) == _what_it_is_about(key, entries)


def _has_three_decimals(text: str) -> bool:
    return any(len(part) - len(part.lstrip("0123456789")) == 3 for part in text.split(".")[1:])


def _what_it_is_about(key: str, entries: Entries) -> tuple[str, object]:
    """The HTML of an answer; of a refusal the fields, since its sentences repeat the number as it was typed."""
    found = answer(key, entries)
    if isinstance(found, Refusal):
        return "refusal", [(problem.field, problem.missing, problem.go_to) for problem in found.problems]
    return "answer", respond(key, entries).html
