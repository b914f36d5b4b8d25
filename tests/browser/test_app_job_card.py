"""The cards of other jobs: figures of the pilot's own entries in their steps, a run of their own, and a form for paper."""

import re

import pytest
from playwright.sync_api import expect

from site_builder.harness.content import PAGES
from site_builder.harness.pilot import club_entries, end_card, link_to, open_with, start_card, tick_steps
from tests.browser.page_faults import too_wide

ENTRIES = club_entries("slate-badger", "large", "field-battery")


def figure(page, step: str):
    return page.locator(f"[data-step={step}] .step-figure")


def test_the_last_entries_fill_the_figures_with_no_signal(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    set_current = far_page.locator("[data-part=charge_current] .figure").text_content()
    far_page.goto(visited.address + "cold-day-card.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(figure(far_page, "current").locator(".figure")).to_have_text(set_current)
    expect(figure(far_page, "current")).to_contain_text("Set by")


def test_a_card_says_whose_numbers_it_shows_as_they_were_typed_and_so_does_its_record(visited, far_page):
    open_with(far_page, visited.address, "cold-day-card", ENTRIES | {"capacity_mah": "5 Ah", "cells": "4"})
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    label = re.compile("Lithium-polymer.*Cells in series 4\u00a0cells; Capacity on the label 5 Ah; Charge rate on the label")
    expect(far_page.locator(".card-packs")).to_be_visible()
    expect(far_page.locator(".card-packs")).to_contain_text(label)
    start_card(far_page)
    expect(far_page.get_by_role("heading", name="Compare the label in your hand")).to_be_visible()
    expect(far_page.locator(".card-now")).to_contain_text(label)
    end_card(far_page)
    expect(far_page.locator(".card-record")).to_contain_text(label)


def test_joined_packs_are_named_each_and_rows_that_nobody_filled_are_not(visited, far_page):
    entries = next(page for page in PAGES if page.key == "parallel-card").worked_example
    open_with(far_page, visited.address, "parallel-card", entries)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    filled = {name[: len("packs_1")] for name in entries if name.startswith("packs_")}
    expect(far_page.locator(".card-packs p")).to_have_count(len(filled))
    expect(far_page.locator(".card-packs p").last).to_contain_text(f"Pack {len(filled)}: ")


def test_what_a_card_fixes_is_not_kept_as_the_pilots_choice(visited, far_page):
    open_with(far_page, visited.address, "storage", ENTRIES | {"goal": "maker", "discharge_current_a": "2"})
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.goto(visited.address + "putting-away-card.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.goto(visited.address + "storage.html")
    expect(far_page.locator("[name=goal]")).to_have_value("maker")
    expect(far_page.locator("[name=capacity_mah]")).to_have_value(ENTRIES["capacity_mah"])


def test_the_storage_card_goes_to_storage_whatever_was_asked_last(visited, far_page):
    open_with(far_page, visited.address, "storage", ENTRIES | {"goal": "maker", "discharge_current_a": "2"})
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(far_page.locator("[data-part=what_to_do] .figure")).to_have_text("Discharge it")
    far_page.goto(visited.address + "putting-away-card.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(figure(far_page, "way").locator(".figure")).to_have_text("Charge it")
    expect(figure(far_page, "cell")).to_contain_text("storage band")
    far_page.goto(link_to(visited.address, "putting-away-card", ENTRIES | {"goal": "maker", "discharge_current_a": "2"}))
    expect(figure(far_page, "way").locator(".figure")).to_have_text("Charge it")


def test_the_example_is_not_the_pilots_and_starts_no_card(visited, far_page):
    far_page.goto(visited.address + "cold-day-card.html")
    expect(far_page.locator("#engine-state")).to_contain_text("Ready")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "example")
    expect(far_page.locator("#answer-about")).to_contain_text("These are not your numbers.")
    expect(far_page.get_by_role("button", name="Start this card")).to_have_count(0)
    expect(far_page.locator(".card-packs")).to_be_hidden()


@pytest.mark.parametrize(
    ("card", "ways"),
    [("cold-day-card", ["Enter your own: Charge settings", "Blank form for paper"]), ("soldering-card", ["Blank form for paper"])],
    ids=["numbers", "none"],
)
def test_a_card_shows_where_its_entries_are_made_and_its_blank_form_before_anything_is_entered(visited, far_page, card, ways):
    far_page.goto(f"{visited.address}{card}.html")
    expect(far_page.locator("#card-controls")).not_to_be_empty()
    for way in ways:
        expect(far_page.get_by_role("link", name=way)).to_be_visible()


def test_a_charge_that_is_refused_has_no_card_and_a_way_to_the_entries(visited, far_page):
    far_page.goto(link_to(visited.address, "cold-day-card", ENTRIES | {"pack_degc": "-5"}))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    expect(far_page.locator(".step")).to_have_count(0)
    expect(far_page.get_by_role("button", name="Start this card")).to_have_count(0)
    expect(far_page.locator("#answer-body a").first).to_have_attribute("href", re.compile(r"charge-settings\.html#entry-"))


def test_figures_are_shown_in_the_units_that_were_chosen(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    far_page.locator("#answer-body").get_by_role("button", name=re.compile("in °C. Change to °F")).first.click()
    far_page.goto(visited.address + "first-charge-card.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(far_page.locator("[data-from=temperature_stop]").first).to_have_text("113\u00a0°F")


def test_cards_of_two_jobs_run_side_by_side(visited, far_page):
    open_with(far_page, visited.address, "cold-day-card", ENTRIES)
    start_card(far_page)
    tick_steps(far_page, "Let it dry")
    far_page.goto(visited.address + "charging-card.html")
    expect(far_page.locator("#card-controls")).to_contain_text("These readings have started the card that runs: A cold day.")
    far_page.goto(visited.address + "soldering-card.html")
    start_card(far_page)
    expect(far_page.get_by_role("region", name="Numbers of this card")).not_to_contain_text("A ·")
    far_page.get_by_role("link", name="A cold day").click()
    expect(far_page.get_by_role("heading", name="Let it dry")).to_be_visible()
    end_card(far_page)
    expect(far_page.locator(".card-ended")).to_contain_text(re.compile(r"Set the current: \d"))
    end_card(far_page)


@pytest.mark.parametrize("key", ["cold-day-card", "first-charge-card", "parallel-card", "series-card", "long-rest-card"])
def test_every_card_of_a_charge_asks_for_the_chargers_count_before_it_starts_the_time(key):
    steps = [step for part in next(page for page in PAGES if page.key == key).card.parts for step in part.steps]
    asks, starts = (
        [place for place, step in enumerate(steps) if test(step)] for test in (lambda step: step.asks_count, lambda step: step.starts)
    )
    assert (len(asks), len(starts)) == (1, 1) and asks < starts


@pytest.mark.parametrize(
    ("card", "is_measured_still"), [("reading-a-label-card", True), ("first-charge-card", False)], ids=["look", "charge"]
)
def test_after_a_charge_the_measured_entries_are_gone_and_after_a_look_they_stay(visited, far_page, card, is_measured_still):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    far_page.goto(f"{visited.address}{card}.html")
    start_card(far_page)
    end_card(far_page)
    far_page.goto(f"{visited.address}{card}.html")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer" if is_measured_still else "partial")
    expect(far_page.locator("[name=resting_v]")).to_have_value(ENTRIES["resting_v"] if is_measured_still else "")


def test_a_card_without_numbers_starts_at_once(visited, far_page):
    far_page.goto(visited.address + "soldering-card.html")
    start_card(far_page)
    tick_steps(far_page, "An iron strong enough")
    far_page.reload()
    expect(far_page.get_by_role("heading", name="An iron strong enough")).to_be_visible()
    end_card(far_page)
    far_page.goto(visited.address + "soldering-card.html")
    expect(far_page.get_by_role("button", name="Start this card")).to_be_enabled()


def test_on_paper_the_blank_form_has_boxes_and_no_numbers(visited, far_page):
    open_with(far_page, visited.address, "cold-day-card", ENTRIES)
    expect(far_page.locator(".card-packs")).to_be_visible()
    far_page.get_by_role("link", name="Blank form for paper").click()
    expect(far_page.locator("#blank")).to_be_visible()
    far_page.emulate_media(media="print")
    expect(figure(far_page, "current").locator(".figure")).to_be_hidden()
    expect(far_page.locator("#answer-about")).to_be_hidden()
    expect(far_page.locator(".card-packs")).to_be_hidden()
    expect(far_page.locator("[data-step=measure] .writes .box").first).to_be_visible()
    far_page.emulate_media(media="screen")
    expect(far_page.locator("[data-step=measure] .writes")).to_be_hidden()
    far_page.get_by_role("link", name="Back to the card").click()
    expect(far_page.locator("#blank")).to_be_hidden()


def test_a_timer_of_a_card_goes_on_over_a_reload_and_calls_on_another_page(own_phone_page):
    page, address = own_phone_page, own_phone_page.url
    page.clock.install()
    open_with(page, address, "putting-away-card", ENTRIES)
    start_card(page)
    tick_steps(page, "Let it cool and rest")
    timer = page.locator(".card-now").get_by_role("timer")
    page.get_by_role("button", name="Start timer").click()
    expect(timer).to_contain_text(re.compile(r"\d:\d\d"))
    page.clock.run_for(60_000)
    page.reload()
    expect(timer).to_contain_text(re.compile(r"2[89]:\d\d"))
    page.goto(address + "safety-rules.html")
    page.clock.run_for(30 * 60_000)
    expect(page.get_by_role("alert")).to_contain_text("Let it cool and rest: time was up")


def test_a_card_that_runs_breaks_no_rule_of_access_and_fits_in_large_text(visited, far_page, found_wrong):
    entries = next(page for page in PAGES if page.key == "parallel-card").worked_example
    open_with(far_page, visited.address, "parallel-card", entries)
    start_card(far_page)
    assert (found_wrong(far_page), too_wide(far_page)) == ([], [])


def test_a_card_is_printed_on_a5(visited, far_page):
    far_page.goto(visited.address + "first-charge-card.html")
    sheets = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", far_page.pdf(prefer_css_page_size=True))
    # ISO 216: A5 is 148 by 210 mm; a point is 1/72 inch of 25.4 mm. The browser rounds to whole pixels of 1/96 inch.
    assert 1 < len(sheets) <= 5
    assert {(abs(float(width) - 148 / 25.4 * 72) < 0.75, abs(float(height) - 210 / 25.4 * 72) < 0.75) for width, height in sheets} == {
        (True, True)
    }
