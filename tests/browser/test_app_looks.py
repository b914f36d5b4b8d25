"""Whether everybody can read and use it: axe-core in light and dark, a narrow screen, large text, large targets, paper."""

import pytest
from playwright.sync_api import expect

from site_builder.harness.phone import PHONE
from site_builder.harness.pilot import PAGES, club_entries, link_to, open_page, open_with

ENTRIES = club_entries("brass-heron", "small", "field-battery")
TOO_MANY_CELLS = ENTRIES | {"cells": "8", "resting_v": "30"}
CALCULATORS = [opened for opened in PAGES if opened.calculator]

# What axe has to say of colours.
ACCESS_COLOURS = {"color-contrast", "color-contrast-enhanced", "link-in-text-block"}

every_page = pytest.mark.parametrize("opened", PAGES, ids=lambda opened: opened.key)


@pytest.fixture
def found_wrong(axe):
    """What axe finds wrong with a page in light, and with its colours in dark: nothing else of it depends on the light."""

    def found(page) -> list[dict]:
        page.emulate_media(color_scheme="light")
        in_light = axe(page)
        page.emulate_media(color_scheme="dark")
        in_dark = axe(page, ACCESS_COLOURS)
        return in_light + in_dark

    return found


@every_page
def test_axe_finds_nothing_wrong_with_a_page(far_page, visited, found_wrong, opened):
    open_page(far_page, visited.address, opened)
    assert found_wrong(far_page) == []


@pytest.mark.parametrize("opened", CALCULATORS, ids=lambda opened: opened.key)
def test_axe_finds_nothing_wrong_with_an_answer_with_all_of_it_unfolded(far_page, visited, found_wrong, opened):
    far_page.goto(link_to(visited.address, opened.key, ENTRIES | opened.worked_example))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    assert found_wrong(far_page) == []


def test_axe_finds_nothing_wrong_with_a_refusal(far_page, visited, found_wrong):
    far_page.goto(link_to(visited.address, "charge-settings", TOO_MANY_CELLS))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    assert found_wrong(far_page) == []


def test_axe_finds_nothing_wrong_with_a_running_card(far_page, visited, found_wrong):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    far_page.get_by_role("button", name="Start this card").click()
    expect(far_page.get_by_role("heading", name="Your card", exact=True)).to_be_visible()
    assert found_wrong(far_page) == []


def fits_its_width(page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@every_page
def test_nothing_scrolls_sideways_on_a_narrow_screen_or_in_large_text(far_page, visited, opened):
    far_page.goto(visited.address + opened.address)
    too_wide = []
    for width, text_percent in [(320, 100), (320, 200), (390, 200)]:
        far_page.set_viewport_size({"width": width, "height": 640})
        far_page.evaluate("percent => { document.documentElement.style.fontSize = `calc(1.125% * ${percent})` }", text_percent)
        too_wide += [] if fits_its_width(far_page) else [f"{width} pixels, text of {text_percent} %"]
    assert too_wide == []


@pytest.mark.parametrize("opened", CALCULATORS, ids=lambda opened: opened.key)
def test_an_answer_fits_a_narrow_screen_in_large_text(far_page, visited, opened):
    far_page.set_viewport_size({"width": 320, "height": 640})
    far_page.goto(link_to(visited.address, opened.key, ENTRIES | opened.worked_example))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.evaluate("document.documentElement.style.fontSize = '225%'")
    far_page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    assert fits_its_width(far_page)


@every_page
def test_whatever_is_tapped_is_48_pixels_high_unless_it_stands_in_a_sentence(far_page, visited, opened):
    far_page.goto(visited.address + opened.address)
    small = far_page.evaluate(
        """() => [...document.querySelectorAll("main .button, main input, main select, main summary, .top a, .bottom a, .uses a")]
             .filter((one) => one.getClientRects().length && !one.matches("[type=checkbox], .skip"))
             .filter((one) => one.getBoundingClientRect().height < 48)
             .map((one) => one.outerHTML.slice(0, 80))"""
    )
    assert small == []


@pytest.mark.parametrize("key", ["charge-settings", "charging-card", "pack-in-trouble"])
def test_a_page_prints_without_the_bars(far_page, visited, key):
    far_page.goto(f"{visited.address}{key}.html")
    far_page.emulate_media(media="print")
    expect(far_page.get_by_role("navigation", name="Main")).to_be_hidden()
    assert far_page.pdf(format="A4").startswith(b"%PDF")


def test_a_table_is_one_on_paper_and_cards_on_a_phone(far_page, visited):
    far_page.goto(f"{visited.address}voltages.html")
    first_row = far_page.locator(".reading tbody tr").first
    assert first_row.evaluate("row => getComputedStyle(row).display") == "grid"
    far_page.emulate_media(media="print")
    assert first_row.evaluate("row => getComputedStyle(row).display") == "table-row"


@every_page
def test_every_page_is_whole_with_scripts_off(browser, site, opened):
    phone = browser.new_context(**PHONE, java_script_enabled=False)
    page = phone.new_page()
    page.goto(site.address + opened.address)
    expect(page.get_by_role("heading", level=1)).to_have_text(opened.title)
    expect(page.get_by_role("link", name="Pack in trouble").first).to_be_visible()
    if opened.calculator:
        expect(page.locator("#answer-body")).to_contain_text("V")
        expect(page.locator(".no-script")).to_be_visible()
    for cases in page.locator(".common > details").all():
        cases.locator("summary").first.click()
        expect(cases.get_by_role("table")).to_be_visible()
    phone.close()
