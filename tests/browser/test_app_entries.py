"""A pilot types: what is answered, what is sent back and where it says so, what is kept for the next pack.

One page with its calculator running serves all tests of this module but those that open another; each begins with an
empty form.
"""

import re
from datetime import datetime, timedelta
from urllib.parse import parse_qsl, urlsplit

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.harness.pilot import clear, club_entries, entry, fold, lay_entries, open_with, pause, setting, type_entries
from site_builder.harness.store import kept

ENTRIES = club_entries("brass-heron", "small", "field-battery")
OF_THE_PACK = {name: ENTRIES[name] for name in ("chemistry", "cells", "capacity_mah", "resting_v", "pack_degc")}
# What only a mains supply or only a battery is asked for, as its label begins.
OF_A_BATTERY = re.compile("battery", re.IGNORECASE)
FIGURE = re.compile(r"\d\s*(A|V|C|mAh|min|Wh|°C)\b")


@pytest.fixture
def settings(running_page) -> Page:
    clear(running_page, "Clear everything")
    expect(answer(running_page)).to_have_attribute("data-state", "example")
    return running_page


@pytest.fixture
def answered(settings) -> Page:
    lay_entries(settings, ENTRIES)
    expect(answer(settings)).to_have_attribute("data-state", "answer")
    return settings


def answer(page: Page):
    return page.get_by_role("region", name=re.compile("Worked example|Your answer|No answer yet"))


def needed(page: Page):
    return page.get_by_role("group", name=re.compile("Still needed|No numbers, because"))


def test_what_is_typed_is_answered_and_each_setting_says_the_limit_that_set_it(settings):
    type_entries(settings, ENTRIES)
    expect(answer(settings)).to_have_attribute("data-state", "answer")
    expect(setting(settings, "Charge current")).to_contain_text("Set by the charge rate on the label")
    for one in settings.locator(".setting:not(.range)").all():
        expect(one.locator(".set-by")).to_have_text(re.compile(r"^Set by\s+\S"))


def test_the_limits_that_were_compared_are_one_tap_away(answered):
    current = setting(answered, "Charge current")
    current.locator("summary").click()
    expect(current.get_by_role("listitem").filter(has_text="this one binds")).to_contain_text("2.65\u00a0A")


def test_what_was_answered_is_said_in_the_strip_and_read_out(answered):
    strip = answered.get_by_role("region", name="Calculator")
    expect(strip.get_by_role("status")).to_have_text("Charge current 2.6\u00a0A, set by the charge rate on the label.")


def test_a_new_entry_gives_a_new_answer(answered):
    type_entries(answered, {"requested_rate_c": "0.5"})
    expect(setting(answered, "Charge current")).to_contain_text("1.3\u00a0A")
    expect(setting(answered, "Charge current")).to_contain_text("Set by the rate you asked for")


def test_an_entry_that_the_form_starts_with_is_missing_once_it_is_emptied(answered):
    type_entries(answered, {"label_charge_rate_c": ""})
    expect(needed(answered)).to_contain_text("the charge rate on the label")
    type_entries(answered, {"label_charge_rate_c": "1"})
    expect(answer(answered)).to_have_attribute("data-state", "answer")


def test_a_comma_and_a_unit_are_accepted(answered):
    type_entries(answered, {"capacity_mah": "2,2 Ah", "resting_v": "11,1 V"})
    expect(setting(answered, "Capacity setting")).to_contain_text("2200\u00a0mAh")


def test_a_doubtful_entry_is_asked_about_at_its_field_and_in_the_list(answered):
    type_entries(answered, {"capacity_mah": "5.0"})
    field = entry(answered, "capacity_mah")
    expect(needed(answered).get_by_role("link")).to_have_count(1)
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(needed(answered).get_by_role("link").text_content())
    expect(field).to_have_value("5.0")


def test_a_mended_entry_takes_its_sentence_away(answered):
    type_entries(answered, {"capacity_mah": "5.0"})
    expect(entry(answered, "capacity_mah")).to_have_attribute("aria-invalid", "true")
    type_entries(answered, {"capacity_mah": "5000"})
    expect(setting(answered, "Capacity setting")).to_contain_text("5000\u00a0mAh")
    expect(entry(answered, "capacity_mah")).not_to_have_attribute("aria-invalid", "true")
    expect(answered.locator("#problem-capacity_mah")).to_be_hidden()


def test_the_list_leads_to_the_field_even_in_a_folded_group(answered):
    type_entries(answered, {"charger_power_w": "-5"})
    fold(answered, "The charger").click()
    expect(entry(answered, "charger_power_w")).to_be_hidden()
    needed(answered).get_by_role("link").click()
    expect(entry(answered, "charger_power_w")).to_be_focused()
    expect(entry(answered, "charger_power_w")).to_be_in_viewport()


def test_every_missing_entry_is_listed_and_none_is_called_wrong(settings):
    type_entries(settings, {"chemistry": OF_THE_PACK["chemistry"]})
    expect(needed(settings)).to_have_accessible_name("Still needed")
    expect(needed(settings)).to_contain_text("Enter the capacity on the label.")
    expect(settings.locator("[aria-invalid=true]")).to_have_count(0)


def test_a_pack_without_a_charger_is_answered_and_the_rest_of_a_charger_that_is_begun_is_asked_for(settings):
    type_entries(settings, OF_THE_PACK)
    expect(answer(settings)).to_have_attribute("data-state", "partial")
    expect(answer(settings)).to_contain_text("Not counted yet: your charger and your supply with its lead.")
    expect(setting(settings, "Charge current")).to_be_visible()
    type_entries(settings, {"charger_current_a": "5"})
    expect(answer(settings).get_by_role("link", name="Enter the highest charge power.")).to_be_visible()
    expect(settings.locator("[aria-invalid=true]")).to_have_count(0)


def test_a_refusal_shows_no_figure_and_leads_to_the_trouble_page(answered):
    type_entries(answered, {"resting_v": "3.7 3.7 2.9"})
    expect(answer(answered)).to_have_attribute("data-state", "refusal")
    reason = (
        "Cell 3 rests at 2.900\u00a0V, below its floor of 3.00\u00a0V"  # its figures are the pilot's reading and the floor: none to dial in
    )
    expect(answer(answered)).to_contain_text(reason)
    expect(answered.locator("#answer .setting, #answer .figure")).to_have_count(0)
    assert not FIGURE.search(answer(answered).inner_text().replace(reason, ""))
    assert not FIGURE.search(answered.get_by_role("region", name="Calculator").inner_text().replace(reason, ""))
    link = needed(answered).get_by_role("link", name="Open the page for a pack in trouble")
    expect(link).to_have_attribute("href", "pack-in-trouble.html#run-too-flat")


def test_a_battery_is_not_asked_for_where_a_mains_supply_is_chosen(settings):
    type_entries(settings, OF_THE_PACK | {"supply_kind": "mains"})
    expect(answer(settings)).to_contain_text("Enter the output voltage.")
    expect(answer(settings).get_by_role("link").filter(has_text=OF_A_BATTERY)).to_have_count(0)
    expect(settings.get_by_role("textbox", name=OF_A_BATTERY)).to_have_count(0)


def test_a_mains_supply_is_not_asked_for_where_a_battery_is_chosen(settings):
    type_entries(settings, OF_THE_PACK | {"lead_length_m": "1.5"})
    expect(answer(settings)).to_contain_text("Enter the capacity of the battery.")
    expect(answer(settings)).not_to_contain_text("output voltage")
    expect(entry(settings, "supply_v")).to_have_count(0)


def test_the_next_pack_clears_the_pack_and_keeps_the_charger_and_the_supply(answered):
    clear(answered, "Next pack: clear this one")
    expect(answered.get_by_role("group", name="Chemistry").get_by_role("button").first).to_be_focused()
    values = answered.evaluate("Object.fromEntries(new FormData(document.getElementById('entries')))")
    assert {values[name] for name in ("chemistry", "cells", "capacity_mah", "resting_v", "pack_degc", "air_degc")} == {""}
    assert {name: values[name] for name in ENTRIES if name.startswith(("charger", "lead"))} == {
        name: text for name, text in ENTRIES.items() if name.startswith(("charger", "lead"))
    }
    expect(needed(answered)).to_contain_text("Enter the number of cells in series.")


def test_enter_in_a_field_goes_to_the_answer(answered):
    entry(answered, "capacity_mah").press("Enter")
    expect(answered.get_by_role("heading", name="Your answer")).to_be_focused()
    expect(answered.get_by_role("heading", name="Your answer")).to_be_in_viewport()


def test_a_tap_in_the_strip_goes_to_what_is_missing_and_an_answer_needs_no_strip(settings):
    type_entries(settings, {"chemistry": OF_THE_PACK["chemistry"]})
    settings.get_by_role("link", name="Answer", exact=True).click()
    expect(settings.get_by_role("heading", name="No answer yet")).to_be_in_viewport()
    type_entries(settings, OF_THE_PACK)
    expect(setting(settings, "Charge current")).to_be_visible()
    expect(settings.get_by_role("link", name="Answer", exact=True)).to_be_hidden()


def test_the_address_holds_the_entries_and_nothing_once_they_are_cleared(visited, answered):
    expect(answered).to_have_url(re.compile("measured_at="))
    assert {name: text for name, text in parse_qsl(urlsplit(answered.url).query) if name != "measured_at"} == ENTRIES
    clear(answered, "Clear everything")
    expect(answered).to_have_url(visited.address + "charge-settings.html")
    assert kept(answered, "entries") == {}


def test_the_examples_entries_can_be_put_into_the_form(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    far_page.get_by_role("link", name="Put its entries into the form").click()
    expect(entry(far_page, "capacity_mah")).to_have_value(ENTRIES["capacity_mah"])
    expect(far_page.get_by_role("heading", name="Your answer")).to_be_visible()


def test_going_back_brings_the_entries_and_the_answer_back(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    lay_entries(far_page, ENTRIES)
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Rules").click()
    expect(far_page.get_by_role("heading", level=1)).to_have_text("Safety rules")
    far_page.go_back()
    expect(entry(far_page, "capacity_mah")).to_have_value(ENTRIES["capacity_mah"])
    expect(answer(far_page)).to_have_attribute("data-state", "answer")
    expect(setting(far_page, "Charge current")).to_contain_text("2.6\u00a0A")
    far_page.go_forward()
    expect(far_page.get_by_role("heading", level=1)).to_have_text("Safety rules")


def test_the_voltages_of_a_pack_like_the_example_are_its_own_and_forget_nothing(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    lay_entries(far_page, OF_THE_PACK)
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Voltages").click()
    expect(far_page.get_by_role("heading", name="Your answer")).to_be_visible()
    expect(far_page.locator(".marked").first).to_contain_text("this pack")
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Settings").click()
    expect(far_page.locator("#entry-chemistry")).to_have_value(OF_THE_PACK["chemistry"])
    expect(entry(far_page, "cells")).to_have_value(OF_THE_PACK["cells"])


@pytest.fixture
def at_two_o_clock(phone: BrowserContext, site) -> Page:
    page = phone.new_page()
    page.clock.install(time=datetime(2026, 5, 9, 14, 0))
    page.goto(site.address + "charge-settings.html")
    lay_entries(page, ENTRIES)
    expect(answer(page)).to_have_attribute("data-state", "answer")
    page.goto("about:blank")  # a page that is open would see the time go by
    return page


def test_what_was_measured_two_hours_ago_is_left_out_and_asked_for_again(at_two_o_clock, site):
    at_two_o_clock.clock.set_system_time(datetime(2026, 5, 9, 16, 0) + timedelta(minutes=1))
    at_two_o_clock.goto(site.address + "charge-settings.html")
    expect(
        at_two_o_clock.get_by_text("Voltages and temperatures that are too old, or whose time is not known, are left out. Measure again.")
    ).to_be_visible()
    expect(entry(at_two_o_clock, "resting_v")).to_have_value("")
    expect(entry(at_two_o_clock, "pack_degc")).to_have_value("")
    expect(entry(at_two_o_clock, "capacity_mah")).to_have_value(ENTRIES["capacity_mah"])


def test_what_was_measured_within_two_hours_is_still_there(at_two_o_clock, site):
    at_two_o_clock.clock.set_system_time(datetime(2026, 5, 9, 15, 59))
    at_two_o_clock.goto(site.address + "charge-settings.html")
    expect(entry(at_two_o_clock, "resting_v")).to_have_value(ENTRIES["resting_v"])
    expect(at_two_o_clock.get_by_text("Measure again.")).to_be_hidden()


# Types a capacity key by key and never pauses, and leaves the app in the way that is given; gives what was kept and how often the
# address was written, before and after that.
TYPED_IN_A_HURRY = """async ([kind, text]) => {
  const field = document.querySelector("[name=capacity_mah]");
  const replace = history.replaceState;
  let written = 0;
  history.replaceState = (...given) => (written += 1, replace.apply(history, given));
  let kept = [];
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (record, name) {
    if (name === "entries") kept.push(JSON.parse(record.value).capacity_mah[0]);
    return put.call(this, record, name);
  };
  const wait = window.setTimeout;
  window.setTimeout = (act, ms) => (ms ? -1 : wait(act));  // a pause that the page waits for never ends
  const turn = () => new Promise((go_on) => requestAnimationFrame(() => setTimeout(go_on)));
  for (const end of text.split("").keys()) {
    field.value = text.slice(0, end + 1);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  await turn();
  const before = [[...kept], written];
  (kind === "visibilitychange" ? document : window).dispatchEvent(new Event(kind));
  await turn();
  window.setTimeout = wait;
  delete history.replaceState;
  IDBObjectStore.prototype.put = put;
  return [before, [kept, written], location.search.includes(`capacity_mah=${text}`)];
}"""


@pytest.mark.parametrize("leaves", ["pagehide", "visibilitychange"])
def test_what_is_typed_in_a_hurry_is_kept_once_and_at_the_latest_when_the_app_is_left(settings, leaves):
    pause(settings)
    assert settings.evaluate(TYPED_IN_A_HURRY, [leaves, "3170"]) == [[[], 0], [["3170"], 1], True]


def test_a_tap_carries_what_was_typed_just_before_it(settings):
    settings.locator("[name=capacity_mah]").fill("3170")
    settings.get_by_role("navigation").get_by_role("link", name="Voltages").click()
    expect(settings.get_by_role("heading", level=1)).to_have_text("Voltages")
    settings.go_back()
    expect(settings.locator("[name=capacity_mah]")).to_have_value("3170")


# Changes an entry so often, with a tap after each, that a browser would soon write the address no more.
CHANGED_OFTEN = """(times) => {
  const field = document.querySelector("[name=capacity_mah]");
  for (let change = 1; change <= times; change += 1) {
    field.value = String(1000 + change);
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new PointerEvent("pointerdown", { bubbles: true }));
  }
}"""


def test_what_was_typed_last_comes_back_after_more_changes_than_an_address_may_have(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    far_page.locator(".form-actions").wait_for()
    far_page.evaluate(CHANGED_OFTEN, 150)
    far_page.get_by_role("navigation", name="Main").get_by_role("link", name="Voltages").click()
    expect(far_page.get_by_role("heading", level=1)).to_have_text("Voltages")
    far_page.go_back()
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("1150")
    far_page.reload()
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("1150")


def test_a_line_says_a_day_without_how_a_day_is_written(far_page, visited):
    open_with(far_page, visited.address, "ageing", {"lines_1_day": "2024-05-12", "lines_1_kind": "check"})
    expect(far_page.locator("summary", has_text="Line 1").first.locator(".line-says")).to_have_text("2024-05-12 · Check")
