"""How warm a pack is, in a word: one tap beside the number, which takes the number's place, and is carried wherever the number is."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from calc.answering import calculator, calculator_keys
from calc.inputs.fields import entries_of
from site_builder.harness.pilot import clear, club_entries, entry, lay_entries, link_to, open_with, pause, setting, start_card, type_entries

LABEL = {"chemistry": "lipo", "cells": "6", "capacity_mah": "5250"}
CELLS = {"resting_v": "3.71 3.72 3.70 3.71 3.71 3.72"}
SMALLEST_TARGET = 48
ASKING = [key for key in calculator_keys() if any(name.endswith("pack_degc") for name in entries_of(calculator(key).Inputs))]


@pytest.fixture
def read(running_page) -> Page:
    """The settings with the label, and with every cell read."""
    clear(running_page, "Clear everything")
    lay_entries(running_page, LABEL | CELLS)
    return running_page


def warmth(page: Page, name: str = "pack_warmth") -> Locator:
    return page.locator(f"[data-taps={name}]")


def word(page: Page, says: str) -> Locator:
    return warmth(page).get_by_role("button", name=says, exact=True)


def test_one_tap_answers_as_the_strict_end_of_its_word_and_the_readings_fold_to_a_line_that_says_it(read):
    word(read, "Cool").tap()
    expect(setting(read, "Charge current")).to_contain_text("the cold pack: half the current up to 10\u00a0°C")
    expect(read.locator(".readings-line")).to_contain_text("3.72\u00a0V · cool · now")
    read.get_by_role("button", name="Read again").click()
    expect(word(read, "Cool")).to_have_attribute("aria-pressed", "true")
    expect(warmth(read).locator("[aria-pressed=true]")).to_have_count(1)


def test_the_number_takes_the_word_away_and_the_word_the_number(read):
    word(read, "Warm").tap()
    expect(read.locator("#answer")).to_have_attribute("data-may-start", "")
    type_entries(read, {"pack_degc": "21"})
    expect(warmth(read).locator("[aria-pressed=true]")).to_have_count(0)
    entry(read, "pack_degc").blur()
    expect(read.locator(".readings-line")).to_contain_text("21\u00a0°C · now")
    read.get_by_role("button", name="Read again").click()
    word(read, "Normal").tap()
    expect(read.locator("[name=pack_degc]")).to_have_value("")
    expect(read.locator(".readings-line")).to_contain_text("normal · now")


def test_a_pack_that_feels_cold_is_measured(read):
    word(read, "Cold").tap()
    expect(entry(read, "pack_degc")).to_be_focused()
    expect(word(read, "Cold")).to_have_attribute("aria-pressed", "true")
    expect(read.locator("#answer")).not_to_have_attribute("data-may-start", "")
    read.keyboard.press("5")
    expect(setting(read, "Charge current")).to_contain_text("the cold pack")
    expect(word(read, "Cold")).to_have_attribute("aria-pressed", "false")


def test_the_words_are_chosen_by_keys_and_nothing_folds_away_from_under_them(read):
    entry(read, "pack_degc").focus()
    for says in ("°C", "Cold", "Cool"):
        read.keyboard.press("Tab")
        expect(read.locator(":focus")).to_have_text(says)
    read.keyboard.press("Enter")
    expect(read.locator("#answer")).to_have_attribute("data-may-start", "")
    expect(word(read, "Cool")).to_be_focused()


def test_a_screen_reader_hears_what_the_words_are_of_and_what_they_stand_for(read):
    group = read.get_by_role("group", name="How warm it feels")
    expect(group).to_have_accessible_description(re.compile("cool 10 to 18\u00a0°C, normal 18 to 28\u00a0°C, warm 28 to 38\u00a0°C"))
    expect(group.get_by_role("button")).to_have_text(["Cold", "Cool", "Normal", "Warm"])


def test_each_word_is_a_target_of_48_pixels_in_one_row(read):
    boxes = warmth(read).get_by_role("button").evaluate_all("buttons => buttons.map((button) => button.getBoundingClientRect().toJSON())")
    assert len(boxes) == 4
    assert all(box["height"] >= SMALLEST_TARGET and box["width"] >= SMALLEST_TARGET for box in boxes)
    assert len({box["y"] for box in boxes}) == 1


def test_a_word_is_kept_and_comes_along_to_every_page_that_asks_how_warm_the_pack_is(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    type_entries(far_page, LABEL | CELLS)
    word(far_page, "Warm").tap()
    pause(far_page)
    for page in ("charge-course", "cell-check", "flight-timer", "model-fit", "storage", "going-home", "day-plan"):
        far_page.goto(f"{visited.address}{page}.html")
        expect(far_page.locator("[name=pack_warmth]")).to_have_value("warm")


@pytest.mark.parametrize("key", ASKING)
def test_every_page_that_asks_the_temperature_has_the_words_beside_it(visited, far_page, key):
    far_page.goto(f"{visited.address}{key.replace('_', '-')}.html")
    names = [name for name in entries_of(calculator(key).Inputs) if name.endswith("pack_degc")]
    expect(far_page.locator("[data-taps$=pack_warmth] button")).to_have_count(4 * len(names))


def test_a_link_with_both_shows_the_word_that_counts(visited, far_page):
    both = club_entries("brass-heron", "small", "field-battery") | {"pack_degc": "25", "pack_warmth": "cool"}
    open_with(far_page, visited.address, "charge-settings", both)
    expect(far_page.locator("[name=pack_warmth]")).to_have_value("cool")
    expect(far_page.locator("[name=pack_degc]")).to_have_value("")


def test_a_link_that_differs_in_the_word_says_so(visited, far_page):
    mine = {**LABEL, **CELLS, "pack_warmth": "cool"}
    open_with(far_page, visited.address, "charge-settings", mine)
    pause(far_page)
    far_page.goto(link_to(visited.address, "charge-settings", mine | {"pack_warmth": "warm"}))
    far_page.get_by_text("Yours, where they differ").click()
    expect(far_page.get_by_role("listitem").filter(has_text="How warm it feels")).to_contain_text("cool")


def test_a_pack_of_several_has_its_word_and_its_line_says_it(visited, far_page):
    far_page.goto(visited.address + "packs-in-series.html")
    type_entries(far_page, {"packs_1_chemistry": "lipo", "packs_1_cells": "3", "packs_1_capacity_mah": "2650"})
    type_entries(far_page, {"packs_1_resting_v": "3.79 3.80 3.79"})
    warmth(far_page, "packs_1_pack_warmth").get_by_role("button", name="Normal").tap()
    expect(far_page.locator("[name=packs_1_pack_warmth]")).to_have_value("normal")
    expect(far_page.locator("[data-row-of] .line-says").first).to_contain_text("normal")


def test_a_card_says_the_word(visited, far_page):
    felt = {name: text for name, text in club_entries("brass-heron", "small", "field-battery").items() if name != "pack_degc"}
    open_with(far_page, visited.address, "charging-card", felt | {"pack_warmth": "normal"})
    expect(far_page.locator("[data-step=look]")).to_contain_text("You said that it feels normal, 18 to 28\u00a0°C")
    start_card(far_page)
    expect(far_page.locator("[data-step=look]")).to_contain_text("You said that it feels normal")


def test_a_job_card_says_the_word_with_the_label(visited, far_page):
    felt = {name: text for name, text in club_entries("brass-heron", "small", "field-battery").items() if name != "pack_degc"}
    open_with(far_page, visited.address, "charge-settings", felt | {"pack_warmth": "normal"})
    pause(far_page)
    far_page.goto(visited.address + "first-charge-card.html")
    expect(far_page.locator(".card-packs")).to_contain_text("Normal: as a room, 18 to 28\u00a0°C")


def test_the_words_are_clean_to_axe_in_light_and_dark(read, found_wrong):
    word(read, "Cool").tap()
    read.get_by_role("button", name="Read again").click()
    assert found_wrong(read) == []
