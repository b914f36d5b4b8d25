"""The card in the whole app: it goes on and calls wherever the pilot is, and leaves no old measurement behind."""

import re

import pytest
from playwright.sync_api import expect

from site_builder.harness.pilot import club_entries, end_card, open_with, pause, setting, start_card, tick_steps, type_entries

ENTRIES = club_entries("brass-heron", "small", "field-battery")


def start_charge(page, address: str) -> None:
    open_with(page, address, "charging-card", ENTRIES)
    start_card(page)


def test_no_card_starts_on_what_was_measured_before_the_last_one(visited, far_page):
    start_charge(far_page, visited.address)
    end_card(far_page)
    far_page.goto(visited.address + "charging-card.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    for name in ("resting_v", "pack_degc", "battery_resting_v"):
        expect(far_page.locator(f"[name={name}]")).to_have_value("")
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("2650")
    expect(far_page.get_by_role("button", name="Start this card")).to_have_count(0)


def test_an_alarm_is_on_the_screen_of_a_pilot_who_has_scrolled_down(own_phone_page):
    own_phone_page.clock.install()
    start_charge(own_phone_page, own_phone_page.url)
    tick_steps(own_phone_page, "First look", count="3")
    own_phone_page.evaluate("scrollTo(0, document.body.scrollHeight)")
    own_phone_page.clock.run_for(6 * 60_000)
    expect(own_phone_page.get_by_role("button", name="I have looked")).to_be_in_viewport()
    expect(own_phone_page.get_by_role("banner").get_by_role("link", name="Pack in trouble")).to_be_in_viewport()


def test_start_on_the_settings_lands_on_the_first_step_and_not_on_a_form(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.get_by_role("link", name="Start the charging card").click()
    expect(far_page.get_by_role("heading", name="Compare the label in your hand")).to_be_focused()
    assert far_page.locator("form").count() == 0
    end_card(far_page)


def test_the_next_step_its_tick_the_numbers_and_what_comes_stand_in_one_screen(visited, far_page):
    start_charge(far_page, visited.address)
    heading, faults = far_page.locator("#card-now-title"), []
    while (title := heading.text_content()) != "Write it down":
        bar = far_page.locator(".bottom").bounding_box()["y"]
        strip, tick = (far_page.locator(place).bounding_box() for place in (".card-strip", ".card-tick"))
        coming = far_page.locator(".card-coming li").first.bounding_box()
        if strip["y"] < 52 or tick["y"] + tick["height"] > bar or coming["y"] > bar:
            faults.append(title)
        following = far_page.locator(".card-coming summary").first.text_content()
        tick_steps(far_page, following, count="3")
    assert faults == []
    end_card(far_page)


def test_without_a_card_the_bar_leads_to_the_list_of_cards(visited, far_page):
    far_page.goto(visited.address + "safety-rules.html")
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Cards").click()
    expect(far_page.get_by_role("link", name="Charging card")).to_be_visible()
    expect(far_page.get_by_role("region", name="Numbers of this card")).to_have_count(0)


COUNT_TONES = """window.tones = 0;
window.AudioContext = class extends AudioContext {
  createOscillator() { window.tones += 1; return super.createOscillator(); }
};"""


def go_to(page, name: str) -> None:
    main = page.get_by_role("navigation", name="Main")
    main.get_by_role("link", name=name, exact=True).click()
    expect(main.locator("[aria-current=page]")).to_have_text(name)


def test_the_time_counts_and_a_timer_calls_on_every_page_and_the_bar_leads_back_to_the_card(own_phone_page, until):
    own_phone_page.add_init_script(COUNT_TONES)
    own_phone_page.clock.install()
    start_charge(own_phone_page, own_phone_page.url)
    tick_steps(own_phone_page, "First look", count="3")
    go_to(own_phone_page, "Rules")
    own_phone_page.clock.run_for(60_000)
    bar = own_phone_page.get_by_role("navigation", name="Main").get_by_role("link", name=re.compile("^Cards"))
    expect(bar).to_have_text(re.compile(r"^Cards\d+:\d\d$"))
    go_to(own_phone_page, "Voltages")
    own_phone_page.clock.run_for(5 * 60_000)
    expect(own_phone_page.get_by_role("alert")).to_contain_text("First look: time was up")
    until(own_phone_page, "tones > 0")
    own_phone_page.get_by_role("button", name="I have looked: First look").click()
    expect(own_phone_page.get_by_role("alert")).to_have_count(0)
    bar.click()
    expect(own_phone_page.get_by_role("heading", name="First look")).to_be_visible()
    expect(own_phone_page.locator(".card-now").get_by_role("timer")).to_contain_text("Time was up at")


def test_the_first_page_names_each_card_that_runs_with_its_step_and_leads_to_it(visited, far_page):
    start_charge(far_page, visited.address)
    far_page.goto(visited.address + "soldering-card.html")
    start_card(far_page)
    far_page.goto(visited.address + "index.html")
    lines = far_page.get_by_role("region", name="Running cards").get_by_role("link")
    expect(lines).to_have_text([re.compile("^Charging card.*step 1 of"), re.compile("^Solder.*step 1 of")])
    lines.first.click()
    expect(far_page.get_by_role("region", name="Numbers of this card")).to_contain_text("2.6\u00a0A")
    end_card(far_page)
    end_card(far_page)
    far_page.goto(visited.address + "index.html")
    expect(far_page.get_by_role("region", name="Running cards").get_by_role("link")).to_have_count(0)


def test_other_entries_are_answered_while_a_card_runs_and_leave_it_as_it_is(visited, far_page):
    start_charge(far_page, visited.address)
    far_page.goto(visited.address + "charge-settings.html")
    type_entries(far_page, {"requested_rate_c": "0.5"})
    expect(setting(far_page, "Charge current")).to_contain_text("1.3\u00a0A")
    far_page.goto(visited.address + "cards.html")
    expect(far_page.get_by_role("region", name="Numbers of this card")).to_contain_text("2.6\u00a0A")


def test_what_was_measured_before_a_charge_is_not_brought_back_by_the_address_either(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(far_page).to_have_url(re.compile("measured_at"))
    settings = far_page.url
    far_page.get_by_role("link", name="Start the charging card").click()
    expect(far_page.get_by_role("heading", name="Compare the label in your hand")).to_be_visible()
    end_card(far_page)
    far_page.goto(settings)
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


@pytest.mark.parametrize("button", ["next-pack", "clear-all"])
def test_no_card_can_be_started_on_what_was_just_cleared(visited, far_page, button):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    expect(far_page.get_by_role("button", name="Start this card")).to_be_enabled()
    # In one go: the calculator has no time to answer in between.
    far_page.evaluate(
        "name => { document.getElementById(name).click(); window.start = document.querySelector('.card-offer button'); }", button
    )
    assert far_page.evaluate("!window.start || window.start.disabled")


def test_a_card_that_ends_in_another_tab_leaves_no_number_of_the_pack_as_it_was(visited, far_page):
    start_charge(far_page, visited.address)
    other = visited.phone.new_page()
    other.goto(visited.address + "charge-settings.html")
    expect(other.locator("#answer")).to_have_attribute("data-state", "answer")
    end_card(far_page)
    expect(other.get_by_text("Measure again.")).to_be_visible()
    for name in ("resting_v", "pack_degc", "battery_resting_v"):
        expect(other.locator(f"[name={name}]")).to_have_value("")
    expect(other.locator("#answer")).to_have_attribute("data-state", "partial")  # by the label alone, which cannot be started
    other.close()
