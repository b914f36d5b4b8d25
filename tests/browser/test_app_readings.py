"""A reading is true for two hours, by whichever clock of the phone says more, and so is the answer that came of it.

On a plain phone, whose clocks the tests move: the one on the wall, which can be set, and the one that only runs on. Each test finds nothing
kept on it.
"""

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect

from site_builder.commands.serve import Server
from site_builder.harness.phone import PHONE
from site_builder.harness.pilot import (
    SECOND_TAP_MS,
    club_entries,
    end_card,
    entry,
    lay_entries,
    link_to,
    open_with,
    run_on,
    setting,
    start_card,
    type_entries,
    unfold,
)
from site_builder.harness.store import kept
from tests.browser.phones import NO_SERVICE_WORKER, Visited, emptied_page

ENTRIES = club_entries("brass-heron", "small", "field-battery")
READINGS = ("resting_v", "pack_degc", "air_degc", "battery_resting_v")
AN_HOUR_MS = 3_600_000
NOON = datetime(2026, 5, 9, 12, 0, tzinfo=UTC)
LEFT_OUT = "Voltages and temperatures that are too old, or whose time is not known, are left out. Measure again."
COME_BACK = "document.dispatchEvent(new Event('visibilitychange'))"


@pytest.fixture(scope="module")
def site(dist) -> Iterator[Server]:
    with Server(dist) as server:
        yield server


@pytest.fixture(scope="module")
def plain_phone(browser: Browser, site: Server) -> Iterator[Visited]:
    phone = browser.new_context(**PHONE)
    phone.add_init_script(NO_SERVICE_WORKER)
    yield Visited(phone, site.address)
    phone.close()


@pytest.fixture
def page(plain_phone: Visited) -> Iterator[Page]:
    with emptied_page(plain_phone) as page:
        page.clock.install(time=NOON)
        yield page


@pytest.fixture
def answered(page: Page, site) -> Page:
    """The settings, with what was measured at noon."""
    page.goto(site.address + "charge-settings.html")
    lay_entries(page, ENTRIES)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
    return page


@pytest.fixture
def card(page: Page, site) -> Page:
    """The charging card, ready to be started."""
    open_with(page, site.address, "charging-card", ENTRIES, read_at=NOON)
    expect(page.get_by_role("button", name="Start this card")).to_be_enabled()
    return page


def expect_measured_again(page: Page) -> None:
    expect(page.get_by_text(LEFT_OUT)).to_be_visible()
    # A card needs readings. The settings go on by the label alone, which sets no stop and foretells no minutes, and starts nothing.
    expect(page.locator("#answer")).to_have_attribute("data-state", re.compile("^(partial|refusal)$"))
    expect(page.locator("#answer [data-part=time_cutout], #answer [data-part=charge_time], #answer .step")).to_have_count(0)
    expect(page.locator("[name=capacity_mah]")).to_have_value(ENTRIES["capacity_mah"])
    for name in READINGS:
        expect(page.locator(f"[name={name}]")).to_have_value("")


def test_a_page_left_open_for_three_hours_takes_its_answer_away_when_the_pilot_is_back(answered):
    answered.clock.set_system_time(NOON + timedelta(hours=3))
    answered.evaluate(COME_BACK)
    expect_measured_again(answered)


def test_a_page_that_stays_in_front_takes_its_answer_away_by_itself(answered):
    answered.clock.fast_forward("02:01:00")
    expect_measured_again(answered)


def test_within_two_hours_the_answer_stands(answered):
    answered.clock.set_system_time(NOON + timedelta(minutes=119))
    answered.evaluate(COME_BACK)  # the page looks at once
    expect(answered.get_by_text(LEFT_OUT)).to_be_hidden()
    expect(answered.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(answered, "Charge current")).to_contain_text("2.6\u00a0A")


def test_what_was_read_now_is_said_with_its_hour_once_that_is_past(answered):
    line = answered.locator(".readings-line")
    expect(line).to_contain_text("now")
    answered.clock.set_system_time(NOON + timedelta(minutes=100))
    answered.evaluate(COME_BACK)
    expect(line).to_contain_text(re.compile(r"· \d+:\d\d"))
    expect(line).not_to_contain_text("now")


def test_an_answer_that_comes_after_the_time_is_not_shown(answered):
    answered.clock.set_system_time(NOON + timedelta(hours=3))
    unfold(answered, "requested_rate_c")
    answered.locator("[name=requested_rate_c]").fill("0.5")
    expect_measured_again(answered)


def test_a_wall_clock_that_stands_still_keeps_no_reading_alive(answered):
    answered.clock.set_fixed_time(NOON + timedelta(minutes=1))
    run_on(answered, 3 * AN_HOUR_MS)
    answered.evaluate(COME_BACK)
    expect_measured_again(answered)


def test_a_wall_clock_that_goes_back_ends_every_reading(answered):
    answered.clock.set_system_time(NOON - timedelta(hours=1))
    answered.evaluate(COME_BACK)
    expect_measured_again(answered)


def test_a_wall_clock_that_went_back_while_fieldslate_was_closed_ends_every_reading(answered, site):
    answered.clock.set_system_time(NOON + timedelta(minutes=100))
    answered.evaluate(COME_BACK)
    answered.goto("about:blank")
    answered.clock.set_system_time(NOON + timedelta(minutes=20))
    answered.goto(site.address + "charge-settings.html")
    expect_measured_again(answered)


def test_what_is_measured_after_the_clock_went_back_is_good(answered):
    answered.clock.set_system_time(NOON - timedelta(hours=1))
    answered.evaluate(COME_BACK)
    expect_measured_again(answered)
    type_entries(answered, {name: ENTRIES[name] for name in READINGS})
    expect(answered.locator("#answer")).to_have_attribute("data-state", "answer")
    answered.reload()
    expect(answered.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(answered, "Charge current")).to_contain_text("2.6\u00a0A")


def test_what_is_measured_after_the_clock_went_back_over_the_end_of_a_card_is_good(card):
    card.clock.set_system_time(NOON + timedelta(minutes=30))
    start_card(card)
    end_card(card)
    card.clock.set_system_time(NOON + timedelta(minutes=5))
    card.evaluate(COME_BACK)
    card.goto(card.url.replace("cards.html", "charge-settings.html").partition("?")[0])
    expect(card.locator("#answer")).to_have_attribute("data-state", "partial")
    lay_entries(card, {name: ENTRIES[name] for name in READINGS})
    card.evaluate(COME_BACK)
    expect(card.locator("#answer")).to_have_attribute("data-state", "answer")
    for name in READINGS:
        expect(card.locator(f"[name={name}]")).to_have_value(ENTRIES[name])


def test_the_same_voltage_measured_once_more_has_the_later_time(answered):
    answered.clock.set_system_time(NOON + timedelta(minutes=100))
    type_entries(answered, {"resting_v": ""})
    type_entries(answered, {"resting_v": ENTRIES["resting_v"]})
    answered.clock.set_system_time(NOON + timedelta(hours=3))
    answered.evaluate(COME_BACK)
    expect(entry(answered, "resting_v")).to_have_value(ENTRIES["resting_v"])
    expect(entry(answered, "pack_degc")).to_have_value("")


def test_no_card_starts_on_a_reading_that_has_grown_too_old_under_the_button(card):
    card.clock.set_system_time(NOON + timedelta(hours=3))
    card.get_by_role("button", name="Start this card").click()
    expect_measured_again(card)
    expect(card.get_by_role("button", name="Start this card")).to_have_count(0)
    assert kept(card, "running-cards") is None


def test_what_a_card_has_noted_lies_as_far_behind_when_the_clock_has_gone_back(card):
    start_card(card)
    first = str(card.locator("#card-now-title").text_content())
    run_on(card, SECOND_TAP_MS)
    card.locator(".card-tick").click()
    expect(card.locator("#card-now-title")).not_to_have_text(first)
    card.clock.set_system_time(NOON + timedelta(minutes=30))
    card.evaluate(COME_BACK)
    card.clock.set_system_time(NOON - timedelta(minutes=30))
    card.evaluate(COME_BACK)
    end_card(card)
    ended = kept(card, "running-cards")["ended"][0]
    began, ticked = (round((ended["at"] - moment) / 60_000) for moment in (ended["card"]["started"], *ended["card"]["times"].values()))
    assert (began, ticked) == (30, 30), "minutes before its end, which a log is given"


def test_an_end_can_be_taken_back_for_a_minute_and_no_longer_where_the_clock_has_gone_back(card):
    start_card(card)
    end_card(card)
    card.clock.set_system_time(NOON - timedelta(minutes=30))
    card.evaluate(COME_BACK)
    card.clock.set_system_time(NOON - timedelta(minutes=28))
    card.reload()
    expect(card.locator("#card-records")).to_be_visible()
    expect(card.get_by_role("button", name="Take the end back")).to_have_count(0)


def test_a_card_that_runs_stays_when_its_readings_grow_old(card):
    start_card(card)
    card.clock.set_system_time(NOON + timedelta(hours=3))
    card.evaluate(COME_BACK)
    expect(card.get_by_role("heading", name="Compare the label in your hand")).to_be_visible()
    expect(card.get_by_role("region", name="Numbers of this card")).to_contain_text("2.6\u00a0A")


@pytest.mark.parametrize("hours", [-3, 1], ids=["three hours ago", "an hour from now"])
def test_a_link_brings_the_label_but_no_reading_that_is_too_old_or_still_to_come(page, site, hours):
    page.goto(link_to(site.address, "charge-settings", ENTRIES, read_at=NOON + timedelta(hours=hours)))
    expect_measured_again(page)


@pytest.mark.parametrize("moment", ["", "&measured_at=", "&measured_at=noon", "&measured_at=1778328000"])
def test_a_link_whose_readings_have_no_time_brings_the_label_alone(page, site, moment):
    link = link_to(site.address, "charge-settings", ENTRIES, read_at=NOON).partition("&measured_at")[0]
    page.goto(link + moment)
    expect_measured_again(page)


def test_a_link_tells_another_phone_when_its_readings_were_taken(answered, browser):
    answered.clock.set_system_time(NOON + timedelta(minutes=30))
    type_entries(answered, {"air_degc": "21"})
    phone = browser.new_context()
    other = phone.new_page()
    other.clock.install(time=NOON + timedelta(minutes=119))
    other.goto(answered.url)
    expect(other.locator("#answer")).to_have_attribute("data-state", "answer")
    other.clock.set_system_time(NOON + timedelta(minutes=121))  # the oldest was taken at noon
    other.evaluate(COME_BACK)
    expect_measured_again(other)
    phone.close()
