"""Whether everybody can read and use what comes of entries: in light and dark, in large text, on paper. For every page: test_app_pages.py."""

import re
from html import unescape

import pytest
from playwright.sync_api import expect

from site_builder.harness.content import PAGES
from site_builder.harness.pilot import club_entries, link_to, open_with, start_card, tick_steps
from tests.browser.page_faults import LARGE_TEXT_PERCENT, TOO_WIDE, covered, faint_in_forced_colours, show, too_wide
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

# What is seen of the form and of its answer, and reaches over the edge of its column or of its own box.
CUT_IN_ITS_COLUMN = """() => [...document.querySelectorAll("#entries > .asked, #answer")].flatMap((column) => {
  const edge = column.getBoundingClientRect();
  return [...column.querySelectorAll("*")]
    .filter((one) => one.checkVisibility() && !one.closest(".unseen, svg, [data-of-cells], .table, table") && one.getClientRects().length)
    .filter((one) => one.getBoundingClientRect().right > edge.right + 1 || one.getBoundingClientRect().left < edge.left - 1)
    .map((one) => one.outerHTML.slice(0, 90));
})"""

# The lines that unfold whose words do not stand in the middle of them.
OFF_CENTRE = """() => [...document.querySelectorAll(".asked details > summary")].filter((line) => line.checkVisibility()).filter((line) => {
  const middle = (one) => { const { top, bottom } = one.getBoundingClientRect(); return (top + bottom) / 2; };
  return Math.abs(middle(line) - middle(line.querySelector("b"))) > 2;
}).map((line) => line.innerText)"""

# What does not scroll away with the page, with its height.
STAY_IN_SIGHT = """() => [...document.querySelectorAll("body *")]
  .filter((one) => one.checkVisibility() && one.offsetHeight && ["fixed", "sticky"].includes(getComputedStyle(one).position))
  .map((one) => [one.classList[0], one.offsetHeight])"""

# In colours that the phone forces on every page: the edges of the bar's entries, and what tells a place and a choice by a ground alone.
TOLD_BY_COLOUR = """() => {
  const style = (one, part) => getComputedStyle(one, part), entries = [...document.querySelectorAll(".bottom nav a")];
  const [pressed, other] = ["true", "false"].map((is) => style(document.querySelector(`[data-taps=chemistry] [aria-pressed=${is}]`)));
  const phase = style(document.querySelector(".phase"), "::after");
  return {
    ground: style(document.documentElement).backgroundColor,
    current: entries.filter((one) => one.ariaCurrent).map((one) => style(one).borderTopColor),
    others: entries.filter((one) => !one.ariaCurrent).map((one) => style(one).borderTopColor),
    phase: [phase.backgroundImage, phase.color, style(document.querySelector(".phase")).backgroundColor],
    pressed: [pressed.backgroundColor, pressed.color],
    other: [other.backgroundColor, other.color],
  };
}"""

# What of a page's file is not read: scripts, style, drawings, and the tags themselves.
NO_WORDS = re.compile(r"<(script|style|svg)\b.*?</\1>|<[^>]*>", re.DOTALL)
# What its Latin part has not, and the phone's own typeface gives.
NOT_IN_TYPEFACE = ["µ", "Ω", "◇"]

# Writes characters in a typeface, each in an element of its own.
WRITE_EACH = """async ([address, characters]) => {
  document.fonts.add(await new FontFace("Looked at", `url(${address})`).load());
  const written = characters.map((one) => Object.assign(document.createElement("span"), { className: "written", textContent: one }));
  for (const one of written) one.style.fontFamily = "'Looked at'";
  document.querySelector("main").replaceChildren(...written);
}"""

# What is seen of the readings beside a sentence about one of them, and lies on it.
LIE_ON_A_PROBLEM = """() => {
  const seen = [...document.querySelectorAll("[data-readings] :is(label, input, button, p)")].filter((one) => one.checkVisibility() && !one.closest(".unseen"));
  return [...document.querySelectorAll("[data-readings] .problem")].flatMap((problem) => {
    const place = problem.getBoundingClientRect();
    return seen.filter((one) => one !== problem).filter((one) => {
      const { top, bottom, left, right, width } = one.getBoundingClientRect();
      return width > 1 && top < place.bottom - 1 && bottom > place.top + 1 && left < place.right && right > place.left;
    }).map((one) => one.outerHTML.slice(0, 80));
  });
}"""


def test_a_refusal_breaks_no_rule_of_access_and_leaves_half_of_the_screen_to_the_page(far_page, visited, found_wrong):
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES | {"cells": "8", "resting_v": "30"}))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    assert (found_wrong(far_page), faint_in_forced_colours(far_page), covered(far_page), too_wide(far_page)) == ([], [], [], [])


def test_a_running_card_breaks_no_rule_of_access(far_page, visited, found_wrong):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    start_card(far_page)
    tick_steps(far_page, "Check the battery")
    assert (found_wrong(far_page), faint_in_forced_colours(far_page), too_wide(far_page)) == ([], [], [])


@pytest.mark.parametrize("light", ["light", "dark"])
def test_where_one_is_and_what_is_chosen_is_seen_in_forced_colours_too(far_page, visited, light):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    far_page.emulate_media(forced_colors="active", color_scheme=light)
    told = far_page.evaluate(TOLD_BY_COLOUR)
    [current] = told["current"]
    assert set(told["others"]) == {told["ground"]} and current != told["ground"]
    places, ink, ground = told["phase"]
    assert "gradient" in places and ink != ground
    assert told["pressed"][0] != told["other"][0] and told["pressed"][0] != told["pressed"][1]


def test_the_trouble_page_stays_one_tap_away_wherever_the_pilot_reads(far_page, visited):
    far_page.goto(visited.address + "charge-settings.html")
    for width in (320, 390):
        show(far_page, width, 844, LARGE_TEXT_PERCENT)
        far_page.get_by_role("contentinfo").scroll_into_view_if_needed()
        expect(far_page.get_by_role("link", name="Pack in trouble", exact=True)).to_be_in_viewport()


@pytest.mark.parametrize("key", ["charge-settings", "packs-in-parallel", "storage"])
def test_two_bars_alone_stay_in_sight_while_an_answer_stands(far_page, visited, key):
    far_page.set_viewport_size({"width": 390, "height": 844})
    open_with(far_page, visited.address, key, next(page for page in PAGES if page.key == key).worked_example)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    assert far_page.evaluate(STAY_IN_SIGHT) == [["top", 52], ["bottom", 56]]


def test_the_typeface_is_in_use_and_has_every_character_of_every_page_but_the_signs_that_are_known(far_page, visited, dist):
    far_page.goto(visited.address + "charge-settings.html")
    faces = far_page.evaluate("document.fonts.ready.then((faces) => Array.from(faces, ({ family, status }) => [family, status]))")
    assert ["Atkinson Hyperlegible Next", "loaded"] in [[family.strip('"'), status] for family, status in faces]
    texts = [unescape(NO_WORDS.sub("", path.read_text(encoding="utf-8"))) for path in dist.glob("*.html")]
    characters = sorted({one for text in texts for one in text if not one.isspace()})
    assert len(characters) > 80
    [typeface] = dist.glob("code-*/typeface.woff2")
    far_page.evaluate(WRITE_EACH, [f"{visited.address}{typeface.relative_to(dist).as_posix()}", characters])
    devtools = far_page.context.new_cdp_session(far_page)
    devtools.send("DOM.enable")
    devtools.send("CSS.enable")
    root = devtools.send("DOM.getDocument")["root"]["nodeId"]
    nodes = devtools.send("DOM.querySelectorAll", {"nodeId": root, "selector": ".written"})["nodeIds"]
    fonts = [devtools.send("CSS.getPlatformFontsForNode", {"nodeId": node})["fonts"] for node in nodes]
    assert [one for one, used in zip(characters, fonts, strict=True) if not all(font["isCustomFont"] for font in used)] == NOT_IN_TYPEFACE


@pytest.mark.parametrize("width", [360, 390, 1280])
def test_what_is_asked_stands_in_line(far_page, visited, width):
    far_page.set_viewport_size({"width": width, "height": 844})
    far_page.goto(visited.address + "charge-settings.html")
    voltage = far_page.get_by_label("Resting voltage V").bounding_box()
    temperature = far_page.locator(".with-unit", has=far_page.get_by_label("Temperature of the pack")).bounding_box()
    assert (voltage["y"], voltage["height"]) == (temperature["y"], temperature["height"])
    assert far_page.evaluate(OFF_CENTRE) == []


@pytest.mark.parametrize(("width", "cells"), [(390, ""), (390, "3"), (320, "3"), (1280, "3")])
def test_what_is_wrong_with_a_reading_has_the_width_of_the_form_and_covers_nothing(far_page, visited, width, cells):
    far_page.set_viewport_size({"width": width, "height": 844})
    far_page.goto(visited.address + "charge-settings.html")
    far_page.locator("#entry-cells").fill(cells)
    far_page.locator("[data-readings]").get_by_label("Cell 1" if cells else "Resting voltage V").fill("99")
    far_page.locator("#entry-pack_degc").fill("900")
    problems = far_page.locator("[data-readings] .problem")
    expect(problems).to_have_count(2)
    form = far_page.locator("[data-readings]").bounding_box()
    boxes = [problem.bounding_box() for problem in problems.all()]
    assert [(round(box["x"]), round(box["width"])) for box in boxes] == [(round(form["x"]), round(form["width"]))] * 2
    assert far_page.evaluate(LIE_ON_A_PROBLEM) == []


@pytest.mark.parametrize("size", [(640, 360), (667, 375), (844, 390), (1024, 768)], ids=lambda size: "{} by {}".format(*size))
def test_the_answer_stands_beside_the_form_on_a_phone_that_lies_down_and_at_the_bench(far_page, visited, size):
    width, height = size
    far_page.set_viewport_size({"width": width, "height": height})
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.evaluate("scrollTo(0, 0)")  # to take over the entries may have scrolled it, and the answer stays in sight
    asked, answer = far_page.locator("#entries > .asked").first.bounding_box(), far_page.locator("#answer").bounding_box()
    assert answer["x"] >= asked["x"] + asked["width"]
    assert abs(answer["y"] - asked["y"]) < 48, "both begin at the same height"
    assert far_page.evaluate(TOO_WIDE) == []
    assert far_page.evaluate(CUT_IN_ITS_COLUMN) == []
    assert far_page.evaluate(CUT_CHOICES) == []


def test_the_hours_of_a_plan_have_the_whole_column_at_the_bench(far_page, visited):
    far_page.set_viewport_size({"width": 1280, "height": 844})
    far_page.goto(visited.address + "day-plan.html")
    drawing, column = far_page.locator(".timeline svg").bounding_box(), far_page.locator("#answer-body").bounding_box()
    assert (drawing["x"], drawing["width"]) == (column["x"], column["width"])


@pytest.mark.parametrize(("key", "asks"), [("flight-timer", "pack_warmth"), ("charge-settings", "chemistry")])
def test_what_is_tapped_in_place_of_typing_stands_in_one_row_on_a_small_phone(far_page, visited, key, asks):
    far_page.set_viewport_size({"width": 320, "height": 640})
    far_page.goto(f"{visited.address}{key}.html")
    words = far_page.locator(f"[data-taps={asks}] .button")
    expect(words).to_have_count(4)
    assert len(set(words.evaluate_all("all => all.map((one) => one.getBoundingClientRect().top)"))) == 1


@pytest.mark.parametrize("width", [360, 447, 1280])
def test_no_place_of_what_is_dialled_in_stays_empty(far_page, visited, width):
    far_page.set_viewport_size({"width": width, "height": 844})
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    values = far_page.locator(".leads > .panel-values > .setting")
    expect(values).to_have_count(5)
    rows = values.evaluate_all("all => all.map((one) => one.getBoundingClientRect().top)")  # at once: what stands above may still fold
    assert {rows.count(row) for row in rows[1:]} in ({2}, {4}), "four beside each other, or two and two below the current"


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
