"""Rows of a form: the next one is offered once the last is begun, and what counts is never folded away at the start.

The form is one of the test's own, in the place of the one for the charge settings, so that it holds for every calculator.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from playwright.sync_api import Locator, Page, expect

from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.fields import entries_of
from calc.inputs.rows import several
from site_builder.building.page_html import groups_of
from site_builder.engine.answer import ENVIRONMENT
from site_builder.harness.phone import PHONE
from site_builder.harness.pilot import clear, fold

FORM = re.compile(r'<form id="entries".*?</form>', re.DOTALL)


@dataclass(frozen=True, kw_only=True)
class Inputs(ChargerEntries):
    packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=2, most=5)


@pytest.fixture
def rows(browser, dist, site) -> Iterator[Page]:
    """A phone with a page whose form has rows; no service worker, which would answer with the built page."""
    built = (dist / "charge-settings.html").read_text(encoding="utf-8")
    answer = re.search(r'<section id="answer".*?</section>(?=\s*<div class="asked later">)', built, re.DOTALL)
    form = ENVIRONMENT.from_string(
        '{% import "pages/entries.html" as entries %}'
        "{% call entries.form('charge_settings', groups, asked, 120) %}{{ answer | safe }}{% endcall %}"
    ).render(groups=groups_of(entries_of(Inputs)), asked=set(entries_of(Inputs)), answer=answer[0])
    html = FORM.sub(lambda _: form, built)
    phone = browser.new_context(**PHONE, service_workers="block")
    phone.route(re.compile(r"charge-settings\.html"), lambda route: route.fulfill(body=html, content_type="text/html"))
    page = phone.new_page()
    opened(page, site.address)
    yield page
    phone.close()


def opened(page: Page, address: str, query: str = "") -> None:
    page.goto(f"{address}charge-settings.html{query}")
    expect(fold(page, "Clear")).to_be_visible()


def offered(page: Page, number: int) -> Locator:
    return fold(page, f"Pack {number}, if there is one")


def cells(page: Page, number: int) -> Locator:
    return page.locator(f"#entry-packs_{number}_cells")


def test_the_first_pack_stands_open_and_the_next_are_a_line_each(rows):
    expect(cells(rows, 1)).to_be_visible()
    expect(fold(rows, "Pack 2")).to_be_visible()
    expect(offered(rows, 3)).to_be_visible()
    expect(cells(rows, 3)).to_be_hidden()
    expect(offered(rows, 4)).to_be_hidden()


def test_the_next_pack_is_offered_once_the_last_is_begun(rows):
    offered(rows, 3).click()
    cells(rows, 3).fill("4")
    expect(offered(rows, 4)).to_be_visible()
    expect(offered(rows, 5)).to_be_hidden()
    cells(rows, 3).fill("")
    expect(offered(rows, 4)).to_be_hidden()


def test_a_pack_that_came_with_the_address_is_unfolded(rows, site):
    opened(rows, site.address, "?packs_3_cells=4&packs_4_label_charge_rate_c=1")
    expect(cells(rows, 3)).to_have_value("4")
    expect(cells(rows, 3)).to_be_visible()
    expect(cells(rows, 4)).to_be_hidden()  # what the form shows at first is no entry


def test_a_pack_that_was_kept_is_there_again_unfolded(rows, site):
    offered(rows, 3).click()
    cells(rows, 3).fill("4")
    opened(rows, site.address)
    expect(cells(rows, 3)).to_have_value("4")
    expect(cells(rows, 3)).to_be_visible()


def test_clearing_every_pack_folds_the_later_ones_and_leaves_the_charger(rows):
    fold(rows, "The charger").click()
    rows.locator("#entry-charger_cells").fill("6")
    offered(rows, 3).click()
    cells(rows, 3).fill("4")
    clear(rows, "Clear every pack")
    expect(cells(rows, 3)).to_have_value("")
    expect(cells(rows, 3)).to_be_hidden()
    expect(rows.locator("#entry-charger_cells")).to_have_value("6")


def test_a_pack_that_is_left_empty_takes_no_room_on_paper_and_one_that_counts_does(rows):
    offered(rows, 3).click()
    cells(rows, 3).fill("4")
    offered(rows, 3).click()
    rows.emulate_media(media="print")
    expect(offered(rows, 3)).to_be_visible()
    expect(offered(rows, 4)).to_be_hidden()


def test_a_pack_takes_over_the_label_of_the_one_before_and_nothing_that_is_measured(rows):
    for name, text in {"cells": "4", "capacity_mah": "5000", "resting_v": "15.2", "pack_degc": "20"}.items():
        rows.locator(f"#entry-packs_1_{name}").fill(text)
    rows.locator("#entry-packs_1_chemistry").select_option("lipo")
    fold(rows, "Pack 2").click()
    rows.get_by_role("button", name="Same label as Pack 1").click()
    copied = {
        name: rows.locator(f"#entry-packs_2_{name}").input_value()
        for name in ("chemistry", "cells", "capacity_mah", "resting_v", "pack_degc")
    }
    assert copied == {"chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "resting_v": "", "pack_degc": ""}
    expect(rows.locator(".entry:has(#entry-packs_2_resting_v) .cell-boxes input").first).to_be_focused()
    expect(rows).to_have_url(re.compile(r"packs_2_cells=4"))


def test_what_the_label_says_further_on_is_taken_over_and_what_is_true_of_one_pack_is_not(rows):
    fold(rows, "Pack 1: more about this pack, if known").click()
    rows.locator("#entry-packs_1_cell_resistance_mohm").fill("4")
    rows.locator("#entry-packs_1_label_discharge_rate_c").fill("40")
    fold(rows, "Pack 2").click()
    rows.get_by_role("button", name="Same label as Pack 1").click()
    expect(rows.locator("#entry-packs_2_label_discharge_rate_c")).to_have_value("40")
    expect(rows.locator("#entry-packs_2_cell_resistance_mohm")).to_have_value("")
