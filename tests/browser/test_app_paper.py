"""What comes on paper: how many sheets, in which size of type, whose numbers they are, and that nothing is parted that belongs together."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from site_builder.harness.pilot import club_entries, end_card, open_with, start_card
from site_builder.harness.store import lay_records, sealed
from tests.browser.page_faults import show
from tests.browser.paper import Sheet, sheets_of
from tests.browser.phones import PHONE

ENTRIES = club_entries("brass-heron", "small", "field-battery")
WITH_A_PANEL = ["charge-settings", "packs-in-parallel", "packs-in-series"]
# Read at arm's length, as a newspaper is; and what the rules of the poster are meant for: three metres.
LEAST_AT_ARMS_LENGTH_PT, LEAST_ON_THE_SHEET_TO_HANG_UP_PT, LEAST_OF_A_POSTER_PT = 7, 7.5, 24
LEAST_BETWEEN_BUTTONS_PX = 8


@pytest.fixture(scope="module", params=["our typeface", "the phone's own"])
def in_any_type(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    """A page without scripts, in our typeface and in that of a phone to which ours came too late."""
    phone = browser.new_context(**PHONE, java_script_enabled=False)
    if request.param == "the phone's own":
        phone.route("**/typeface.woff2", lambda route: route.abort())
    yield phone.new_page()
    phone.close()


def printed(page: Page, paper: str = "A4") -> list[Sheet]:
    return sheets_of(page.pdf(format=paper, prefer_css_page_size=True))


def shown(page: Page, selector: str) -> list[str]:
    """Return the words of what is there on paper; what a screen reader says in place of the sign of common practice is not."""
    page.emulate_media(media="print")
    page.evaluate("document.querySelectorAll('.by-trade > span').forEach((said) => said.remove())")
    texts = [one.inner_text() for one in page.locator(selector).all() if one.is_visible()]
    page.emulate_media(media="null")
    assert texts, f"nothing on paper is {selector}"
    return texts


@pytest.mark.parametrize("paper", ["A4", "A5"])
@pytest.mark.parametrize("key", WITH_A_PANEL)
def test_the_settings_are_one_sheet_with_panel_and_stops_and_without_the_form(in_any_type, site, key, paper):
    in_any_type.goto(f"{site.address}{key}.html")
    [sheet] = printed(in_any_type, paper)
    assert (round(sheet.width_mm), round(sheet.height_mm)) == ((210, 297) if paper == "A4" else (148, 210))
    for words in shown(in_any_type, ".panel :is(.setting-title, .figure, .set-by)") + shown(in_any_type, ".ready .figure"):
        assert sheet.has(words), words
    in_any_type.emulate_media(media="print")
    expect(in_any_type.locator(".entry:visible")).to_have_count(0)
    in_any_type.emulate_media(media="null")
    assert min(run.size_pt for run in sheet.runs) >= LEAST_AT_ARMS_LENGTH_PT


@pytest.mark.parametrize("key", WITH_A_PANEL[1:])
def test_the_sheet_of_packs_that_are_joined_has_their_wiring(page_without_scripts, site, key):
    page_without_scripts.goto(f"{site.address}{key}.html")
    [sheet] = printed(page_without_scripts, "A5")
    for words in [*shown(page_without_scripts, ".wiring:not(.forbidden) li"), "Pack 2", "charger"]:
        assert sheet.has(words), words


@pytest.mark.parametrize("key", WITH_A_PANEL)
def test_a_sheet_of_the_example_says_so_and_names_the_packs_of_the_club(page_without_scripts, site, key):
    page_without_scripts.goto(f"{site.address}{key}.html")
    [sheet] = printed(page_without_scripts)
    assert sheet.has("EXAMPLE: NOT YOUR NUMBERS")
    assert sheet.has("Pack Brass Heron" if key == "charge-settings" else "Pack Slate Badger, Stone Badger")


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_the_sheet_of_ones_own_numbers_says_for_which_pack_and_what_was_read(visited, far_page, paper):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(far_page.locator(".readings-line")).to_be_visible()
    [sheet] = printed(far_page, paper)
    assert sheet.has("Pack LiPo 3S 2650 mAh")
    assert sheet.has("Read: 11.1 V · 20 °C")
    assert not sheet.has("EXAMPLE")


@pytest.mark.parametrize("key", ["going-home", "day-plan"])
def test_a_plan_is_one_sheet_of_a4(in_any_type, site, key):
    in_any_type.goto(f"{site.address}{key}.html")
    [sheet] = printed(in_any_type)
    for words in shown(in_any_type, ".agenda li b, .table-fold td"):
        assert sheet.has(words), words


def test_a_pack_in_trouble_is_one_sheet_of_a4_with_each_act(in_any_type, site):
    in_any_type.goto(f"{site.address}pack-in-trouble.html")
    [sheet] = sheets_of(in_any_type.pdf(format="Letter", prefer_css_page_size=True))
    assert (round(sheet.width_mm), round(sheet.height_mm)) == (210, 297)
    acts = shown(in_any_type, ".whole-act")
    assert len(acts) == 10
    for words in shown(in_any_type, ".whole-act :is(h2, .act, .never, li)"):
        assert sheet.has(words), words
    assert min(run.size_pt for run in sheet.runs) >= LEAST_ON_THE_SHEET_TO_HANG_UP_PT


def test_what_to_do_in_a_fire_runs_over_into_no_other_column(page_without_scripts, site):
    page_without_scripts.set_viewport_size({"width": 740, "height": 1077})  # A4 less the margins of that sheet
    page_without_scripts.goto(f"{site.address}pack-in-trouble.html")
    page_without_scripts.emulate_media(media="print")
    boxes = "(one) => one.getClientRects().length"
    acts = page_without_scripts.locator(".whole-act:first-of-type ol li").all()
    assert len(acts) == 8 and [act.evaluate(boxes) for act in acts] == [1] * len(acts)


def test_no_act_is_parted_where_one_sheet_does_not_do(visited, far_page):
    rule = " ".join(["Two at the bench, and nobody alone."] * 60)
    lay_records(far_page, visited.address, {"club-lines": sealed("club-lines", {"rule": rule})})
    far_page.goto(f"{visited.address}pack-in-trouble.html")
    expect(far_page.locator("[data-club=rule]")).to_have_text(rule)
    sheets = printed(far_page)
    assert len(sheets) == 2
    parted = [act.splitlines()[0] for act in shown(far_page, ".whole-act") if not any(holds(sheet, act) for sheet in sheets)]
    assert parted == []


def holds(sheet: Sheet, lines: str) -> bool:
    return all(sheet.has(line) for line in lines.splitlines())


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_poster_is_two_sheets_whose_rules_are_read_from_three_metres(in_any_type, site, paper):
    in_any_type.goto(f"{site.address}poster.html")
    sheets = printed(in_any_type, paper)
    assert len(sheets) == 2
    rules = shown(in_any_type, ".poster-rules b")
    assert len(rules) == 14
    for words in [*rules, *shown(in_any_type, ".poster-trouble")]:
        [sheet] = [one for one in sheets if one.has(words)]
        assert min(sheet.sizes_of(words)) >= LEAST_OF_A_POSTER_PT, words


@pytest.mark.parametrize(
    ("key", "job", "pack"),
    [
        ("first-charge-card", "First charge of a new pack", "Brass Heron"),
        ("charging-card", "Charging card", "Brass Heron"),
        ("series-card", "Packs in series", "Slate Badger, Stone Badger"),
    ],
)
def test_each_sheet_of_a_card_names_pack_and_job_its_number_and_the_example(page_without_scripts, site, key, job, pack):
    page_without_scripts.goto(f"{site.address}{key}.html")
    sheets = printed(page_without_scripts)
    assert len(sheets) > 1
    for number, sheet in enumerate(sheets, 1):
        for words in (job, f"Pack {pack}", f"Sheet {number} of {len(sheets)}", "EXAMPLE: NOT YOUR NUMBERS"):
            assert sheet.has(words), f"{words} is not on sheet {number}"


def test_no_step_of_a_card_is_parted(page_without_scripts, site):
    page_without_scripts.goto(f"{site.address}first-charge-card.html")
    sheets = printed(page_without_scripts)
    assert any(run.text == "\u25c7" for sheet in sheets for run in sheet.runs)  # the sign of common practice
    steps = shown(page_without_scripts, ".step")
    assert [step for step in steps if not any(holds(sheet, step) for sheet in sheets)] == []


def test_a_blank_card_has_a_place_for_each_stop_and_nobodys_numbers(page_without_scripts, site):
    page = page_without_scripts
    page.goto(f"{site.address}first-charge-card.html")
    numbers = page.locator(".card-numbers b").all_inner_texts()
    assert len(numbers) == 5
    page.goto(f"{site.address}first-charge-card.html#blank")
    sheets = printed(page)
    for title in ("Full voltage", "Charge current", "Capacity stop", "Time stop", "Temperature stop"):
        assert sheets[0].has(title), title
    for sheet in sheets:
        assert [words for words in (*numbers, "EXAMPLE", "Brass Heron") if sheet.has(words)] == []


def test_each_sheet_of_a_running_card_names_its_pack_and_job(visited, far_page):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    start_card(far_page)
    sheets = printed(far_page)
    assert len(sheets) > 1
    for number, sheet in enumerate(sheets, 1):
        for words in ("Charging card", "Pack LiPo 3S 2650 mAh", "Started", f"Sheet {number} of {len(sheets)}"):
            assert sheet.has(words), f"{words} is not on sheet {number}"
        assert not sheet.has("EXAMPLE")
    end_card(far_page)


@pytest.mark.parametrize("width", [320, 390])
def test_print_and_copy_never_touch(visited, far_page, width):
    far_page.goto(f"{visited.address}soldering-card.html")
    start_card(far_page)
    end_card(far_page)
    record = far_page.locator(".card-record").first
    if record.get_attribute("open") is None:
        record.locator("summary").click()
    show(far_page, width, 844, 100)
    a, b = (record.get_by_role("button", name=name).bounding_box() for name in ("Print it", "Copy it"))
    beside = max(b["x"] - a["x"] - a["width"], a["x"] - b["x"] - b["width"])
    below = max(b["y"] - a["y"] - a["height"], a["y"] - b["y"] - b["height"])
    assert max(beside, below) >= LEAST_BETWEEN_BUTTONS_PX


@pytest.mark.parametrize(("paper", "cards_on_one"), [("A4", 4), ("Letter", 4), ("A5", 1)])
def test_the_briefing_is_fifteen_cards_of_which_none_is_parted(page_without_scripts, site, paper, cards_on_one):
    page = page_without_scripts
    page.goto(f"{site.address}briefing.html")
    sheets = printed(page, paper)
    cards = shown(page, ".screen")
    assert len(cards) == 15
    for place, card in enumerate(cards):
        assert holds(sheets[place // cards_on_one], card), card


def test_the_club_writes_its_lines_once_and_they_are_on_poster_trouble_sheet_and_briefing(visited, far_page):
    far_page.goto(f"{visited.address}poster.html")
    far_page.get_by_text("Fill in your number").click()
    lines = {"Emergency number": "the number of the field", "We are at": "Quill Lane, by the old mill", "Our own rule": "Two at the bench"}
    for label, text in lines.items():
        far_page.get_by_label(label).fill(text)
    expect(far_page.get_by_text("Kept on this phone.")).to_be_visible()
    for key in ("poster", "pack-in-trouble", "briefing"):
        far_page.goto(f"{visited.address}{key}.html")
        expect(far_page.locator("[data-club=rule]")).to_have_text(lines["Our own rule"])
        sheets = printed(far_page)
        for label, text in lines.items():
            assert any(sheet.has(f"{label}{text}") for sheet in sheets), f"{label} is not on {key}"


def test_where_the_club_has_written_nothing_paper_has_lines_for_it_and_the_trouble_page_nothing(page_without_scripts, site):
    page_without_scripts.goto(f"{site.address}pack-in-trouble.html")
    expect(page_without_scripts.get_by_text("We are at")).to_be_hidden()
    [sheet] = printed(page_without_scripts)
    assert sheet.has("Emergency number") and sheet.has("We are at") and sheet.has("Our own rule")
