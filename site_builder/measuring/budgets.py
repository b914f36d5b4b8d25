"""How long the pages are on a phone, each beside the most that it may be: 390 by 844, text at 100 %, what is folded left folded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from playwright.sync_api import Page, expect

from calc.facts.chemistries import CHEMISTRIES
from site_builder.harness.content import PAGES
from site_builder.harness.phone import PATIENCE_MS, SIZE, wait_for_engine
from site_builder.harness.pilot import club_entries, link_to
from site_builder.reading.pages import Page as ContentPage

CHARGE = "charge-settings"
ENTRIES = club_entries("brass-heron", "small", "field-battery")

_CHARGE_PAGE = 2950
_CALCULATOR = 4200
_SCREEN = SIZE["height"]

_LENGTH = "document.documentElement.scrollHeight"
# What a screen must hold to show a whole table: the table, and the bars that stay above and below it.
_TABLE_AND_BARS = """table => [table, ...document.querySelectorAll(".top, .bottom")]
  .filter((one) => one === table || ["sticky", "fixed"].includes(getComputedStyle(one).position))
  .reduce((sum, one) => sum + one.getBoundingClientRect().height, 0)"""


@dataclass(frozen=True, slots=True)
class Budget:
    """What was measured, and the most that it may be."""

    what: str
    found: float
    most: float
    unit: str

    @property
    def is_held(self) -> bool:
        return self.found <= self.most


def lengths(page: Page, address: str) -> Iterator[Budget]:
    """Measure what is entered nowhere yet, each answer, and each table of voltages, on a phone that keeps nothing."""
    yield charge_page_empty(page, address)
    for opened in (one for one in PAGES if one.calculator):
        yield with_its_answer(page, address, opened)
    yield from tables_of_voltages(page, address)


def charge_page_empty(page: Page, address: str) -> Budget:
    """Measure the page as a new pilot finds it."""
    page.goto(f"{address}{CHARGE}.html")
    wait_for_engine(page)
    return _px(f"{CHARGE}, nothing entered", length_of(page), _CHARGE_PAGE)


def with_its_answer(page: Page, address: str, opened: ContentPage) -> Budget:
    """Open a calculator by a link with entries, measure it, and leave it open."""
    page.goto(link_with_entries(address, opened))
    return answered(page, opened)


def link_with_entries(address: str, opened: ContentPage) -> str:
    """Return a link to a calculator with all that it asks for an answer."""
    return link_to(address, opened.key, ENTRIES | opened.worked_example)


def answered(page: Page, opened: ContentPage) -> Budget:
    """Measure the calculator that is open, once it has its answer."""
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer", timeout=PATIENCE_MS)
    return _px(f"{opened.key}, with its answer", length_of(page), _CHARGE_PAGE if opened.key == CHARGE else _CALCULATOR)


def tables_of_voltages(page: Page, address: str) -> Iterator[Budget]:
    """Measure for each kind of pack what a screen must hold to show all its cell counts."""
    for key, chemistry in CHEMISTRIES.items():
        page.goto(link_to(address, "voltages", {"chemistry": key, "cells": "1"}))
        table = page.get_by_role("table", name=chemistry.name, exact=True)
        expect(table).to_be_visible(timeout=PATIENCE_MS)
        yield _px(f"voltages of {key}, 1 to {chemistry.most_cells} cells, and the bars", table.evaluate(_TABLE_AND_BARS), _SCREEN)


def length_of(page: Page) -> float:
    """Return the length of the page that is open, in CSS pixels."""
    return float(page.evaluate(_LENGTH))


def _px(what: str, found: float, most: float) -> Budget:
    return Budget(what, found, most, "px")
