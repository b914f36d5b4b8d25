"""A unit is one tap away beside the number: what was typed before stays what it was, and answers follow the choice."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Locator, Page, expect

from site_builder.harness.phone import wait_for_engine
from site_builder.harness.pilot import club_entries, end_card, entry, fold, lay_entries, link_to, pause, setting, start_card, type_entries
from site_builder.harness.store import WITHOUT_SCRIPTS, forget

ENTRIES = club_entries("brass-heron", "small", "field-battery")


@pytest.fixture
def settings(running_page, visited) -> Page:
    """The page with an empty form and each number in its own unit."""
    running_page.goto(visited.address + WITHOUT_SCRIPTS)  # what was typed last is kept on the way, and an open page would keep it again
    forget(running_page)
    running_page.goto(visited.address + "charge-settings.html")
    wait_for_engine(running_page)
    return running_page


def unit(page: Page, name: str) -> Locator:
    """The unit beside an entry, as a button."""
    return page.locator(".entry").filter(has=page.locator(f"[name={name}]")).get_by_role("button")


def unit_of_answer(page: Page, sign: str) -> Locator:
    return page.locator("#answer-body").get_by_role("button", name=re.compile(f" in {sign}\\. "))


def field(page: Page, name: str) -> Locator:
    return page.locator(f"[name={name}]")


def sent(page: Page, name: str) -> str:
    return parse_qs(urlsplit(page.url).query)[name][0]


def test_a_number_that_was_typed_before_the_choice_keeps_the_unit_that_it_had(settings):
    field(settings, "pack_degc").fill("20")
    unit(settings, "pack_degc").click()
    expect(field(settings, "pack_degc")).to_have_value("20 °C")
    expect(settings).to_have_url(re.compile("[?&]pack_degc=20&"))


def test_a_number_that_is_typed_after_the_choice_is_in_the_chosen_unit(settings):
    unit(settings, "pack_degc").click()
    field(settings, "pack_degc").fill("68")
    expect(settings).to_have_url(re.compile(r"pack_degc=68\+%C2%B0F"))
    unit(settings, "pack_degc").click()
    expect(field(settings, "pack_degc")).to_have_value("68 °F")


def test_a_rate_that_the_form_starts_with_is_not_read_as_amperes(settings):
    fold(settings, "Charge rate on the label").click()
    unit(settings, "label_charge_rate_c").click()
    expect(field(settings, "label_charge_rate_c")).to_have_value("1 C")
    expect(settings.locator("#answer")).to_have_attribute("data-state", "example")


def test_an_answer_is_the_same_charge_in_other_units(settings):
    lay_entries(settings, ENTRIES)
    stop, current = setting(settings, "Temperature"), setting(settings, "Charge current")
    expect(stop.locator(".figure")).to_have_text("45\u00a0°C")
    unit_of_answer(settings, "°C").click()
    expect(stop.locator(".figure")).to_have_text("113\u00a0°F")
    unit_of_answer(settings, "A").click()
    expect(current.locator(".figure")).to_have_text("0.98\u00a0C")
    expect(current.locator(".also")).to_have_text("2.6\u00a0A")


def test_the_choice_is_said_and_the_focus_stays_on_the_unit(settings):
    lay_entries(settings, ENTRIES)
    unit_of_answer(settings, "A").click()
    expect(settings.get_by_role("region", name="Calculator").get_by_role("status")).to_contain_text("0.98\u00a0C")
    expect(unit_of_answer(settings, "C").first).to_be_focused()


def test_a_choice_is_one_for_all_numbers_of_its_kind_and_for_every_page(settings, visited):
    unit(settings, "capacity_mah").click()
    expect(unit(settings, "capacity_mah")).to_have_text("Ah")
    field(settings, "capacity_mah").fill("2.65")
    expect(settings).to_have_url(re.compile("capacity_mah=2.65"))
    settings.goto(visited.address + "model-fit.html")
    expect(unit(settings, "capacity_mah")).to_have_text("Ah")
    expect(field(settings, "capacity_mah")).to_have_value("2.65")
    expect(settings.get_by_role("textbox", name="Capacity on the label Ah", exact=True)).to_be_visible()


def test_a_link_from_somebody_with_other_units_says_what_it_means(settings, visited):
    unit(settings, "pack_degc").click()
    settings.goto(link_to(visited.address, "charge-settings", {"pack_degc": "20", "capacity_mah": "2650"}))
    expect(field(settings, "pack_degc")).to_have_value("20 °C")


def test_the_units_go_round_to_where_they_began(settings):
    signs = []
    for _ in range(4):
        signs.append(unit(settings, "capacity_mah").text_content())
        unit(settings, "capacity_mah").click()
    assert signs == ["mAh", "Ah", "Wh", "mAh"]


def test_a_capacity_in_watt_hours_is_read_by_the_pack_s_own_voltage(settings, visited):
    unit(settings, "capacity_mah").click()
    unit(settings, "capacity_mah").click()
    field(settings, "capacity_mah").fill("29.415")
    expect(settings).to_have_url(re.compile(r"capacity_mah=29\.415\+Wh"))
    # 2.65 Ah in three cells of 3.7 V.
    settings.goto(link_to(visited.address, "charge-settings", ENTRIES | {"capacity_mah": "29.415 Wh"}))
    expect(field(settings, "capacity_mah")).to_have_value("29.415")
    expect(setting(settings, "Charge current").locator(".figure")).to_have_text("2.6\u00a0A")


def test_a_unit_is_changed_by_the_keyboard(settings):
    field(settings, "pack_degc").focus()
    settings.keyboard.press("Tab")
    expect(unit(settings, "pack_degc")).to_be_focused()
    settings.keyboard.press("Enter")
    expect(unit(settings, "pack_degc")).to_have_accessible_name("Temperatures in °F. Change to °C")


def test_a_unit_is_large_enough_for_a_cold_thumb(settings):
    type_entries(settings, ENTRIES)  # which unfolds every group
    expect(settings.locator("#answer")).to_have_attribute("data-state", "answer")
    boxes = settings.evaluate(
        """[...document.querySelectorAll("button.unit")].filter((unit) => unit.checkVisibility())
             .map((unit) => [unit.textContent, unit.getBoundingClientRect().width, unit.getBoundingClientRect().height])"""
    )
    assert len(boxes) > 10
    assert [box for box in boxes if min(box[1:]) < 48] == []


def test_the_worked_example_follows_the_choice_too(settings):
    unit_of_answer(settings, "°C").click()
    expect(setting(settings, "Temperature").locator(".figure")).to_have_text("113\u00a0°F")
    expect(settings.locator("#answer")).to_have_attribute("data-state", "example")


def test_a_unit_that_is_tapped_twice_leaves_the_worked_example_as_it_was(settings):
    # In one go: the calculator has no time to answer in between, and its answer to the first tap comes after the second.
    settings.evaluate(
        "() => { const sign = document.querySelector('.entry button[data-unit-kind=temperature]'); sign.click(); sign.click(); }"
    )
    pause(settings)
    expect(unit(settings, "pack_degc")).to_have_text("°C")
    expect(setting(settings, "Temperature").locator(".figure")).to_have_text("45\u00a0°C")


def test_nothing_is_wrong_with_units_by_axe(settings, axe):
    type_entries(settings, ENTRIES)  # which unfolds every group
    unit_of_answer(settings, "°C").click()
    expect(setting(settings, "Temperature").locator(".figure")).to_have_text("113\u00a0°F")
    assert axe(settings) == []


def test_a_running_card_keeps_the_units_that_it_was_started_in(settings, visited):
    lay_entries(settings, ENTRIES)
    settings.goto(visited.address + "charging-card.html")
    start_card(settings)
    expect(settings.get_by_role("region", name="Numbers of this card")).to_contain_text("45\u00a0°C")
    expect(settings.locator("main button.unit:visible")).to_have_count(0)
    end_card(settings)


def test_without_scripts_each_unit_stands_beside_its_number(browser, site):
    phone = browser.new_context(java_script_enabled=False)
    page = phone.new_page()
    page.goto(site.address + "charge-settings.html")
    expect(entry(page, "capacity_mah").locator("xpath=..").locator(".unit")).to_have_text("mAh")
    expect(page.locator(".units")).to_be_hidden()
    expect(setting(page, "Temperature")).to_contain_text("45\u00a0°C")
    expect(setting(page, "Temperature")).to_contain_text("113\u00a0°F")
    phone.close()
