"""Flipped bits in whatever the phone keeps: no page dies of one, and none makes another number.

A hundred and twenty flips run with the tests. For ten thousand: FIELDSLATE_FLIPS=10000 python3 -m site_builder test -k flipped
"""

import json
import os
from random import Random
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.harness.pilot import club_entries, open_with, tick_steps
from site_builder.harness.store import forget, put_records, records
from tests.browser.phones import NO_SERVICE_WORKER

SEED = 20_260_509
FLIPS = int(os.environ.get("FIELDSLATE_FLIPS", "120"))
ENTRIES = club_entries("brass-heron", "small", "field-battery")
# The calculator never comes: what stands on the page is what was kept.
NO_ENGINE = "if (sessionStorage.getItem('no engine')) window.Worker = class { postMessage() {} terminate() {} };"
# What is kept is not written anew by a page that is being left.
WRITE_NO_MORE = "() => { IDBObjectStore.prototype.put = () => undefined; IDBObjectStore.prototype.delete = () => undefined; }"

# What a page shows of what is kept, once it has started.
SHOWN = """() => new Promise((good) => {
  const look = () => {
    const answer = document.getElementById("answer");
    const isCards = document.body?.dataset.page === "cards";
    if (!document.querySelector(isCards ? "#running-cards *" : ".form-actions:not([hidden])")) return setTimeout(look, 5);
    setTimeout(() => good({
      entries: isCards ? {} : Object.fromEntries(new FormData(document.getElementById("entries"))),
      state: answer?.dataset.state ?? document.body.dataset.cardRunning ?? "no card",
      figures: Array.from(document.querySelectorAll("#answer-body .figure, .card-strip .card-numbers"), (one) => one.textContent),
      trouble: document.querySelector(".trouble") !== null,
    }));
  };
  look();
})"""


@pytest.fixture
def kept_page(phone: BrowserContext, site) -> Page:
    """A phone that keeps entries, a unit, two answers, a running card, and when its clock was looked at."""
    phone.add_init_script(NO_SERVICE_WORKER)
    phone.add_init_script(NO_ENGINE)
    page = phone.new_page()
    open_with(page, site.address, "charge-settings", ENTRIES)
    page.locator("#answer-body button[data-unit-kind=temperature]").first.click()
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    page.get_by_role("link", name="Start the charging card").click()
    expect(page.get_by_role("heading", name="Compare the label in your hand")).to_be_visible()
    tick_steps(page, "First look", count=ENTRIES["cells"])
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


def shown_at(page: Page, address: str, key: str) -> dict[str, Any]:
    page.goto(f"{address}{key}.html", wait_until="commit")
    return page.evaluate(SHOWN)


def is_right(shown: dict[str, Any], good: dict[str, Any], in_own_units: dict[str, Any], empty: dict[str, Any]) -> bool:
    """Say whether a page shows nothing but what was kept, what it shows with each number in its own unit, or nothing."""
    texts = [known["entries"] for known in (good, in_own_units, empty)]
    entries_are_right = all(text in [known[name] for known in texts] for name, text in shown["entries"].items())
    figures = {"kept": good["figures"], "answer": good["figures"], "yes": good["figures"], "example": empty["figures"]}.get(
        shown["state"], []
    )
    return shown["trouble"] and entries_are_right and shown["figures"] == figures


def test_no_flipped_bit_kills_a_page_or_makes_another_number(kept_page, site):
    faults: list[str] = []
    kept_page.on("pageerror", lambda fault: faults.append(str(fault)))
    whole = records(kept_page)
    pages = ("charge-settings", "cards")
    good = {key: shown_at(kept_page, site.address, key) for key in pages}
    assert (good["charge-settings"]["state"], good["cards"]["state"]) == ("kept", "yes")
    forget(kept_page)
    kept_page.evaluate(WRITE_NO_MORE)
    empty = {key: shown_at(kept_page, site.address, key) for key in pages}
    put_records(kept_page, {name: record for name, record in whole.items() if name != "units"})
    kept_page.evaluate(WRITE_NO_MORE)
    in_own_units = {key: shown_at(kept_page, site.address, key) for key in pages}

    random = Random(SEED)
    wrong = []
    for number in range(FLIPS):
        name, key = random.choice(sorted(whole)), random.choice(pages)
        damaged = flipped(whole[name], random)
        put_records(kept_page, whole | {name: damaged})
        kept_page.evaluate(WRITE_NO_MORE)
        shown = shown_at(kept_page, site.address, key)
        if faults or not is_right(shown, good[key], in_own_units[key], empty[key]):
            wrong.append((number, name, key, damaged, shown, faults.copy()))
            faults.clear()
    assert wrong == []
