"""A rule that stands in two places says the same number in both, and the same of the same pack."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from calc.calculators.end_of_life import EMPTIED
from calc.facts.ageing import HOT_CAR_DEGC
from calc.facts.looks import LOOKS
from calc.facts.practice import PACKS_APART_K, STORE_WITHIN_DAYS
from calc.inputs.fields import entries_of
from calc.inputs.travelling import TravelPack
from site_builder.commands.messages import messages
from site_builder.reading.shared_rules import RULES_FILE, read_shared_rules, with_shared_rules
from site_builder.setting_up.checkout import CONTENT
from tests.rules.source_trees import modules

MARK = re.compile(r"\s*\{[a-z0-9-]+\}|\*\*")
JINJA = re.compile(r"\{[%#].*?[%#]\}", re.DOTALL)
# The drawing of a thermometer is told with what stands in it, and the rule beside it says both.
IN_DEGC_ALONE = re.compile(r"\d °C(?! \([^()]* °F\))")
IN_BOTH = re.compile(r"(?:(-?\d+) to )?(-?\d+) °C \((?:(-?\d+) to )?(-?\d+) °F\)(?: (apart|hotter))?")
TEMPLATES = CONTENT.parent / "site_builder" / "templates"
SHARED = read_shared_rules(CONTENT / RULES_FILE)
AS_WRITTEN = {path: path.read_text(encoding="utf-8") for path in sorted((CONTENT / "pages").glob("*.md"))}
PAGES = {path.stem: with_shared_rules(text, SHARED, path) for path, text in AS_WRITTEN.items()}


def spoken(key: str) -> str:
    """A page in plain words: no marks of sources, one space between words."""
    return re.sub(r"\s+", " ", MARK.sub("", PAGES[key]))


def sentences(key: str) -> list[str]:
    return re.split(r"(?<=[.:!?])[\s\"]+", spoken(key))


def listed(faults: list[str]) -> str:
    return "say it alike:\n" + "\n".join(faults)


TABLE = Path(__file__).with_name("repeated.toml")
REPEATED: dict[str, dict[str, Any]] = tomllib.loads(TABLE.read_text(encoding="utf-8"))


@cache
def sentences_with_place() -> list[tuple[str, str]]:
    """Every sentence that a pilot can read, and where it stands: on a page, in a drawing, a shared rule, calc, a script or a template."""
    of_drawings = [
        (f"content/drawings/{file.name}", f"The drawing {file.stem} says {', '.join(says)}.")
        for file in sorted((CONTENT / "drawings").glob("*.svg"))
        if (says := re.findall(r"<text[^>]*>([^<]+)</text>", file.read_text(encoding="utf-8")))
    ]
    of_pages = [(f"content/pages/{key}.md", one) for key in PAGES for one in sentences(key)]
    of_calc = [
        (module.place(node), node.value.replace("\u00a0", " "))
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and "\n" not in node.value
    ]
    of_rules = [(f"content/{RULES_FILE}", one) for said in SHARED.values() for one in re.split(r"(?<=[.:!?])\s", MARK.sub("", said))]
    of_scripts = [(place, said.replace("\u00a0", " ")) for place, said in messages() if place.startswith("site_builder/web/")]
    of_templates = [
        (str(file.relative_to(TEMPLATES.parents[1])), said.strip())
        for file in sorted(TEMPLATES.rglob("*.html"))
        for said in re.findall(r">([^<>]*[a-z][^<>]*)<", JINJA.sub("", file.read_text(encoding="utf-8")))
    ]
    return of_pages + of_drawings + of_rules + of_calc + of_scripts + of_templates


def sentences_about(name: str) -> list[tuple[str, str]]:
    return [(place, one) for place, one in sentences_with_place() if re.search(REPEATED[name]["known_by"], one, re.IGNORECASE)]


def says_of(rule: Mapping[str, Any]) -> re.Pattern[str]:
    """Find the number of a rule as a sentence says it; "half an hour" does not say "an hour"."""
    ways = [rule["says"], *rule.get("or_says", ())]
    return re.compile(rf"(?<![\w.,-])(?<!half )(?:{'|'.join(map(re.escape, ways))})(?!\w)", re.IGNORECASE)


@pytest.mark.parametrize("name", REPEATED)
def test_every_sentence_about_a_rule_says_the_number_of_the_rule(name: str) -> None:
    rule = REPEATED[name]
    faults = [f"{place}: {one}" for place, one in sentences_about(name) if not says_of(rule).search(one)]
    assert not faults, (
        f"{name} in tests/rules/{TABLE.name} says “{rule['says']}”. Correct these sentences, or the rule there:\n" + "\n".join(faults)
    )


@pytest.mark.parametrize("name", REPEATED)
def test_a_rule_is_found_where_it_is_stated(name: str) -> None:
    places = {place for place, _ in sentences_about(name)}
    stated = f"content/pages/{REPEATED[name]['stated_on']}.md"
    assert stated in places, (
        f"no sentence of {stated} speaks of {name} any more: correct `stated_on` or `known_by` in tests/rules/{TABLE.name}"
    )


# A sentence that says another number than ours: by the rule that must send it back.
PLANTED = {
    "rest-before-reading": "Let it rest for ten minutes after a flight.",
    "reserve": "Come home with a quarter of the charge left.",
    "store-within": "A pack that is not flown within a week goes to storage.",
    "water-at-hand": "Have 10 litres of water ready.",
    "clear-space": "Nothing that burns lies within 50 cm.",
    "other-packs-away": "Keep other packs 1 m away.",
    "keep-everyone-away": "Keep everyone 10 m away.",
    "rate-where-none-is-shown": "Where the label shows no rate, charge at 2C, since it shows none.",
    "battery-after-a-charge": "Read it four hours after a charge.",
    "worn-out": "A pack that holds less than 70 % of its label is worn out.",
    "cells-within": "The cells may differ by 0.05 V.",
    "warmest-pack-on-charge": "Stop the charge at 55 °C in the pack.",
    "coldest-pack": "Do not charge a pack below 5 °C.",
    "warmth-apart": "Packs more than 20 °C apart wait.",
    "wash-off": "Rinse the eyes for 10 minutes.",
    "smoke-alarm": "Test the smoke alarm each year.",
    "wait-on-the-board": "Two minutes at least.",
    "watch-a-harmed-pack": "Watch it for ten minutes.",
    "look-at-stored-packs": "Every three months: look, smell, read every cell.",
    "longest-time-cut-out": "At half of the current give it twice as long.",
    "go-on-cooling": "Go on cooling it for at least 5 minutes after the last flame.",
}


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_contradiction_is_sent_back(name: str) -> None:
    assert re.search(REPEATED[name]["known_by"], PLANTED[name], re.IGNORECASE)
    assert not says_of(REPEATED[name]).search(PLANTED[name])


def test_a_wait_in_another_number_of_the_verb_is_sent_back_too() -> None:
    said = "It is no warmer than your hand, and ten minutes have passed."
    assert re.search(REPEATED["rest-before-reading"]["known_by"], said) and not says_of(REPEATED["rest-before-reading"]).search(said)


@pytest.mark.parametrize(
    "kind", ["content/pages/", "content/drawings/", "content/rules.toml", "calc/", "site_builder/web/", "site_builder/templates/"]
)
def test_sentences_of_every_kind_are_read(kind: str) -> None:
    assert any(place.startswith(kind) and len(one.split()) > 3 for place, one in sentences_with_place())


@pytest.mark.parametrize("name", [name for name, rule in REPEATED.items() if "fact" in rule])
def test_a_number_that_calc_has_too_is_what_the_pages_say(name: str) -> None:
    rule = REPEATED[name]
    module, *parts = rule["fact"].split("/")
    fact: Any = import_module(module)
    for part in parts:
        fact = fact[part] if isinstance(fact, Mapping) else getattr(fact, part)
    assert fact.value == rule["value"], (
        f"{rule['fact']} is {fact.value:g} now: write `says` and `value` of {name} in tests/rules/{TABLE.name} anew"
    )


@pytest.mark.parametrize("name", SHARED)
def test_a_shared_rule_is_taken_over_by_its_name_and_written_out_on_no_page(name: str) -> None:
    taken_over = [path.name for path, text in AS_WRITTEN.items() for _ in range(text.count(f"{{{{{name}}}}}"))]
    written_out = [path.name for path, text in AS_WRITTEN.items() if SHARED[name].split(" {")[0] in text]
    assert len(taken_over) >= 2, f"{name} is said once: write it in its page, and take it out of content/{RULES_FILE}"
    assert not written_out, f"{', '.join(written_out)}: write {{{{{name}}}}} instead of its words"


def test_a_pack_below_its_floor_is_charged_with_nobody_s_leave() -> None:
    # The maker's sheet may be stricter than these pages, and cannot mend a cell whose copper has dissolved.
    leave = re.compile(r"\bfloor\b.*\b(?:maker|may be charged|charge (?:it )?(?:slowly|gently))|\bmaker\b.*\bfloor\b", re.IGNORECASE)
    faults = [f"{place}: {one}" for place, one in sentences_with_place() if place.startswith("content") and leave.search(one)]
    assert not faults, listed(faults)


@pytest.mark.parametrize("key", ["handing-in", "handing-in-card", "end-of-life"])
def test_a_pack_is_emptied_to_the_floor_on_every_page_as_calc_works_it_out(key: str) -> None:
    assert "shows its floor" in spoken(key)
    assert not [one for one in sentences(key) if "cutoff" in one.lower()]


@pytest.mark.parametrize("key", ["cold-day", "pack-in-trouble"])
def test_a_pack_that_was_charged_frozen_is_done_on_every_page_and_in_calc(key: str) -> None:
    assert "charged at 0 °C (32 °F) or below is done" in spoken(key)
    assert "while frozen" in LOOKS["overcharged"].words


@pytest.mark.parametrize("key", ["handing-in", "handing-in-card", "end-of-life"])
def test_a_pack_that_was_ever_crashed_or_shorted_is_not_emptied_on_any_page(key: str) -> None:
    assert re.search(r"(?:\bcrashed, shorted or plugged in backwards at any time: it is harmed|ever crashed, shorted)", spoken(key))
    assert not set(EMPTIED) & set(LOOKS)


# How the pages that empty a pack call what calc refuses to empty. Smoke ends every job, and rain dries.
NOT_EMPTIED = {
    "swollen": "swollen",
    "leaking": "leaking",
    "bent": "dented|bent",
    "soaked": "wet",
    "overcharged": "charged too far or while frozen",
    "was-hot": "hot for no reason",
    "shorted": "shorted",
    "crashed": "crashed",
}


@pytest.mark.parametrize("key", ["handing-in", "handing-in-card", "end-of-life"])
def test_each_pack_that_calc_refuses_to_empty_is_named_where_the_harmed_are_told_from_the_whole(key: str) -> None:
    assert {*NOT_EMPTIED, "smoking", "rained-on", "watched"} == set(LOOKS)
    (told,) = [one for one in sentences(key) if "wollen" in one and "crashed" in one]
    assert not [look for look, words in NOT_EMPTIED.items() if not re.search(words, told, re.IGNORECASE)]


@pytest.mark.parametrize("key", ["transport", "travelling", "travelling-card"])
def test_each_pack_that_is_harmed_stays_behind_on_every_page_of_a_journey(key: str) -> None:
    (told,) = [line for line in PAGES[key].splitlines() if "wollen" in line and "recalled" in line]
    assert not [look for look, words in NOT_EMPTIED.items() if not re.search(words, told, re.IGNORECASE)]


def test_each_pack_that_is_harmed_is_named_where_a_journey_asks_for_its_condition() -> None:
    hint = entries_of(TravelPack)["condition"].hint
    assert not [look for look, words in NOT_EMPTIED.items() if not re.search(words, hint, re.IGNORECASE)]


def test_no_pack_is_warmed_in_a_pocket_with_its_contacts_bare() -> None:
    warmed = [(place, one) for place, one in sentences_with_place() if re.search(r"\bpocket\b", one) and "Never" not in one]
    faults = [f"{place}: {one}" for place, one in warmed if not re.search(r"contacts covered", one)]
    assert len(warmed) >= 6 and not faults, listed(faults)


@pytest.mark.parametrize("key", ["pack-in-trouble", "battery-care", "battery-care-card"])
def test_whatever_got_into_an_eye_is_washed_out_for_a_time_that_is_said(key: str) -> None:
    assert re.search(r"[Ii]n the eye\b[^.]*\bwash[^.]*\bfor 20 minutes", spoken(key))


def test_packs_go_to_storage_within_as_many_days_on_every_page() -> None:
    assert STORE_WITHIN_DAYS.value == 2
    other = re.compile(r"(?:two or three|three or four|2 or 3|2 to 3|three|3|four|4|a few) days")
    faults = [f"{key}: {one}" for key in PAGES for one in sentences(key) if other.search(one) and re.search("stor|fly", one)]
    assert not faults, listed(faults)
    assert "in the next day or two goes to storage" in spoken("putting-away")


def test_each_temperature_is_said_in_degrees_fahrenheit_too() -> None:
    faults = [
        f"{key}: {one}" for key in PAGES for one in sentences(key) if "thermometer with a tick" not in one and IN_DEGC_ALONE.search(one)
    ]
    assert not faults, listed(faults)


def test_degrees_fahrenheit_are_those_of_the_degrees_celsius_before_them() -> None:
    pairs = [
        (key, one, between, int(degc), int(degf))
        for key in PAGES
        for one in sentences(key)
        for *ends, between in IN_BOTH.findall(one.replace("−", "-"))
        for degc, degf in (ends[::2], ends[1::2])
        if degc
    ]
    faults = [f"{key}: {one}" for key, one, between, degc, degf in pairs if not are_the_same(degc, degf, 0 if between else 32)]
    assert len(pairs) > 20 and not faults, listed(faults)


def are_the_same(degc: int, degf: int, zero_degf: int) -> bool:
    """Whether one is the other to its nearest degree: a page has the number that was measured, and works out the one in brackets or outside."""
    return degf == round(1.8 * degc + zero_degf) or degc == round((degf - zero_degf) / 1.8)


def test_the_hot_car_of_the_ageing_table_is_that_of_the_page() -> None:
    # McLaren 2005, abstract: 117 °F inside, even on the coolest of the days.
    assert HOT_CAR_DEGC.value == round((117 - 32) / 1.8)
    assert f"reached {HOT_CAR_DEGC.value} °C (117 °F) inside" in spoken("hot-car")


def test_no_step_looks_for_full_voltage_on_a_pack_that_is_not_full() -> None:
    for key in ("soldering", "soldering-card"):
        assert "full voltage" not in spoken(key)
    assert "A pack at storage charge or lower" in spoken("soldering")


def test_water_is_ruled_out_for_no_pack_that_can_be_charged() -> None:
    faults = [f"{key}: {one}" for key in PAGES for one in sentences(key) if re.search(r"[Ww]ater is (?:the )?wrong", one)]
    assert not faults, listed(faults)
    assert "of the kinds that you can charge" in spoken("pack-in-trouble")


def test_four_fifths_of_the_label_itself_is_the_end_on_every_page() -> None:
    said = [(key, one) for key in PAGES for one in sentences(key) if "four fifths of the label" in one.lower()]
    assert len(said) >= 2
    assert not [f"{key}: {one}" for key, one in said if "or less" not in one]


@pytest.mark.parametrize("key", ["a-long-rest", "long-rest-card"])
def test_what_one_flight_puts_back_is_not_taken_for_what_a_pack_holds(key: str) -> None:
    # Whoever lands with the reserve of a fifth puts back four fifths, which would end the best pack.
    (said,) = [one for one in re.findall(r"(?:\d+\. |say = ).*", PAGES[key]) if "Four fifths of the label" in one]
    assert "what went in: it works out what the pack holds" in MARK.sub("", said) and "(ageing.html)" in said


@pytest.mark.parametrize(
    "key", ["packs-in-parallel", "packs-in-series", "charging-in-parallel", "charging-in-series", "parallel-card", "series-card"]
)
def test_packs_of_unlike_warmth_wait_and_every_page_that_joins_packs_says_how_unlike(key: str) -> None:
    span_k = PACKS_APART_K.value
    assert f"more than {span_k:g} °C ({span_k * 1.8:g} °F) apart" in spoken(key)
    assert "cold pack with a warm one" not in spoken(key)


def test_salt_water_is_kept_off_a_burning_pack() -> None:
    # Guide 147: a caution against salt water, since more hydrogen and hydrogen fluoride may come off.
    fire = PAGES["pack-in-trouble"].split("## Smoke, fire or hissing")[1].split("\n## ")[0]
    (line,) = [one for one in fire.splitlines() if "salt water" in one]
    assert "Use fresh water" in line and line.endswith("{erg-147}")
