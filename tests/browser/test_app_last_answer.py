"""The last answer of this phone: shown again before the calculator is up, with its time, under the same entries and no others.

On a plain phone the calculator is fetched from the host, where a test holds it back at the second visit.
"""

import json
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.commands.serve import Server
from site_builder.harness.pilot import clear, club_entries, entry, open_with, setting, type_entries
from site_builder.harness.store import WITHOUT_SCRIPTS, forget, lay_records, put_records, records, sealed
from tests.browser.phones import NO_SERVICE_WORKER

ENTRIES = club_entries("brass-heron", "small", "field-battery")
FIGURES = "#answer .figure"
NOON = datetime(2026, 5, 9, 12, 0)


@dataclass
class Host:
    """Says how the calculator's files come: at once, later, or never."""

    address: str = ""
    holds_back: bool = False
    fails: bool = False


@pytest.fixture
def host(dist) -> Iterator[Host]:
    host, signal = Host(), threading.Event()

    def tamper(path: str) -> int | bytes | None:
        if path.endswith(".wasm") and host.holds_back:
            signal.wait()
        return 404 if path.endswith("pyodide.mjs") and host.fails else None

    with Server(dist, tamper=tamper) as server:
        host.address = server.address
        host.let_go = signal.set
        yield host
        signal.set()


@pytest.fixture
def answered(phone: BrowserContext, host: Host) -> Page:
    """The settings, answered at noon and kept."""
    phone.add_init_script(NO_SERVICE_WORKER)
    page = phone.new_page()
    page.clock.install(time=NOON)
    open_with(page, host.address, "charge-settings", ENTRIES, read_at=NOON)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    wait_for_answers(page, 1)
    host.holds_back = True
    return page


def wait_for_answers(page: Page, count: int) -> None:
    """Wait until the phone keeps as many answers."""
    for _ in range(400):
        if len(answers(page)) == count:
            return
        page.wait_for_timeout(25)
    pytest.fail(f"The phone keeps {sorted(answers(page))}")


def answers(page: Page) -> dict:
    return {name: record for name, record in records(page).items() if name.startswith("answer ")}


def state(page: Page):
    return page.get_by_role("region", name="Calculator").get_by_role("status")


def test_the_last_answer_stands_at_once_with_its_time_and_gives_way_to_the_new_one(answered, host):
    answered.clock.set_system_time(NOON.replace(hour=13))
    answered.goto(host.address + "charge-settings.html")
    expect(answered.get_by_role("heading", name="Your last answer")).to_be_visible()
    expect(answered.locator("#answer-about")).to_have_text("Worked out on this phone at 12:00 from these entries.")
    expect(setting(answered, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(state(answered)).to_have_text("At 12:00: Charge current 2.6\u00a0A, set by the charge rate on the label.")
    setting(answered, "Charge current").locator("summary").first.click()
    host.let_go()
    expect(answered.get_by_role("heading", name="Your answer")).to_be_visible()
    expect(setting(answered, "Charge current").get_by_text("this one binds")).to_be_visible()


def test_it_never_stands_under_other_entries(answered):
    answered.reload()
    expect(answered.locator("#answer")).to_have_attribute("data-state", "kept")
    type_entries(answered, {"capacity_mah": "350"})
    expect(answered.locator("#answer")).to_have_attribute("data-state", "waiting")
    expect(answered.locator(FIGURES)).to_have_count(0)
    type_entries(answered, {"capacity_mah": ENTRIES["capacity_mah"]})
    expect(answered.locator("#answer")).to_have_attribute("data-state", "kept")


def test_it_is_gone_with_measured_values_that_are_out_of_date(answered, host):
    answered.clock.set_system_time(NOON.replace(hour=14, minute=1))
    answered.goto(host.address + "charge-settings.html")
    expect(answered.get_by_text("Measure again.")).to_be_visible()
    expect(answered.locator("#answer")).to_have_attribute("data-state", "waiting")
    expect(answered.locator(FIGURES)).to_have_count(0)


def test_it_is_out_of_date_too_where_only_the_address_holds_the_measured_values(answered, host):
    lay_records(answered, host.address, {"entries": sealed("entries", {})})
    answered.clock.set_system_time(NOON.replace(hour=14, minute=1))
    answered.go_back()
    expect(entry(answered, "capacity_mah")).to_have_value(ENTRIES["capacity_mah"])
    expect(entry(answered, "resting_v")).to_have_value("")
    expect(answered.locator(FIGURES)).to_have_count(0)


def test_another_version_forgets_it(answered, host):
    [(name, record)] = answers(answered).items()
    older = name.replace("engine-", "engine-of-an-older-version-")
    assert older != name
    answered.goto(host.address + WITHOUT_SCRIPTS)
    forget(answered)
    put_records(answered, {older: sealed(older, json.loads(record["value"]))})
    answered.go_back()
    expect(answered.locator("#answer")).to_have_attribute("data-state", "waiting")
    expect(answered.locator(FIGURES)).to_have_count(0)
    wait_for_answers(answered, 0)


def test_clearing_everything_forgets_it(answered):
    clear(answered, "Clear everything")
    wait_for_answers(answered, 0)


def test_where_the_calculator_cannot_start_it_stands_and_says_so(answered, host):
    host.fails = True
    answered.reload()
    expect(state(answered)).to_have_text("The calculator could not start. Your last answer stands, from the same entries.")
    expect(answered.locator("#answer-about")).to_contain_text("at 12:00 from these entries")
    expect(setting(answered, "Charge current")).to_contain_text("2.6\u00a0A")
    type_entries(answered, {"capacity_mah": "350"})
    expect(answered.locator("#answer")).to_have_attribute("data-state", "fault")
    expect(answered.locator("#answer-about")).to_contain_text("these are not your numbers")


def test_no_card_starts_on_it(answered, host):
    host.holds_back = False
    answered.goto(answered.url.replace("charge-settings", "charging-card"))
    expect(answered.get_by_role("button", name="Start this card")).to_be_enabled()
    wait_for_answers(answered, 2)
    host.holds_back = True
    answered.reload()
    expect(answered.locator("#card-controls")).to_have_text("A card can be started as soon as the calculator is up.")
    expect(answered.get_by_role("checkbox", name="Choose the place")).to_be_disabled()
    host.let_go()
    expect(answered.get_by_role("button", name="Start this card")).to_be_enabled()
