"""Text at twice its size, and paper: nothing covers the page, no unit is parted from its number, nothing is left folded."""

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.pilot import PAGES, club_entries, link_to

ENTRIES = club_entries("brass-heron", "small", "field-battery")
TWICE = "document.documentElement.style.fontSize = '225%'"

COVERED = """() => [".top", ".top .trouble", ".bottom"].map((bar) => document.querySelector(bar))
  .filter((bar) => ["sticky", "fixed"].includes(getComputedStyle(bar).position))
  .reduce((sum, bar) => sum + bar.offsetHeight, 0) / innerHeight"""

# Each number with a no-break space and a unit behind it, that does not stand on one line.
PARTED = """() => {
  const parted = [];
  const walker = document.createTreeWalker(document.getElementById("answer-body"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode;
    if (!text.parentElement.checkVisibility()) continue;
    for (const { 0: figure, index } of text.data.matchAll(/[\\d.]+\\u00a0\\S+/g)) {
      const range = new Range();
      range.setStart(text, index);
      range.setEnd(text, index + figure.length);
      if (new Set(Array.from(range.getClientRects(), ({ bottom }) => Math.round(bottom))).size > 1) parted.push(figure);
    }
  }
  return parted;
}"""


def enlarge(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.evaluate(TWICE)


@pytest.mark.parametrize("width", [320, 390])
@pytest.mark.parametrize("opened", PAGES, ids=lambda opened: opened.key)
def test_the_bars_leave_at_least_half_of_the_screen_to_the_page(visited, far_page, opened, width):
    far_page.goto(visited.address + opened.address)
    enlarge(far_page, width)
    assert far_page.evaluate(COVERED) <= 0.5


@pytest.mark.parametrize("width", [320, 390])
def test_the_trouble_page_stays_one_tap_away_wherever_the_pilot_reads(visited, far_page, width):
    far_page.goto(visited.address + "charge-settings.html")
    enlarge(far_page, width)
    far_page.get_by_role("contentinfo").scroll_into_view_if_needed()
    expect(far_page.get_by_role("link", name="Pack in trouble", exact=True)).to_be_in_viewport()


@pytest.mark.parametrize("width", [320, 390])
@pytest.mark.parametrize("opened", [page for page in PAGES if page.calculator], ids=lambda opened: opened.key)
def test_no_unit_is_parted_from_its_number(visited, far_page, opened, width):
    far_page.goto(visited.address + opened.address)
    far_page.evaluate("document.querySelectorAll('details').forEach((folded) => { folded.open = true })")
    enlarge(far_page, width)
    assert far_page.evaluate(PARTED) == []


def test_a_refusal_leaves_at_least_half_of_the_screen_to_the_page(visited, far_page):
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES | {"resting_v": "25.2"}))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    assert far_page.evaluate(COVERED) <= 0.5


def test_what_is_folded_on_the_screen_is_on_paper(visited, far_page):
    far_page.goto(visited.address + "voltages.html")
    expect(far_page.get_by_role("table", name="Lithium iron phosphate")).to_be_hidden()
    far_page.emulate_media(media="print")
    for table in far_page.locator("#answer-body table").all():
        expect(table).to_be_visible()
