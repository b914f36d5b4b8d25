"""Whatever happens to a file of own things on its way, nothing that is here is lost and no other number than those of the file is taken."""

from __future__ import annotations

import json
import random
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from site_builder.building.own_file import OwnThings
from tests.properties.own_file import NOW, line, pack, scripts, things

HERE = things(
    pack("Copper Wren", log=[line("one", put_in_mah="2400"), line("two", "2026-06-01")], state=["stored", NOW - 9]),
    pack("Tin Lark", refused=["A cell was below its floor.", NOW - 9]),
    charger=[{"id": "bench", "name": "Bench", "entries": {"outputs_1_charger_current_a": "10"}, "dates": {}}],
)
SENT = things(
    pack("Copper Wren", log=[line("one", put_in_mah="2400"), line("three", "2026-07-01", measured_capacity_mah="4650")]),
    pack("Tin Lark"),
    pack("Pine Wren", entries={"measured_capacity_mah": "4700"}, dates={"measured_capacity_mah": NOW - 3}, log=[line("four", note="cold")]),
    charger=[{"id": "other", "name": "Other", "entries": {"outputs_1_charger_current_a": "6"}, "dates": {}}],
    supply=[{"id": "field", "name": "Field", "entries": {"supply_kind": "battery", "battery_ah": "80"}, "dates": {}}],
)
CHOICES = st.sampled_from(["mine", "both"])
WRONG = st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=5), st.just([]), st.just({}), st.floats(allow_nan=False))


@pytest.fixture(scope="module")
def run():
    with scripts() as answering:
        yield answering


@pytest.fixture(scope="module")
def text(run):
    return run.file_of(SENT)["text"]


def hold(run, spoilt: str, choice: str = "mine") -> None:
    """Everything that was here is here still, as it was or with more, and every text that came in stood in the file as it was sent."""
    after = run.after(HERE, spoilt, choice)
    for kind, before in HERE.items():
        left = {one["id"]: one for one in after[kind]}
        for thing in before:
            now = left[thing["id"]]
            assert now["name"] == thing["name"] and now["entries"].items() >= thing["entries"].items()
            assert [one for one in now.get("log", []) if one in thing.get("log", [])] == thing.get("log", [])
            assert not thing.get("refused") or now["refused"] == thing["refused"]
    sent = said_by(SENT) | said_by(HERE)
    assert said_by(after) <= sent


def said_by(kept: dict[str, Any]) -> set[tuple[str, str, str]]:
    """Each entry with the thing or the line of which it says something."""
    found = set()
    for one in (one for kind in kept.values() for one in kind):
        found |= {(one["id"], name, text) for name, text in one["entries"].items()}
        found |= {(line["id"], name, text) for line in one.get("log", []) for name, text in line["entries"].items()}
    return found


@given(st.data())
def test_a_file_with_flipped_bits_brings_no_other_number(run, text, data):
    content = bytearray(text.encode())
    for _ in range(data.draw(st.integers(1, 4))):
        content[data.draw(st.integers(0, len(content) - 1))] ^= 1 << data.draw(st.integers(0, 7))
    hold(run, content.decode(errors="replace"))


@given(st.data())
def test_a_file_that_was_cut_brings_nothing_or_what_is_whole(run, text, data):
    start, end = sorted(data.draw(st.tuples(st.integers(0, len(text)), st.integers(0, len(text)))))
    hold(run, text[:start] + text[end:])
    hold(run, text[:start])


@given(st.integers(0, 2**32))
def test_records_in_another_order_and_twice_bring_each_once(run, text, seed):
    file = json.loads(text)
    for name in ("packs", "chargers", "supplies"):
        file[name] = file[name] * 2
        random.Random(seed).shuffle(file[name])
    spoilt = json.dumps(file)
    hold(run, spoilt)
    after = run.after(HERE, spoilt)
    for things_of_kind in after.values():
        assert len({one["id"] for one in things_of_kind}) == len(things_of_kind)
    assert {one["name"] for one in after["pack"]} == {"Copper Wren", "Tin Lark", "Pine Wren"}
    assert run.after(after, spoilt) == after


def places(value: Any, path: tuple = ()) -> list[tuple]:
    if isinstance(value, dict):
        return [path, *(found for name, part in value.items() for found in places(part, (*path, name)))]
    if isinstance(value, list):
        return [path, *(found for at, part in enumerate(value) for found in places(part, (*path, at)))]
    return [path]


@given(st.data())
def test_a_wrong_kind_of_value_anywhere_is_left_out(run, text, data):
    file = json.loads(text)
    *path, last = data.draw(st.sampled_from(places(file)[1:]))
    spoilt = deepcopy(file)
    within = spoilt
    for step in path:
        within = within[step]
    within[last] = data.draw(WRONG)
    if spoilt != file:
        hold(run, json.dumps(spoilt), data.draw(CHOICES) if last == "log" else "mine")


@given(st.data())
def test_the_pages_refuse_exactly_what_the_published_model_refuses(run, text, data):
    file = json.loads(text)
    *path, last = data.draw(st.sampled_from(places(file)[1:]))
    within: Any = file
    for step in path:
        within = within[step]
    within[last] = data.draw(WRONG.filter(lambda value: not isinstance(value, float)))  # 1.0 is whole in JSON, and not in Python
    spoilt = json.dumps(file)
    read = run.read(spoilt)
    said = [read["refused"]] if "refused" in read else [one for one in read["leftOut"] if "its checksum is not" not in one]
    try:
        OwnThings.model_validate_json(spoilt)
    except ValidationError:
        assert said
    else:
        assert not said


@given(
    st.recursive(WRONG, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4), max_leaves=12)
)
def test_a_file_of_anything_else_changes_nothing(run, anything):
    assert run.after(HERE, json.dumps(anything)) == HERE


@given(CHOICES, st.sampled_from(["entries", "name", "log"]))
def test_a_whole_file_that_says_otherwise_of_what_is_here_loses_nothing(run, choice, part):
    other = {"entries": {"cells": "6"}, "name": "Another", "log": [line("one", put_in_mah="2600")]}
    theirs = pack("Copper Wren", **({part: other[part]} if part != "name" else {}))
    theirs = theirs | ({"name": other["name"]} if part == "name" else {})
    after = run.after(HERE, run.file_of(things(theirs))["text"], choice)
    [mine] = [one for one in after["pack"] if one["id"] == "copper wren"]

    assert mine == HERE["pack"][0]
    assert len(after["pack"]) == len(HERE["pack"]) + (choice == "both")
