"""How many taps and characters lead from the first page to what is wanted, beside the most that each may be.

A tap into a field counts like any other. What a keypad types of a reading does not: it is what the pack says, and is asked each time.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import inf

from playwright.sync_api import Error, Locator, Page, expect

from site_builder.building.own_things import club_things
from site_builder.building.taps import MOST_KINDS
from site_builder.harness.phone import PATIENCE_MS
from site_builder.harness.pilot import cell_boxes, club_entries, open_with, pause
from site_builder.harness.store import WITHOUT_SCRIPTS, forget, lay_records, sealed
from site_builder.measuring.budgets import Budget, length_of
from site_builder.setting_up.checkout import CONTENT

TWINS = ("Slate Badger", "Stone Badger")
CHARGED_BEFORE = club_entries("brass-heron", "large", "field-battery")
_TEN = 10


class Thumb:
    """Taps and types, and counts both."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self.taps = 0
        self.characters = 0

    def tap(self, on: Locator) -> None:
        self.taps += 1
        on.click(timeout=PATIENCE_MS)

    def type(self, into: Locator, text: str) -> None:
        self.tap(into)
        self.characters += len(text)
        self._page.keyboard.type(text)

    def read(self, first_box: Locator, digits: str) -> None:
        """Tap the first box of the cells and type on: the boxes, and the temperature after them, come by themselves."""
        self.tap(first_box)
        self._page.keyboard.type(digits)


def flows(page: Page, address: str) -> Iterator[Budget]:
    """Measure the ways of a new pilot, and of one who has ten packs on this phone, on a page of that phone."""
    for way in (new_pilot, first_page, own_pack, two_in_series):
        try:
            yield from way(page, address)
        except (Error, AssertionError) as fault:  # what is looked for is not there: the other ways are still to go
            yield Budget(f"{way.__name__.replace('_', ' ')}, which ended: {str(fault).splitlines()[0][:80]}", inf, 0, "")
    _start(page, address)


def new_pilot(page: Page, address: str) -> Iterator[Budget]:
    """Six cells of 5250 mAh, from the first page to the settings by the label."""
    _start(page, address)
    page.goto(address)
    thumb = Thumb(page)
    thumb.tap(page.get_by_role("link", name="Charge one pack"))
    thumb.tap(page.get_by_role("button", name=MOST_KINDS["lipo"]))
    thumb.type(page.locator("#entry-cells"), "6")
    thumb.type(page.locator("#entry-capacity_mah"), "5250")
    _expect_answer(page, "partial")
    yield Budget("new pilot, first page to the settings by the label", thumb.taps, 4, "taps")
    yield Budget("new pilot, first page to the settings by the label", thumb.characters, 6, "characters")


def first_page(page: Page, address: str) -> Iterator[Budget]:
    """What the pilot sees who keeps ten packs."""
    put_in_ten_packs(page, address)
    yield Budget("first page with ten packs", length_of(page), 1700, "px")


def own_pack(page: Page, address: str) -> Iterator[Budget]:
    """One pack of the pilot's own, with the charger and the supply of the charge before."""
    put_in_ten_packs(page, address)
    thumb = Thumb(page)
    thumb.tap(page.locator(".own-tile", has_text=TWINS[0]))
    thumb.read(cell_boxes(page, "resting_v").first, "37037037037018")
    _expect_answer(page, "answer")
    yield Budget("own pack, first page to all settings and stops", thumb.taps, 2, "taps, readings typed")
    page.locator(":focus").blur()  # the keypad is put away, and the readings fold to a line
    expect(page.locator(".readings-line")).to_be_visible()
    start = page.get_by_role("link", name=re.compile("^Start"))
    foot = start.evaluate("(one) => one.getBoundingClientRect().bottom + document.querySelector('.bottom').offsetHeight")
    yield Budget("own pack: panel, Start and the bar below it", foot + page.evaluate("scrollY"), 844, "px")


def two_in_series(page: Page, address: str) -> Iterator[Budget]:
    """Two packs of the pilot's own that are alike."""
    put_in_ten_packs(page, address)
    thumb = Thumb(page)
    thumb.tap(page.get_by_role("link", name="Charge several together"))
    for name in TWINS:
        thumb.tap(page.locator("#picked-rows").get_by_role("checkbox", name=name))
    for row in (1, 2):
        first_box = cell_boxes(page, f"packs_{row}_resting_v").first
        first_box.or_(_fold(page, row)).first.wait_for(timeout=PATIENCE_MS)
        if not first_box.is_visible():
            thumb.tap(_fold(page, row))
        thumb.read(first_box, "37037037037018")
    _expect_answer(page, "answer")
    expect(page.locator(".wiring").first).to_be_visible()
    yield Budget("two own packs in series, first page to verdict, panel and wiring", thumb.taps, 5, "taps, readings typed")


def _fold(page: Page, row: int) -> Locator:
    return page.locator("summary", has_text=re.compile(f"^\\s*Pack {row}$"))


def put_in_ten_packs(page: Page, address: str) -> None:
    """Keep the club's packs, and as many more as make ten, beside the charger and the supply that were used last; open the first page."""
    _start(page, address)
    packs = club_things(CONTENT)["pack"]
    more = [pack | {"id": f"{pack['id']}-again", "name": f"{pack['name']} 2"} for pack in packs if pack["name"] not in TWINS]
    open_with(page, address, "charge-settings", CHARGED_BEFORE)
    pause(page)
    lay_records(page, address, {"own pack": sealed("own pack", [*packs, *more][:_TEN])})
    page.goto(address)
    expect(page.locator(".own-tile", has_text=TWINS[0])).to_be_visible(timeout=PATIENCE_MS)


def _expect_answer(page: Page, state: str) -> None:
    expect(page.locator("#answer")).to_have_attribute("data-state", state, timeout=PATIENCE_MS)


def _start(page: Page, address: str) -> None:
    """Forget what this phone keeps."""
    page.goto(address + WITHOUT_SCRIPTS)
    forget(page)
