"""A file of own things that somebody has made or changed by hand: what cannot be true is left out by its name and place, and hurts nothing else."""

import json
import random

import pytest
from pydantic import ValidationError

from site_builder.building.own_file import OwnThings
from site_builder.building.own_things import own_facts
from tests.properties.own_file import NOW, line, pack, scripts, things
from tests.units.site_builder.test_own_file import file_with, record, sealed


@pytest.fixture(scope="module")
def run():
    with scripts() as answering:
        yield answering


def refused_by_model(text: str) -> bool:
    try:
        OwnThings.model_validate_json(text)
    except ValidationError:
        return True
    return False


# What somebody may put anywhere into a file.
ANYTHING = [
    None, True, 0, -1, 1.5, 2, 2**60, "", " ", "gold", "4", "\u202e", "x" * 201, "x" * 401, "x" * 10_001, "2026-02-30", "2024-02-29",
    "../x", "__proto__", [], ["charged"], ["charged", NOW], ["charged", NOW, 1], ["swollen", NOW], {}, {"day": "2026-05-03"}, {"__proto__": 1},
]  # fmt: skip


# What somebody may take for right in its place.
NEARLY = {
    "day": ["2026-02-30", "2024-02-29", "2026-2-3", "2026-13-01", "today"],
    "id": ["../x", "x" * 100, "x" * 101, ""],
    "name": ["x" * 200, "x" * 201, ""],
    "note": ["x" * 10_000, "x" * 10_001],
    "checked": [8_640_000_000_000_000, 8_640_000_000_000_001, -1],
    "state": [["stored", NOW, 1], ["stored"], ["used", NOW]],
}


def places(value, path=()):
    """Yield the way to each value within one."""
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, part in parts:
        yield (*path, step)
        yield from places(part, (*path, step))


def spoilt(file, draw):
    """Change, take out or add something in one place of a file."""
    near = [place for place in places(file) if place[-1] in NEARLY]
    *path, last = draw.choice(near if draw.random() < 0.4 else list(places(file)))
    within = file
    for step in path:
        within = within[step]
    if draw.random() < 0.2:
        del within[last]
    elif draw.random() < 0.4:
        groups = [one for one in (file, *file["packs"], *(one["dates"] for one in file["packs"])) if isinstance(one, dict)]
        added = draw.choice(["voltage", "__proto__", "state", "checked", "cells", "new_resistance_mohm"])
        draw.choice(groups)[added] = draw.choice([NOW, "4", ["stored", NOW], ["used", NOW]])
    else:
        within[last] = draw.choice(NEARLY.get(last, ANYTHING))


def test_the_pages_and_whoever_reads_the_published_schema_take_and_refuse_the_same_files(run):
    whole = run.file_of(
        things(
            pack(log=[line("one", put_in_mah="2400"), line("two")], state=["stored", NOW], checked=NOW, refused=["It has swollen.", NOW]),
            pack("Tin Lark", entries={"measured_capacity_mah": "4700"}, dates={"measured_capacity_mah": NOW}),
            charger=[{"id": "bench", "name": "Bench", "entries": {"outputs_1_charger_current_a": "10"}, "dates": {}}],
            supply=[{"id": "field", "name": "Field", "entries": {"supply_kind": "battery"}, "dates": {}, "state": ["used", NOW]}],
        )
    )["text"]
    draw = random.Random(6)
    taken = {True: 0, False: 0}
    for _ in range(200):
        file = json.loads(whole)
        spoilt(file, draw)
        text = json.dumps(file)
        read = run.read(text)
        is_taken = "refused" not in read and not [one for one in read["leftOut"] if "its checksum is not" not in one and "twice" not in one]
        assert (is_taken, is_taken) == (run.fits_schema(text), not refused_by_model(text)), text
        taken[is_taken] += 1

    assert min(taken.values()) > 10, "there is no difference to see"


def test_a_line_that_stands_twice_in_a_log_comes_once_and_two_that_differ_are_named(run):
    twice = record(log=[line("one"), line("two"), line("one")])
    differing = record("Tin Lark", log=[line("one"), line("two"), line("one", put_in_mah="2600")])
    read = run.read(file_with(packs=[twice, differing]))

    [whole] = read["records"]["pack"]
    assert [one["id"] for one in whole["log"]] == ["one", "two"]
    assert read["leftOut"] == ["Pack 2 of the file, “Tin Lark”: line 3 of its log is there twice, and the two differ."]


@pytest.mark.parametrize("day", ["2026-02-30", "2026-13-01", "2026-99-99", "2025-02-29", "0000-01-01"])
def test_a_line_of_no_day_of_the_calendar_is_left_out_and_the_published_model_refuses_it_too(run, day):
    text = file_with(packs=[record(log=[line("one", day=day)])])
    read = run.read(text)

    assert read["records"]["pack"] == []
    assert read["leftOut"] == ["Pack 1 of the file, “Copper Wren”: line 1 of its log, “Day” is no day of the calendar."]
    assert refused_by_model(text)


def test_a_leap_day_is_one(run):
    text = file_with(packs=[record(log=[line("one", day="2024-02-29")])])

    assert run.read(text)["leftOut"] == [] and not refused_by_model(text)


def test_a_day_without_its_measurement_is_not_taken(run):
    [change] = run.merge(things(pack(dates={"measured_capacity_mah": NOW - 9})), things())

    assert change["result"][0]["dates"] == {}


def test_a_name_and_an_entry_come_without_what_shows_nothing_or_turns_round_the_words_beside_it(run):
    hostile = sealed(pack() | {"name": "Copper\u202e Wren\u200b\n2", "entries": {"cells": "\u202e21"}})
    nameless = sealed(pack("Tin Lark") | {"name": "\u200b\u2066 "})
    read = run.read(file_with(packs=[hostile, nameless]))

    assert [one["name"] for one in read["records"]["pack"]] == ["Copper Wren 2", "Without a name"]
    assert read["records"]["pack"][0]["entries"]["cells"] == "21"


def test_names_that_the_language_of_the_scripts_has_itself_are_names_like_others(run):
    odd = [sealed(pack(name) | {"id": name}) for name in ("__proto__", "constructor", "toString")]
    text = file_with(packs=odd)
    once = run.after(things(), text)

    assert [one["id"] for one in once["pack"]] == ["__proto__", "constructor", "toString"]
    assert run.after(once, text) == once


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('{"__proto__": {"state": ["charged", 5]}, ', "“__proto__” is not known here"),
        ('{"constructor": 1, ', "“constructor” is not known here"),
    ],
)
def test_a_record_with_such_a_part_is_left_out(run, text, place):
    spoilt = file_with(packs=[record()]).replace('[{"', text.replace("{", "[{", 1) + '"', 1)
    read = run.read(spoilt)

    assert read["records"]["pack"] == [] and place in read["leftOut"][0]


@pytest.mark.parametrize("number", ["1e999", "-1e999", "1.5", "-1", "9007199254740993", "NaN"])
def test_a_number_that_is_none_is_refused_with_its_place(run, number):
    text = file_with(packs=[record(dates={"measured_capacity_mah": 5}, entries={"measured_capacity_mah": "4700"})])
    read = run.read(text.replace('"measured_capacity_mah": 5}', f'"measured_capacity_mah": {number}}}'))

    assert "pack" not in read.get("records", {}) or read["records"]["pack"] == []
    assert "in its line 1" in read["refused"] if number == "NaN" else "“measured_capacity_mah”" in read["leftOut"][0]


def test_two_thousand_packs_come_in_and_come_in_once(run):
    text = run.file_of(things(*(pack(f"Copper {at}") for at in range(2_000))))["text"]
    once = run.after(things(), text)

    assert len({one["id"] for one in once["pack"]}) == len(once["pack"]) == 2_000
    assert run.after(once, text) == once


def test_lists_within_lists_without_end_are_refused(run):
    deep = "[" * 100_000 + "]" * 100_000

    assert "refused" in run.read(deep)
    assert run.read(file_with(packs=[record()]).replace('"Copper Wren"', deep, 1))["leftOut"]


def test_a_file_that_an_editor_has_laid_out_anew_names_the_line_that_is_broken(run):
    text = json.dumps(json.loads(run.file_of(things(pack("Copper Wren", log=[line("one")]), pack("Tin Lark")))["text"]), indent=2)
    at = next(number for number, one in enumerate(text.splitlines(), 1) if '"Tin Lark"' in one)

    assert f"in its line {at}, which cannot be read" in run.read(text.replace('"Tin Lark"', '"Tin Lark'))["refused"]
    assert "is not whole" in run.read(text[:-30].rstrip(' ",}]'))["refused"] or "cannot be read" in run.read(text[:-30])["refused"]


def test_what_the_file_cannot_hold_is_named_when_it_is_saved(run):
    made = run.file_of(things(pack("Copper Wren", entries={"capacity_mah": "5" * 500}), pack("x" * 201), pack("Tin Lark")))

    assert made["leftOut"] == ["Copper Wren (Capacity on the label)", "x" * 201]
    assert [one["name"] for one in json.loads(made["text"])["packs"]] == ["Copper Wren", "Tin Lark"]


FORMULAS = {
    "=1+1": "'=1+1",
    "x;=1+1": "x;'=1+1",
    "x\t@now": "x\t'@now",
    "first\n=1+1": "first\n'=1+1",
    "\uff1d1+1": "'\uff1d1+1",
    " =1+1": " '=1+1",
    "-5": "-5",
    "cold; windy - and so on": "cold; windy - and so on",
}


@pytest.mark.parametrize(("note", "stands"), FORMULAS.items())
def test_no_part_of_a_cell_is_a_formula_wherever_a_spreadsheet_cuts_it(run, note, stands):
    table = run.table([pack(log=[line("one", note=note)])], own_facts()["log"])

    assert table.rstrip("\r\n").rpartition(",")[2].strip('"') == stands
