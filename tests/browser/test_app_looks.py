"""Whether everybody can read and use what comes of entries: in light and dark, in large text, on paper. For every page: test_app_pages.py."""

import pytest
from playwright.sync_api import expect

from site_builder.harness.pilot import club_entries, link_to, open_with, start_card, tick_steps
from tests.browser.page_faults import LARGE_TEXT_PERCENT, covered, show, too_wide
from tests.browser.paper import sheets_of

ENTRIES = club_entries("brass-heron", "small", "field-battery")

# The choices of each list in sight whose words have no room in it, on as many lines as they take there.
CUT_CHOICES = """() => {
  const pen = document.createElement("canvas").getContext("2d");
  return [...document.querySelectorAll("main select")].filter((list) => list.checkVisibility()).flatMap((list) => {
    const { fontWeight, fontSize, fontFamily, paddingLeft, paddingRight, textWrapMode, whiteSpaceCollapse } = getComputedStyle(list);
    pen.font = `${fontWeight} ${fontSize} ${fontFamily}`;
    const { fontBoundingBoxAscent, fontBoundingBoxDescent } = pen.measureText("");
    const arrow = 24, width = list.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight) - arrow;
    const wraps = textWrapMode === "wrap" && whiteSpaceCollapse === "collapse";
    const room = wraps ? Math.floor(list.clientHeight / (fontBoundingBoxAscent + fontBoundingBoxDescent)) : 1;
    const lines = (words) => words.split(" ").reduce(([line, count], word) => {
      const longer = line ? `${line} ${word}` : word;
      return pen.measureText(longer).width <= width ? [longer, count] : [word, count + 1];
    }, ["", 1])[1];
    return [...list.options].filter(({ text }) => lines(text) > room).map(({ text }) => text);
  });
}"""

# The lines that unfold whose words do not stand in the middle of them.
OFF_CENTRE = """() => [...document.querySelectorAll(".asked details > summary")].filter((line) => line.checkVisibility()).filter((line) => {
  const middle = (one) => { const { top, bottom } = one.getBoundingClientRect(); return (top + bottom) / 2; };
  return Math.abs(middle(line) - middle(line.querySelector("b"))) > 2;
}).map((line) => line.innerText)"""


def test_a_refusal_breaks_no_rule_of_access_and_leaves_half_of_the_screen_to_the_page(far_page, visited, found_wrong):
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES | {"cells": "8", "resting_v": "30"}))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    assert (found_wrong(far_page), covered(far_page), too_wide(far_page)) == ([], [], [])


def test_a_running_card_breaks_no_rule_of_access(far_page, visited, found_wrong):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    start_card(far_page)
    tick_steps(far_page, "Check the battery")
    assert (found_wrong(far_page), too_wide(far_page)) == ([], [])


def test_the_trouble_page_stays_one_tap_away_wherever_the_pilot_reads(far_page, visited):
    far_page.goto(visited.address + "charge-settings.html")
    for width in (320, 390):
        show(far_page, width, 844, LARGE_TEXT_PERCENT)
        far_page.get_by_role("contentinfo").scroll_into_view_if_needed()
        expect(far_page.get_by_role("link", name="Pack in trouble", exact=True)).to_be_in_viewport()


@pytest.mark.parametrize("width", [360, 390, 1280])
def test_what_is_asked_stands_in_line(far_page, visited, width):
    far_page.set_viewport_size({"width": width, "height": 844})
    far_page.goto(visited.address + "charge-settings.html")
    voltage = far_page.get_by_label("Resting voltage V").bounding_box()
    temperature = far_page.locator(".with-unit", has=far_page.get_by_label("Temperature of the pack")).bounding_box()
    assert (voltage["y"], voltage["height"]) == (temperature["y"], temperature["height"])
    assert far_page.evaluate(OFF_CENTRE) == []


def test_the_four_words_for_warmth_stand_in_one_row_on_a_small_phone(far_page, visited):
    far_page.set_viewport_size({"width": 320, "height": 640})
    far_page.goto(visited.address + "flight-timer.html")
    words = far_page.locator("[data-taps$=pack_warmth] .button")
    expect(words).to_have_count(4)
    assert len({word.bounding_box()["y"] for word in words.all()}) == 1


@pytest.mark.parametrize("key", ["cell-check", "storage", "transport"])
def test_what_is_chosen_in_a_list_can_be_read_to_its_end(far_page, visited, key):
    far_page.goto(f"{visited.address}{key}.html")
    for width, text_percent in ((320, 100), (390, 100), (320, LARGE_TEXT_PERCENT)):
        show(far_page, width, 844, text_percent)
        assert far_page.evaluate(CUT_CHOICES) == []


def test_at_the_bench_a_card_is_no_wider_than_words_can_be_read(far_page, visited):
    far_page.set_viewport_size({"width": 1280, "height": 900})
    far_page.goto(visited.address + "first-charge-card.html")
    assert far_page.locator("main").bounding_box()["width"] <= far_page.get_by_role("contentinfo").bounding_box()["width"]


def test_the_sign_on_the_poster_leaves_the_screen_to_what_is_to_be_done(far_page, visited):
    far_page.goto(visited.address + "poster.html")
    assert far_page.locator(".poster-trouble svg").bounding_box()["height"] < far_page.evaluate("innerHeight") / 4


@pytest.mark.parametrize("key", ["charge-settings", "charging-card", "pack-in-trouble"])
def test_a_page_prints_without_the_bars(far_page, visited, key):
    far_page.goto(f"{visited.address}{key}.html")
    far_page.emulate_media(media="print")
    expect(far_page.get_by_role("navigation", name="Main")).to_be_hidden()
    assert far_page.pdf(format="A4").startswith(b"%PDF")


@pytest.mark.parametrize("key", ["cold-day", "cold-day-card"])
def test_common_practice_has_one_sign_and_each_sheet_of_paper_says_what_it_means(far_page, visited, key):
    far_page.goto(f"{visited.address}{key}.html")
    mark = far_page.locator("main .by-trade").first
    for media in ("screen", "print"):
        far_page.emulate_media(media=media)
        assert mark.locator("span").bounding_box()["width"] <= 1
        assert mark.evaluate("one => getComputedStyle(one, '::before').content").startswith('"◇"')
    sheets = sheets_of(far_page.pdf(format="A4", prefer_css_page_size=True))
    said = [sheet for sheet in sheets if sheet.has("marks common practice, which has no source.")]
    assert said == (sheets if key.endswith("-card") else sheets[-1:])  # a card's sheets are ticked one by one


def test_the_table_of_a_kind_of_pack_is_one_on_a_phone_and_blocks_in_large_text(far_page, visited):
    far_page.goto(f"{visited.address}lithium-polymer.html")
    first_row = far_page.get_by_role("table", name="in each mode of a charger").locator("tbody tr").first
    for width in (390, 320):
        far_page.set_viewport_size({"width": width, "height": 844})
        expect(first_row).to_have_css("display", "table-row")
    show(far_page, 320, 844, LARGE_TEXT_PERCENT)
    expect(first_row).to_have_css("display", "grid")


def test_a_table_is_one_on_paper_and_cards_on_a_phone_and_what_is_folded_there_is_on_paper(far_page, visited):
    far_page.goto(f"{visited.address}voltages.html")
    first_row = far_page.locator(".reading tbody tr").first
    expect(first_row).to_have_css("display", "grid")
    expect(far_page.get_by_role("table", name="Lithium iron phosphate")).to_be_hidden()
    far_page.emulate_media(media="print")
    expect(first_row).to_have_css("display", "table-row")
    for table in far_page.locator("#answer-body table").all():
        expect(table).to_be_visible()
