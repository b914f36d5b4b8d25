"""What a step asks for the log: typed on the card while it is read off the charger, it stands in the fields of the pack's line at its end."""

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from site_builder.harness.pilot import (
    SECOND_TAP_MS,
    club_entries,
    end_card,
    open_with,
    resting_finger,
    run_on,
    stand_still,
    start_card,
    tick_steps,
)
from site_builder.harness.store import WITHOUT_SCRIPTS, kept, lay_records, records, sealed
from tests.browser.page_faults import low_targets, too_wide
from tests.browser.phones import Visited, emptied_page
from tests.browser.test_app_log import lay_log, start_charge_of_copper, start_charge_of_tin_and_zinc
from tests.browser.test_app_own import check_cells, start_storage_card

ENTRIES = club_entries("slate-badger", "large", "field-battery")
ABOVE_THE_BOX = "document.querySelector('[name^=put_in_mah-]').getBoundingClientRect().top - document.querySelector('.card-strip').getBoundingClientRect().bottom"
NO_CALCULATOR = "window.Worker = class { postMessage() {} terminate() {} };"
KEEPS_WHAT_IT_SAYS = "Correct it, or tap once more: what cannot be read then goes into the note of the line."


@pytest.fixture(scope="module")
def kept_at_the_note(visited: Visited) -> dict[str, Any]:
    """What a phone keeps whose charge of Copper has come to the step that asks for the log: gone through once for all tests."""
    with emptied_page(visited) as page:
        start_charge_of_copper(page, visited.address)
        tick_steps(page, "Write it down", count="4")
        return records(page)


@pytest.fixture
def at_the_note(kept_at_the_note: dict[str, Any], visited: Visited, far_page: Page) -> None:
    lay_records(far_page, visited.address, kept_at_the_note)
    far_page.goto(visited.address + "charge-settings.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")  # the calculator is up, as after a start
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Cards").click()
    expect(far_page.locator("#card-now-title")).to_have_text("Write it down")


def asked(page: Page, name: str, pack: str = "Copper") -> Locator:
    """Return the field in which a card asks one entry of a line; of readings the one text, over which the boxes lie."""
    return page.get_by_role("group", name=f"Into the log of {pack}").locator(f"[name^={name}-]")


def boxes(page: Page, name: str, pack: str = "Copper") -> Locator:
    return page.get_by_role("group", name=f"Into the log of {pack}").locator(f".entry:has([name^={name}-]) .cell-boxes input")


def tap_tick(page: Page) -> None:
    run_on(page, SECOND_TAP_MS)
    page.locator(".card-tick").click()


def end_and_keep(page: Page) -> None:
    page.get_by_role("button", name="End this card and keep its record").click()
    page.locator(".card-ended").first.wait_for()


def line_of(page: Page, pack: str = "copper") -> dict:
    [line] = kept(page, f"log {pack}")
    return line


@pytest.mark.usefixtures("at_the_note")
def test_what_is_typed_on_a_card_survives_a_reload_and_stands_in_the_fields_of_the_packs_line(far_page):
    far_page.get_by_role("textbox", name="Charge put in mAh if known").fill("1840")
    boxes(far_page, "to_v").first.fill("4.20 4.19 4.20 4.20")
    boxes(far_page, "each_mohm").first.fill("3.1 3.2 3.1 3.4")
    asked(far_page, "line_degc").fill("29")
    far_page.reload()
    expect(asked(far_page, "put_in_mah")).to_have_value("1840")
    assert [box.input_value() for box in boxes(far_page, "to_v").all()] == ["4.20", "4.19", "4.20", "4.20"]
    far_page.get_by_label("Your note").fill("in the shade")
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    for words in ("Charge put in: 1840\u00a0mAh", "Cells afterwards: 4.20 4.19 4.20 4.20\u00a0V", "How warm the pack was: 29\u00a0°C"):
        expect(far_page.locator(".card-record")).to_contain_text(words)
    far_page.get_by_role("link", name="Add to its line in the log").click()
    expect(far_page.locator("#own [name=kind]")).to_have_value("charge")
    for name, text in {
        "put_in_mah": "1840", "from_v": "3.71 3.72 3.70 3.71", "to_v": "4.20 4.19 4.20 4.20",
        "each_mohm": "3.1 3.2 3.1 3.4", "line_degc": "29", "own_note": "in the shade",
    }.items():  # fmt: skip
        expect(far_page.locator(f"#own [name={name}]")).to_have_value(text)


@pytest.mark.usefixtures("at_the_note")
def test_a_label_that_is_corrected_while_a_card_runs_leaves_its_numbers_and_is_said_on_it(visited, far_page):
    changed = far_page.get_by_role("alert").filter(has_text="was changed after this card was started")
    expect(changed).to_have_count(0)
    numbers = far_page.locator(".card-strip .card-numbers").inner_text()
    other = visited.phone.new_page()
    other.goto(visited.address + "my-packs.html?edit=copper")
    other.locator("#own [name=cells]").fill("6")
    other.get_by_role("button", name="Keep it on this phone").click()
    expect(changed).to_contain_text("What is entered of Copper was changed")
    far_page.reload()
    expect(changed).to_be_visible()
    assert far_page.locator(".card-strip .card-numbers").inner_text() == numbers
    other.goto(visited.address + "my-packs.html?edit=copper")
    other.locator("#own [name=cells]").fill("4")
    other.get_by_role("button", name="Keep it on this phone").click()
    expect(changed).to_have_count(0)
    other.close()


@pytest.mark.usefixtures("at_the_note")
def test_the_line_of_a_pack_that_was_removed_meanwhile_is_there_once_it_is_put_back(visited, far_page):
    far_page.get_by_role("textbox", name="Charge put in mAh if known").fill("1840")
    other = visited.phone.new_page()
    other.goto(visited.address + "my-packs.html?id=copper")
    other.get_by_role("button", name="Remove it").click()
    expect(other.get_by_text("Copper is removed.")).to_be_visible()
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    expect(far_page.locator(".card-record")).to_contain_text("Charge put in: 1840\u00a0mAh")
    other.get_by_role("button", name="Put back").click()
    expect(other.locator(".own-tile", has_text="Copper")).to_be_visible()
    assert line_of(far_page)["entries"]["put_in_mah"] == "1840"
    far_page.get_by_role("button", name="Take the end back").click()
    expect(far_page.locator("#card-now-title")).to_be_visible()
    assert kept(far_page, "log copper") == []
    other.close()


@pytest.mark.usefixtures("at_the_note")
def test_a_card_asks_with_empty_boxes_for_the_keypad_and_ends_without_them(far_page):
    fields = [
        *boxes(far_page, "to_v").all(),
        *boxes(far_page, "each_mohm").all(),
        asked(far_page, "put_in_mah"),
        asked(far_page, "line_degc"),
    ]
    assert len(fields) == 10
    assert {(field.input_value(), field.get_attribute("inputmode")) for field in fields} == {("", "decimal")}
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    assert set(line_of(far_page)["entries"]) == {"day", "kind", "from_v", "line_degc", "taken_min"}
    assert line_of(far_page)["note"] == ""


@pytest.mark.usefixtures("at_the_note")
def test_the_cells_are_typed_on_a_keypad_without_a_point_as_on_every_page(far_page):
    boxes(far_page, "to_v").first.focus()
    far_page.keyboard.type("420419420418")
    expect(boxes(far_page, "each_mohm").first).to_be_focused()
    expect(asked(far_page, "to_v")).to_have_value("4.20 4.19 4.20 4.18")
    expect(far_page.get_by_role("button", name="The whole pack instead")).to_have_count(0)  # what it takes out could not be taken back
    far_page.keyboard.press("Enter")  # meant for the box before, which went on by itself
    expect(boxes(far_page, "each_mohm").first).to_be_focused()
    far_page.keyboard.press("Enter")
    expect(boxes(far_page, "each_mohm").nth(1)).to_be_focused()
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    assert line_of(far_page)["entries"]["to_v"] == "4.20 4.19 4.20 4.18"


@pytest.mark.parametrize(
    ("name", "text", "sentence", "words"),
    [
        ("put_in_mah", "18x40", "Charge put in: enter the number in mAh, such as 500\u00a0mAh.", "Charge put in: 18x40\u00a0mAh"),
        ("put_in_mah", "9000", "This is more than such a pack can hold: check the number,", "Charge put in: 9000\u00a0mAh"),
        ("to_v", "5.20 4.20 4.20 4.20", "5.20\u00a0V is no voltage of a cell of this kind", "Cells afterwards: 5.20 4.20 4.20 4.20\u00a0V"),
        ("to_v", "4.20 - 4.20 4.20", "Cells afterwards: cell 2 has not been read.", "Cells afterwards: 4.20 - 4.20 4.20\u00a0V"),
    ],
)
@pytest.mark.usefixtures("at_the_note")
def test_what_cannot_be_is_said_at_its_box_once_and_then_goes_into_the_note(far_page, name, text, sentence, words):
    (boxes(far_page, name).first if name == "to_v" else asked(far_page, name)).fill(text)
    run_on(far_page, SECOND_TAP_MS)
    stand_still(far_page)
    far_page.locator(".card-tick").click()
    expect(far_page.locator(f".card-log .entry:has([name^={name}-]) .problem")).to_contain_text(sentence)
    expect(far_page.get_by_text(KEEPS_WHAT_IT_SAYS)).to_be_visible()
    far_page.locator(".card-tick").click()  # the second tap of a cold finger
    expect(far_page.locator("#card-now-title")).to_have_text("Write it down")
    tap_tick(far_page)
    expect(far_page.locator("#card-now-title")).to_have_text("Every step is ticked")
    end_and_keep(far_page)
    assert name not in line_of(far_page)["entries"]
    assert line_of(far_page)["note"] == words


@pytest.mark.usefixtures("at_the_note")
def test_what_cannot_be_does_not_move_the_tick_away_from_under_the_finger(far_page):
    problem = far_page.locator(".card-log .problem:visible")
    asked(far_page, "put_in_mah").fill("18x40")
    asked(far_page, "line_degc").focus()
    expect(problem).to_be_visible()  # the calculator is up: it answers the next one while the finger is down
    asked(far_page, "put_in_mah").fill("1840")
    asked(far_page, "line_degc").focus()
    expect(problem).to_have_count(0)
    boxes(far_page, "to_v").first.fill("5.20 4.20 4.20 4.20")
    run_on(far_page, SECOND_TAP_MS)
    tick = far_page.locator(".card-tick")
    tick.scroll_into_view_if_needed()
    at = tick.bounding_box()
    far_page.mouse.move(at["x"] + at["width"] / 2, at["y"] + 4)
    with resting_finger(far_page):
        far_page.wait_for_timeout(300)
    expect(far_page.get_by_text(KEEPS_WHAT_IT_SAYS)).to_be_visible()


@pytest.mark.usefixtures("at_the_note")
def test_what_is_corrected_goes_into_its_field(far_page):
    asked(far_page, "put_in_mah").fill("1.84")
    asked(far_page, "line_degc").focus()
    expect(far_page.get_by_text("Charge put in is asked in mAh, and 1.84 looks like ampere-hours")).to_be_visible()
    asked(far_page, "put_in_mah").fill("1840")
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    assert (line_of(far_page)["entries"]["put_in_mah"], line_of(far_page)["note"]) == ("1840", "")


@pytest.mark.usefixtures("at_the_note")
def test_a_card_that_is_ended_at_once_says_what_cannot_be_before_its_end(far_page):
    asked(far_page, "put_in_mah").fill("18x40")
    far_page.locator(".card-foot > summary").click()
    far_page.get_by_role("button", name="End this card", exact=True).click()
    far_page.get_by_role("button", name="Yes, end it").click()
    last = far_page.locator(".card-end")
    expect(last).to_contain_text("Charge put in: enter the number in mAh")
    expect(last.locator("[name^=put_in_mah-]")).to_be_focused()
    last.locator("[name^=put_in_mah-]").fill("1840")
    end_and_keep(far_page)
    assert (line_of(far_page)["entries"]["put_in_mah"], line_of(far_page)["note"]) == ("1840", "Charging card")


@pytest.mark.usefixtures("at_the_note")
def test_where_no_calculator_answers_the_text_goes_into_the_line_as_the_logs_own_form_takes_it(far_page):
    far_page.add_init_script(NO_CALCULATOR)
    far_page.reload()
    asked(far_page, "put_in_mah").fill("18x40")
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    assert line_of(far_page)["entries"]["put_in_mah"] == "18x40"


@pytest.mark.usefixtures("at_the_note")
def test_an_end_that_is_taken_back_gives_back_what_was_typed(far_page):
    asked(far_page, "put_in_mah").fill("1840")
    end_card(far_page)
    assert line_of(far_page)["entries"]["put_in_mah"] == "1840"
    far_page.get_by_role("button", name="Take the end back").click()
    expect(far_page.locator("#card-now-title")).to_have_text("Write it down")
    expect(asked(far_page, "put_in_mah")).to_have_value("1840")
    assert kept(far_page, "log copper") == []


@pytest.mark.parametrize(("way", "cells"), [("series", "8"), ("parallel", "4")])
def test_of_packs_that_are_charged_together_each_has_its_own_cells_and_none_the_chargers_count(visited, far_page, way, cells):
    start_charge_of_tin_and_zinc(far_page, visited.address, way)
    tick_steps(far_page, "Write it down", count=cells)
    for pack, last in (("Tin", "4.18"), ("Zinc", "4.17")):
        expect(asked(far_page, "put_in_mah", pack)).to_have_count(0)
        boxes(far_page, "to_v", pack).first.fill(f"4.20 4.20 4.20 {last}")
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    assert [line_of(far_page, pack)["entries"]["to_v"] for pack in ("tin", "zinc")] == ["4.20 4.20 4.20 4.18", "4.20 4.20 4.20 4.17"]
    for words in ("Tin: Cells afterwards: 4.20 4.20 4.20 4.18", "Zinc: Cells afterwards: 4.20 4.20 4.20 4.17"):
        expect(far_page.locator(".card-record")).to_contain_text(words)


def test_a_check_takes_the_cells_as_the_checker_shows_them_in_the_place_of_those_before(visited, far_page):
    lay_log(far_page, visited.address)
    check_cells(far_page, visited.address, "3.71 3.72 3.70 3.71")
    far_page.goto(visited.address + "reading-cells-card.html")
    start_card(far_page)
    tick_steps(far_page, "Black wire to the minus mark")
    boxes(far_page, "from_v").first.fill("3.70 3.71 3.69 3.70")
    tick_steps(far_page, "Write it down")
    asked(far_page, "line_degc").fill("21")
    end_card(far_page)
    one = line_of(far_page)["entries"]
    assert (one["kind"], one["from_v"], one["line_degc"]) == ("check", "3.70 3.71 3.69 3.70", "21")


def test_what_was_taken_out_on_the_way_to_storage_stands_in_the_line(visited, far_page):
    lay_log(far_page, visited.address)
    start_storage_card(far_page, visited.address)
    tick_steps(far_page, "The likely time")
    far_page.get_by_role("textbox", name="Discharged mAh if known").fill("1620")
    end_card(far_page)
    one = line_of(far_page)["entries"]
    assert (one["kind"], one["discharged_mah"]) == ("storage", "1620")
    far_page.goto(visited.address + "my-packs.html?log=copper")
    expect(far_page.get_by_text("Discharged 1620\u00a0mAh")).to_be_visible()


@pytest.mark.usefixtures("at_the_note")
def test_a_temperature_goes_into_the_log_in_the_unit_in_which_it_was_typed(far_page):
    far_page.locator(".card-log button[data-unit-kind=temperature]").click()
    asked(far_page, "line_degc").fill("84")
    end_card(far_page)
    assert line_of(far_page)["entries"]["line_degc"] == "84 °F"


def test_a_card_without_a_pack_of_ones_own_asks_nothing_for_a_log(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.goto(visited.address + "first-charge-card.html")
    start_card(far_page)
    tick_steps(far_page, "Write its first numbers down", count=ENTRIES["cells"])
    expect(far_page.get_by_label("Your note")).to_be_visible()
    expect(far_page.locator(".card-log")).to_have_count(0)


@pytest.mark.usefixtures("at_the_note")
def test_a_card_that_a_former_version_kept_runs_without_boxes(visited, far_page):
    [card] = kept(far_page, "running-cards")["running"]
    former = {name: value for name, value in card.items() if name != "logged"} | {"html": re.sub(' data-logs-as="[^"]*"', "", card["html"])}
    far_page.goto(visited.address + WITHOUT_SCRIPTS)
    lay_records(far_page, visited.address, {"running-cards": sealed("running-cards", {"running": [former], "ended": []})})
    far_page.goto(visited.address + "cards.html")
    expect(far_page.locator("#card-now-title")).to_have_text("Write it down")
    expect(far_page.locator(".card-log")).to_have_count(0)
    tick_steps(far_page, "Every step is ticked")
    end_and_keep(far_page)
    assert line_of(far_page)["entries"]["kind"] == "charge"


@pytest.mark.usefixtures("at_the_note")
def test_a_box_that_is_gone_back_to_is_not_hidden_by_what_stays_on_top(far_page):
    far_page.emulate_media(reduced_motion="reduce")  # the page is there at once
    asked(far_page, "put_in_mah").fill("18x40")
    far_page.evaluate(f"() => scrollBy(0, {ABOVE_THE_BOX} + 20)")  # half of it is in sight
    tap_tick(far_page)
    expect(far_page.get_by_text(KEEPS_WHAT_IT_SAYS)).to_be_attached()
    expect(asked(far_page, "put_in_mah")).to_be_focused()
    assert far_page.evaluate(ABOVE_THE_BOX) >= 0


@pytest.mark.usefixtures("at_the_note")
def test_the_boxes_fit_at_320_pixels_and_are_whole_for_hand_and_ear(far_page, found_wrong):
    asked(far_page, "put_in_mah").fill("18x40")
    tap_tick(far_page)
    expect(far_page.get_by_text(KEEPS_WHAT_IT_SAYS)).to_be_visible()
    assert found_wrong(far_page) == []
    assert low_targets(far_page) == []
    far_page.set_viewport_size({"width": 320, "height": 700})
    assert too_wide(far_page) == []


@pytest.mark.usefixtures("at_the_note")
def test_a_card_on_which_no_text_stands_for_the_log_is_put_aside_and_told_of(visited, far_page):
    [card] = kept(far_page, "running-cards")["running"]
    far_page.goto(visited.address + WITHOUT_SCRIPTS)
    damaged = {"running": [card | {"logged": {"copper": {"put_in_mah": 1840}}}], "ended": []}
    lay_records(far_page, visited.address, {"running-cards": sealed("running-cards", damaged)})
    far_page.goto(visited.address + "cards.html")
    expect(far_page.get_by_text("is damaged, and put aside: the cards that were running.")).to_be_visible()
    expect(far_page.locator("#card-now-title")).to_have_count(0)


def test_what_is_typed_before_the_calculator_is_up_is_shown_as_it_is_read_once_it_is(visited, far_page, kept_at_the_note):
    lay_records(far_page, visited.address, kept_at_the_note)
    far_page.goto(visited.address + "cards.html")
    boxes(far_page, "to_v").first.focus()
    far_page.keyboard.type("420419420418")
    expect(asked(far_page, "to_v")).to_have_value("4.20 4.19 4.20 4.18")
