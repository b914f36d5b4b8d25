"""Several packs as one act: ticked or counted, then the verdict, the panel and the wiring, each in that order on the screen."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from site_builder.harness.content import CLUB
from site_builder.harness.pilot import cell_boxes, open_with, pause
from site_builder.harness.store import lay_records, sealed
from site_builder.reading.club import merged, read_club

CHARGER = merged({"charger": "large", "supply": "field-battery"}, read_club(CLUB))
PACK_LABEL = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2650", "label_charge_rate_c": "1"}
LABEL = PACK_LABEL | {"pack_degc": "20"}
BOTH_READ = {"packs_1_resting_v": "3.79 3.80 3.79", "packs_2_resting_v": "3.80 3.79 3.80"}
WAYS = {"packs-in-series": "In series", "packs-in-parallel": "In parallel"}


def two_packs(**others: str) -> dict[str, str]:
    rows = {f"packs_{row}_{name}": text for row in (1, 2) for name, text in LABEL.items()}
    return CHARGER | rows | BOTH_READ | {"requested_rate_c": "1"} | others


def verdict(page: Page) -> Locator:
    return page.locator("#answer .verdict")


def answered(page: Page, address: str, key: str, **others: str) -> None:
    open_with(page, address, key, two_packs(**others))
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")


def top_of(place: Locator) -> float:
    box = place.bounding_box()
    assert box
    return box["y"]


@pytest.mark.parametrize("key", WAYS)
def test_packs_that_may_be_joined_get_a_yes_then_the_current_then_the_wiring(visited, far_page, key):
    answered(far_page, visited.address, key)
    expect(verdict(far_page)).to_contain_text(f"{WAYS[key]}: Yes")
    assert (
        top_of(verdict(far_page))
        < top_of(far_page.locator("#answer [data-part=joint_current]"))
        < top_of(far_page.locator("#answer .wiring").first)
    )
    expect(far_page.get_by_role("link", name="Start the card of packs in")).to_be_visible()


@pytest.mark.parametrize("key", WAYS)
def test_the_verdict_comes_before_every_caution_and_the_wiring_before_the_start(visited, far_page, key):
    answered(far_page, visited.address, key)
    warning, start = far_page.locator("#answer .cautions").first, far_page.get_by_role("link", name="Start the card of packs in")
    assert top_of(verdict(far_page)) < top_of(warning)
    assert top_of(far_page.locator("#answer .panel-values").last) < top_of(far_page.locator("#answer .wiring").first) < top_of(start)


@pytest.mark.parametrize("key", WAYS)
def test_packs_that_are_too_far_apart_get_a_no_of_another_shape_and_no_card(visited, far_page, key):
    answered(far_page, visited.address, key, packs_2_resting_v="4.05 4.05 4.05")
    expect(verdict(far_page)).to_contain_text(f"{WAYS[key]}: Not yet")
    shape = verdict(far_page).locator("path").get_attribute("d")
    expect(far_page.get_by_role("link", name="Start the card of packs in")).to_be_hidden()
    expect(far_page.locator("#answer [data-part=joint_current]")).to_have_count(0)
    answered(far_page, visited.address, key)
    assert verdict(far_page).locator("path").get_attribute("d") != shape


def test_the_wires_are_told_one_by_one_a_tap_away(visited, far_page):
    answered(far_page, visited.address, "packs-in-series")
    wire = far_page.get_by_text("Series lead: from the plus of Pack 1 to the minus of Pack 2.")
    expect(wire).to_be_hidden()
    far_page.get_by_text("Packs one after the other, wire by wire").click()
    expect(wire).to_be_visible()
    expect(far_page.locator("#answer .wiring").first.locator("svg text", has_text="series lead")).to_be_visible()


def test_two_alike_have_one_label_and_the_second_is_asked_for_its_readings_alone(visited, far_page):
    label = {f"packs_1_{name}": text for name, text in LABEL.items()}
    open_with(far_page, visited.address, "packs-in-series", CHARGER | label | {"packs_1_resting_v": BOTH_READ["packs_1_resting_v"]})
    far_page.locator("[name=alike_packs]").fill("2")
    expect(far_page.locator("[name=packs_2_cells]")).to_be_hidden()
    expect(cell_boxes(far_page, "packs_2_resting_v")).to_have_count(3)
    cell_boxes(far_page, "packs_2_resting_v").first.tap()
    far_page.keyboard.type("380379380")
    expect(far_page.locator("[name=packs_2_pack_degc]")).to_be_focused()
    far_page.keyboard.type("20")
    expect(verdict(far_page)).to_contain_text("In series: Yes")
    expect(far_page.locator("#answer [data-part=cells]")).to_contain_text("6\u00a0cells")


def test_two_packs_of_ones_own_take_five_taps_and_their_readings_from_the_first_page(visited, far_page):
    own = [{"id": name.lower(), "name": name, "entries": PACK_LABEL, "dates": {}} for name in ("Copper Wren", "Pine Wren")]
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", own)})
    open_with(far_page, visited.address, "packs-in-series", CHARGER)  # they stay from charge to charge
    pause(far_page)
    far_page.goto(visited.address)
    taps = []

    def tap(what: Locator) -> None:
        what.tap()
        taps.append(what)

    tap(far_page.get_by_role("link", name="Charge several together"))
    for one in own:
        tap(far_page.locator("#picked-rows").get_by_role("checkbox", name=one["name"]))
    for row, keys in ((1, "379380379"), (2, "380379380")):
        tap(cell_boxes(far_page, f"packs_{row}_resting_v").first)
        for key in keys + "19":
            far_page.keyboard.press(key)
    expect(verdict(far_page)).to_contain_text("In series: Yes")
    expect(far_page.locator("#answer [data-part=joint_current] .figure")).to_contain_text("2.6\u00a0A")
    expect(far_page.locator("#answer .wiring svg").first).to_have_accessible_name(re.compile("^Packs one after the other"))
    assert len(taps) == 5


def test_three_alike_ask_for_the_readings_of_three(visited, far_page):
    open_with(far_page, visited.address, "packs-in-series", two_packs(alike_packs="3", balance_ports="3", charger_cells="14"))
    expect(far_page.locator("#answer .not-counted")).to_contain_text("the voltages and the temperature of Pack 3")
    expect(cell_boxes(far_page, "packs_3_resting_v")).to_have_count(3)


@pytest.mark.parametrize("key", WAYS)
def test_packs_that_nobody_has_read_are_judged_by_their_labels_and_start_no_card(visited, far_page, key):
    label = {f"packs_1_{name}": text for name, text in PACK_LABEL.items()}
    open_with(far_page, visited.address, key, label | {"alike_packs": "2"})
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")
    expect(verdict(far_page)).to_contain_text(f"{WAYS[key]}: Yes, by their labels")
    expect(far_page.locator("#answer .basis")).to_contain_text("not yet to dial")
    expect(far_page.get_by_role("link", name="Start the card of packs in")).to_be_hidden()
    expect(cell_boxes(far_page, "packs_2_resting_v").first).to_be_visible()  # its readings are what is missing
