"""The log of a pack: a line is on the disk before it shows as kept, stays its own pack's, and feeds what reckons with it."""

import json
import re
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.content import PAGES
from site_builder.harness.pilot import club_entries, end_card, lay_entries, open_with, pause, start_card, tick_steps
from site_builder.harness.store import REFUSES, WITHOUT_SCRIPTS, kept, lay_records, records, sealed
from tests.browser.page_faults import faults_of_a_walk, low_targets, too_wide
from tests.browser.phones import NO_SERVICE_WORKER
from tests.browser.test_app_kept import FULL, Chromium
from tests.browser.test_app_own import LABEL, check_cells, own_pack, read_now, tick_pack
from tests.units.calc.joined_charge import REST

ENTRIES = {name: text for name, text in club_entries("brass-heron", "small", "field-battery").items() if not name.startswith("label_")}
NOON = datetime(2026, 5, 9, 12, 0, 7)
SEVEN = [
    ("2024-05-12", "5000"), ("2024-08-12", "4900"), ("2024-11-12", "4800"), ("2025-02-12", "4700"),
    ("2025-05-12", "4600"), ("2025-08-12", "4500"), ("2025-11-12", "4400"),
]  # fmt: skip


def line(key: str, day: str, kind: str = "charge", note: str = "", **entries: str) -> dict:
    return {"id": key, "entries": {"day": day, "kind": kind} | entries, "note": note}


def lay_log(page: Page, address: str, *lines: dict, pack: str = "Copper", **more: dict) -> None:
    """One pack and its log, as a phone has them."""
    key = f"log {pack.lower()}"
    lay_records(
        page, address, {"own pack": sealed("own pack", [own_pack("Copper"), own_pack("Tin")]), key: sealed(key, list(lines))} | more
    )


def write_line(page: Page, address: str, day: str, **entries: str) -> None:
    page.goto(address + "my-packs.html?log=copper&line=new")
    page.get_by_label("Day").fill(day)
    for name, text in entries.items():
        page.locator(f"#own [name={name}]").fill(text)
    page.get_by_role("button", name="Keep this line").click()
    expect(page.get_by_text("The line is kept on this phone.")).to_be_visible()


def lines_shown(page: Page) -> list[str]:
    return page.locator(".own-log b").all_text_contents()


def test_a_line_that_was_confirmed_is_there_after_the_browser_was_killed(playwright, browser_program, site, tmp_path):
    killed = Chromium(playwright, browser_program, tmp_path / "profile")
    lay_log(killed.page, site.address)
    write_line(killed.page, site.address, "2026-05-03", put_in_mah="1840", from_v="3.71 3.72 3.70 3.71", own_note="windy")
    killed.kill()
    after = Chromium(playwright, browser_program, tmp_path / "profile")
    after.page.goto(site.address + "my-packs.html?log=copper")
    expect(after.page.locator(".own-log a")).to_contain_text(
        re.compile(r"3 May 2026 · Charge.*3.71 3.72 3.70 3.71\sV\s· Charge put in 1840\smAh\s· windy")
    )
    after.kill()


def test_a_second_tap_of_a_cold_finger_adds_no_second_line(visited, far_page):
    lay_log(far_page, visited.address)
    far_page.goto(visited.address + "my-packs.html?id=copper")
    far_page.get_by_role("button", name="Charged").dblclick()
    expect(far_page.get_by_text("It is a line in the log.")).to_be_visible()
    far_page.get_by_role("button", name="Charged").click()
    pause(far_page)
    assert len(kept(far_page, "log copper")) == 1


def charge_of_copper(page: Page, address: str) -> None:
    """Start a charging card of Copper, and tick it until its charge runs."""
    entries = {name: text for name, text in ENTRIES.items() if name not in LABEL | {"chemistry": "lipo"}}
    page.goto(address + "charging-card.html?pick=copper")
    expect(page.locator(".own-picked")).to_contain_text("Copper")
    lay_entries(page, entries | {"resting_v": "3.71 3.71 3.71 3.71"})
    start_card(page)
    tick_steps(page, "First look", count="4")


def test_a_card_that_waited_for_days_says_nothing_of_its_minutes_and_the_log_still_gives_numbers(own_phone_page):
    page, address = own_phone_page, own_phone_page.url
    page.clock.install(time=NOON)
    lay_log(page, address)
    charge_of_copper(page, address)
    page.clock.set_system_time(NOON + timedelta(days=2))
    expect(page.get_by_role("alert").first).to_be_visible()  # it comes to lie on the buttons, and takes the tap that is on its way to one
    end_card(page)
    [left] = kept(page, "log copper")
    assert set(left["entries"]) == {"day", "kind", "from_v", "line_degc"}
    page.goto(address + "ageing.html?pick=copper")
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")


def test_a_note_of_a_card_is_no_longer_in_the_log_than_a_file_takes(visited, far_page):
    lay_log(far_page, visited.address)
    charge_of_copper(far_page, visited.address)
    tick_steps(far_page, "Write it down")
    far_page.locator("#running-cards textarea").first.fill("x" * 10_500)
    pause(far_page)
    end_card(far_page)
    far_page.goto(visited.address + "save-and-share.html")
    with far_page.expect_download() as saved:
        far_page.get_by_role("button", name="Save all as one file").click()
    file = json.loads(saved.value.path().read_text(encoding="utf-8"))
    assert [pack["name"] for pack in file["packs"]] == ["Copper", "Tin"]
    expect(far_page.locator("#file-said")).to_have_text("All of it is in one file now.")


@pytest.mark.parametrize("fault", [REFUSES, FULL], ids=["refused", "full"])
def test_where_nothing_can_be_kept_the_line_says_so(phone, site, fault):
    phone.add_init_script(NO_SERVICE_WORKER)
    page = phone.new_page()
    lay_log(page, site.address)
    page.add_init_script(fault)
    if fault == REFUSES:  # no pack is there either: there is no log to write to
        page.goto(site.address + "my-packs.html?log=copper&line=new")
        expect(page.get_by_role("button", name="Keep this line")).to_have_count(0)
        return
    page.goto(site.address + "my-packs.html?log=copper&line=new")
    page.get_by_role("button", name="Keep this line").click()
    expect(page.get_by_text("The line is there until this page is closed")).to_be_visible()
    expect(page.get_by_text("Your last change could not be kept on this phone")).to_have_count(1)


def test_two_tabs_that_write_at_once_lose_neither_line(visited, far_page):
    lay_log(far_page, visited.address)
    other = visited.phone.new_page()
    pages = [far_page, other]
    for number, page in enumerate(pages, 1):
        page.goto(visited.address + "my-packs.html?log=copper&line=new")
        page.get_by_label("Day").fill(f"2026-05-0{number}")
    for page in pages:
        page.evaluate("() => void setTimeout(() => document.querySelector('#own [type=submit]').click(), 300)")
    for page in pages:
        expect(page.locator(".own-log li")).to_have_count(2)
        assert lines_shown(page) == ["2 May 2026 · Charge", "1 May 2026 · Charge"]
    other.close()


def test_a_damaged_log_loses_the_lines_of_its_own_pack_alone(visited, far_page):
    damaged = {"version": 1, "checksum": 1, "value": "[]"}
    tin = sealed("log tin", [line("a", "2026-05-03")])
    lay_log(far_page, visited.address, **{"log copper": damaged, "log tin": tin})
    far_page.goto(visited.address + "my-packs.html?log=copper")
    expect(far_page.get_by_text("is damaged, and put aside: the log of Copper.")).to_be_visible()
    far_page.goto(visited.address + "my-packs.html?log=tin")
    expect(far_page.locator(".own-log li")).to_have_count(1)
    assert records(far_page)["aside log copper"] == damaged


def test_what_a_former_version_kept_of_ended_cards_becomes_lines_once(visited, far_page):
    before = own_pack("Copper", records=[{"ended": 1_746_273_600_000, "lines": ["Charge current: 5.0 A", "Every step was ticked."]}])
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [before])})
    for _ in range(2):
        far_page.goto(visited.address + "my-packs.html?log=copper")
        expect(far_page.locator(".own-log a")).to_contain_text("3 May 2025 · Something else")
        expect(far_page.locator(".own-log a")).to_contain_text("Charge current: 5.0 A; Every step was ticked.")
        far_page.reload()
    assert kept(far_page, "own pack")[0]["records"] == []


def test_a_line_is_corrected_and_taken_out_and_comes_back_as_it_was(visited, far_page):
    lay_log(far_page, visited.address, line("a", "2026-05-03", put_in_mah="1840", note="windy"), line("b", "2026-05-04", "flight"))
    far_page.goto(visited.address + "my-packs.html?log=copper")
    far_page.get_by_role("link", name="3 May 2026").click()
    expect(far_page.locator("#own [name=put_in_mah]")).to_have_value("1840")
    far_page.locator("#own [name=put_in_mah]").fill("1480")
    far_page.get_by_role("button", name="Keep this line").click()
    expect(far_page.get_by_role("link", name="3 May 2026")).to_contain_text("1480\u00a0mAh · windy")
    far_page.get_by_role("link", name="3 May 2026").click()
    far_page.get_by_role("button", name="Take this line out").click()
    expect(far_page.locator(".own-log li")).to_have_count(1)
    far_page.get_by_role("button", name="Put back").click()
    expect(far_page.get_by_role("link", name="3 May 2026")).to_contain_text("1480\u00a0mAh · windy")
    assert {one["id"] for one in kept(far_page, "log copper")} == {"a", "b"}


def test_what_was_measured_last_goes_to_every_calculator_with_its_day(visited, far_page):
    lay_log(far_page, visited.address)
    write_line(far_page, visited.address, "2026-05-03", measured_capacity_mah="4400", cell_resistance_mohm="4.1")
    write_line(far_page, visited.address, "2026-01-01", measured_capacity_mah="4900")
    far_page.goto(visited.address + "my-packs.html?id=copper")
    expect(far_page.locator(".own-dates")).to_contain_text("Capacity as last measured: 4400\u00a0mAh, 3 May 2026")
    far_page.get_by_role("link", name="Charge it").click()
    expect(far_page.locator("[name=measured_capacity_mah]")).to_have_value("4400")
    expect(far_page.locator("[name=cell_resistance_mohm]")).to_have_value("4.1")
    expect(far_page.locator("#picked")).to_contain_text("4400\u00a0mAh, 3 May 2026")


def test_a_line_of_a_day_to_come_gives_way_to_what_was_measured_before_and_after_it(visited, far_page):
    ahead = line("ahead", "2999-05-03", "check", measured_capacity_mah="5000", cell_resistance_mohm="3")
    typed = own_pack("Copper", entries=LABEL | {"measured_capacity_mah": "4500"}, dates={"measured_capacity_mah": NOON.timestamp() * 1000})
    lay_log(far_page, visited.address, ahead, **{"own pack": sealed("own pack", [typed])})
    write_line(far_page, visited.address, "2024-05-03", cell_resistance_mohm="4.1")
    assert kept(far_page, "own pack")[0]["entries"]["measured_capacity_mah"] == "4500"
    assert kept(far_page, "own pack")[0]["entries"]["cell_resistance_mohm"] == "4.1"


def test_a_measurement_that_is_taken_out_no_longer_counts(visited, far_page):
    lay_log(far_page, visited.address)
    write_line(far_page, visited.address, "2026-05-03", measured_capacity_mah="4400")
    far_page.get_by_role("link", name="3 May 2026").click()
    far_page.get_by_role("button", name="Take this line out").click()
    expect(far_page.get_by_role("button", name="Put back")).to_be_focused()
    assert "measured_capacity_mah" not in kept(far_page, "own pack")[0]["entries"]


def start_charge_of_copper(page: Page, address: str) -> None:
    lay_log(page, address)
    page.goto(address + "charge-settings.html?pick=copper")
    read_now(page)
    page.goto(address + "charging-card.html")
    start_card(page)


def test_a_charge_that_was_ticked_to_its_end_leaves_one_line_and_taking_the_end_back_takes_it(visited, far_page):
    start_charge_of_copper(far_page, visited.address)
    tick_steps(far_page, "First look", count="4")
    end_card(far_page)
    expect(far_page.get_by_role("link", name="Add what the charger counted to its log")).to_be_visible()
    [one] = kept(far_page, "log copper")
    assert one["entries"]["from_v"] == "3.71 3.72 3.70 3.71"
    assert one["entries"]["line_degc"] == "18"
    assert one["entries"]["kind"] == "other"  # it was not ticked to its end
    far_page.get_by_role("button", name="Take the end back").click()
    expect(far_page.locator("#card-now-title")).to_be_visible()
    assert kept(far_page, "log copper") == []


# Notes which records each transaction writes.
WATCHES_WRITES = """
  window.writes = [];
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (record, name) {
    if (!this.transaction.names) window.writes.push((this.transaction.names = []));
    this.transaction.names.push(name);
    return put.call(this, record, name);
  };
"""


def start_charge_of_tin_and_zinc(page: Page, address: str, way: str) -> None:
    packs = [own_pack(name) for name in ("Copper", "Tin", "Zinc")]
    lay_records(page, address, {"own pack": sealed("own pack", packs)})
    page.goto(address + "charge-settings.html?pick=copper")
    page.goto(address + f"packs-in-{way}.html")
    for name in ("Tin", "Zinc"):
        tick_pack(page, name).check()
    read = {
        f"packs_{row}_{name}": text for row in "12" for name, text in {"resting_v": f"3.80 3.80 3.80 3.8{row}", "pack_degc": "25"}.items()
    }
    lay_all(page, REST | read)
    page.goto(address + f"{way}-card.html")
    start_card(page)
    expect(page.locator(".card-strip")).to_contain_text("Tin, Zinc")


@pytest.mark.parametrize(("way", "cells"), [("series", "8"), ("parallel", "4")])
def test_a_charge_of_several_packs_is_noted_of_each_of_them_and_not_of_the_one_picked_elsewhere(visited, far_page, way, cells):
    far_page.add_init_script(WATCHES_WRITES)
    start_charge_of_tin_and_zinc(far_page, visited.address, way)
    tick_steps(far_page, "Every step is ticked", count=cells)
    far_page.get_by_role("button", name="End this card and keep its record").click()
    expect(far_page.locator(".card-ended a")).to_have_text(["Add to the log of Tin", "Add to the log of Zinc"])
    assert {"own pack", "log tin", "log zinc", "running-cards", "card-records"} in map(set, far_page.evaluate("window.writes"))
    assert [pack.get("state", ["as it was"])[0] for pack in kept(far_page, "own pack")] == ["as it was", "charged", "charged"]
    [tin], [zinc] = kept(far_page, "log tin"), kept(far_page, "log zinc")
    assert [one["entries"]["kind"] for one in (tin, zinc)] == ["charge", "charge"]
    assert [one["entries"]["from_v"] for one in (tin, zinc)] == ["3.80 3.80 3.80 3.81", "3.80 3.80 3.80 3.82"]
    assert [one["note"] for one in (tin, zinc)] == ["Charged together with Zinc", "Charged together with Tin"]
    assert not any("put_in_mah" in one["entries"] for one in (tin, zinc))  # it went into both
    assert "log copper" not in records(far_page)
    far_page.get_by_role("button", name="Take the end back").click()
    expect(far_page.locator("#card-now-title")).to_be_visible()
    assert kept(far_page, "log tin") == kept(far_page, "log zinc") == []
    assert not any("state" in pack for pack in kept(far_page, "own pack"))


def lay_all(page: Page, entries: dict[str, str]) -> None:
    page.evaluate(
        """entries => {
          const { elements } = document.getElementById("entries");
          for (const [name, text] of Object.entries(entries)) {
            if (!elements.namedItem(name)) continue;
            elements.namedItem(name).value = text;
            elements.namedItem(name).dispatchEvent(new Event("input", { bubbles: true }));
          }
        }""",
        entries,
    )
    pause(page)


def test_a_card_of_packs_of_which_none_is_ticked_notes_nothing_of_the_one_picked_elsewhere(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Copper")])})
    far_page.goto(visited.address + "charge-settings.html?pick=copper")
    pause(far_page)
    travelling = next(page for page in PAGES if page.key == "travelling-card")
    open_with(far_page, visited.address, travelling.key, travelling.worked_example)
    start_card(far_page)
    end_card(far_page)
    assert "log copper" not in records(far_page)
    expect(far_page.locator(".card-ended a")).to_have_count(0)


def test_a_card_that_a_former_version_kept_still_notes_its_pack(visited, far_page):
    start_charge_of_copper(far_page, visited.address)
    [card] = kept(far_page, "running-cards")["running"]
    [pack] = card.pop("packs")
    former = {name: value for name, value in card.items() if name != "isOfSeveral"} | {"pack": pack["id"], "read": pack["read"]}
    far_page.goto(visited.address + WITHOUT_SCRIPTS)
    lay_records(far_page, visited.address, {"running-cards": sealed("running-cards", {"running": [former], "ended": []})})
    far_page.goto(visited.address + "cards.html")
    end_card(far_page)
    [one] = kept(far_page, "log copper")
    assert one["entries"]["from_v"] == "3.71 3.72 3.70 3.71"


def test_a_flight_by_one_tap_is_a_line_that_can_be_added_to(visited, far_page):
    lay_log(far_page, visited.address)
    far_page.goto(visited.address + "my-packs.html?id=copper")
    far_page.get_by_role("button", name="Flown").click()
    far_page.get_by_role("link", name="Add to the line").click()
    far_page.locator("#own [name=taken_min]").fill("6:30")
    far_page.get_by_role("button", name="Keep this line").click()
    expect(far_page.locator(".own-log a")).to_contain_text("· Flight 6:30")
    [one] = kept(far_page, "log copper")
    assert (one["entries"]["kind"], one["entries"]["taken_min"]) == ("flight", "6:30")


def test_a_cell_check_is_kept_by_a_tap_with_its_cells(visited, far_page):
    lay_log(far_page, visited.address)
    check_cells(far_page, visited.address, "3.71 3.72 3.70 3.71")
    far_page.get_by_role("button", name="Keep this check in the log of Copper").click()
    expect(far_page.get_by_text("It is in the log of Copper.")).to_be_visible()
    [one] = kept(far_page, "log copper")
    assert (one["entries"]["kind"], one["entries"]["from_v"]) == ("check", "3.71 3.72 3.70 3.71")


def test_a_check_that_is_kept_by_two_taps_of_a_cold_finger_is_one_line(visited, far_page):
    lay_log(far_page, visited.address)
    check_cells(far_page, visited.address, "3.71 3.72 3.70 3.71")
    far_page.get_by_role("button", name="Keep this check in the log of Copper").dblclick()
    expect(far_page.get_by_text("It is in the log of Copper.")).to_be_visible()
    pause(far_page)
    assert len(kept(far_page, "log copper")) == 1


def test_the_log_fills_the_page_of_ageing_and_another_pack_empties_it(visited, far_page):
    lines = [line(day, day, "check", measured_capacity_mah=mah, charges="10" if place else "0") for place, (day, mah) in enumerate(SEVEN)]
    lay_log(far_page, visited.address, *lines)
    far_page.goto(visited.address + "my-packs.html?id=copper")
    far_page.get_by_role("link", name="How it ages").click()
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(far_page.locator(".verdict")).to_contain_text("88\u00a0% of its own first capacity")
    expect(far_page.locator("[name=lines_7_measured_capacity_mah]")).to_have_value("4400")
    far_page.goto(visited.address + "ageing.html?pick=tin")
    expect(far_page.locator(".own-picked")).to_contain_text("Tin")
    expect(far_page.locator("[name=lines_7_measured_capacity_mah]")).to_have_value("")
    expect(far_page.locator("#answer-title")).to_have_text("No answer yet")


def test_of_a_long_log_the_first_lines_and_the_last_come_and_the_charges_between_are_counted(visited, far_page):
    many = [line(f"n{place}", f"2025-{1 + place // 28:02}-{1 + place % 28:02}") for place in range(60)]
    lay_log(far_page, visited.address, *many)
    far_page.goto(visited.address + "ageing.html?pick=copper")
    expect(far_page.locator("[name=lines_8_day]")).to_have_value("2025-01-08")
    expect(far_page.locator("[name=lines_9_day]")).to_have_value("2025-02-01")
    expect(far_page.locator("[name=lines_9_charges]")).to_have_value("21")
    expect(far_page.locator(".setting").filter(has_text="Charges so far")).to_contain_text("60\u00a0charges")


def test_the_flights_of_the_log_set_the_timer(visited, far_page):
    lay_log(
        far_page, visited.address,
        line("a", "2026-05-01", "flight", taken_min="6:30"), line("b", "2026-05-01", put_in_mah="3100"),
        line("c", "2026-05-02", "flight", taken_min="6:00", put_in_mah="2900"), line("d", "2026-05-03", "flight"),
    )  # fmt: skip
    far_page.goto(visited.address + "flight-timer.html?pick=copper")
    far_page.get_by_role("button", name="Take the last 2 flights from the log of Copper").click()
    expect(far_page.locator("[name=flights_1_flown_min]")).to_have_value("6:30")
    expect(far_page.locator("[name=flights_1_put_back_mah]")).to_have_value("3100")
    expect(far_page.locator("[name=flights_2_put_back_mah]")).to_have_value("2900")


@pytest.mark.parametrize("place", ["my-packs.html?log=copper", "my-packs.html?log=copper&line=a", "my-packs.html?id=copper"])
def test_the_log_fits_at_320_pixels_and_is_whole_for_keyboard_and_ear(visited, far_page, place, found_wrong):
    lay_log(
        far_page,
        visited.address,
        line("a", "2026-05-03", put_in_mah="1840", from_v="3.71 3.72 3.70 3.71", each_mohm="3.1 3.2 3.1 3.4", note="gusts"),
    )
    far_page.goto(visited.address + place)
    far_page.locator("#own-place > *").first.wait_for()
    assert found_wrong(far_page) == []
    if "line=" not in place:  # the browser's own field of a date has stops of the Tab key within it
        assert faults_of_a_walk(far_page) == []
    assert low_targets(far_page) == []
    far_page.set_viewport_size({"width": 320, "height": 700})
    assert too_wide(far_page) == []
