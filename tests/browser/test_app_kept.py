"""What the phone keeps: on the disk before it shows as done, checked when it is read, and never a reason for a page to die."""

import json
import os
import re
import shutil
import signal
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect

from site_builder.commands.serve import Server
from site_builder.harness.content import PAGES
from site_builder.harness.pilot import (
    SECOND_TAP_MS,
    club_entries,
    end_card,
    entry,
    lay_entries,
    link_to,
    open_with,
    run_on,
    setting,
    start_card,
    tick_steps,
    type_entries,
    unfold,
)
from site_builder.harness.store import REFUSES, WITHOUT_SCRIPTS, forget, kept, lay_records, records, sealed
from tests.browser.phones import NO_SERVICE_WORKER, TEST_FLAGS

ENTRIES = club_entries("brass-heron", "small", "field-battery")
SOLDERING = [step.title for page in PAGES if page.key == "soldering-card" for part in page.card.parts for step in part.steps]
FULL = "IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); }"

# Keeps the store busy until `letGo` is called: what is written meanwhile waits.
HOLD_THE_STORE = """async () => {
  const asked = (request) => new Promise((good) => { request.onsuccess = () => good(request.result); });
  const database = await asked(indexedDB.open(`fieldslate ${new URL("./", location).pathname}`));
  const store = database.transaction("kept", "readwrite").objectStore("kept");
  let isHeld = true;
  const again = () => { if (isHeld) store.getKey("none").onsuccess = again; else database.close(); };
  again();
  window.letGo = () => { isHeld = false; };
}"""


class Chromium:
    """A browser in a process of its own, that a test can kill as a phone does: with no word to it before."""

    def __init__(self, playwright: Playwright, program: str, profile: Path) -> None:
        line = [program, *TEST_FLAGS, "--headless=new", f"--user-data-dir={profile}", "--remote-debugging-port=0", "about:blank"]
        self._process = subprocess.Popen(line, stderr=subprocess.PIPE, text=True, start_new_session=True)
        address = next(said.split()[-1] for said in self._process.stderr if said.startswith("DevTools listening on"))
        self.page = playwright.chromium.connect_over_cdp(address).contexts[0].new_page()

    def kill(self) -> None:
        os.killpg(self._process.pid, signal.SIGKILL)  # itself and what it started
        self._process.wait()


def start_charge(page: Page, address: str) -> None:
    open_with(page, address, "charging-card", ENTRIES)
    start_card(page)


def test_ticks_timers_and_notes_of_both_cards_are_there_half_a_second_before_the_browser_was_killed(
    playwright, browser_program, site, tmp_path
):
    killed = Chromium(playwright, browser_program, tmp_path / "profile")
    start_charge(killed.page, site.address)
    tick_steps(killed.page, "First look", count="3")
    killed.page.goto(site.address + "soldering-card.html")
    start_card(killed.page)
    tick_steps(killed.page, SOLDERING[2])
    before = kept(killed.page, "running-cards")["running"]
    killed.page.wait_for_timeout(500)
    killed.kill()
    after = Chromium(playwright, browser_program, tmp_path / "profile")
    after.page.goto(site.address + "cards.html")
    after.page.get_by_role("navigation", name="Running cards").get_by_role("link", name=re.compile("^Charging card")).click()
    expect(after.page.get_by_role("heading", name="First look")).to_be_visible()
    expect(after.page.locator(".card-now").get_by_role("timer")).to_contain_text(re.compile(r"0[34]:\d\d"))
    after.page.get_by_role("navigation", name="Running cards").get_by_role("link", name=re.compile("^Solder")).click()
    expect(after.page.get_by_role("heading", name=SOLDERING[2])).to_be_visible()
    assert kept(after.page, "running-cards")["running"] == before
    assert kept(after.page, "entries")["resting_v"][0] == ENTRIES["resting_v"]
    after.kill()


def test_a_note_on_a_card_is_there_half_a_second_before_the_browser_was_killed(playwright, browser_program, site, tmp_path):
    killed = Chromium(playwright, browser_program, tmp_path / "profile")
    killed.page.goto(site.address + "hot-car-card.html")
    start_card(killed.page)
    tick_steps(killed.page, "Write it down")
    killed.page.get_by_role("textbox", name="Your note").fill("cool after 61 minutes")
    killed.page.wait_for_timeout(500)
    killed.kill()
    after = Chromium(playwright, browser_program, tmp_path / "profile")
    after.page.goto(site.address + "cards.html")
    expect(after.page.get_by_role("textbox", name="Your note")).to_have_value("cool after 61 minutes")
    after.kill()


def test_the_next_step_comes_forward_only_once_the_tick_is_on_the_disk(visited, far_page):
    start_charge(far_page, visited.address)
    tick_steps(far_page, "Choose the place")
    run_on(far_page, SECOND_TAP_MS)
    far_page.evaluate(HOLD_THE_STORE)
    far_page.locator(".card-tick").click()
    expect(far_page.locator(".card-now")).to_have_attribute("aria-busy", "true")
    expect(far_page.get_by_role("heading", name="Choose the place")).to_be_visible()
    far_page.evaluate("letGo()")
    expect(far_page.get_by_role("heading", name="Look at the pack, and feel it")).to_be_visible()


def test_what_an_older_version_kept_is_taken_over_once(visited, far_page):
    start_charge(far_page, visited.address)
    (card,) = kept(far_page, "running-cards")["running"]
    former = {name: card[name] for name in ("page", "title", "started", "html", "ticked", "notes", "timers", "silent")}
    far_page.goto(visited.address + WITHOUT_SCRIPTS)
    forget(far_page)
    before = {
        "fieldslate.entries": json.dumps({"capacity_mah": ["2650", 1_700_000_000_000]}),
        "fieldslate.units": json.dumps({"temperature": "degf"}),
        "fieldslate.running-card": json.dumps(former),
        "fieldslate.spent": "{}",
        "fieldslate.answer engine-1/ charge_settings": "{}",
        "of another page": "1",
    }
    far_page.evaluate("before => Object.entries(before).forEach(([key, text]) => localStorage.setItem(key, text))", before)
    far_page.goto(visited.address + "charge-settings.html")
    expect(entry(far_page, "capacity_mah")).to_have_value("2650")
    expect(far_page.get_by_role("heading", level=1)).to_be_visible()
    assert [card["html"] for card in kept(far_page, "running-cards")["running"]] == [former["html"]]
    assert kept(far_page, "units") == {"temperature": "degf"}
    assert far_page.evaluate("Object.keys(localStorage)") == ["of another page"]
    far_page.evaluate("localStorage.clear()")


NO_SHAPES = [None, 7, [], "text", {"capacity_mah": 2650}, {"capacity_mah": ["2650"]}, {"running": [{}], "ended": []}]
KINDS = {
    "entries": "your entries",
    "over": "which readings are from before your last charge",
    "units": "the units that you chose",
    "running-cards": "the cards that were running",
    "clock": "what it knows of its clock",
}
# Values whose shape is good for one kind of record are no fault of it.
FITS = {("over", 4): True}


@pytest.mark.parametrize("shape", range(len(NO_SHAPES)))
def test_what_has_not_the_shape_that_it_should_have_is_put_aside_and_named_once(visited, far_page, shape):
    wrong = {name: sealed(name, NO_SHAPES[shape]) for name in KINDS if (name, shape) not in FITS}
    assert_put_aside(far_page, visited.address, wrong)


@pytest.mark.parametrize("version", [0, 2])
def test_what_another_version_has_kept_is_put_aside_and_named_once(visited, far_page, version):
    assert_put_aside(far_page, visited.address, {name: sealed(name, {}, version) for name in KINDS})


@pytest.mark.parametrize(
    "record", [7, "text", [], {}, {"version": 1, "checksum": 0, "value": "{"}, {"version": 1, "checksum": 0, "value": {}}], ids=str
)
def test_what_is_no_record_is_put_aside_and_named_once(visited, far_page, record):
    assert_put_aside(far_page, visited.address, dict.fromkeys(KINDS, record))


def assert_put_aside(page: Page, address: str, wrong: dict) -> None:
    """Open a page over wrong records: it goes on, names each once, and has them under other names."""
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    lay_records(page, address, wrong)
    page.goto(address + "charge-settings.html")
    for name in wrong:
        expect(page.get_by_text(f"Something that was kept on this phone is damaged, and put aside: {KINDS[name]}.")).to_be_visible()
    entry(page, "capacity_mah").fill(ENTRIES["capacity_mah"])
    lay_entries(page, ENTRIES)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
    found = records(page)
    assert {name: found[f"aside {name}"] for name in wrong} == wrong
    page.reload()
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(page.get_by_text("Something that was kept on this phone")).to_have_count(0)
    assert faults == []


def test_a_flipped_bit_that_makes_another_pack_of_it_gives_no_number(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    record = records(far_page)["entries"]
    flipped = record | {"value": record["value"].replace('"cells":["3"', '"cells":["2"')}
    assert flipped != record
    lay_records(far_page, visited.address, {"entries": flipped})
    far_page.goto(visited.address + "charge-settings.html")
    expect(far_page.get_by_text("Something that was kept on this phone is damaged, and put aside: your entries.")).to_be_visible()
    expect(entry(far_page, "cells")).to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "example")


def test_after_a_damage_the_readings_in_an_address_are_measured_again(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    lay_records(far_page, visited.address, {"entries": {"version": 1, "checksum": 0, "value": "{}"}})
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES))
    expect(entry(far_page, "resting_v")).to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")


def end_a_charge(page: Page, address: str) -> None:
    start_charge(page, address)
    page.goto(address + "cards.html")
    end_card(page)
    page.wait_for_function("document.body.dataset.cardRunning === undefined")


DAMAGED = {"version": 1, "checksum": 0, "value": "{}"}


def test_where_it_is_lost_what_a_charge_has_ended_every_reading_is_measured_again(visited, far_page):
    end_a_charge(far_page, visited.address)
    assert kept(far_page, "entries")["resting_v"][0] == ENTRIES["resting_v"]
    lay_records(far_page, visited.address, {"over": DAMAGED})
    far_page.goto(visited.address + "charge-settings.html")
    expect(far_page.get_by_text("which readings are from before your last charge")).to_be_visible()
    expect(entry(far_page, "resting_v")).to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")


@pytest.mark.parametrize("name", ["over", "entries", "clock"])
def test_a_link_of_before_a_damage_is_not_believed_after_the_next_start_either(visited, far_page, name):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    link = link_to(visited.address, "charge-settings", ENTRIES)
    lay_records(far_page, visited.address, {name: DAMAGED})
    far_page.goto(visited.address + "index.html")
    expect(far_page.get_by_text("Something that was kept on this phone is damaged")).to_be_visible()
    far_page.goto(visited.address + "voltages.html")
    far_page.goto(link)
    expect(entry(far_page, "resting_v")).to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")


def test_readings_are_measured_again_once_it_is_lost_what_the_phone_knows_of_its_clock(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    lay_records(far_page, visited.address, {"clock": DAMAGED})
    far_page.goto(visited.address + "charge-settings.html")
    expect(far_page.get_by_text("what it knows of its clock")).to_be_visible()
    expect(entry(far_page, "resting_v")).to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")


@pytest.mark.parametrize(
    ("fault", "sentence"),
    [(REFUSES, "This browser keeps nothing for Fieldslate"), (FULL, "Your last change could not be kept on this phone")],
    ids=["refused", "full"],
)
def test_where_nothing_can_be_kept_the_page_says_so_once_and_works(phone: BrowserContext, site, fault, sentence):
    phone.add_init_script(NO_SERVICE_WORKER)
    phone.add_init_script(fault)
    page = phone.new_page()
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.goto(site.address + "charge-settings.html")
    lay_entries(page, ENTRIES)
    type_entries(page, {"requested_rate_c": "0.5"})
    expect(setting(page, "Charge current")).to_contain_text("1.3\u00a0A")
    expect(page.get_by_text(sentence)).to_have_count(1)
    assert faults == []


def test_what_found_no_room_is_on_the_disk_once_there_is_room_again(far_page, visited):
    far_page.goto(visited.address + "my-packs.html")
    far_page.evaluate(f"() => {{ window.put = IDBObjectStore.prototype.put; {FULL} }}")
    far_page.get_by_role("button", name="Put the club's examples in").click()
    said = far_page.get_by_text("Your last change could not be kept on this phone")
    expect(said).to_have_count(1)
    far_page.evaluate("() => { IDBObjectStore.prototype.put = window.put; dispatchEvent(new Event('focus')); }")
    expect(far_page.get_by_text("There is room again: your changes are kept on this phone now.")).to_be_visible()
    expect(said).to_have_count(0)
    names = [pack["name"] for pack in kept(far_page, "own pack")]
    far_page.reload()
    expect(far_page.locator(".own-tile b")).to_have_text(names)


def test_what_found_no_room_is_not_written_over_what_another_tab_has_kept_since(far_page, visited):
    far_page.goto(visited.address + "my-packs.html")
    far_page.evaluate(f"() => {{ window.put = IDBObjectStore.prototype.put; {FULL} }}")
    far_page.get_by_role("button", name="Put the club's examples in").click()
    expect(far_page.get_by_text("Your last change could not be kept on this phone")).to_have_count(1)
    other = visited.phone.new_page()
    other.goto(visited.address + "my-packs.html")
    other.get_by_role("button", name="Put the club's examples in").click()
    expect(other.get_by_role("button", name="Take the club's examples out")).to_be_visible()
    other.get_by_role("button", name="Take the club's examples out").click()
    expect(other.get_by_role("button", name="Put back")).to_be_visible()
    far_page.evaluate("() => { IDBObjectStore.prototype.put = window.put; dispatchEvent(new Event('focus')); }")
    far_page.wait_for_timeout(500)
    assert kept(other, "own pack") == []
    other.close()


def test_a_card_whose_page_is_gone_runs_on_and_leaves_its_record(visited, far_page):
    start_charge(far_page, visited.address)
    tick_steps(far_page, "Choose the place")
    state = kept(far_page, "running-cards")
    state["running"][0]["page"] = "card-of-long-ago"
    lay_records(far_page, visited.address, {"running-cards": sealed("running-cards", state)})
    far_page.goto(visited.address + "cards.html")
    expect(far_page.get_by_role("heading", name="Choose the place")).to_be_visible()
    end_card(far_page)
    expect(far_page.locator(".card-record")).to_contain_text("Charge current")
    assert kept(far_page, "running-cards")["running"] == []


def test_two_copies_on_one_host_keep_apart_what_they_keep(phone: BrowserContext, dist, tmp_path):
    phone.add_init_script(NO_SERVICE_WORKER)
    for club in ("north", "south"):
        shutil.copytree(dist, tmp_path / club)
    with Server(tmp_path) as host:
        page = phone.new_page()
        page.goto(host.address + "north/charge-settings.html")
        lay_entries(page, ENTRIES)
        page.goto(host.address + "south/charge-settings.html")
        expect(page.locator("#engine-state")).to_have_text("Ready. Enter your pack.")
        expect(entry(page, "capacity_mah")).to_have_value("")
        page.goto(host.address + "north/charge-settings.html")
        expect(entry(page, "capacity_mah")).to_have_value(ENTRIES["capacity_mah"])


def test_a_page_that_was_ended_behind_the_camera_comes_back_with_its_entries_and_its_answer(playwright, browser_program, site, tmp_path):
    ended = Chromium(playwright, browser_program, tmp_path / "profile")
    ended.page.goto(site.address + "charge-settings.html")
    lay_entries(ended.page, ENTRIES)
    unfold(ended.page, "requested_rate_c")
    ended.page.locator("[name=requested_rate_c]").fill("0.5")
    ended.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")  # the camera is in front
    ended.page.wait_for_timeout(500)
    ended.kill()
    again = Chromium(playwright, browser_program, tmp_path / "profile")
    again.page.goto(site.address + "charge-settings.html")
    expect(again.page.locator("[name=requested_rate_c]")).to_have_value("0.5")
    expect(entry(again.page, "resting_v")).to_have_value(ENTRIES["resting_v"])
    expect(setting(again.page, "Charge current")).to_contain_text("1.3\u00a0A")
    again.kill()
