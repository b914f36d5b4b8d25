"""Whether everybody can read and use it: axe-core in light and dark, a narrow screen, large text, large targets, paper."""

import pytest
from playwright.sync_api import expect

from site_builder.commands.serve import Server
from site_builder.trying.phone import PHONE, visit
from site_builder.trying.pilot import PAGES, club_entries, link_to, open_page

ENTRIES = club_entries("brass-heron", "small", "field-battery")
TOO_MANY_CELLS = ENTRIES | {"cells": "8", "resting_v": "30"}
CALCULATORS = [opened for opened in PAGES if opened.calculator]

every_page = pytest.mark.parametrize("opened", PAGES, ids=lambda opened: opened.key)


@pytest.fixture(scope="module", params=["light", "dark"])
def coloured_page(request, browser, dist):
    """A page on a phone in light or dark that has visited once."""
    phone = browser.new_context(**PHONE, color_scheme=request.param)
    with Server(dist) as server:
        page = phone.new_page()
        visit(page, server.address)
        page.address = server.address
        yield page
    phone.close()


@every_page
def test_axe_finds_nothing_wrong_with_a_page(coloured_page, axe, opened):
    coloured_page.goto(coloured_page.address)
    coloured_page.evaluate("localStorage.clear()")
    open_page(coloured_page, coloured_page.address, opened)
    assert axe(coloured_page) == []


@pytest.mark.parametrize("opened", CALCULATORS, ids=lambda opened: opened.key)
def test_axe_finds_nothing_wrong_with_an_answer_with_all_of_it_unfolded(coloured_page, axe, opened):
    coloured_page.goto(link_to(coloured_page.address, opened.key, ENTRIES | opened.worked_example))
    expect(coloured_page.locator("#answer")).to_have_attribute("data-state", "answer")
    coloured_page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    assert axe(coloured_page) == []


def test_axe_finds_nothing_wrong_with_a_refusal(coloured_page, axe):
    coloured_page.goto(link_to(coloured_page.address, "charge-settings", TOO_MANY_CELLS))
    expect(coloured_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    assert axe(coloured_page) == []


def test_axe_finds_nothing_wrong_with_a_running_card(coloured_page, axe):
    coloured_page.goto(link_to(coloured_page.address, "charging-card", ENTRIES))
    coloured_page.get_by_role("button", name="Start this card").click()
    assert axe(coloured_page) == []
    coloured_page.evaluate("localStorage.clear()")


def fits_its_width(page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@every_page
@pytest.mark.parametrize("width, text", [(320, "100%"), (320, "200%"), (390, "200%")])
def test_nothing_scrolls_sideways_on_a_narrow_screen_or_in_large_text(far_page, visited, opened, width, text):
    far_page.set_viewport_size({"width": width, "height": 640})
    far_page.goto(visited.address + opened.address)
    far_page.evaluate("text => { document.documentElement.style.fontSize = `calc(112.5% * ${parseInt(text)} / 100)` }", text)
    assert fits_its_width(far_page)


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
