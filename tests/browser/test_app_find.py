"""Finding by any word, with no signal: at once, with a slip, with the keyboard alone, and again after going back."""

import re

import pytest
from playwright.sync_api import expect

from site_builder.harness.content import PAGES
from site_builder.harness.phone import READY
from site_builder.harness.pilot import type_entries

LABEL = "What are you looking for?"


@pytest.fixture
def find_page(visited, far_page):
    far_page.goto(visited.address + "find.html")
    expect(far_page.get_by_label(LABEL)).to_be_visible()  # it comes with the script; keys for a hidden field would be lost
    return far_page


def first_found(page):
    return page.get_by_role("list", name="Found").get_by_role("link").first


def test_a_slip_leads_to_what_helps(find_page):
    find_page.get_by_label(LABEL).press_sequentially("pufy bat")
    expect(first_found(find_page)).to_contain_text("Swollen pack")  # and not what the first letters brought
    first_found(find_page).click()
    expect(find_page).to_have_url(re.compile(r"pack-in-trouble\.html#swollen-pack$"))


def test_what_was_found_is_there_again_after_going_back(find_page):
    find_page.get_by_label(LABEL).fill("fuse")
    first_found(find_page).click()
    expect(find_page.get_by_role("heading", level=1)).to_have_text("Supply and leads")
    find_page.go_back()
    expect(find_page.get_by_label(LABEL)).to_have_value("fuse")
    expect(first_found(find_page)).to_contain_text("Supply and leads")


def test_a_link_can_carry_the_words(visited, far_page):
    far_page.goto(visited.address + "find.html?words=salt+water")
    expect(first_found(far_page)).to_contain_text("Salt water")


def test_enter_goes_to_the_first_that_was_found(find_page):
    find_page.get_by_label(LABEL).fill("hissing")
    expect(first_found(find_page)).to_contain_text("Smoke, fire or hissing")
    find_page.keyboard.press("Enter")
    expect(first_found(find_page)).to_be_focused()


def test_the_number_found_is_told_and_where_nothing_is_found_what_to_do(find_page):
    find_page.get_by_label(LABEL).fill("resistor")
    expect(find_page.get_by_role("status").filter(has_text="found")).to_have_count(1)
    find_page.get_by_label(LABEL).fill("xyzzy")
    expect(find_page.locator("#find-state")).to_contain_text("Try another word")
    expect(find_page.get_by_role("list", name="Found")).to_be_hidden()


def test_clearing_the_words_clears_the_address(find_page):
    find_page.get_by_label(LABEL).fill("fuse")
    find_page.get_by_label(LABEL).fill("")
    expect(find_page).to_have_url(re.compile(r"find\.html$"))
    expect(find_page.locator("#find-state")).to_have_text("")


def test_axe_finds_nothing_wrong_with_what_was_found(find_page, axe):
    find_page.get_by_label(LABEL).fill("battery")
    expect(first_found(find_page)).to_be_visible()
    assert axe(find_page) == []


def test_without_scripts_every_page_and_heading_is_in_the_list(page_without_scripts, site):
    page = page_without_scripts
    page.goto(site.address + "find.html")
    expect(page.get_by_label(LABEL)).to_be_hidden()
    for opened in PAGES:
        if opened.key != "find":
            expect(page.locator(f'.all-pages .to-page[href="{opened.address}"]')).to_have_text(opened.title)
    expect(page.locator('.all-pages a[href="pack-in-trouble.html#swollen-pack"]')).to_have_text("Swollen pack")


# WebKit lets a page change its address a hundred times in thirty seconds, and throws from then on.
AS_WEBKIT = """window.changes = 0;
for (const name of ["replaceState", "pushState"]) {
  const change = history[name];
  history[name] = function (...given) {
    window.changes += 1;
    if (window.changes > 100) throw new DOMException("too many", "SecurityError");
    return change.apply(this, given);
  };
}"""


def test_a_hundred_and_fifty_letters_in_a_hurry_are_all_answered_where_the_browser_limits_changes_of_the_address(visited, far_page):
    faults = []
    far_page.on("pageerror", lambda fault: faults.append(str(fault)))
    far_page.add_init_script(AS_WEBKIT)
    far_page.goto(visited.address + "find.html")
    for word in ("swollen", "fuse", "resistor") * 10:
        far_page.get_by_label(LABEL).fill("")
        far_page.get_by_label(LABEL).press_sequentially(word)
    expect(far_page).to_have_url(re.compile(r"\?words=resistor$"))
    expect(far_page.locator("#find-state")).to_contain_text("found")
    assert faults == []
    assert far_page.evaluate("changes") < 100
    first_found(far_page).click()
    expect(far_page.get_by_role("heading", level=1)).not_to_have_text("Find")


def test_a_browser_that_allows_no_more_changes_of_the_address_stops_neither_a_search_nor_an_answer_nor_a_link(visited, far_page):
    faults = []
    far_page.on("pageerror", lambda fault: faults.append(str(fault)))
    far_page.add_init_script(AS_WEBKIT + "window.changes = 100;")
    far_page.goto(visited.address + "find.html")
    far_page.get_by_label(LABEL).fill("fuse")
    expect(first_found(far_page)).to_contain_text("Supply and leads")
    first_found(far_page).click()
    expect(far_page.get_by_role("heading", level=1)).to_have_text("Supply and leads")
    expect(far_page.locator("#engine-state")).to_have_text(READY)
    type_entries(far_page, {"battery_ah": "70"})
    expect(far_page.locator("#answer")).not_to_have_attribute("data-state", "example")
    assert faults == []
