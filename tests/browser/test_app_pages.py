"""Every page, opened once with no signal: whether everybody can read and use it, and what is one tap away.

What a page is like once something was entered in it, the other modules look at.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.content import PAGES
from site_builder.harness.phone import wait_for_engine
from site_builder.measuring.budgets import answered, link_with_entries, tables_of_voltages
from tests.browser.page_faults import (
    COVERED,
    NOTE_JUMPS,
    SPLIT,
    TOO_WIDE,
    TORN_SIGNS,
    faint_in_forced_colours,
    faults_of_a_walk,
    jumps,
    low_targets,
    parted_units,
    too_wide,
    unfold,
    wrong_on_screens,
)
from tests.browser.phones import Visited, emptied_page

CALCULATORS = [opened for opened in PAGES if opened.calculator]
# A document that is loaded anew has lost it.
MARK = "window.mark = 'the same document'"
IS_MARKED = "window.mark === 'the same document'"

# The briefing draws its questions anew at each opening: they are other words each time.
HIDE_DRAWN = "() => document.querySelector('.questions')?.toggleAttribute('hidden', true)"
SHOW_DRAWN = "() => document.querySelector('.questions')?.toggleAttribute('hidden', false)"

every_page = pytest.mark.parametrize("opened", PAGES, ids=lambda opened: opened.key)


@dataclass(frozen=True, slots=True)
class Tabs:
    """In one each page is opened by itself; the other goes from page to page in one document."""

    by_itself: Page
    travelling: Page


@pytest.fixture(scope="module")
def tabs(visited: Visited) -> Iterator[Tabs]:
    with emptied_page(visited) as by_itself, emptied_page(visited) as travelling:
        by_itself.add_init_script(NOTE_JUMPS)
        travelling.goto(visited.address + "find.html")
        travelling.evaluate(MARK)
        yield Tabs(by_itself, travelling)


def wait_for_scripts(page: Page, opened) -> None:
    if opened.calculator or opened.numbers_from:
        wait_for_engine(page)
    expect(
        page.locator(
            "#not-started, main form[hidden]:not(#entries), #engine-state:empty, :is([data-page=charging-card], [data-card]) #card-controls:empty, #own-place:empty, #home-packs:empty, #file-place:empty, #club-form[hidden]"
        )
    ).to_have_count(0)


@every_page
def test_a_page_can_be_read_tapped_and_walked_through_with_no_signal(visited, tabs, sent, found_wrong, opened):
    page = tabs.by_itself
    page.goto(visited.address + opened.address, wait_until="commit")
    wait_for_scripts(page, opened)
    faults = {"moves while it starts": jumps(page) if opened.calculator else []}
    page.evaluate(HIDE_DRAWN)
    title, words = page.evaluate("[document.title, document.querySelector('main').innerText]")
    page.evaluate(SHOW_DRAWN)
    faults |= {
        "axe": found_wrong(page),
        "in forced colours": faint_in_forced_colours(page),
        "less than 48 pixels high": low_targets(page),
        # Sources are links in words alone, some hundred of them.
        "on the way of the Tab key": faults_of_a_walk(page) if opened.key != "sources" else [],
        "on small screens and in large text": wrong_on_screens(page, TOO_WIDE, COVERED, SPLIT, TORN_SIGNS),
        "a unit parted from its number": parted_units(page) if opened.calculator else [],
    }
    assert {what: found for what, found in faults.items() if found} == {}

    page.get_by_role("banner").get_by_role("link", name="Pack in trouble").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Pack in trouble")
    expect(page.get_by_role("heading", name="Smoke, fire or hissing")).to_be_visible()
    assert sent == []
    assert_is_the_same_when_gone_to(tabs.travelling, opened, title, words)


def assert_is_the_same_when_gone_to(page: Page, opened, title: str, words: str) -> None:
    """Go to a page from the one to find by, see it as if it were opened by itself, and go back there."""
    travel(page, opened, opened.address)
    wait_for_scripts(page, opened)
    expect(page).to_have_title(title)
    page.evaluate(HIDE_DRAWN)
    expect(page.locator("main")).to_have_js_property("innerText", words)
    if opened.calculator and opened.key != "voltages":  # its table is held to one screen of its own
        page.get_by_role("link", name="Put its entries into the form").click()
        assert (length := answered(page, opened)).is_held, length
    page.get_by_role("link", name="Find", exact=True).first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Find")
    assert page.evaluate(IS_MARKED)


def travel(page: Page, opened, address: str) -> None:
    """Go to a page as a link leads there, in the same document: its calculator is up already."""
    page.evaluate("address => { document.querySelector('nav[aria-label=Main] a').href = address }", address)
    page.get_by_role("navigation", name="Main").get_by_role("link").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(opened.title)


@every_page
def test_every_page_is_whole_with_scripts_off(page_without_scripts, site, opened):
    page = page_without_scripts
    page.goto(site.address + opened.address)
    expect(page.get_by_role("heading", level=1)).to_have_text(opened.title)
    expect(page.get_by_role("link", name="Pack in trouble").first).to_be_visible()
    if opened.calculator:
        expect(page.locator("#answer-body")).to_contain_text(re.compile(r"V|\d\sA\b"))
        expect(page.locator(".no-script")).to_be_visible()
    if page.locator(".common").count():
        page.locator(".common summary").first.click()
    for cases in page.locator(".common details details:not(.entered)").all():
        cases.locator("summary").first.click()
        expect(cases.get_by_role("table")).to_be_visible()
    if opened.card:
        assert page.locator(".step").count() >= 8
        expect(page.locator(".step-title").first).to_be_visible()
        if page.locator(".step-figure").count():
            expect(page.locator("#answer-about")).to_contain_text("These are not your numbers.")


@pytest.mark.parametrize("opened", CALCULATORS, ids=lambda opened: opened.key)
def test_an_answer_is_no_longer_than_it_may_be_and_can_be_read_unfolded_and_in_large_text(visited, tabs, found_wrong, opened):
    page = tabs.travelling
    travel(page, opened, link_with_entries(visited.address, opened))
    length = answered(page, opened)
    unfold(page)
    faults = {
        "axe": found_wrong(page),
        "in forced colours": faint_in_forced_colours(page),
        "scrolls sideways": too_wide(page),
        "longer than it may be": [] if length.is_held else [length],
    }
    assert {what: found for what, found in faults.items() if found} == {}


def test_the_voltages_of_a_kind_of_pack_stand_on_one_screen(visited, tabs):
    assert [table for table in tables_of_voltages(tabs.by_itself, visited.address) if not table.is_held] == []
