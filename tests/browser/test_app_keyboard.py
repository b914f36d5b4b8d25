"""Without a finger: the Tab key leads through what comes of entries as well, and past the bar. For every page: test_app_pages.py."""

from playwright.sync_api import expect

from site_builder.harness.pilot import club_entries, link_to, open_with, start_card, tick_steps
from tests.browser.page_faults import faults_of_a_walk

ENTRIES = club_entries("brass-heron", "small", "field-battery")


def test_the_tab_key_reaches_and_shows_everything_of_an_answer(visited, far_page):
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    assert faults_of_a_walk(far_page) == []


def test_the_tab_key_reaches_and_shows_everything_of_a_running_card(visited, far_page):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    start_card(far_page)
    tick_steps(far_page, "Check the battery")
    assert faults_of_a_walk(far_page) == []


def test_the_first_stop_leads_past_the_bar(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    far_page.keyboard.press("Tab")
    skip = far_page.get_by_role("link", name="Skip to the page")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    far_page.keyboard.press("Enter")
    far_page.keyboard.press("Tab")
    expect(far_page.get_by_role("group", name="Chemistry").get_by_role("button").first).to_be_focused()
