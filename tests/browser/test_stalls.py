"""A host sends the beginning of a file and then nothing: whoever waits for it goes on elsewhere within its time.

The pack of 2650 mAh at 1C makes 2.6 A by the charger's step of 0.1 A.
"""

import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from site_builder.commands.serve import Response
from site_builder.harness.pilot import club_entries, link_to, setting
from tests.browser.small_site import (
    ALL_SAVED,
    ENGINE,
    WORKER,
    Host,
    damage,
    empty_the_browsers_own_cache,
    heading,
    impatient,
    make_site,
    shorten_patience,
)

ENTRIES = club_entries("brass-heron", "small", "field-battery")
QUICK_LIMIT_MS = 120_000  # from the host, where nothing is on the phone
SAVING_AGAIN_MS = 30_000
UPDATE_LIMIT_MS = 20_000
FIND_LIMIT_MS = 15_000
NETWORK_IS_BACK = "window.dispatchEvent(new Event('online'))"
RETURNED = "document.dispatchEvent(new Event('visibilitychange'))"


class StallingHost(Host):
    """Stands still in the middle of each file whose path ends with one of `stalls`; how often, `stalled` counts."""

    def __init__(self, folder: Path):
        self.stalls: set[str] = set()
        self.over = threading.Event()
        self.stalled = threading.Semaphore(0)
        super().__init__(folder)

    def response(self, address: str) -> Response:
        found = super().response(address)
        if not address.endswith(tuple(self.stalls)):
            return found
        self.stalled.release()
        return replace(found, cut_to=len(found.body) // 2, stands_still=self.over)

    def stop(self) -> None:
        self.over.set()
        super().stop()


@pytest.fixture
def small_host(tmp_path: Path) -> Iterator[StallingHost]:
    make_site(tmp_path / "site")
    with StallingHost(tmp_path / "site") as host:
        shorten_patience(host)
        yield host


@pytest.fixture
def host(dist: Path) -> Iterator[StallingHost]:
    """The built site."""
    with StallingHost(dist) as host:
        yield host


def offline_state(page: Page):
    return page.locator("#offline-state")


def calculator(page: Page):
    return page.get_by_role("region", name="Calculator")


def expect_answer(page: Page) -> None:
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")


def wait_for_stall(page: Page, host: StallingHost) -> None:
    while not host.stalled.acquire(blocking=False):
        page.wait_for_timeout(25)  # lets the page go on; nothing depends on how long


# Saving


@pytest.mark.parametrize("path", ["voltages.html", ENGINE])
def test_saving_goes_on_with_the_other_files_and_says_which_one_does_not_come(page, small_host, path):
    small_host.stalls.add(path)
    page.goto(small_host.address)
    expect(offline_state(page)).to_contain_text("One file does not arrive. The others are saved meanwhile")
    expect(offline_state(page)).to_contain_text(f"The host has stopped sending ({path}).")


# Pages


def test_a_damaged_page_that_comes_by_half_is_said_not_to_be_here(page, small_host):
    hashes = make_site(small_host.folder)
    shorten_patience(small_host)
    page.goto(small_host.address)
    expect(offline_state(page)).to_have_text(ALL_SAVED)
    damage(page, hashes["voltages.html"])
    small_host.stalls.add("voltages.html")
    page.goto(small_host.address + "voltages.html")
    expect(heading(page)).to_have_text("This page is not on this phone")


def test_a_page_that_comes_by_half_is_asked_for_by_the_browser_itself(phone_without_store, host):
    page = phone_without_store.new_page()
    page.goto(host.address + "safety-rules.html")
    host.stalls.add("/voltages.html")
    page.get_by_role("navigation", name="Main").get_by_role("link", name="Voltages").click()
    wait_for_stall(page, host)
    host.stalls.clear()
    expect(heading(page)).to_have_text("Voltages")


def test_a_page_whose_script_comes_by_half_says_so(phone, host):
    page = phone.new_page()
    host.stalls.add("/page.js")
    page.goto(host.address + "charge-settings.html", wait_until="commit")
    expect(page.get_by_role("complementary", name="This page has not started")).to_be_visible()
    expect(page.get_by_role("heading", name="Worked example")).to_be_visible()


# The find page


@pytest.mark.parametrize("file", ["/sections.json", "/search.mjs"])
def test_where_the_words_to_look_through_stand_still_the_find_page_says_so_and_the_next_key_tries_again(phone_without_store, host, file):
    page = phone_without_store.new_page()
    page.clock.install()
    host.stalls |= {file, f"{file}.gz"}
    page.goto(host.address + "find.html", wait_until="commit")
    wait_for_stall(page, host)
    words = page.get_by_label("What are you looking for?")
    words.fill("fus")
    page.clock.fast_forward(FIND_LIMIT_MS)
    expect(page.locator("#find-state")).to_have_text("The words to look through did not load. The list below leads to everything.")
    host.stalls.clear()
    words.press_sequentially("e")
    expect(page.get_by_role("list", name="Found").get_by_role("link").first).to_contain_text("Supply and leads")


# The calculator


def test_a_snapshot_that_comes_by_half_gives_way_to_the_plain_start(phone_without_store, host):
    page = phone_without_store.new_page()
    page.clock.install()
    host.stalls.add("/snapshot.bin")
    page.goto(link_to(host.address, "charge-settings", ENTRIES))
    for _ in ("the quick start", "the quick start again"):
        wait_for_stall(page, host)
        page.clock.fast_forward(QUICK_LIMIT_MS)
    expect_answer(page)


def test_a_calculator_that_failed_as_a_file_stood_still_starts_by_itself_once_all_is_on_the_phone(page, host):
    host.faults[WORKER] = impatient(host).encode
    host.stalls |= {"pyodide.asm.wasm", "pyodide.asm.wasm.gz"}
    page.clock.install()
    page.goto(link_to(host.address, "charge-settings", ENTRIES))
    expect(calculator(page)).to_contain_text("The calculator could not start on this phone. It tries again when there is a signal")
    host.stalls.clear()
    page.clock.fast_forward(SAVING_AGAIN_MS)
    expect_answer(page)
    expect(calculator(page).get_by_role("button", name="Try again")).to_have_count(0)


def test_a_new_version_whose_script_stands_still_leaves_no_page_starting_for_ever(page, host):
    def gone() -> int:  # as where the host has a newer version: the page looks for it
        host.stalls.add(WORKER)
        return 404

    [wasm] = host.folder.glob("*/pyodide.asm.wasm")
    host.faults = {f"{wasm.parent.name}/{wasm.name}{ending}": gone for ending in ("", ".gz")}
    page.clock.install()
    page.goto(link_to(host.address, "charge-settings", ENTRIES))
    wait_for_stall(page, host)
    page.clock.fast_forward(UPDATE_LIMIT_MS)
    expect(calculator(page)).to_contain_text("The calculator could not start on this phone.")


def try_again(page: Page) -> None:
    calculator(page).get_by_role("button", name="Try again").click()
    expect(calculator(page).get_by_role("link", name="Answer")).to_be_focused()


TRIES = {
    "the network is back": lambda page: page.evaluate(NETWORK_IS_BACK),
    "the pilot comes back to the page": lambda page: page.evaluate(RETURNED),
    "the pilot says so": try_again,
}


@pytest.mark.parametrize("act", TRIES.values(), ids=TRIES)
def test_a_calculator_that_could_not_start_tries_again_when(phone_without_store, host, axe, act: Callable[[Page], None]):
    page = phone_without_store.new_page()
    host.faults = dict.fromkeys([file.relative_to(host.folder).as_posix() for file in host.folder.glob("*/start.mjs")], lambda: 404)
    page.goto(link_to(host.address, "charge-settings", ENTRIES))
    expect(calculator(page)).to_contain_text("The calculator could not start on this phone.")
    assert axe(page) == []
    empty_the_browsers_own_cache(page)
    host.faults = {}
    act(page)
    expect_answer(page)
