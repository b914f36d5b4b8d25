"""How many packs at once, on the page of one pack and in the list of one's own: the ways to charge them, each as its own page judges it."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from calc.answering import answer
from site_builder.harness.content import CLUB
from site_builder.harness.pilot import cell_boxes, open_with, pause
from site_builder.harness.store import lay_records, sealed
from site_builder.reading.club import merged, read_club

LARGE = merged({"charger": "large", "supply": "field-battery"}, read_club(CLUB))
LABEL = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2650", "label_charge_rate_c": "2"}
PASSED = {"resting_v": "3.79 3.80 3.79", "pack_degc": "20"}
OTHER_CELLS = LABEL | {"cells": "2"}


def own_pack(name: str, entries: dict[str, str]) -> dict[str, object]:
    return {"id": name.lower().replace(" ", "-"), "name": name, "entries": entries, "dates": {}}


@pytest.fixture
def keeper(visited, far_page) -> Page:
    """A pilot who keeps three packs, two of them alike."""
    own = [own_pack("Copper Wren", LABEL), own_pack("Pine Wren", LABEL), own_pack("Tin Lark", OTHER_CELLS)]
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", own)})
    return far_page


def several(page: Page) -> Locator:
    return page.locator(".several")


def way(page: Page, title: str) -> Locator:
    return page.locator(".several-ways li").filter(has=page.locator("b").get_by_text(re.compile(f"^{title}")))


def unfold(page: Page) -> None:
    several(page).locator("> summary").tap()


def test_two_alike_are_offered_as_their_pages_judge_them_and_nothing_is_typed_again(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", LARGE | LABEL | PASSED)
    unfold(far_page)
    far_page.get_by_role("button", name="2 packs alike").tap()
    rows = {f"packs_1_{name}": text for name, text in (LABEL | PASSED).items()} | {"alike_packs": "2"}
    for key, title in (("packs_in_series", "Packs in series"), ("packs_in_parallel", "Packs in parallel")):
        join = answer(key, LARGE | rows).known.join
        expect(way(far_page, title)).to_contain_text(f"{join.figure}: {join.set_by}")
    expect(way(far_page, "One after the other")).to_contain_text("Always")
    way(far_page, "Packs in series").get_by_role("link").tap()
    expect(far_page.locator("h1")).to_have_text("Packs in series")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")
    expect(far_page.locator("#answer .verdict")).to_contain_text("In series: Yes, by their labels")
    expect(far_page.locator("#answer [data-part=ports]").or_(far_page.locator("#answer .wiring svg")).first).to_be_visible()
    assert far_page.locator("[name=packs_1_resting_v]").input_value() == PASSED["resting_v"]
    cell_boxes(far_page, "packs_2_resting_v").first.tap()
    far_page.keyboard.type("37938037920")
    expect(far_page.locator("#answer .verdict")).to_contain_text("In series: Yes")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")


def test_a_way_that_is_not_safe_is_refused_in_the_list_with_the_reason(visited, far_page):
    open_with(
        far_page,
        visited.address,
        "charge-settings",
        LARGE | LABEL | PASSED | {"charger_cells": "4", "balance_ports": "1", "port_cells": "6"},
    )
    unfold(far_page)
    far_page.get_by_role("button", name="2 packs alike").tap()
    refused = way(far_page, "Packs in series: no.")
    expect(refused).to_contain_text("These packs together have more cells than the charger takes")
    expect(refused.get_by_role("link")).to_have_count(0)
    expect(way(far_page, "Packs in parallel").get_by_role("link")).to_be_visible()
    far_page.get_by_role("button", name="2 packs alike").tap()  # one again
    expect(far_page.locator(".several-ways")).to_have_count(0)


def test_a_pack_that_may_not_be_charged_is_not_offered_with_others(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", LARGE | LABEL | PASSED)
    expect(several(far_page)).to_be_visible()
    open_with(far_page, visited.address, "charge-settings", LARGE | LABEL | {"resting_v": "3.79 2.40 3.79", "pack_degc": "20"})
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    expect(several(far_page)).to_be_hidden()


def test_a_picked_pack_goes_with_another_of_ones_own_and_both_are_ticked_there(visited, keeper):
    open_with(keeper, visited.address, "charge-settings", LARGE)
    pause(keeper)
    keeper.goto(f"{visited.address}charge-settings.html?pick=copper-wren")
    unfold(keeper)
    keeper.get_by_text("Or together with others of my packs").tap()
    keeper.get_by_role("checkbox", name="Tin Lark").tap()
    expect(way(keeper, "Packs in parallel: no.")).to_contain_text("Tin Lark: its cell count is not that of Copper Wren")
    keeper.get_by_role("checkbox", name="Tin Lark").tap()
    keeper.get_by_role("checkbox", name="Pine Wren").tap()
    way(keeper, "Packs in parallel").get_by_role("link").tap()
    expect(keeper.locator("h1")).to_have_text("Packs in parallel")
    for name in ("Copper Wren", "Pine Wren"):
        expect(keeper.locator("#picked-rows").get_by_role("checkbox", name=name)).to_be_checked()
    expect(keeper.locator("#answer .verdict")).to_contain_text("In parallel: Yes, by their labels")


def test_a_pack_that_is_typed_in_is_called_by_its_number_beside_one_of_ones_own(visited, keeper):
    open_with(keeper, visited.address, "charge-settings", LARGE | LABEL)
    unfold(keeper)
    keeper.get_by_text("Or together with others of my packs").tap()
    keeper.get_by_role("checkbox", name="Tin Lark").tap()
    expect(way(keeper, "Packs in parallel: no.")).to_contain_text("Tin Lark: its cell count is not that of Pack 1")


def test_in_the_list_of_my_packs_two_that_are_ticked_get_the_same_list(visited, keeper):
    keeper.goto(f"{visited.address}my-packs.html")
    unfold(keeper)
    keeper.get_by_role("checkbox", name="Copper Wren").tap()
    expect(keeper.locator(".several-ways")).to_have_count(0)
    keeper.get_by_role("checkbox", name="Pine Wren").tap()
    expect(way(keeper, "Packs in series")).to_contain_text("Yes, by their labels", timeout=60_000)
    way(keeper, "Packs in series").get_by_role("link").tap()
    expect(keeper.locator("h1")).to_have_text("Packs in series")
    for name in ("Copper Wren", "Pine Wren"):
        expect(keeper.locator("#picked-rows").get_by_role("checkbox", name=name)).to_be_checked()
    expect(keeper.locator("#answer .verdict")).to_contain_text("In series: Yes, by their labels")
