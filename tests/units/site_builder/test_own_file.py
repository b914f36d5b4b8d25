"""The file in which own things leave and come back: what is published of it, what the browser checks, and what an import changes."""

import csv
import io
import json
from zlib import crc32

import pytest

from site_builder.building.own_file import OwnThings, file_schema
from site_builder.building.own_things import own_facts
from tests.properties.own_file import NOW, SCHEMA, line, pack, scripts, things

A_DAY_MS = 86_400_000


@pytest.fixture(scope="module")
def run():
    with scripts() as answering:
        yield answering


def records_of(text):
    return {name: value for name, value in json.loads(text).items() if isinstance(value, list)}


def sealed(record):
    """RFC 8785 for text and whole numbers: names in order, no space; CRC-32 as zlib has it."""
    text = json.dumps(record, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return record | {"checksum": crc32(text.encode())}


def file_with(**lists):
    return json.dumps({"kind": "own-things", "version": 1, "made": NOW, "packs": [], "chargers": [], "supplies": []} | lists)


def record(name="Copper Wren", **more):
    return sealed(pack(name, **more))


def test_what_is_kept_comes_back_as_it_was(run):
    kept = things(
        pack("Copper Wren", state=["charged", NOW - 5], log=[line("one", put_in_mah="2400", note="cold; “windy”\nland")]),
        pack(
            "Tin Lark",
            refused=["A cell was below its floor.", NOW - 9],
            entries={"measured_capacity_mah": "4700"},
            dates={"measured_capacity_mah": NOW - 7},
        ),
        charger=[{"id": "c", "name": "Bench", "entries": {"outputs_1_charger_current_a": "10"}, "dates": {}}],
        supply=[{"id": "s", "name": "Field", "entries": {"supply_kind": "battery"}, "dates": {}, "state": ["used", NOW - 3]}],
    )
    made = run.file_of(kept)

    assert made["leftOut"] == []
    assert run.after(things(), made["text"]) == {kind: [one | {"dates": one["dates"]} for one in kept[kind]] for kind in kept}


def test_the_file_fits_the_published_schema_and_each_record_has_the_checksum_of_the_standard(run):
    made = run.file_of(things(pack(log=[line("one", note="Ω")])))

    OwnThings.model_validate_json(made["text"])
    [found] = records_of(made["text"])["packs"]
    checksum = found.pop("checksum")
    assert sealed(found)["checksum"] == checksum


def test_what_the_phone_keeps_beside_a_thing_and_what_is_empty_stays_on_the_phone(run):
    made = run.file_of(
        things(pack(before={"card": "x", "ended": 3, "state": None}, records=[], refused=None, entries={"first_plug_cells": ""}))
    )
    [found] = records_of(made["text"])["packs"]

    assert set(found) == {"id", "name", "entries", "dates", "log", "checksum"}
    assert "first_plug_cells" not in found["entries"]


@pytest.mark.parametrize(
    ("spoil", "place"),
    [
        (lambda one: one["entries"].update(capacity_mah=5000), "“Capacity on the label” is not text"),
        (lambda one: one["entries"].update(chemistry="gold"), "is none of the choices"),
        (lambda one: one.pop("name"), "it has no “name”"),
        (lambda one: one.update(voltage="4.2"), "“voltage” is not known here"),
        (lambda one: one["log"][0]["entries"].update(put_in_mah=["1"]), "line 1 of its log, “Charge put in” is not text"),
        (lambda one: one["log"][0]["entries"].update(day="3 May"), "line 1 of its log, “Day” is not written as it should be"),
        (lambda one: one.update(state=["swollen", NOW]), "is none of the choices"),
        (lambda one: one.update(state=["charged", "now"]), "is not a whole number"),
        (lambda one: one.update(dates={"cells": 3}), "“cells” is not known here"),
        (lambda one: one["entries"].update(capacity_mah="5001"), "its checksum is not that of what it says"),
    ],
)
def test_a_damaged_record_is_left_out_by_its_name_and_the_place_is_named(run, spoil, place):
    broken = json.loads(run.file_of(things(pack("Copper Wren", log=[line("one")]), pack("Tin Lark")))["text"])
    spoil(broken["packs"][0])
    read = run.read(json.dumps(broken))

    assert [one["name"] for one in read["records"]["pack"]] == ["Tin Lark"]
    [sentence] = read["leftOut"]
    assert sentence.startswith("Pack 1 of the file") and place in sentence


def test_of_two_records_of_one_thing_that_say_different_things_the_second_is_left_out(run):
    read = run.read(file_with(packs=[record(), record(entries={"cells": "6"}), record()]))

    assert [one["entries"]["cells"] for one in read["records"]["pack"]] == ["4"]
    assert read["leftOut"] == ["Pack 2 of the file, “Copper Wren”: it is in the file twice, and the two differ."]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "The file is damaged"),
        ("[]", "This is no file of packs"),
        ('{"kind": "something else"}', "This is no file of packs"),
        (file_with(version=2), "A newer version of Fieldslate made this file"),
        (file_with(version="1"), "is not a whole number"),
        (file_with(version=0), "is too small"),
        (file_with(packs={}), "it has no list of packs"),
        (file_with(more=1), "is not known here"),
    ],
)
def test_what_is_no_whole_file_changes_nothing_and_is_refused_in_a_sentence(run, text, sentence):
    refused = run.read(text)["refused"]

    assert sentence in refused and refused.endswith("Nothing was taken from it.")


def test_a_file_that_is_cut_or_broken_names_its_line(run):
    text = run.file_of(things(pack("Copper Wren"), pack("Tin Lark")))["text"]
    broken = text.replace('"Tin Lark"', '"Tin Lark')

    assert broken.splitlines()[6].startswith('{"id":"tin lark"')
    assert "in its line 7, which cannot be read" in run.read(broken)["refused"]


def test_a_file_of_an_older_version_is_taken_over(run):
    newer = json.loads(json.dumps(SCHEMA))
    newer["properties"]["version"]["maximum"] = 2

    assert run.read(file_with(packs=[record()]), newer)["records"]["pack"][0]["name"] == "Copper Wren"


def test_the_same_file_twice_brings_nothing(run):
    text = run.file_of(things(pack(log=[line("one")])))["text"]
    once = run.after(things(), text)

    assert [change["how"] for change in run.merge(run.read(text)["records"], once)] == ["same"]
    assert run.after(once, text) == once


def test_new_lines_and_newer_measurements_are_added_and_what_is_here_alone_stays(run):
    mine = pack(
        log=[line("one"), line("mine")], entries={"measured_capacity_mah": "4800"}, dates={"measured_capacity_mah": NOW - 5 * A_DAY_MS}
    )
    theirs = pack(
        log=[line("one"), line("theirs")], entries={"measured_capacity_mah": "4700"}, dates={"measured_capacity_mah": NOW - A_DAY_MS}
    )
    [change] = run.merge(things(theirs), things(mine))

    assert change["how"] == "changed"
    [merged] = change["result"]
    assert [one["id"] for one in merged["log"]] == ["one", "mine", "theirs"]
    assert merged["entries"]["measured_capacity_mah"] == "4700"
    [back] = run.merge(things(mine), things(theirs))
    assert back["result"][0]["entries"]["measured_capacity_mah"] == "4700"


OTHER = {
    "another name": {"name": "Copper Wren II"},
    "another label": {"entries": {"cells": "6"}},
    "a line corrected": {"log": [line("one", put_in_mah="2600")]},
    "another measurement of one day": {"entries": {"measured_capacity_mah": "4100"}},
}


@pytest.mark.parametrize("other", OTHER.values(), ids=OTHER)
def test_a_pack_that_says_something_else_in_the_file_is_shown_as_two_and_nothing_is_lost(run, other):
    same = {"entries": {"measured_capacity_mah": "4800"}, "dates": {"measured_capacity_mah": NOW}, "log": [line("one", put_in_mah="2400")]}
    mine = pack(**same)
    theirs = pack(**same | other | {"entries": same["entries"] | other.get("entries", {})}) | {"id": mine["id"]}
    answers = {choice: run.merge(things(theirs), things(mine), choice)[0] for choice in ("mine", "theirs", "both")}

    assert {one["how"] for one in answers.values()} == {"two"}
    assert answers["mine"]["result"] == [mine]
    [taken] = answers["theirs"]["result"]
    assert taken == theirs
    first, second = answers["both"]["result"]
    assert first == mine and second["id"] != mine["id"]
    assert {**second, "id": mine["id"], "name": theirs["name"]} == theirs
    again = run.merge(things(theirs), things(first, second), "both")
    assert [change["how"] for change in again] == ["same"], "the file twice would double the pack"


def test_the_second_of_two_has_no_longer_a_name_than_a_file_takes(run):
    mine, theirs = (pack("x" * 200, id="wren", entries={"cells": cells}) for cells in ("4", "6"))
    [change] = run.merge(things(theirs), things(mine), "both")
    first, second = change["result"]
    assert second["name"].endswith("xxx, from the file") and second["name"] != first["name"]
    assert run.file_of(things(first, second))["leftOut"] == []


@pytest.mark.parametrize("choice", ["mine", "theirs", "both"])
@pytest.mark.parametrize("whose", ["mine", "theirs"])
@pytest.mark.parametrize("other", [{}, {"cells": "6"}], ids=["alike", "another label"])
def test_a_pack_that_is_out_of_use_on_either_side_stays_out_of_use(run, choice, whose, other):
    out = {"refused": ["A cell was below its floor.", NOW - 3]}
    mine, theirs = pack(**(out if whose == "mine" else {})), pack(entries=other, **(out if whose == "theirs" else {}))
    [change] = run.merge(things(theirs), things(mine), choice)
    left = change["result"] or [mine]

    assert all(one["refused"] == out["refused"] for one in left)


def test_a_moment_that_is_still_to_come_brings_the_label_alone(run):
    theirs = pack(
        state=["stored", NOW + A_DAY_MS],
        checked=NOW + A_DAY_MS,
        entries={"measured_capacity_mah": "4700"},
        dates={"measured_capacity_mah": NOW + 3 * A_DAY_MS},
    )
    [change] = run.merge(things(theirs), things())
    [new] = change["result"]

    assert "state" not in new and "checked" not in new and "measured_capacity_mah" not in new["entries"] and new["dates"] == {}


def test_how_a_pack_was_left_last_counts(run):
    older, newer = pack(state=["flown", NOW - 9]), pack(state=["stored", NOW - 4])

    assert run.merge(things(newer), things(older))[0]["result"][0]["state"][0] == "stored"
    assert run.merge(things(older), things(newer))[0]["how"] == "same"


def test_the_schema_takes_its_entries_from_what_the_calculators_ask():
    titles = {name: one["title"] for name, one in file_schema()["$defs"]["PackEntries"]["properties"].items()}

    assert titles["capacity_mah"] == "Capacity on the label"
    assert set(own_facts()["pack"]["entries"]) == set(titles)
    assert set(own_facts()["log"]["labels"]) == set(file_schema()["$defs"]["LineOfLog"]["properties"])


def test_the_table_is_that_of_rfc_4180_with_units_in_its_head_and_holds_no_formula(run):
    notes = ["=SUM(A1)", "+44", "-1+2", "@x", 'she said "land"\nnow, please', "-5"]
    log = [line(f"l{at}", line_degc="-5", put_in_mah="2,400", note=note) for at, note in enumerate(notes)]
    text = run.table([pack(log=log)], own_facts()["log"])
    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True))

    assert text.startswith("\ufeffPack,") and text.endswith("\r\n") and text.count("\r\n") == len(notes) + 1
    assert (
        rows[0]["Charge put in (mAh)"] == "2,400" and rows[0]["How warm the pack was (°C)"] == "-5" and rows[0]["What it was"] == "Charge"
    )
    assert [row["Note"] for row in rows] == ["'=SUM(A1)", "'+44", "'-1+2", "'@x", 'she said "land"\nnow, please', "-5"]
