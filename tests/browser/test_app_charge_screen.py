"""The charge page as one screen: the label first, then what is read on the pack, the settings and stops, and the button that starts."""

import re

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.phone import SIZE
from site_builder.harness.pilot import clear, entry, lay_entries, resting_finger, setting, type_entries

LABEL = {"chemistry": "lipo", "cells": "6", "capacity_mah": "5250"}
PASSED = {"resting_v": "3.71 3.72 3.70 3.71 3.71 3.72", "pack_degc": "18"}
FIGURE = re.compile(r"\d\s*(A|V|C|mAh|min|Wh)\b")
BAR_BELOW = 56
LONG_AFTER_AN_ANSWER_MS = 300  # which is on the screen 15 ms after a key, and well before a finger counts as resting


@pytest.fixture
def charging(running_page) -> Page:
    clear(running_page, "Clear everything")
    expect(running_page.locator("#answer")).to_have_attribute("data-state", "example")
    return running_page


def test_the_label_alone_gives_its_settings_and_starts_nothing(charging):
    type_entries(charging, LABEL)
    expect(charging.locator("#answer")).to_have_attribute("data-state", "partial")
    expect(charging.locator(".basis")).to_contain_text("By the label, not yet to dial")
    expect(setting(charging, "Cells")).to_contain_text("6\u00a0cells")
    expect(setting(charging, "Full voltage")).to_contain_text("25.20\u00a0V")
    expect(charging.locator(".not-counted")).to_be_in_viewport()
    expect(charging.get_by_role("link", name="Start the charging card")).to_be_hidden()


@pytest.mark.parametrize("warm", [{"pack_degc": "18"}, {"pack_degc": "9"}, {"pack_warmth": "cool"}, {"pack_warmth": "warm"}])
def test_panel_and_start_stand_on_the_first_screen_once_the_readings_have_passed(charging, warm):
    lay_entries(charging, LABEL | {"resting_v": PASSED["resting_v"]} | warm)
    charging.evaluate("document.activeElement.blur()")
    start = charging.get_by_role("link", name="Start the charging card")
    expect(start).to_be_visible()
    charging.evaluate("scrollTo(0, 0)")
    expect(charging.get_by_role("button", name="Read again")).to_be_visible()
    ends = start.evaluate("(link) => link.getBoundingClientRect().bottom")
    assert ends <= SIZE["height"] - BAR_BELOW
    assert charging.evaluate("document.querySelector('.bottom').offsetHeight") == BAR_BELOW


def test_the_readings_unfold_to_be_read_again_and_stay_open_under_the_fingers(charging):
    lay_entries(charging, LABEL | {"resting_v": PASSED["resting_v"]})
    entry(charging, "pack_degc").fill(PASSED["pack_degc"])
    entry(charging, "pack_degc").blur()
    expect(charging.locator(".readings-line")).to_contain_text("18\u00a0°C · now")
    charging.get_by_role("button", name="Read again").click()
    entry(charging, "pack_degc").fill("21")
    expect(charging.locator("#answer")).to_have_attribute("data-may-start", "")
    expect(entry(charging, "pack_degc")).to_be_focused()


def test_a_refused_reading_takes_every_number_away_and_clearing_it_brings_none_back(charging):
    lay_entries(charging, LABEL | PASSED | {"pack_degc": "-5"})
    expect(charging.locator("#answer")).to_have_attribute("data-state", "refusal")
    expect(charging.locator("#answer-body")).not_to_contain_text(FIGURE)
    entry(charging, "pack_degc").fill("")
    expect(charging.locator("#answer-body")).to_contain_text("Read it again")
    expect(charging.locator("#answer-body")).not_to_contain_text(FIGURE)
    entry(charging, "pack_degc").fill("18")
    expect(charging.locator("#answer")).to_have_attribute("data-state", "partial")
    expect(setting(charging, "Charge current")).to_be_visible()


def test_another_pack_is_not_held_to_what_the_last_one_read(charging):
    lay_entries(charging, LABEL | PASSED | {"pack_degc": "-5"})
    expect(charging.locator("#answer")).to_have_attribute("data-state", "refusal")
    clear(charging, "Next pack")
    type_entries(charging, LABEL)
    expect(charging.locator("#answer")).to_have_attribute("data-state", "partial")


def test_a_touch_on_a_setting_unfolds_what_set_it_in_place(charging):
    lay_entries(charging, LABEL | {"resting_v": PASSED["resting_v"]})
    entry(charging, "pack_degc").fill(PASSED["pack_degc"])
    entry(charging, "pack_degc").blur()
    voltage = setting(charging, "Full voltage")
    expect(voltage.locator(".set-by")).to_be_hidden()
    voltage.locator("summary").click()
    expect(voltage.locator(".set-by")).to_contain_text("for each cell")


def test_an_answer_that_comes_under_a_finger_waits_for_the_tap_and_leaves_open_what_was_unfolded(charging):
    lay_entries(charging, LABEL | PASSED)
    current, capacity = charging.locator("[data-part=charge_current]"), entry(charging, "capacity_mah")
    line = current.locator("summary")
    line.scroll_into_view_if_needed()
    box = line.bounding_box()
    charging.mouse.move(box["x"] + 20, box["y"] + box["height"] / 2)
    with resting_finger(charging):
        capacity.evaluate("(field) => { field.value = '4200'; field.dispatchEvent(new Event('input', { bubbles: true })); }")
        charging.wait_for_timeout(LONG_AFTER_AN_ANSWER_MS)
        expect(line).to_contain_text("5.25\u00a0A")
    expect(line).to_contain_text("4.20\u00a0A")
    expect(current).to_have_attribute("open", "")
    line.click()
    capacity.fill("5250")
    expect(line).to_contain_text("5.25\u00a0A")
    expect(current).not_to_have_attribute("open", "")


def test_on_paper_all_of_the_panel_is_there(charging):
    lay_entries(charging, LABEL | PASSED)
    charging.emulate_media(media="print")
    shown = charging.evaluate("[...document.querySelectorAll('.panel .set-by')].every((one) => one.getBoundingClientRect().height > 0)")
    charging.emulate_media(media="screen")
    assert shown
