"""The card in the whole app: it goes on and calls wherever the pilot is, and leaves no old measurement behind."""

import re
import threading

import pytest
from playwright.sync_api import expect

from site_builder.commands.serve import Server
from site_builder.harness.pilot import club_entries, open_with, pause, setting, type_entries

ENTRIES = club_entries("brass-heron", "small", "field-battery")


def started_card(page, address: str) -> None:
    open_with(page, address, "charging-card", ENTRIES)
    page.get_by_role("button", name="Start this card").click()
    expect(page.get_by_role("heading", name="Your card", exact=True)).to_be_visible()


def end_card(page) -> None:
    page.get_by_role("button", name="End this card").click()
    page.get_by_role("button", name="Yes, end it").click()
    expect(page.locator(".card-record")).to_be_visible()


def test_no_card_starts_on_what_was_measured_before_the_last_one(visited, far_page):
    started_card(far_page, visited.address)
    end_card(far_page)
    far_page.reload()
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    for name in ("resting_v", "pack_degc", "battery_resting_v"):
        expect(far_page.locator(f"[name={name}]")).to_have_value("")
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("2650")
    expect(far_page.get_by_role("button", name="Start this card")).to_have_count(0)


def test_an_alarm_is_on_the_screen_of_a_pilot_who_has_scrolled_down(own_phone_page):
    own_phone_page.clock.install()
    started_card(own_phone_page, own_phone_page.url)
    start_timer(own_phone_page, "first-look")
    own_phone_page.evaluate("document.querySelector('[data-step=note]').scrollIntoView()")
    own_phone_page.clock.run_for(6 * 60_000)
    expect(own_phone_page.get_by_role("button", name="I have looked")).to_be_in_viewport()
    expect(own_phone_page.get_by_role("banner").get_by_role("link", name="Pack in trouble")).to_be_in_viewport()


COUNT_TONES = """window.tones = 0;
window.AudioContext = class extends AudioContext {
  createOscillator() { window.tones += 1; return super.createOscillator(); }
};"""


def go_to(page, name: str) -> None:
    main = page.get_by_role("navigation", name="Main")
    main.get_by_role("link", name=name, exact=True).click()
    expect(main.locator("[aria-current=page]")).to_have_text(name)
    expect(page.get_by_role("region", name="Running card")).to_be_visible()


def start_timer(page, step: str) -> None:
    """Start the timer of a step, and see that it runs: then it is kept."""
    page.locator(f"[data-step={step}]").get_by_role("button", name="Start timer").click()
    expect(page.locator(f"[data-step={step}]").get_by_role("timer")).to_contain_text(re.compile(r"\d:\d\d"))


def test_a_timer_counts_and_calls_on_every_page_and_a_line_leads_back_to_the_card(own_phone_page, until):
    own_phone_page.add_init_script(COUNT_TONES)
    own_phone_page.clock.install()
    started_card(own_phone_page, own_phone_page.url)
    expect(own_phone_page.get_by_role("region", name="Running card")).to_be_hidden()
    own_phone_page.get_by_role("checkbox", name="Choose the place").check()
    start_timer(own_phone_page, "first-look")
    start_timer(own_phone_page, "next-look")
    go_to(own_phone_page, "Rules")
    own_phone_page.clock.run_for(60_000)
    expect(own_phone_page.get_by_role("region", name="Running card").get_by_role("timer")).to_have_text(
        re.compile(r"^First look: 0[34]:\d\d$")
    )
    go_to(own_phone_page, "Settings")
    own_phone_page.clock.run_for(5 * 60_000)
    expect(own_phone_page.get_by_role("alert")).to_contain_text("First look: time was up")
    until(own_phone_page, "tones > 0")
    own_phone_page.get_by_role("button", name="I have looked: First look").click()
    expect(own_phone_page.get_by_role("alert")).to_have_count(0)
    expect(own_phone_page.get_by_role("region", name="Running card").get_by_role("timer")).to_contain_text("Look again, and again: ")
    own_phone_page.get_by_role("link", name="Running card").click()
    expect(own_phone_page.get_by_role("heading", name="Your card", exact=True)).to_be_visible()
    expect(own_phone_page.get_by_role("checkbox", name="Choose the place")).to_be_checked()
    expect(own_phone_page.locator("[data-step=first-look]").get_by_role("timer")).to_contain_text("Time was up at")


def test_a_card_that_runs_is_told_of_on_a_page_that_is_opened_by_itself(visited, far_page):
    started_card(far_page, visited.address)
    far_page.goto(visited.address + "pack-in-trouble.html")
    expect(far_page.get_by_role("region", name="Running card")).to_be_visible()


def test_other_entries_are_answered_while_a_card_runs_and_leave_it_as_it_is(visited, far_page):
    started_card(far_page, visited.address)
    go_to(far_page, "Settings")
    type_entries(far_page, {"requested_rate_c": "0.5"})
    expect(setting(far_page, "Charge current")).to_contain_text("1.3\u00a0A")
    far_page.get_by_role("link", name="Running card").click()
    expect(far_page.locator("[data-step=set-current]")).to_contain_text("2.6\u00a0A")
    expect(far_page.get_by_text("The entries are locked while the card runs.")).to_be_visible()
    expect(far_page.get_by_role("region", name="Calculator").get_by_role("status")).to_have_text("Your card is running.")


def test_what_was_measured_before_a_charge_is_not_brought_back_by_the_address_either(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.get_by_role("link", name="Follow these settings on the charging card").click()
    far_page.get_by_role("button", name="Start this card").click()
    end_card(far_page)
    far_page.go_back()
    expect(
        far_page.get_by_text("Voltages and temperatures that are too old, or whose time is not known, are left out. Measure again.")
    ).to_be_visible()
    expect(far_page.locator("[name=resting_v]")).to_have_value("")
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("2650")
    type_entries(far_page, {name: ENTRIES[name] for name in ("resting_v", "pack_degc", "battery_resting_v")})
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(far_page, "Charge current")).to_contain_text("2.6\u00a0A")
    pause(far_page)  # the address is written a moment after the last key
    far_page.reload()
    expect(far_page.locator("[name=resting_v]")).to_have_value(ENTRIES["resting_v"])


def test_the_line_goes_with_the_card(visited, far_page):
    started_card(far_page, visited.address)
    end_card(far_page)
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Rules").click()
    expect(far_page.get_by_role("heading", level=1)).to_have_text("Safety rules")
    expect(far_page.get_by_role("region", name="Running card")).to_be_hidden()


@pytest.mark.parametrize("button", ["next-pack", "clear-all"])
def test_no_card_can_be_started_on_what_was_just_cleared(visited, far_page, button):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    expect(far_page.get_by_role("button", name="Start this card")).to_be_enabled()
    # In one go: the calculator has no time to answer in between.
    far_page.evaluate(
        "name => { document.getElementById(name).click(); window.start = document.querySelector('.card-offer button'); }", button
    )
    assert far_page.evaluate("!window.start || window.start.disabled")


@pytest.fixture
def running_without_calculator(phone_without_store, dist):
    """A card that runs, on a page whose calculator does not come."""
    signal = threading.Event()
    held = []
    with Server(dist, tamper=lambda path: signal.wait() and None if held and path.endswith(".wasm") else None) as server:
        page = phone_without_store.new_page()
        started_card(page, server.address)
        held.append("now")
        page.reload()
        expect(page.get_by_role("heading", name="Your card", exact=True)).to_be_visible()
        yield page
        signal.set()


def test_the_strip_says_that_a_card_runs_and_not_that_the_calculator_starts(running_without_calculator):
    expect(running_without_calculator.locator("#engine-state")).to_have_text("Your card is running.")


def test_a_card_that_ends_before_the_calculator_is_up_leaves_no_number_of_the_pack_as_it_was(running_without_calculator):
    end_card(running_without_calculator)
    # At once: every few seconds the page looks for readings that are too old, and would find these then.
    measured = [
        running_without_calculator.locator(f"[name={name}]").input_value() for name in ("resting_v", "pack_degc", "battery_resting_v")
    ]
    assert (running_without_calculator.locator("#answer .figure").count(), measured) == (0, ["", "", ""])
    expect(running_without_calculator.locator("#answer")).to_have_attribute("data-state", "waiting")
    expect(running_without_calculator.get_by_text("Measure again.")).to_be_visible()
