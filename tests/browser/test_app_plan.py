"""A plan is followed on the phone: it calls when a line is due, leads to the page that has the last word, and moves nothing that is on."""

import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.pilot import ASKED, end_card, fold, open_with, pause, start_card, type_readings
from site_builder.harness.store import REFUSES, forget, kept, lay_records, records, sealed, until_kept
from tests.browser.page_faults import faults_of_a_walk, low_targets, too_wide
from tests.browser.test_app_kept import FULL, Chromium
from tests.units.calc.sound_charge import BATTERY, CHARGER

LABEL = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "label_charge_rate_c": "1"}
DAY = CHARGER | BATTERY | {
    "charger_outputs": "2", "second_charger": "same", "aim": "soonest", "change_min": "3", "watched_charges": "2", "pack_degc": "20", "requested_rate_c": "1",
    "balance_plugs_into": "series", "join_length_m": "0.15", "join_area_mm2": "3.3", "day_begun": "new",
}  # fmt: skip
A_PLAN = {"page": "day-plan", "made": 0, "entries": {}, "until": None, "asked": None, "turns": []}
A_TURN = {
    "packs": ["1"], "ids": [""], "output": "1", "page": "charge-settings", "words": "Pack 1 alone, at 2.2 A", "begin": 0, "ready": 0, "latest": 0,
    "state": "waiting", "card": "", "looked": False,
}  # fmt: skip
NAMES = ("Copper", "Tin", "Zinc", "Nickel")
OUTPUTS = {"charger_current_a": "10", "charger_power_w": "300", "second_output_current_a": "1", "second_output_power_w": "50"}


def own_charger(name: str, *outputs: tuple[str, str]) -> dict[str, Any]:
    """A charger of one's own, with the amperes and the watts of each output."""
    shared = {field: text for field, text in CHARGER.items() if field not in OUTPUTS}
    each = {
        f"outputs_{number}_{field}": text
        for number, of_one in enumerate(outputs, 1)
        for field, text in zip(("charger_current_a", "charger_power_w"), of_one, strict=True)
    }
    return {"id": name.lower(), "name": name, "entries": shared | each, "dates": {}}


BENCH, SPARE = own_charger("Bench", ("10", "300"), ("1", "50")), own_charger("Spare", ("5", "60"))


def packs(count: int) -> dict[str, str]:
    return {
        f"packs_{number}_{name}": text
        for number in range(1, count + 1)
        for name, text in (LABEL | {"resting_v": " ".join([f"3.{69 + number % 5}"] * 3), "stands": "waiting"}).items()
    }


def followed_plan(page: Page, address: str, count: int = 4, chargers: tuple[dict[str, Any], ...] = (), **changes: str) -> None:
    """The plan of a day that begins now, with packs of one's own in its rows, and the first of one's own chargers picked, if there are any."""
    own = [{"id": name.lower(), "name": name, "entries": LABEL, "dates": {}} for name in NAMES]
    charger = {"charger": chargers[0]["id"], "output": "1"} if chargers else {}
    picked = sealed("picked", charger | {"packs": " ".join(name.lower() for name in NAMES[:count])})
    chosen = {"own charger": sealed("own charger", list(chargers))} if chargers else {}
    lay_records(page, address, chosen | {"own pack": sealed("own pack", own), "picked": picked})
    open_with(page, address, "day-plan", DAY | packs(count) | {"start_clock": f"{datetime.now():%H:%M}"} | changes)
    page.get_by_role("button", name="Follow this plan").click()
    expect(page.get_by_role("heading", name="The plan that you follow")).to_be_focused()


def at_noon(page: Page) -> tuple[str, int]:
    """Set a phone's clock to a noon, and return the address of its site and that moment, in milliseconds."""
    noon = datetime(2026, 5, 9, 12, 0)
    page.clock.install(time=noon)
    return page.url.rpartition("/")[0] + "/", round(noon.timestamp() * 1000)


def line(page: Page, name: str):
    return page.locator(".followed li").filter(has_text=f"{name} alone")


def look(page: Page) -> None:
    page.get_by_role("button", name="I have looked").first.click()


def put_first_on(page: Page, address: str) -> str:
    """Follow a plan, tap "Put on" of its first line, and return the name of its pack, which is picked then."""
    followed_plan(page, address)
    look(page)
    first = page.locator(".followed li").first
    [name] = re.findall("|".join(NAMES), first.inner_text())
    first.get_by_role("button", name="Put on").click()
    expect(page.locator(".own-picked")).to_contain_text(name)
    return name


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
    put_first_on(far_page, visited.address)
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


def entered(page: Page) -> dict[str, str]:
    """What the page of a plan has of both outputs."""
    return {name: page.locator(f"[name={name}]").input_value() for name in OUTPUTS}


@pytest.mark.parametrize("chargers", [(), (BENCH,)], ids=["typed", "own"])
def test_a_line_on_the_second_output_leads_to_a_page_with_what_that_output_gives_and_the_plan_keeps_both(visited, far_page, chargers):
    followed_plan(far_page, visited.address, chargers=chargers, **OUTPUTS)
    look(far_page)
    on_second = far_page.locator(".followed li").filter(has_text="output 2:").first
    on_second.get_by_role("button", name="Put on").click()
    expect(far_page).to_have_url(re.compile("charge-settings"))
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("1")
    expect(far_page.locator("[name=charger_power_w]")).to_have_value("50")
    assert far_page.locator("#picked-charger .own-picked").all_inner_texts() == [] or chargers
    if chargers:
        expect(far_page.locator("#picked-charger .own-picked")).to_contain_text("Bench, output 2")
    pause(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li").first).to_be_visible()
    assert entered(far_page) == OUTPUTS
    on_first = far_page.locator(".followed li").filter(has_text="output 1:").first
    on_first.get_by_role("button", name="Put on").click()
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("10")


def test_a_new_plan_after_a_line_on_the_second_output_has_both_outputs_as_they_were(visited, far_page):
    followed_plan(far_page, visited.address, chargers=(BENCH,), **OUTPUTS)
    look(far_page)
    far_page.locator(".followed li").filter(has_text="output 2:").first.get_by_role("button", name="Put on").click()
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("1")
    far_page.goto(visited.address + "day-plan.html")
    far_page.get_by_role("button", name="plan again").click()
    expect(far_page.locator("[name=day_begun]")).to_have_value("begun")
    assert entered(far_page) == OUTPUTS
    expect(far_page.locator("#picked-charger .own-picked")).to_contain_text("Bench")


def correct_bench(page: Page, address: str) -> None:
    """Correct the second output of the charger that is picked: it gives half of what was entered."""
    page.goto(address + "my-chargers.html?edit=bench")
    page.locator("summary", has_text="Output 2").click()
    page.locator("#own [name=outputs_2_charger_current_a]").fill("0.5")
    page.get_by_role("button", name="Keep it on this phone").click()
    expect(page.get_by_text("Bench is kept on this phone.")).to_be_visible()
    page.goto(address + "day-plan.html")


def test_a_charger_that_is_corrected_while_a_plan_is_followed_is_the_corrected_one_on_both_outputs_and_in_a_new_plan(visited, far_page):
    followed_plan(far_page, visited.address, chargers=(BENCH,), **OUTPUTS)
    look(far_page)
    correct_bench(far_page, visited.address)
    corrected = OUTPUTS | {"second_output_current_a": "0.5"}
    far_page.locator(".followed li").filter(has_text="output 2:").first.get_by_role("button", name="Put on").click()
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("0.5")
    expect(far_page.locator("#picked-charger .own-picked")).to_contain_text("Bench, output 2")
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li").first).to_be_visible()
    assert entered(far_page) == corrected
    far_page.get_by_role("button", name="plan again").click()
    expect(far_page.locator("[name=day_begun]")).to_have_value("begun")
    assert entered(far_page) == corrected
    expect(far_page.locator("#picked-charger .own-picked")).to_contain_text("Bench")


def test_a_plan_says_that_a_charger_it_was_made_of_was_corrected_since_until_it_is_planned_again(visited, far_page):
    followed_plan(far_page, visited.address, chargers=(BENCH,), **OUTPUTS)
    look(far_page)
    said = far_page.get_by_role("alert").filter(has_text="What is entered of Bench was changed after this plan was made.")
    expect(far_page.locator(".followed li").first).to_be_visible()
    expect(said).to_have_count(0)
    correct_bench(far_page, visited.address)
    expect(said).to_be_visible()
    far_page.get_by_role("button", name="plan again").click()
    far_page.get_by_role("button", name="Follow this plan").click()
    expect(far_page.get_by_role("heading", name="The plan that you follow")).to_be_focused()
    expect(said).to_have_count(0)


def test_a_pack_that_is_corrected_while_a_plan_is_followed_is_the_corrected_one_in_a_new_plan(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    far_page.goto(visited.address + "my-packs.html?edit=copper")
    far_page.locator("#own [name=capacity_mah]").fill("1800")
    far_page.get_by_role("button", name="Keep it on this phone").click()
    expect(far_page.get_by_text("Copper is kept on this phone.")).to_be_visible()
    far_page.goto(visited.address + "day-plan.html")
    far_page.get_by_role("button", name="plan again").click()
    expect(far_page.locator("[name=packs_1_capacity_mah]")).to_have_value("1800")
    expect(far_page.locator("#picked-rows")).to_contain_text("pack 1 below")


def test_an_own_charger_is_picked_with_both_outputs_where_a_plan_asks_for_both(visited, far_page):
    lay_records(far_page, visited.address, {"own charger": sealed("own charger", [BENCH, SPARE])})
    far_page.goto(visited.address + "day-plan.html")
    far_page.get_by_role("button", name="Bench").click()
    expect(far_page.locator("#picked-charger .own-picked b")).to_have_text("Bench")
    assert entered(far_page) == OUTPUTS
    expect(far_page.locator("[name=charger_outputs]")).to_have_value("2")
    fold(far_page, "The charger").click()
    for name in ("charger_outputs", *OUTPUTS):
        expect(far_page.locator(f"[name={name}]")).to_be_hidden()
    expect(far_page.locator("[name=all_outputs_w]")).to_be_visible()
    far_page.get_by_role("button", name="Change: Bench").click()
    far_page.get_by_role("button", name="Spare").click()
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("5")
    expect(far_page.locator("[name=charger_outputs]")).to_have_value("1")
    of_the_second = ("second_output_current_a", "second_output_power_w")
    for name in (*of_the_second, "all_outputs_w"):
        expect(far_page.locator(f"[name={name}]")).to_be_hidden()
    # The second output may be another charger's: it is asked, and empty.
    far_page.locator("[name=charger_outputs]").select_option("2")
    for name in of_the_second:
        expect(far_page.locator(f"[name={name}]")).to_have_value("")
        expect(far_page.locator(f"[name={name}]")).to_be_visible()
    far_page.locator("[name=second_output_current_a]").fill("2")
    expect(far_page.locator("#picked-charger .own-picked b")).to_have_text("Spare")


VAN = {"id": "van", "name": "Van", "entries": {"supply_kind": "vehicle", "battery_kind": "flooded", "battery_ah": "60", "lead_length_m": "2", "lead_area_mm2": "4 mm²"}, "dates": {}}  # fmt: skip
OF_VAN = {"second_supply": "own", "second_supply_kind": "vehicle", "second_battery_ah": "60", "second_lead_length_m": "2"}
OF_BENCH_2 = {
    "charger_outputs": "2", "second_charger": "another", "second_output_current_a": "1", "second_output_power_w": "50",
    "second_charger_cells": CHARGER["charger_cells"], "second_port_cells": CHARGER["port_cells"],
}  # fmt: skip


def values(page: Page, names: Iterable[str]) -> dict[str, str]:
    return {name: page.locator(f"[name={name}]").input_value() for name in names}


def test_a_second_charger_and_its_supply_are_picked_with_one_tap_each(visited, far_page):
    lay_records(
        far_page, visited.address, {"own charger": sealed("own charger", [SPARE, BENCH]), "own supply": sealed("own supply", [VAN])}
    )
    far_page.goto(visited.address + "day-plan.html")
    far_page.get_by_role("button", name="Spare").click()
    expect(far_page.locator("#picked-second_supply")).to_be_empty()
    far_page.get_by_text("Charge on a second one of my chargers too").click()
    second = far_page.locator("#picked-second_charger")
    expect(second.get_by_role("button", name="Spare")).to_have_count(0)
    second.get_by_role("button", name="Bench, output 2").click()
    expect(second.locator(".own-picked b")).to_have_text("Second charger: Bench, output 2")
    expect(far_page.locator("#picked-charger .own-picked b")).to_have_text("Spare")
    assert values(far_page, OF_BENCH_2) == OF_BENCH_2
    fold(far_page, "The charger").click()
    for name in OF_BENCH_2:
        expect(far_page.locator(f"[name={name}]")).to_be_hidden()
    far_page.get_by_text("Give it a supply of its own: pick one of mine").click()
    far_page.locator("#picked-second_supply").get_by_role("button", name="Van").click()
    expect(far_page.locator("#picked-second_supply .own-picked b")).to_have_text("Second supply: Van")
    assert values(far_page, OF_VAN) == OF_VAN
    fold(far_page, "What feeds the charger").click()
    expect(far_page.locator("[name=second_battery_ah]")).to_be_hidden()
    expect(far_page.locator("[name=second_battery_resting_v]")).to_be_visible()  # what is read is asked each time
    far_page.get_by_role("button", name="Change: Bench").click()
    far_page.get_by_role("button", name="One charger is enough").click()
    assert values(far_page, ("charger_outputs", "charger_current_a")) == {"charger_outputs": "1", "charger_current_a": "5"}
    expect(far_page.locator("[name=second_battery_ah]")).to_be_hidden()


def test_another_first_charger_with_one_output_keeps_the_second_and_one_with_two_is_both(visited, far_page):
    third = own_charger("Third", ("7", "70"))
    lay_records(far_page, visited.address, {"own charger": sealed("own charger", [SPARE, BENCH, third])})
    far_page.goto(visited.address + "day-plan.html")
    far_page.get_by_role("button", name="Spare").click()
    far_page.get_by_text("Charge on a second one of my chargers too").click()
    far_page.locator("#picked-second_charger").get_by_role("button", name="Bench, output 2").click()
    far_page.get_by_role("button", name="Change: Spare").click()
    far_page.locator("#picked-charger").get_by_role("button", name="Third").click()
    expect(far_page.locator("#picked-charger .own-picked b")).to_have_text("Third")
    expect(far_page.locator("#picked-second_charger .own-picked b")).to_have_text("Second charger: Bench, output 2")
    far_page.get_by_role("button", name="Change: Third").click()
    far_page.locator("#picked-charger").get_by_role("button", name="Bench").click()
    expect(far_page.locator("#picked-charger .own-picked b")).to_have_text("Bench")
    assert entered(far_page) == OUTPUTS
    expect(far_page.locator("[name=second_charger]")).to_have_value("same")
    expect(far_page.locator("#picked-second_charger")).to_be_empty()


def test_a_line_on_a_second_charger_leads_to_that_charger_and_its_supply_and_the_plan_keeps_both(visited, far_page):
    of_second = (
        OF_BENCH_2 | OF_VAN | {"second_battery_kind": "flooded", "second_battery_resting_v": "12.60", "second_lead_area_mm2": "4 mm²"}
    )
    followed_plan(far_page, visited.address, chargers=(SPARE, BENCH), **{"charger_current_a": "5", "charger_power_w": "60"} | of_second)
    look(far_page)
    far_page.locator(".followed li").filter(has_text="output 2:").first.get_by_role("button", name="Put on").click()
    expect(far_page).to_have_url(re.compile("charge-settings"))
    its = {"charger_current_a": "1", "supply_kind": "vehicle", "battery_ah": "60", "battery_resting_v": "12.60", "lead_length_m": "2"}
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("1")
    assert values(far_page, its) == its
    pause(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li").first).to_be_visible()
    assert values(far_page, of_second) == of_second
    assert values(far_page, ("charger_current_a", "battery_ah")) == {"charger_current_a": "5", "battery_ah": BATTERY["battery_ah"]}


def test_an_output_that_was_picked_for_one_pack_is_its_whole_charger_where_a_plan_asks_for_both(visited, far_page):
    lay_records(far_page, visited.address, {"own charger": sealed("own charger", [BENCH])})
    far_page.goto(visited.address + "charge-settings.html")
    far_page.get_by_role("button", name="Bench, output 2").click()
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("1")
    pause(far_page)
    far_page.goto(visited.address + "going-home.html")
    expect(far_page.locator("#picked-charger .own-picked b")).to_have_text("Bench")
    assert entered(far_page) == OUTPUTS
    expect(far_page.locator("#undo")).to_be_empty()


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
    expect(agenda.filter(has_text=f"{ready}, output 1")).not_to_have_count(0)
    far_page.get_by_role("button", name="Follow this plan").click()
    expect(far_page.locator(".followed li")).to_have_count(4)
    expect(far_page.locator(".followed li").first).to_contain_text("on since")


def test_a_card_that_is_started_from_a_line_puts_it_on_and_its_end_takes_it_off(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    far_page.locator(".followed li").first.get_by_role("button", name="Put on").click()
    start_charge_of_the_line(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li").first).to_contain_text("on since")
    far_page.goto(visited.address + "cards.html")
    end_card(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed")).to_contain_text("1 of 4 lines are done")


def start_charge_of_the_line(page: Page) -> None:
    """Read the pack that "Put on" has led to, and start its card."""
    expect(page.locator("#answer")).to_have_attribute("data-state", "partial")
    type_readings(page, "resting_v", "3.70 3.71 3.70")
    page.locator("[name=pack_degc]").fill("20")
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    page.get_by_role("link", name="Start the charging card").click()
    expect(page.get_by_role("heading", name="Compare the label in your hand")).to_be_focused()


def test_a_card_of_another_kind_or_of_another_pack_leaves_the_line_waiting(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    far_page.locator(".followed li").first.get_by_role("button", name="Put on").click()
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")
    far_page.goto(visited.address + "soldering-card.html")
    start_card(far_page)
    spare = DAY | LABEL | {"capacity_mah": "1500", "resting_v": "3.80 3.80 3.80"}
    open_with(far_page, visited.address, "charging-card", {name: text for name, text in spare.items() if name in ASKED})
    start_card(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li")).to_have_count(4)
    expect(far_page.locator(".followed .is-on")).to_have_count(0)


def test_a_line_of_a_pack_that_was_typed_goes_by_its_label(visited, far_page):
    open_with(far_page, visited.address, "day-plan", DAY | packs(2) | {"start_clock": f"{datetime.now():%H:%M}"})
    far_page.get_by_role("button", name="Follow this plan").click()
    look(far_page)
    far_page.locator(".followed li").first.get_by_role("button", name="Put on").click()
    start_charge_of_the_line(far_page)
    far_page.goto(visited.address + "day-plan.html")
    expect(far_page.locator(".followed li").first).to_contain_text("on since")


def test_whoever_picks_another_pack_has_gone_on_to_something_else(visited, far_page):
    name = put_first_on(far_page, visited.address)
    assert kept(far_page, "followed-plan")["asked"]["turn"] == 0
    other = NAMES[NAMES.index(name) - 1]
    far_page.goto(f"{visited.address}charge-settings.html?pick={other.lower()}")
    expect(far_page.locator(".own-picked")).to_contain_text(other)
    pause(far_page)
    assert kept(far_page, "followed-plan")["asked"] is None


def test_a_wall_clock_that_goes_back_makes_no_line_late(own_phone_page):
    address, now = at_noon(own_phone_page)
    turn = A_TURN | {"begin": now + 600_000, "ready": now + 1_200_000, "latest": now + 1_800_000}
    lay_records(own_phone_page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": now, "turns": [turn]})})
    own_phone_page.goto(address + "voltages.html")
    expect(own_phone_page.locator("h1")).to_be_visible()
    own_phone_page.clock.run_for(1_000)
    pause(own_phone_page)
    own_phone_page.goto("about:blank")
    own_phone_page.clock.set_system_time(datetime.fromtimestamp(now / 1000) - timedelta(hours=1))
    own_phone_page.goto(address + "voltages.html")
    expect(own_phone_page.locator("h1")).to_be_visible()
    own_phone_page.clock.run_for(660_000)
    expect(own_phone_page.get_by_role("alert").filter(has_text="Output 1: Pack 1 alone")).to_be_visible()


def test_a_plan_that_was_made_the_day_before_says_on_which(own_phone_page):
    noon = datetime(2026, 5, 9, 12, 0)
    own_phone_page.clock.set_fixed_time(noon)
    address = own_phone_page.url.rpartition("/")[0] + "/"
    made = round((noon - timedelta(hours=18)).timestamp() * 1000)
    lay_records(own_phone_page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": made, "turns": [A_TURN]})})
    own_phone_page.goto(address + "day-plan.html")
    expect(own_phone_page.get_by_text("Made at 18:00 on 8 May 2026.")).to_be_visible()


def test_the_hours_of_a_plan_and_of_an_alarm_are_those_of_the_zone_in_which_the_phone_is_now(own_phone_page):
    page, noon = own_phone_page, datetime(2026, 5, 9, 12, 0, 7, tzinfo=UTC)
    page.clock.install(time=noon)
    address = page.url.rpartition("/")[0] + "/"
    now = round(noon.timestamp() * 1000)
    turn = A_TURN | {"begin": now - 60_000, "ready": now + 3_600_000, "latest": now + 7_200_000}
    lay_records(page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": now - 120_000, "turns": [turn]})})
    page.goto(address + "day-plan.html")
    line, alarm = page.locator(".followed li"), page.get_by_role("alert").filter(has_text="by the plan")
    zone = page.context.new_cdp_session(page)
    for name, begins, ready in (("UTC", "11:59", "13:00"), ("Pacific/Kiritimati", "1:59", "3:00"), ("America/New_York", "7:59", "9:00")):
        zone.send("Emulation.setTimezoneOverride", {"timezoneId": ""})
        zone.send("Emulation.setTimezoneOverride", {"timezoneId": name})
        page.clock.run_for(11_000)
        expect(line).to_contain_text(f"{begins}, output 1")
        expect(line).to_contain_text(f"ready about {ready}")
        expect(alarm).to_contain_text(f"since {begins}")


@pytest.mark.parametrize("where", ["another tab", "nowhere"])
def test_a_page_that_slept_follows_no_plan_that_was_stopped_elsewhere_and_goes_on_with_one_that_the_store_has_lost(own_phone_page, where):
    page, address = own_phone_page, own_phone_page.url.rpartition("/")[0] + "/"
    now = page.evaluate("Date.now()")
    turn = A_TURN | {"begin": now, "ready": now + 3_600_000, "latest": now + 7_200_000}
    plan = sealed("followed-plan", A_PLAN | {"made": now, "turns": [turn]})
    lay_records(page, address, {"followed-plan": plan})
    page.add_init_script("delete window.BroadcastChannel")  # it hears of nothing meanwhile
    page.goto(address + "day-plan.html")
    expect(page.locator(".followed li")).to_have_count(1)
    if where == "another tab":
        other = page.context.new_page()
        other.goto(address + "day-plan.html")
        other.get_by_role("button", name="Stop following it").click()
        until_kept(other, "followed-plan", sealed("followed-plan", None))
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(page.locator(".followed li")).to_have_count(0)
    else:
        forget(page)
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        until_kept(page, "followed-plan", plan)
        expect(page.locator(".followed li")).to_have_count(1)


def test_what_is_still_on_past_its_latest_hour_calls_for_a_new_plan(own_phone_page):
    own_phone_page.clock.install()
    address = own_phone_page.url.rpartition("/")[0] + "/"
    now = own_phone_page.evaluate("Date.now()")
    turn = A_TURN | {"begin": now, "ready": now + 60_000, "latest": now + 120_000, "state": "on"}
    lay_records(own_phone_page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": now, "turns": [turn]})})
    own_phone_page.goto(address + "voltages.html")
    own_phone_page.clock.run_for(70_000)
    expect(own_phone_page.get_by_role("alert").filter(has_text="Output 1 is ready")).to_be_visible()
    own_phone_page.clock.run_for(60_000)
    expect(own_phone_page.get_by_role("alert").filter(has_text="plan again")).to_be_visible()


def test_where_one_charge_is_watched_a_late_one_holds_back_the_line_on_the_other_output(own_phone_page):
    address, now = at_noon(own_phone_page)
    late = A_TURN | {"begin": now, "ready": now + 600_000, "latest": now + 900_000, "state": "on"}
    next_one = A_TURN | {
        "output": "2",
        "words": "once output 1 is ready, Pack 2 alone",
        "begin": now + 60_000,
        "ready": now + 120_000,
        "latest": now + 180_000,
    }
    last = A_TURN | {"words": "Pack 3 alone", "begin": now + 200_000, "ready": now + 300_000, "latest": now + 400_000}
    plan = A_PLAN | {"made": now, "oneAtATime": True, "turns": [late, next_one, last]}
    lay_records(own_phone_page, address, {"followed-plan": sealed("followed-plan", plan)})
    own_phone_page.goto(address + "day-plan.html")
    own_phone_page.clock.run_for(70_000)
    lines = own_phone_page.locator(".followed li")
    expect(lines.nth(1)).to_contain_text("12:10, output 2: once output 1 is ready, Pack 2 alone")
    expect(lines.nth(2)).to_contain_text("12:10, output 1: Pack 3 alone")  # what is on must end first
    expect(lines.nth(2).get_by_role("button")).to_have_count(0)  # its own output is on, and the other comes first
    expect(own_phone_page.get_by_role("alert").filter(has_text="Output 2")).to_have_count(0)
    own_phone_page.clock.run_for(540_000)
    expect(own_phone_page.get_by_role("alert").filter(has_text="Output 2: once output 1 is ready, Pack 2 alone")).to_be_visible()
    lines.nth(1).get_by_role("button", name="It is on").click()
    expect(lines.nth(1)).to_contain_text("Pack 2 alone on since")
    expect(lines.nth(1)).not_to_contain_text("once output")


def test_a_line_that_waits_for_the_power_of_the_other_output_is_put_on_meanwhile_and_no_sooner(own_phone_page):
    address, now = at_noon(own_phone_page)
    late = A_TURN | {"begin": now, "ready": now + 600_000, "latest": now + 900_000, "state": "on"}
    waits = {"output": "2", "waitsFor": "1", "putOn": 180_000, "words": "to start once output 1 is ready, Pack 2 alone"}
    hours = {"begin": now + 60_000, "ready": now + 300_000, "latest": now + 400_000}
    lay_records(
        own_phone_page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": now, "turns": [late, A_TURN | waits | hours]})}
    )
    own_phone_page.goto(address + "day-plan.html")
    own_phone_page.clock.run_for(70_000)
    lines = own_phone_page.locator(".followed li")
    # The other is ready at 12:10, and to put it on takes three minutes.
    expect(lines.nth(1)).to_contain_text("12:07, output 2: to start once output 1 is ready, Pack 2 alone")
    calls = own_phone_page.get_by_role("alert").filter(has_text="Output 2")
    expect(calls).to_have_count(0)
    own_phone_page.clock.run_for(360_000)
    expect(calls).to_be_visible()
    lines.nth(1).get_by_role("button", name="It is on").click()
    expect(lines.nth(1)).to_contain_text("Pack 2 alone on since")
    expect(lines.nth(1)).not_to_contain_text("to start")


def test_a_plan_keeps_which_line_waits_for_the_power_of_the_other_output(visited, far_page):
    large = {"capacity_mah": "5000", "resting_v": "3.60 3.60 3.60"}
    rows = {f"packs_{number}_{name}": text for number in (1, 3) for name, text in large.items()} | {"packs_2_capacity_mah": "1300"}
    followed_plan(
        far_page,
        visited.address,
        3,
        charger_power_w="200",
        second_output_current_a="",
        second_output_power_w="",
        all_outputs_w="100",
        **rows,
    )
    assert [(turn["waitsFor"], turn["putOn"]) for turn in kept(far_page, "followed-plan")["turns"]] == [("", 0), ("", 0), ("1", 180_000)]


def test_a_plan_of_one_charge_at_a_time_is_followed_as_one(visited, far_page):
    followed_plan(far_page, visited.address, watched_charges="1", second_output_current_a="1")
    assert kept(far_page, "followed-plan")["oneAtATime"] is True


def lay_plan(page: Page, address: str, version: int = 1) -> None:
    """A plan of one line that waits, as it lies on a phone, and its page."""
    now = round(datetime.now().timestamp() * 1000)
    turn = A_TURN | {"begin": now + 600_000, "ready": now + 1_200_000, "latest": now + 1_800_000}
    lay_records(page, address, {"followed-plan": sealed("followed-plan", A_PLAN | {"made": now, "turns": [turn]}, version)})
    page.goto(address + "day-plan.html")


def put_on(page: Page) -> None:
    page.get_by_role("button", name="It is on").click()
    expect(page.locator(".followed li")).to_contain_text("on since")


def test_a_line_that_is_on_is_on_after_the_browser_was_killed(playwright, browser_program, site, tmp_path):
    killed = Chromium(playwright, browser_program, tmp_path / "profile")
    lay_plan(killed.page, site.address)
    put_on(killed.page)
    killed.kill()
    after = Chromium(playwright, browser_program, tmp_path / "profile")
    after.page.goto(site.address + "day-plan.html")
    expect(after.page.locator(".followed li")).to_contain_text("on since")
    after.kill()


def test_on_a_full_phone_the_plan_goes_on_and_one_sentence_says_so(visited, far_page):
    page = far_page
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    lay_plan(page, visited.address)
    page.add_init_script(FULL)
    page.reload()
    put_on(page)
    expect(page.get_by_text("Your last change could not be kept on this phone")).to_have_count(1)
    page.get_by_role("button", name="It is off").click()
    expect(page.locator(".followed")).to_contain_text("1 of 1 lines are done")
    expect(page.get_by_text("Your last change could not be kept on this phone")).to_have_count(1)
    assert [turn["state"] for turn in kept(page, "followed-plan")["turns"]] == ["waiting"]  # what was on the disk is whole
    assert faults == []


def test_where_nothing_can_be_kept_a_plan_is_followed_while_its_page_is_open(visited, far_page):
    page = far_page
    page.add_init_script(REFUSES)
    open_with(page, visited.address, "day-plan", DAY | packs(2) | {"start_clock": f"{datetime.now():%H:%M}"})
    page.get_by_role("button", name="Follow this plan").click()
    expect(page.locator(".followed li")).to_have_count(2)
    expect(page.get_by_text("This browser keeps nothing for Fieldslate")).to_have_count(1)


def test_two_tabs_follow_one_plan(visited, far_page):
    lay_plan(far_page, visited.address)
    other = visited.phone.new_page()
    other.goto(visited.address + "day-plan.html")
    expect(other.locator(".followed li")).to_have_count(1)
    put_on(far_page)
    expect(other.locator(".followed li")).to_contain_text("on since")
    other.get_by_role("button", name="It is off").click()
    expect(far_page.locator(".followed")).to_contain_text("1 of 1 lines are done")
    other.close()


def test_a_plan_that_was_stopped_says_so_and_is_followed_again_by_one_tap(visited, far_page):
    followed_plan(far_page, visited.address)
    look(far_page)
    far_page.locator(".followed li").first.get_by_role("button", name="It is on").click()
    expect(far_page.locator(".followed li.is-on")).to_have_count(1)
    plan = kept(far_page, "followed-plan")
    far_page.get_by_role("button", name="Stop following it").press("Enter")
    again = far_page.get_by_role("button", name="Follow it again")
    expect(again).to_be_focused()
    expect(far_page.get_by_role("region", name="You follow this plan no longer: nothing of it calls.")).to_be_visible()
    assert kept(far_page, "followed-plan") is None
    again.press("Enter")
    expect(far_page.get_by_role("heading", name="The plan that you follow")).to_be_focused()
    assert kept(far_page, "followed-plan") == plan
    far_page.get_by_role("button", name="Stop following it").click()
    far_page.reload()
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(again).to_have_count(0)


def test_a_plan_of_another_version_is_put_aside_and_named_once(visited, far_page):
    lay_plan(far_page, visited.address, version=2)
    expect(far_page.get_by_text("damaged, and put aside: the plan that you follow.")).to_have_count(1)
    expect(far_page.locator(".followed")).to_be_hidden()
    assert records(far_page)["aside followed-plan"]["version"] == 2


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
