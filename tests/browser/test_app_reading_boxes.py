"""Readings as a cold thumb types them: a keypad of digits and a point, a box for each cell, and a text from elsewhere in one go."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from site_builder.harness.pilot import cell_boxes, entry, lay_entries, setting, type_entries

LABEL = {"chemistry": "lipo", "cells": "6", "capacity_mah": "5250"}
REST = {
    "label_charge_rate_c": "1", "requested_rate_c": "1", "charger_current_a": "10", "charger_power_w": "400", "charger_cells": "6",
    "port_cells": "6", "supply_kind": "mains", "supply_v": "24", "supply_current_a": "20", "lead_length_m": "1", "lead_area_mm2": "4 mm²",
}  # fmt: skip
# Pastes as a phone does, whose clipboard a test cannot fill.
PASTE = """(box, text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData("text", text);
  box.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
}"""


@pytest.fixture
def pack(running_page) -> Page:
    """The settings, with all that is entered but the readings."""
    clear_all(running_page)
    lay_entries(running_page, LABEL | REST)
    return running_page


def clear_all(page: Page) -> None:
    page.locator("#clear-all").dispatch_event("click")
    expect(page.locator("#answer")).to_have_attribute("data-state", "example")


def cell(page: Page, number: int) -> Locator:
    return page.get_by_role("group", name="Resting voltage").get_by_role("textbox", name=f"Cell {number}", exact=True)


def texts(page: Page) -> list[str]:
    return [box.input_value() for box in cell_boxes(page, "resting_v").all()]


def keys(page: Page, typed: str) -> None:
    assert set(typed) <= set("0123456789."), "the keypad has digits and a point only"
    for key in typed:
        page.keyboard.press(key)


def test_the_readings_of_six_cells_are_typed_on_a_keypad_of_digits_and_a_point_and_two_taps(pack):
    cell(pack, 1).tap()
    keys(pack, "371372370371369372")
    expect(entry(pack, "pack_degc")).to_be_focused()
    keys(pack, "18")
    expect(entry(pack, "resting_v")).to_have_value("3.71 3.72 3.70 3.71 3.69 3.72")
    assert texts(pack) == ["3.71", "3.72", "3.70", "3.71", "3.69", "3.72"]
    expect(setting(pack, "Charge current")).to_contain_text("5.2\u00a0A")
    expect(pack.locator("#answer")).to_have_attribute("data-state", "answer")


def test_every_box_asks_for_the_keypad_and_says_its_cell(pack):
    expect(cell_boxes(pack, "resting_v")).to_have_count(6)
    for number, box in enumerate(cell_boxes(pack, "resting_v").all(), 1):
        expect(box).to_have_attribute("inputmode", "decimal")
        expect(box).to_have_accessible_name(f"Cell {number}")


@pytest.mark.parametrize("typed", ["3.712", "3.71.", "371"])
def test_a_box_that_has_its_reading_moves_on(pack, typed):
    cell(pack, 1).tap()
    keys(pack, typed)
    expect(cell(pack, 2)).to_be_focused()
    expect(cell(pack, 1)).to_have_value(re.compile(r"^3\.712?$"))


def test_a_box_whose_reading_may_go_on_does_not_move(pack):
    cell(pack, 1).tap()
    keys(pack, "3.71")
    expect(cell(pack, 1)).to_be_focused()


@pytest.mark.parametrize("mark", [".", ","])
@pytest.mark.parametrize(
    "meter", ["3.82 3.79 3.80 3.81 3.78 3.83", "3.821 3.795 3.800 3.812 3.789 3.830", "4.205 4.201 4.198 4.200 4.203 4.199"]
)
def test_readings_typed_with_their_point_need_no_key_between_them_either(pack, mark, meter):
    cell(pack, 1).tap()
    pack.keyboard.type(meter.replace(" ", "").replace(".", mark) + "18")
    expect(entry(pack, "resting_v")).to_have_value(meter)
    assert [text.replace(",", ".") for text in texts(pack)] == meter.split()
    expect(entry(pack, "pack_degc")).to_have_value("18")


@pytest.mark.parametrize(
    ("typed", "meter"),
    [("3.823.7953.803.8123.783.83", "3.82 3.795 3.80 3.812 3.78 3.83"), ("3.8213.793.803.8123.783.83", "3.821 3.79 3.80 3.812 3.78 3.83")],
)
def test_a_digit_more_or_less_than_in_the_cells_before_lands_in_its_own_cell_and_the_last_box_waits(pack, typed, meter):
    cell(pack, 1).tap()
    pack.keyboard.type(typed)
    expect(entry(pack, "resting_v")).to_have_value(meter)
    expect(cell(pack, 6)).to_be_focused()
    expect(entry(pack, "pack_degc")).to_have_value("")


def test_a_cell_alone_keeps_the_digits_behind_its_point_out_of_the_next_entry(pack):
    type_entries(pack, {"cells": "1"})
    cell(pack, 1).tap()
    pack.keyboard.type("3.82")
    expect(cell(pack, 1)).to_be_focused()
    pack.keyboard.type("1")
    expect(cell(pack, 1)).to_be_focused()
    pack.keyboard.press("Enter")
    pack.keyboard.type("8")
    expect(entry(pack, "resting_v")).to_have_value("3.821")
    expect(entry(pack, "pack_degc")).to_have_value("8")


def test_what_is_typed_after_going_on_takes_the_place_of_an_older_reading(pack):
    cell(pack, 1).tap()
    pack.keyboard.type("371372370371369372")
    type_entries(pack, {"pack_degc": "18"})
    entry(pack, "pack_degc").blur()
    pack.get_by_role("button", name="Read again").tap()
    expect(cell(pack, 1)).to_be_focused()
    pack.keyboard.type("3.823.793.803.813.783.8321")
    expect(entry(pack, "resting_v")).to_have_value("3.82 3.79 3.80 3.81 3.78 3.83")
    expect(entry(pack, "pack_degc")).to_have_value("21")


def test_a_box_in_which_a_digit_is_taken_back_does_not_move(pack):
    lay_entries(pack, {"resting_v": "3.71 3.725 3.70 3.71 3.69 3.72"})
    cell(pack, 2).tap()
    pack.keyboard.press("End")
    pack.keyboard.press("Backspace")
    expect(cell(pack, 2)).to_have_value("3.72")
    expect(cell(pack, 2)).to_be_focused()


def test_enter_and_backspace_lead_from_box_to_box(pack):
    cell(pack, 1).tap()
    keys(pack, "3.7")
    pack.keyboard.press("Enter")
    expect(cell(pack, 2)).to_be_focused()
    pack.keyboard.press("Backspace")
    expect(cell(pack, 1)).to_be_focused()
    expect(cell(pack, 1)).to_have_value("3.7")


@pytest.mark.parametrize("key", ["Tab", "Enter"])
def test_a_key_that_goes_on_skips_no_cell_where_a_full_box_has_gone_on_by_itself(pack, key):
    cell(pack, 1).tap()
    for reading in ("380", "381", "379", "382", "378", "383"):
        keys(pack, reading)
        pack.keyboard.press(key)
    expect(entry(pack, "pack_degc")).to_be_focused()
    expect(entry(pack, "resting_v")).to_have_value("3.80 3.81 3.79 3.82 3.78 3.83")


def test_a_second_such_key_goes_on_and_so_does_one_after_a_digit(pack):
    cell(pack, 1).tap()
    keys(pack, "380")
    pack.keyboard.press("Tab")
    expect(cell(pack, 2)).to_be_focused()
    pack.keyboard.press("Tab")
    expect(cell(pack, 3)).to_be_focused()
    keys(pack, "3.8")
    pack.keyboard.press("Tab")
    expect(cell(pack, 4)).to_be_focused()


def test_three_digits_that_no_sound_cell_has_are_asked_about_in_their_box(pack):
    cell(pack, 1).tap()
    keys(pack, "371571370371369372")
    expect(cell(pack, 2)).to_have_attribute("aria-invalid", "true")
    expect(cell(pack, 2)).to_have_value("571")
    expect(cell(pack, 1)).not_to_have_attribute("aria-invalid", "true")
    expect(pack.get_by_role("group", name="Resting voltage")).to_have_accessible_description(re.compile("^Cell 2: a sound cell rests from"))
    expect(pack.locator("#answer .figure")).to_have_count(0)


def test_two_digits_are_asked_about_once_their_box_is_left(pack):
    cell(pack, 1).tap()
    keys(pack, "37")
    expect(entry(pack, "resting_v")).to_have_value("")
    cell(pack, 2).tap()
    expect(entry(pack, "resting_v")).to_have_value("37 - - - - -")


def test_an_empty_box_is_a_cell_that_was_not_read(pack):
    type_entries(pack, {"pack_degc": "18"})
    cell(pack, 1).tap()
    keys(pack, "371372")
    cell(pack, 4).tap()
    keys(pack, "371369372")
    expect(entry(pack, "resting_v")).to_have_value("3.71 3.72 - 3.71 3.69 3.72")
    expect(pack.locator("#answer")).to_contain_text("Resting voltage: cell 3 has not been read")
    expect(pack.get_by_role("button", name="Start")).to_have_count(0)
    cell(pack, 3).tap()
    keys(pack, "370")
    expect(pack.locator("#answer")).to_have_attribute("data-state", "answer")


@pytest.mark.parametrize("number", [1, 4])
@pytest.mark.parametrize(
    "text",
    [
        "3.71 3.72 3.70 3.71 3.69 3.72",
        "3,71; 3,72; 3,70; 3,71; 3,69; 3,72",
        "C1: 3.71V C2: 3.72V C3: 3.70V C4: 3.71V C5: 3.69V C6: 3.72V",
        "3.71\n3.72\n3.70\n3.71\n3.69\n3.72",
        "371/372/370/371/369/372",
    ],
)
def test_a_text_with_all_readings_goes_in_whole_into_any_box(pack, number, text):
    cell(pack, number).tap()
    cell(pack, number).evaluate(PASTE, text)
    expect(entry(pack, "resting_v")).to_have_value("3.71 3.72 3.70 3.71 3.69 3.72")
    assert texts(pack) == ["3.71", "3.72", "3.70", "3.71", "3.69", "3.72"]
    expect(entry(pack, "pack_degc")).to_be_focused()


def test_a_text_that_is_typed_key_by_key_into_a_box_goes_in_whole_too(pack):
    cell(pack, 1).tap()
    pack.keyboard.type("C1: 3.71V C2: 3.72V C3: 3.70V C4: 3.71V C5: 3.69V C6: 3.72V")
    entry(pack, "pack_degc").tap()
    expect(entry(pack, "resting_v")).to_have_value("3.71 3.72 3.70 3.71 3.69 3.72")
    expect(cell(pack, 6)).to_have_value("3.72")


def test_readings_of_another_number_of_cells_stay_as_they_were_pasted_and_are_asked_about(pack):
    cell(pack, 1).tap()
    cell(pack, 1).evaluate(PASTE, "3.71V 3.72V 3.70V 3.71V")
    expect(pack.get_by_role("textbox", name="Resting voltage")).to_have_value("3.71V 3.72V 3.70V 3.71V")
    type_entries(pack, {"pack_degc": "18"})
    expect(pack.locator("#answer")).to_contain_text("You entered 4 voltages for 6 cells")


def test_the_voltage_of_the_whole_pack_is_the_other_way_and_what_goes_with_it_can_be_taken_back(pack):
    pack.get_by_role("button", name="The whole pack instead").tap()
    expect(pack.get_by_role("textbox", name="Resting voltage")).to_be_focused()
    keys(pack, "22.26")
    type_entries(pack, {"pack_degc": "18"})
    expect(pack.locator("#answer")).to_have_attribute("data-state", "answer")
    pack.get_by_role("button", name="Each cell instead").tap()
    assert texts(pack) == [""] * 6
    expect(pack.locator("#answer")).not_to_have_attribute("data-state", "answer")
    pack.get_by_role("button", name="Undo").tap()
    expect(entry(pack, "resting_v")).to_have_value("22.26")
    expect(pack.locator("#answer")).to_have_attribute("data-state", "answer")


def test_another_number_of_cells_has_another_number_of_boxes(pack):
    type_entries(pack, {"cells": "4S"})
    expect(cell_boxes(pack, "resting_v")).to_have_count(0)
    type_entries(pack, {"cells": "4"})
    expect(cell_boxes(pack, "resting_v")).to_have_count(4)


def test_the_boxes_come_back_with_their_readings(pack):
    cell(pack, 1).tap()
    keys(pack, "371372370371369372")
    expect(entry(pack, "resting_v")).to_have_value("3.71 3.72 3.70 3.71 3.69 3.72")
    pack.get_by_role("navigation", name="Main").get_by_role("link", name="Voltages").click()
    expect(pack.get_by_role("heading", level=1)).to_have_text("Voltages")
    pack.go_back()
    expect(cell_boxes(pack, "resting_v")).to_have_count(6)
    assert texts(pack) == ["3.71", "3.72", "3.70", "3.71", "3.69", "3.72"]


def test_without_scripts_the_readings_are_one_text(page_without_scripts, site):
    page_without_scripts.goto(site.address + "charge-settings.html")
    expect(page_without_scripts.locator("[name=resting_v]")).to_be_visible()
    expect(page_without_scripts.locator("[name=resting_v]")).to_be_editable()
    expect(page_without_scripts.locator(".cell-boxes")).to_have_count(0)
