"""Without a finger: the Tab key leads through everything that can be tapped, in the page's order, and shows where it is."""

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.pilot import PAGES, club_entries, link_to, open_with

ENTRIES = club_entries("brass-heron", "small", "field-battery")
# Sources are links in words alone, some hundred of them.
WALKED = [page for page in PAGES if page.key != "sources"]

LIST_STOPS = """() => {
  window.stops = [...document.querySelectorAll("a[href], button, input, select, textarea, summary")].filter(
    (stop) => stop.checkVisibility() && !stop.disabled && !stop.closest("[inert]"));
  return stops.length;
}"""
# Says what is wrong with the stop that the focus is at: it is not the one whose turn it is, has no outline, or lies under a bar.
STOP_FAULT = """(turn) => {
  const at = document.activeElement;
  const name = at.outerHTML.slice(0, 90);
  if (at !== stops[turn]) return `${name} in place of ${stops[turn].outerHTML.slice(0, 90)}`;
  const { outlineStyle, outlineWidth } = getComputedStyle(at);
  if (outlineStyle === "none" || outlineWidth === "0px") return `${name} shows no focus`;
  const [{ left, top, width, height }] = at.getClientRects();
  const seen = document.elementFromPoint(left + width / 2, top + height / 2);
  return at === seen || at.contains(seen) ? null : `${name} is hidden`;
}"""


def faults_of_a_walk(page: Page) -> list[str]:
    """Return what is wrong on the way of the Tab key from the skip link to the last stop."""
    page.emulate_media(reduced_motion="reduce")
    # What its scripts add must be there: they fill both.
    expect(page.locator("#engine-state:empty, :is([data-page=charging-card], [data-card]) #card-controls:empty")).to_have_count(0)
    count = page.evaluate(LIST_STOPS)
    page.locator(".skip").focus()
    faults = []
    for turn in range(1, count):
        page.keyboard.press("Tab")
        faults.append(page.evaluate(STOP_FAULT, turn))
    return [fault for fault in faults if fault]


@pytest.mark.parametrize("opened", WALKED, ids=lambda opened: opened.key)
def test_the_tab_key_reaches_and_shows_everything_on_a_page(visited, far_page, opened):
    far_page.goto(visited.address + opened.address)
    assert faults_of_a_walk(far_page) == []


def test_the_tab_key_reaches_and_shows_everything_of_an_answer(visited, far_page):
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    assert faults_of_a_walk(far_page) == []


def test_the_tab_key_reaches_and_shows_everything_of_a_running_card(visited, far_page):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    far_page.get_by_role("button", name="Start this card").click()
    expect(far_page.get_by_role("heading", name="Your card", exact=True)).to_be_visible()  # once it is on the disk
    assert faults_of_a_walk(far_page) == []


def test_the_first_stop_leads_past_the_bar(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    far_page.keyboard.press("Tab")
    skip = far_page.get_by_role("link", name="Skip to the page")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    far_page.keyboard.press("Enter")
    far_page.keyboard.press("Tab")
    expect(far_page.get_by_role("combobox", name="Chemistry")).to_be_focused()
