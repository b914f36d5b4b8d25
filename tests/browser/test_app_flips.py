"""Flipped bits in whatever the phone keeps: no page dies of one, and none makes another number.

A hundred and twenty flips run with the tests. For ten thousand: FIELDSLATE_FLIPS=10000 python3 -m site_builder test -k flipped
"""

import json
import os
import re
from datetime import UTC, datetime, timedelta
from html import unescape
from random import Random
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.engine.answer import respond
from site_builder.harness.pilot import club_entries, end_card, lay_entries, open_with, start_card, tick_steps
from site_builder.harness.store import forget, kept, lay_records, put_records, records, sealed, sealed_list
from site_builder.setting_up.checkout import ROOT
from tests.browser.phones import NO_SERVICE_WORKER

SEED = 20_260_509
NOON = datetime(2026, 5, 9, 12, 0, tzinfo=UTC)  # it stays noon: a page tells for how many days a pack has been full
FLIPS = int(os.environ.get("FIELDSLATE_FLIPS", "120"))
ENGINE_EVERY = 60  # turns: it takes seconds to start
ENTRIES = club_entries("brass-heron", "small", "field-battery")
PAGES = {
    "charge-settings": "charge-settings.html",
    "cards": "cards.html",
    "my-packs": "my-packs.html",
    "log": "my-packs.html?log=copper",
    "day-plan": "day-plan.html",
    "index": "index.html",
}
A_DAY_MS = 86_400_000
A_LIST = "own "  # how the names of lists begin, which are kept thing by thing
FORMER = {"running-card"}  # kept by a former version, and only taken over
# The calculator never comes: what stands on the page is what was kept.
NO_ENGINE = "if (sessionStorage.getItem('no engine')) window.Worker = class { postMessage() {} terminate() {} };"
# What is emptied is not kept again by the page that is open, nor by one that is being left.
LOOK_NO_MORE = "() => { document.dispatchEvent = () => true; }"
WRITE_NO_MORE = "() => { IDBObjectStore.prototype.put = () => undefined; IDBObjectStore.prototype.delete = () => undefined; }"

# What a page shows of what is kept, once it has started, and its calculator has answered where one is waited for: each line with a number in it.
SHOWN = """withEngine => new Promise((good) => {
  const look = () => {
    const form = document.getElementById("entries");
    const answer = document.getElementById("answer");
    const state = answer?.dataset.state ?? document.body?.dataset.cardRunning ?? "no card";
    const isComing = withEngine && form && ["waiting", "kept"].includes(state);
    if (document.documentElement?.dataset.started === undefined || isComing) return setTimeout(look, 5);
    const isBesides = (one) => one.closest("#answer, .trouble, .top, .bottom, footer, .kept-notice, .not-own") !== null;
    const leaves = [...document.querySelectorAll("main *")].filter((one) => one.children.length === 0 && !isBesides(one));
    setTimeout(() => good({
      entries: form ? Object.fromEntries(new FormData(form)) : {},
      state,
      figures: Array.from(document.querySelectorAll("#answer-body .figure, .card-strip .card-numbers"), (one) => one.textContent),
      // A timer runs on, and what was read now was read at some hour a minute later.
      lines: leaves.map(({ textContent }) => textContent.trim().replace(/\\b(?:now|\\d\\d?:\\d\\d)$/, "")).filter((text) => /\\d/.test(text)),
      trouble: document.querySelector(".trouble") !== null,
    }));
  };
  look();
})"""
A_FIGURE = re.compile(r'<strong class="figure[^>]*>(.*?)</strong>', re.DOTALL)


def own_things(now: int) -> dict[str, Any]:
    """Return records of two packs, of which one is full and due, with a log; of a charger, a supply, a plan, and what else is kept beside."""
    label = {"chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "label_charge_rate_c": "2"}
    packs = [
        {"id": "copper", "name": "Copper Wren", "entries": label, "dates": {}, "state": ["charged", now - 3 * A_DAY_MS]},
        {"id": "tin", "name": "Tin Lark", "entries": label | {"capacity_mah": "2200"}, "dates": {}},
    ]
    charger = {
        "id": "bench",
        "name": "Bench",
        "entries": {"outputs_1_charger_current_a": "10", "outputs_1_charger_power_w": "250"},
        "dates": {},
    }
    mains = {"id": "hut", "name": "Hut", "entries": {"supply_kind": "mains", "supply_v": "13.8", "supply_current_a": "30"}, "dates": {}}
    line = {"id": "line-1", "entries": {"day": "2026-03-07", "kind": "flown", "minutes": "7.5"}, "note": "at 12 of 19 knots"}
    turn = {
        "packs": ["1"], "ids": ["copper"], "output": "1", "page": "charge-settings", "words": "Pack 1 alone, at 2.2 A", "begin": now + 600_000,
        "ready": now + 4_200_000, "latest": now + 5_200_000, "state": "waiting", "card": "", "looked": False,
    }  # fmt: skip
    plan = {"page": "day-plan", "made": now, "entries": {"packs_1_cells": ["3", now]}, "until": None, "asked": None, "turns": [turn]}
    return {
        "own pack": sealed_list("own pack", packs),
        "own charger": sealed_list("own charger", [charger]),
        "own supply": sealed_list("own supply", [mains]),
        "picked": sealed("picked", {"charger": "bench", "output": "1"}),
        "log copper": sealed("log copper", [line]),
        "followed-plan": sealed("followed-plan", plan),
        "told": sealed("told", [f"store copper {now - 3 * A_DAY_MS}"]),
        "club-lines": sealed("club-lines", {"number": "555 0142", "place": "Field 7", "rule": "Two buckets of sand."}),
        "last file in": sealed(
            "last file in", {"moment": now, "changes": [{"kind": "pack", "id": "tin", "before": None, "after": packs[1]}]}
        ),
    }


def kinds_in_the_scripts() -> set[str]:
    """Return how the names of all kinds of record begin that the scripts declare, each with its version."""
    found = set()
    for script in (ROOT / "site_builder" / "web").glob("*.js"):
        text = script.read_text(encoding="utf-8")
        for constant, its in re.findall(r'^const ([A-Z_]+) = "([^"]*)";', text, re.MULTILINE):
            text = text.replace(f"${{{constant}}}", its)
        found |= set(re.findall(r'\bname: ["`]([^"`$]+)[^,]*,(?:\s*//[^\n]*)?\s*version: \d', text))
    return found


@pytest.fixture
def kept_page(phone: BrowserContext, site) -> Page:
    """A phone that keeps something of every kind: a card that ended and one that runs, entries, units, answers, one's own things, and a plan."""
    phone.add_init_script(NO_SERVICE_WORKER)
    phone.add_init_script(NO_ENGINE)
    page = phone.new_page()
    page.clock.set_fixed_time(NOON)
    open_with(page, site.address, "charging-card", ENTRIES, read_at=NOON)
    start_card(page)
    end_card(page)
    # What was read by then has ended with the card. Half past a minute: what a doubted clock moves by a millisecond stays in its own.
    page.clock.set_fixed_time(NOON + timedelta(seconds=90))
    page.goto(site.address + "charge-settings.html")
    lay_entries(page, ENTRIES)
    page.locator("#answer-body button[data-unit-kind=temperature]").first.click()
    expect(page.locator("#answer-body")).to_contain_text("°F")
    page.get_by_role("link", name="Start the charging card").click()
    expect(page.get_by_role("heading", name="Compare the label in your hand")).to_be_visible()
    tick_steps(page, "First look", count=ENTRIES["cells"])
    cards = kept(page, "running-cards")
    cards["running"][0] |= {"packs": [{"id": "copper", "read": {}}], "logged": {"copper": {"put_in_mah": "1840", "to_v": "4.20 4.19 4.20"}}}
    things = own_things(page.evaluate("Date.now()"))
    lay_records(page, site.address, things | {"running-cards": sealed("running-cards", cards)})
    page.evaluate("sessionStorage.setItem('no engine', 'yes')")
    page.goto(site.address + "charge-settings.html")
    expect(page.locator("#answer")).to_have_attribute("data-state", "kept")
    return page


def flipped(record: Any, random: Random) -> Any:
    """Return a record with one bit of its JSON flipped: another record, or only the text if it is no JSON any more."""
    text = bytearray(json.dumps(record, ensure_ascii=False).encode())
    text[random.randrange(len(text))] ^= 1 << random.randrange(8)
    damaged = text.decode(errors="replace")
    try:
        return json.loads(damaged)
    except ValueError:
        return damaged


class Phone:
    """What each page shows of what is kept: of all of it, and of all but one record, looked at when it is first asked for."""

    def __init__(self, page: Page, address: str, whole: dict[str, Any]) -> None:
        self.page, self._address, self.whole = page, address, whole
        self._known: dict[tuple[str | None, str], dict[str, Any]] = {}
        self._less_one: dict[tuple[str, str], list[dict[str, Any]]] = {}

    def shows(self, key: str, kept: dict[str, Any], with_engine: bool = False) -> dict[str, Any]:
        self.page.evaluate(LOOK_NO_MORE)
        forget(self.page)
        put_records(self.page, kept)
        self.page.evaluate(
            "isOn => isOn ? sessionStorage.removeItem('no engine') : sessionStorage.setItem('no engine', 'yes')", with_engine
        )
        self.page.evaluate(WRITE_NO_MORE)
        self.page.goto(self._address + PAGES[key], wait_until="commit")
        return self.page.evaluate(SHOWN, with_engine)

    def without(self, name: str | None, key: str) -> dict[str, Any]:
        if (name, key) not in self._known:
            self._known[name, key] = self.shows(key, {one: record for one, record in self.whole.items() if one != name})
        return self._known[name, key]

    def less_one(self, name: str, key: str) -> list[dict[str, Any]]:
        """Return what a page shows where one of the things of a list is gone, for each of them; nothing where the record is no list."""
        if not name.startswith(A_LIST):
            return []
        if (name, key) not in self._less_one:
            things = [json.loads(line.partition(" ")[2]) for line in self.whole[name]["value"].splitlines()]
            lists = [sealed_list(name, [one for one in things if one is not gone]) for gone in things]
            self._less_one[name, key] = [self.shows(key, self.whole | {name: less}) for less in lists]
        return self._less_one[name, key]

    def measured_again(self, key: str) -> dict[str, Any]:
        """Return what a page shows where every reading has ended."""
        if ("ended", key) not in self._known:
            ended = sealed("over", {"": self.page.evaluate("Date.now()")})
            self._known["ended", key] = self.shows(key, self.whole | {"over": ended})
        return self._known["ended", key]

    def empty(self, key: str) -> dict[str, Any]:
        if ("", key) not in self._known:
            self._known["", key] = self.shows(key, {})
        return self._known["", key]

    def others(self, name: str, key: str) -> list[dict[str, Any]]:
        return [self.without(name, key), *self.less_one(name, key), self.without("units", key), self.measured_again(key), self.empty(key)]

    def figures_for(self, shown: dict[str, Any], key: str) -> list[list[str]]:
        """Return the figures that calc has for what stands in the form, by the units that were chosen and by each number's own unit."""
        calculator = key.replace("-", "_")
        entries = {name: text for name, text in shown["entries"].items() if text}
        htmls = [respond(calculator, entries, units).html for units in ({"temperature": "degf"}, {})]
        return [[unescape(re.sub("<[^>]*>", "", figure)) for figure in A_FIGURE.findall(html)] for html in htmls]


def faults_of(shown: dict[str, Any], name: str, key: str, phone: Phone, with_engine: bool) -> list[str]:
    """Say what a page shows that is neither what was kept, nor what it shows where that was never kept, nor nothing."""
    if with_engine and shown["state"] in ("answer", "partial"):
        expected = phone.figures_for(shown, key)
    else:
        expected = [[], phone.without(None, key)["figures"]]
    found = differing(shown, expected, [phone.without(None, key)])
    return found and differing(shown, expected, [phone.without(None, key), *phone.others(name, key)])


def differing(shown: dict[str, Any], expected: list[list[str]], known: list[dict[str, Any]]) -> list[str]:
    """Say what a page shows that none of the known ones does; its figures may be the expected ones too."""
    found = [] if shown["trouble"] else ["no way to the trouble page"]
    found += [f"{field}: {text}" for field, text in shown["entries"].items() if text not in [one["entries"].get(field) for one in known]]
    found += [line for line in shown["lines"] if not any(line in one["lines"] for one in known)]
    if shown["figures"] not in expected and (
        shown["state"] in ("answer", "partial") or shown["figures"] not in [one["figures"] for one in known]
    ):
        found.append(f"figures {shown['figures']}")
    return found


def test_every_kind_of_record_is_among_those_whose_bits_are_flipped(kept_page):
    whole = records(kept_page)
    missing = {kind for kind in kinds_in_the_scripts() - FORMER if not any(name.startswith(kind) for name in whole)}
    assert missing == set()


def test_no_flipped_bit_kills_a_page_or_makes_another_number(kept_page, site):
    faults: list[str] = []
    kept_page.on("pageerror", lambda fault: faults.append(str(fault)))
    phone = Phone(kept_page, site.address, records(kept_page))
    assert (phone.without(None, "charge-settings")["state"], phone.without(None, "cards")["state"]) == ("kept", "yes")
    random = Random(SEED)
    wrong = []
    for number in range(FLIPS):
        name, key = random.choice(sorted(phone.whole)), random.choice(sorted(PAGES))
        with_engine = number % ENGINE_EVERY == ENGINE_EVERY - 1
        if with_engine:
            key = "charge-settings"
        damaged = flipped(phone.whole[name], random)
        shown = phone.shows(key, phone.whole | {name: damaged}, with_engine)
        found = faults_of(shown, name, key, phone, with_engine)
        if faults or found:
            wrong.append((number, name, key, damaged, found, faults.copy()))
            faults.clear()
    assert wrong == []
