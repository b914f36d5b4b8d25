"""Nothing is lost by one tap: whatever clears can be taken back, readings as old as they were, and stands out of the way."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.harness.pilot import clear, club_entries, entry, fold, lay_entries, open_with, setting
from tests.browser.phones import NO_SERVICE_WORKER

ENTRIES = club_entries("brass-heron", "small", "field-battery")
NOON = datetime(2026, 5, 9, 12, 0, tzinfo=UTC)
COME_BACK = "document.dispatchEvent(new Event('visibilitychange'))"
ENTERED = "Object.fromEntries([...new FormData(document.getElementById('entries'))].filter(([, text]) => text))"


@pytest.fixture
def answered(running_page) -> Page:
    clear(running_page, "Clear everything")
    lay_entries(running_page, ENTRIES)
    expect(running_page.locator("#answer")).to_have_attribute("data-state", "answer")
    return running_page


@pytest.mark.parametrize(
    "what, said", [("Next pack: clear this one", "This pack is cleared."), ("Clear everything", "Everything is cleared.")]
)
def test_what_was_cleared_is_brought_back_by_one_tap_with_its_answer(answered, what, said):
    before = answered.evaluate(ENTERED)
    clear(answered, what)
    expect(answered.get_by_text(said)).to_be_in_viewport()
    assert "capacity_mah" not in answered.evaluate(ENTERED)
    answered.get_by_role("button", name="Undo").click()
    assert answered.evaluate(ENTERED) == before
    expect(answered.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(answered, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(answered.get_by_role("button", name="Undo")).to_have_count(0)


def test_the_offer_goes_once_the_next_pack_is_being_entered(answered):
    clear(answered, "Next pack: clear this one")
    expect(answered.get_by_role("button", name="Undo")).to_be_visible()
    entry(answered, "capacity_mah").fill("3300")
    expect(answered.get_by_role("button", name="Undo")).to_have_count(0)


def test_what_clears_stands_behind_a_line_of_its_own_and_folds_away_again(answered):
    expect(answered.get_by_role("button", name=re.compile("[Cc]lear"))).to_have_count(0)
    fold(answered, "Clear").click()
    expect(answered.get_by_role("button", name="Clear everything")).to_be_visible()
    answered.get_by_role("button", name="Clear everything").click()
    expect(answered.get_by_role("button", name="Clear everything")).to_have_count(0)


def test_readings_that_come_back_are_as_old_as_they_were(phone: BrowserContext, site):
    phone.add_init_script(NO_SERVICE_WORKER)
    page = phone.new_page()
    page.clock.install(time=NOON)
    page.goto(site.address + "charge-settings.html")
    lay_entries(page, ENTRIES)
    page.clock.set_system_time(NOON + timedelta(minutes=90))
    clear(page, "Next pack: clear this one")
    page.get_by_role("button", name="Undo").click()
    expect(entry(page, "resting_v")).to_have_value(ENTRIES["resting_v"])
    page.clock.set_system_time(NOON + timedelta(minutes=121))
    page.evaluate(COME_BACK)
    expect(page.get_by_text("Measure again.")).to_be_visible()
    expect(entry(page, "resting_v")).to_have_value("")


PACK = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2650", "resting_v": "3.80 3.81 3.79", "pack_degc": "20"}


def cells_of(page: Page) -> list[str]:
    return [page.locator(f"[name=packs_{number}_cells]").input_value() for number in range(1, 6)]


def test_a_row_that_is_removed_lets_the_later_ones_move_up_and_can_be_taken_back(visited, far_page):
    rows = {f"packs_{number}_{name}": text for number in range(1, 5) for name, text in PACK.items()}
    open_with(far_page, visited.address, "packs-in-parallel", rows | {"packs_3_cells": "5", "packs_4_cells": "4"})
    expect(far_page.locator("[name=packs_4_cells]")).to_have_value("4")
    far_page.locator("details:has([name=packs_3_cells]) > summary").click()
    far_page.get_by_role("button", name="Remove Pack 3").click()
    assert cells_of(far_page) == ["3", "3", "4", "", ""]
    expect(far_page.locator("[name=packs_3_resting_v]")).to_have_value(PACK["resting_v"])
    expect(far_page.get_by_text("Pack 3 is taken out.")).to_be_visible()
    far_page.get_by_role("button", name="Undo").click()
    assert cells_of(far_page) == ["3", "3", "5", "4", ""]
    expect(far_page.locator("[name=packs_4_resting_v]")).to_have_value(PACK["resting_v"])


def test_a_row_in_which_nothing_is_typed_offers_no_removal(visited, far_page):
    far_page.goto(visited.address + "packs-in-parallel.html")
    fold(far_page, "Pack 3, if there is one").click()
    expect(far_page.get_by_role("button", name="Remove Pack 3")).to_be_hidden()
