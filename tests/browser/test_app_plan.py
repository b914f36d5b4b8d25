"""A plan is followed on the phone: it calls when a line is due, leads to the page that has the last word, and moves nothing that is on."""

import re
from datetime import datetime

from playwright.sync_api import Page, expect

from site_builder.harness.pilot import end_card, open_with, pause, type_readings
from site_builder.harness.store import lay_records, sealed
from tests.browser.page_faults import faults_of_a_walk, low_targets, too_wide
from tests.units.calc.sound_charge import BATTERY, CHARGER

LABEL = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "label_charge_rate_c": "1"}
DAY = CHARGER | BATTERY | {
    "charger_outputs": "2", "aim": "soonest", "change_min": "3", "watched_charges": "2", "pack_degc": "20", "requested_rate_c": "1",
    "balance_plugs_into": "series", "join_length_m": "0.15", "join_area_mm2": "3.3", "day_begun": "new",
}  # fmt: skip
A_PLAN = {"page": "day-plan", "made": 0, "entries": {}, "until": None, "asked": None, "turns": []}
NAMES = ("Copper", "Tin", "Zinc", "Nickel")


def packs(count: int) -> dict[str, str]:
    return {
        f"packs_{number}_{name}": text
        for number in range(1, count + 1)
        for name, text in (LABEL | {"resting_v": " ".join([f"3.{69 + number % 5}"] * 3), "stands": "waiting"}).items()
    }


def followed_plan(page: Page, address: str, count: int = 4, **changes: str) -> None:
    """The plan of a day that begins now, with packs of one's own in its rows."""
    own = [{"id": name.lower(), "name": name, "entries": LABEL, "dates": {}} for name in NAMES]
    picked = sealed("picked", {"packs": " ".join(name.lower() for name in NAMES[:count])})
    lay_records(page, address, {"own pack": sealed("own pack", own), "picked": picked})
    open_with(page, address, "day-plan", DAY | packs(count) | {"start_clock": f"{datetime.now():%H:%M}"} | changes)
    page.get_by_role("button", name="Follow this plan").click()
    expect(page.get_by_role("heading", name="The plan that you follow")).to_be_focused()


def line(page: Page, name: str):
    return page.locator(".followed li").filter(has_text=f"{name} alone")


def look(page: Page) -> None:
    page.get_by_role("button", name="I have looked").first.click()


def test_a_plan_names_the_pilot_s_own_packs_and_calls_on_every_page_when_a_line_is_due(visited, far_page):
    followed_plan(far_page, visited.address)
    assert all(re.search("|".join(NAMES), text) for text in far_page.locator(".followed li").all_inner_texts())
    far_page.goto(visited.address + "voltages.html")
    alarm = far_page.get_by_role("alert").filter(has_text="Output 1:")
    expect(alarm).to_contain_text("by the plan")
    look(far_page)
    expect(alarm).to_have_count(0)
    far_page.reload()
    expect(far_page.locator("h1")).to_be_visible()
    pause(far_page)
    expect(alarm).to_have_count(0)


def test_a_line_leads_to_the_charge_page_with_its_pack_and_nothing_that_was_read_of_it(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    first = far_page.locator(".followed li").first
    [name] = re.findall("|".join(NAMES), first.inner_text())
    first.get_by_role("button", name="Put on").click()
    expect(far_page.locator(".own-picked")).to_contain_text(name)
    for field in ("resting_v", "pack_degc"):
        expect(far_page.locator(f"[name={field}]")).to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")


def test_two_packs_that_go_on_together_are_both_in_the_rows_of_their_own_page_and_unread(visited, far_page):
    alike = {f"packs_{number}_resting_v": "3.70 3.70 3.70" for number in (1, 2)}
    followed_plan(far_page, visited.address, 2, charger_outputs="1", joined_by="series", **alike)
    look(far_page)
    far_page.get_by_role("button", name="Put on").click()
    expect(far_page).to_have_url(re.compile("packs-in-series"))
    for number in (1, 2):
        expect(far_page.locator(f"[name=packs_{number}_capacity_mah]")).to_have_value("2200")
        expect(far_page.locator(f"[name=packs_{number}_resting_v]")).to_have_value("")
    expect(far_page.locator("#picked-rows")).to_contain_text("pack 2 below")


def test_a_new_plan_moves_nothing_that_is_on_and_keeps_what_waits(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    first = far_page.locator(".followed li").first
    [name] = re.findall("|".join(NAMES), first.inner_text())
    row = NAMES.index(name) + 1
    first.get_by_role("button", name="It is on").click()
    expect(first).to_contain_text("on since")
    [ready] = re.findall(r"ready about (\d+:\d\d)", first.inner_text())
    far_page.get_by_role("button", name="plan again").click()
    expect(far_page.locator(f"[name=packs_{row}_stands]")).to_have_value("output_1")
    expect(far_page.locator("[name=output_1_ready_clock]")).to_have_value(ready)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    agenda = far_page.locator("#answer-body .agenda li")
    expect(agenda).to_have_count(3)
    assert f"{ready}, output 1" in " ".join(agenda.all_inner_texts())
    far_page.get_by_role("button", name="Follow this plan").click()
    expect(far_page.locator(".followed li")).to_have_count(4)
    expect(far_page.locator(".followed li").first).to_contain_text("on since")


def test_a_card_that_is_started_from_a_line_puts_it_on_and_its_end_takes_it_off(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    far_page.locator(".followed li").first.get_by_role("button", name="Put on").click()
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")
    type_readings(far_page, "resting_v", "3.70 3.71 3.70")
    far_page.locator("[name=pack_degc]").fill("20")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.get_by_role("link", name="Start the charging card").click()
    expect(far_page.get_by_role("heading", name="Compare the label in your hand")).to_be_focused()
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li").first).to_contain_text("on since")
    far_page.goto(visited.address + "cards.html")
    end_card(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed")).to_contain_text("1 of 4 lines are done")


def test_what_is_still_on_past_its_latest_hour_calls_for_a_new_plan(own_phone_page):
    own_phone_page.clock.install()
    address = own_phone_page.url.rpartition("/")[0] + "/"
    now = own_phone_page.evaluate("Date.now()")
    turn = {
        "packs": ["1"], "ids": [""], "output": "1", "page": "charge-settings", "words": "Pack 1 alone, at 2.2 A", "begin": now, "ready": now + 60_000,
        "latest": now + 120_000, "state": "on", "card": "", "looked": False,
    }  # fmt: skip
    lay_records(own_phone_page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": now, "turns": [turn]})})
    own_phone_page.goto(address + "voltages.html")
    own_phone_page.clock.run_for(70_000)
    expect(own_phone_page.get_by_role("alert").filter(has_text="Output 1 is ready")).to_be_visible()
    own_phone_page.clock.run_for(60_000)
    expect(own_phone_page.get_by_role("alert").filter(has_text="plan again")).to_be_visible()


def test_a_plan_that_is_damaged_is_put_aside_and_named(visited, far_page):
    lay_records(far_page, visited.address, {"followed-plan": sealed("followed-plan", A_PLAN | {"turns": [{"packs": "1"}]})})
    far_page.goto(visited.address + "day-plan.html")
    expect(
        far_page.get_by_text("Something that was kept on this phone is damaged, and put aside: the plan that you follow.")
    ).to_be_visible()


def test_a_plan_prints_on_one_sheet(visited, far_page):
    open_with(far_page, visited.address, "day-plan", DAY | packs(12) | {"start_clock": "9:00"})
    expect(far_page.get_by_role("button", name="Follow this plan")).to_be_visible()
    assert len(re.findall(rb"/Type\s*/Page\b", far_page.pdf(format="A4"))) == 1


def test_a_plan_that_is_followed_is_accessible(visited, far_page, found_wrong):
    followed_plan(far_page, visited.address)
    look(far_page)
    assert (found_wrong(far_page), low_targets(far_page), too_wide(far_page), faults_of_a_walk(far_page)) == ([], [], [], [])
