"""A link with entries erases nothing: its entries are shown as a link's, beside the pilot's own, and kept when they are taken."""

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.pilot import club_entries, entry, link_to, pause, setting, type_entries
from site_builder.harness.store import kept, lay_records, sealed
from tests.browser.test_app_own import own_pack

MINE = club_entries("brass-heron", "small", "field-battery")
THEIRS = MINE | {"capacity_mah": "350", "cells": "1", "resting_v": "3.7", "requested_rate_c": "0.5"}
NOTICE = "Entries of a link"


@pytest.fixture
def own(visited, far_page) -> Page:
    """A phone with a pack of its own, that was entered just now."""
    now_ms = datetime.now(UTC).timestamp() * 1000
    lay_records(far_page, visited.address, {"entries": sealed("entries", {name: [text, now_ms] for name, text in MINE.items()})})
    return far_page


def notice(page: Page):
    return page.get_by_role("region", name=NOTICE)


def kept_texts(page: Page) -> dict[str, str]:
    return {name: text for name, (text, _) in (kept(page, "entries") or {}).items()}


def test_a_link_is_answered_and_shown_as_a_links_and_nothing_of_ones_own_is_touched(visited, own):
    own.goto(link_to(visited.address, "charge-settings", THEIRS))
    expect(notice(own)).to_contain_text("These entries came with a link. Yours are kept")
    expect(entry(own, "capacity_mah")).to_have_value("350")
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    notice(own).get_by_text("Yours, where they differ").click()
    expect(notice(own).get_by_role("listitem").filter(has_text="Capacity on the label")).to_contain_text("2650\u00a0mAh")
    pause(own)
    assert kept_texts(own) == MINE


def test_a_link_with_entries_picks_none_of_ones_own_packs_over_what_one_has_entered(visited, own):
    lay_records(own, visited.address, {"own pack": sealed("own pack", [own_pack("Copper")])})
    own.goto(link_to(visited.address, "charge-settings", {"pick": "copper", "charger_current_a": "99"}))
    expect(notice(own)).to_contain_text("Yours are kept, and stay as they are until you use these.")
    expect(own.locator("#answer")).to_have_attribute("data-state", re.compile("partial|refusal"))
    pause(own)
    assert kept_texts(own) == MINE
    assert kept(own, "picked") is None


def test_back_to_mine_brings_ones_own_back_with_their_answer(visited, own):
    own.goto(link_to(visited.address, "charge-settings", THEIRS))
    notice(own).get_by_role("button", name="Back to mine").click()
    expect(entry(own, "capacity_mah")).to_have_value("2650")
    expect(setting(own, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(notice(own)).to_have_count(0)
    assert kept_texts(own) == MINE


def test_a_links_entries_are_kept_once_they_are_taken(visited, own):
    own.goto(link_to(visited.address, "charge-settings", THEIRS))
    notice(own).get_by_role("button", name="Use these entries").click()
    expect(notice(own)).to_have_count(0)
    own.goto(visited.address + "charge-settings.html")
    expect(entry(own, "capacity_mah")).to_have_value("350")
    assert kept_texts(own) == THEIRS


def test_what_is_typed_over_a_links_entries_is_not_kept_for_ones_own(visited, own):
    own.goto(link_to(visited.address, "charge-settings", THEIRS))
    type_entries(own, {"capacity_mah": "360"})
    expect(own).to_have_url(re.compile("capacity_mah=360"))
    own.reload()
    expect(notice(own)).to_be_visible()
    expect(entry(own, "capacity_mah")).to_have_value("360")
    assert kept_texts(own) == MINE


def test_no_card_starts_on_a_links_entries_before_they_are_taken(visited, far_page):
    far_page.goto(link_to(visited.address, "charging-card", MINE))
    expect(far_page.get_by_text("These entries came with a link: use them above, and a card can be started.")).to_be_visible()
    expect(far_page.get_by_role("button", name="Start this card")).to_have_count(0)
    notice(far_page).get_by_role("button", name="Use these entries").click()
    expect(far_page.get_by_role("button", name="Start this card")).to_be_enabled()


def test_a_links_entries_stay_a_links_from_page_to_page(visited, own):
    own.goto(link_to(visited.address, "charge-settings", THEIRS))
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    own.get_by_role("link", name="Start the charging card").click()
    expect(notice(own)).to_be_visible()
    expect(own.locator("[data-step=set-capacity]")).to_contain_text("mAh")
    own.get_by_role("navigation", name="Main").get_by_role("link", name="Settings").click()
    expect(entry(own, "capacity_mah")).to_have_value("2650")
    expect(notice(own)).to_have_count(0)


def test_ones_own_entries_are_no_links_after_a_reload_on_a_card_and_on_the_way_back(visited, own):
    own.goto(visited.address + "charge-settings.html")
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(own).to_have_url(re.compile("measured_at="))
    own.reload()
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(notice(own)).to_have_count(0)
    own.goto(own.url.replace("charge-settings", "charging-card"))
    expect(own.get_by_role("button", name="Start this card")).to_be_enabled()
    own.go_back()
    expect(setting(own, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(notice(own)).to_have_count(0)


def test_a_name_that_no_entry_has_changes_nothing(visited, own):
    faults = []
    own.on("pageerror", lambda fault: faults.append(str(fault)))
    own.goto(f"{visited.address}charge-settings.html")
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    for name in ("__proto__", "constructor", "toString", "namedItem", "item", "length", "0", "no_such_entry"):
        own.goto(f"{visited.address}charge-settings.html?{name}=4")
        expect(entry(own, "capacity_mah")).to_have_value("2650")
        expect(own.locator("#answer")).to_have_attribute("data-state", re.compile("kept|answer"))
        expect(setting(own, "Charge current")).to_contain_text("2.6\u00a0A")
        expect(notice(own)).to_have_count(0)
        pause(own)
        assert kept_texts(own) == MINE, name
        assert faults == [], name


def test_a_link_whose_readings_are_of_no_day_is_answered_without_them(visited, own):
    own.goto(f"{link_to(visited.address, 'charge-settings', THEIRS).partition('measured_at')[0]}measured_at=2026-13-41T29:00:00Z")
    expect(notice(own)).to_be_visible()
    expect(entry(own, "capacity_mah")).to_have_value("350")
    expect(entry(own, "resting_v")).to_have_value("")


@pytest.mark.parametrize("size", [(844, 390), (240, 844)], ids=["lying down", "in large text"])
def test_what_came_with_a_link_can_be_taken_on_any_screen(visited, own, size):
    own.set_viewport_size({"width": size[0], "height": size[1]})
    own.goto(link_to(visited.address, "charge-settings", THEIRS))
    take = own.get_by_role("button", name="Use these entries")
    expect(take).to_be_in_viewport(ratio=1)
    take.click()
    expect(take).to_have_count(0)


def test_a_link_and_kept_entries_of_before_give_their_rate_under_its_name_of_now(visited, own):
    own.goto(link_to(visited.address, "charge-settings", THEIRS).replace("requested_rate_c=", "asked_rate_c="))
    expect(own.locator("[name=requested_rate_c]")).to_have_value(THEIRS["requested_rate_c"])
    expect(own.locator("#answer")).to_have_attribute("data-state", "answer")
    lay_records(own, visited.address, {"entries": sealed("entries", {"asked_rate_c": ["0.7", 0]})})
    own.goto(visited.address + "charge-settings.html")
    expect(own.locator("[name=requested_rate_c]")).to_have_value("0.7")
