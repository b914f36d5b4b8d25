"""What is found in the built pages: in trade words, in plain words and with slips, and trouble before all else."""

from __future__ import annotations

import json
import subprocess
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from site_builder.reading.plain_words import read_plain_words
from site_builder.setting_up.checkout import CONTENT, DIST
from site_builder.setting_up.node import node_program

HERE = Path(__file__).parent
MEANT = tomllib.loads((HERE / "found.toml").read_text(encoding="utf-8"))
TROUBLE = "pack-in-trouble.html"
LEADING = [
    (word, group.leads_to) for group in read_plain_words(CONTENT / "plain-words.toml").alike if group.leads_to for word in group.words
]
PHRASES = [(said, group.leads_to) for group in read_plain_words(CONTENT / "plain-words.toml").phrases for said in group.said]
OF_TROUBLE = [(word, to) for word, to in LEADING if to.startswith(TROUBLE)]
ONE_MORE = ["battery", "pack", "charge settings", "voltages of my lipo", "how long", "fuse and lead"]


@cache
def found(*typed: str) -> list[list[dict[str, Any]]]:
    """For each of the typed texts, what the built page finds, the first first."""
    folders = list(DIST.glob("find-*"))
    assert folders, "dist/ is not built: run the tests with python3 -m site_builder test"
    command = [str(node_program()), str(HERE / "find.mjs"), str(folders[0])]
    asked = subprocess.run(command, input=json.dumps(typed), capture_output=True, check=True, text=True, encoding="utf-8")
    return json.loads(asked.stdout)


def addresses(*typed: str) -> dict[str, list[str]]:
    return {text: [one["address"] for one in hits] for text, hits in zip(typed, found(*typed), strict=True)}


@pytest.mark.parametrize(("typed", "meant"), MEANT["first"].items())
def test_what_is_meant_comes_first(typed: str, meant: str) -> None:
    assert addresses(*MEANT["first"])[typed][:1] == [meant]


@pytest.mark.parametrize(("typed", "meant"), MEANT["among_three"].items())
def test_what_is_meant_is_among_the_first_three(typed: str, meant: str) -> None:
    assert meant in addresses(*MEANT["among_three"])[typed][:3]


def test_there_are_two_hundred_and_eighty_such_questions() -> None:
    assert len(MEANT["first"] | MEANT["among_three"]) >= 280


@pytest.mark.parametrize(
    ("typed", "first"), [("2.9 V a cell", True), ("cell is 3.7 V", False), ("cell 0.1 V lower", False), ("2.5 mm² lead", False)]
)
def test_a_cell_below_the_highest_floor_leads_to_the_pack_that_was_run_too_flat(typed: str, first: bool) -> None:
    assert (addresses(typed)[typed][0] == f"{TROUBLE}#run-too-flat") is first


@pytest.mark.parametrize(("said", "meant"), PHRASES)
def test_a_phrase_leads_where_its_list_says(said: str, meant: str) -> None:
    assert addresses(*dict(PHRASES))[said][:1] == [meant]


def test_a_word_of_trouble_beside_a_phrase_comes_before_it() -> None:
    typed = [f"{said} smoke" for said, _ in PHRASES]
    assert {text: hits[:1] for text, hits in addresses(*typed).items() if hits[:1] != [f"{TROUBLE}#smoke-fire-or-hissing"]} == {}


def test_a_battery_is_what_the_words_beside_it_say() -> None:
    assert {
        text: hits[0] for text, hits in addresses("flat battery", "flat car battery", "car battery on fire", "leisure battery").items()
    } == {
        "flat battery": f"{TROUBLE}#run-too-flat",
        "flat car battery": "battery-care.html",
        "car battery on fire": f"{TROUBLE}#smoke-fire-or-hissing",
        "leisure battery": "battery-care.html",
    }


def test_no_question_of_the_quiz_is_found() -> None:
    # A question holds two wrong answers, and the sentence that is shown might be one of them.
    typed = ["Throw sand over it", "Pull it off the charger", "Yes, if the sun is on the pack"]
    assert [one for hits in found(*typed) for one in hits if "#question" in one["address"]] == []


def test_the_first_three_show_the_sentence_that_matched_with_its_words_in_parts() -> None:
    typed = list(MEANT["first"])
    first_three = [(text, one) for text, hits in zip(typed, found(*typed), strict=True) for one in hits[:3]]
    assert all("".join(part["text"] for part in one["parts"]) == one["line"] for _, one in first_three)
    # A page that is found by its name or by a phrase alone has no such sentence: then the first says what it is about. Trouble that its
    # heading names shows its first act.
    silent = [
        (text, one["address"]) for text, one in first_three
        if not one["address"].startswith(TROUBLE) and not any(part["isHit"] for part in one["parts"])
    ]  # fmt: skip
    assert len(silent) < len(first_three) / 15, silent


def test_each_word_of_trouble_leads_to_its_own_heading() -> None:
    words = dict(OF_TROUBLE)
    astray = {word: hits[:1] for word, hits in addresses(*words).items() if hits[:1] != [words[word]]}
    assert len(words) > 50 and astray == {}


@pytest.mark.parametrize("more", ONE_MORE)
def test_a_word_of_trouble_comes_first_among_other_words(more: str) -> None:
    typed = [text for word, _ in OF_TROUBLE for text in (f"{word} {more}", f"{more} {word}")]
    astray = {text: hits[:1] for text, hits in addresses(*typed).items() if not hits or not hits[0].startswith(TROUBLE)}
    assert astray == {}


def test_every_plain_word_leads_where_its_list_says() -> None:
    astray = {
        word: to
        for (word, to), hits in zip(LEADING, found(*(word for word, _ in LEADING)), strict=True)
        if to not in [one["address"] for one in hits[:3]]
    }
    assert astray == {}


def test_a_word_of_trouble_is_found_while_it_is_typed() -> None:
    assert {text: hits[0] for text, hits in addresses("swol", "smok", "overch").items()} == {
        "swol": f"{TROUBLE}#swollen-pack",
        "smok": f"{TROUBLE}#smoke-fire-or-hissing",
        "overch": f"{TROUBLE}#charged-too-far",
    }


@pytest.mark.parametrize("typed", ["wire", "fuse", "drop in voltage", "charge", "five cells"])
def test_a_word_that_is_only_like_one_of_trouble_is_not_taken_for_it(typed: str) -> None:
    assert not addresses(typed)[typed][0].startswith(TROUBLE)


def test_a_calculator_is_found_by_each_name_of_its_settings_and_says_so() -> None:
    [hits] = found("charge current at most")
    assert (hits[0]["kind"], hits[0]["line"]) == ("shows", "Charge current")


def test_what_is_found_says_why_in_a_sentence_of_the_page() -> None:
    [hits] = found("dog chewed it")
    assert hits[0]["line"].startswith("A dog or a child chewed it:")


@pytest.mark.parametrize(
    ("typed", "heading", "act"),
    [
        ("pillow", "Swollen pack", "Stop. Do not charge it, fly it, press it or prick it."),
        ("hot pack", "Hot pack", "Stop the charge or the motor. Step back."),
        ("in a puddle", "Wet pack", "Keep it in the open air. Do not charge it."),
        ("fell in the lake", "Wet pack", "Keep it in the open air. Do not charge it."),
    ],
)
def test_where_the_heading_says_which_trouble_it_is_the_first_act_is_shown(typed: str, heading: str, act: str) -> None:
    [hits] = found(typed)
    assert (hits[0]["heading"], hits[0]["line"]) == (heading, act)


def test_whatever_is_found_says_something() -> None:
    silent = [one["address"] for hits in found(*MEANT["first"]) for one in hits if not one["line"].strip()]
    assert silent == []


@pytest.mark.parametrize("typed", ["", "   ", "the of a", "?!", "xyzzyxyzzy"])
def test_nothing_is_found_where_nothing_is_meant(typed: str) -> None:
    assert found(typed) == [[]]


def test_a_document_stands_behind_the_pages() -> None:
    [hits] = found("lithium battery fires")
    pages = [not one["address"].startswith("sources.html#") for one in hits]
    assert pages == sorted(pages, reverse=True)
