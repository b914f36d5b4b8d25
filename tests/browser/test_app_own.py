"""The pilot's own packs, chargers and supplies: entered once, kept on this phone, picked by one tap, and never a reading."""

import pytest
from playwright.sync_api import Page, expect

from calc.facts.practice import STORE_WITHIN_DAYS
from site_builder.harness.pilot import (
    club_entries,
    end_card,
    entry,
    lay_entries,
    open_with,
    pause,
    setting,
    start_card,
    tick_steps,
    type_entries,
    type_readings,
    unfold,
)
from site_builder.harness.store import REFUSES, kept, lay_records, records, sealed, sealed_list
from tests.browser.page_faults import faults_of_a_walk, low_targets, too_wide
from tests.browser.phones import NO_SERVICE_WORKER
from tests.browser.test_app_kept import FULL, Chromium

ENTRIES = club_entries("brass-heron", "small", "field-battery")
# What a browser answers that is told to keep no data of any site.
NO_LOCKS = "navigator.locks.request = async () => { throw new DOMException('denied', 'SecurityError'); }"
LABEL = {"cells": "4", "capacity_mah": "5000", "label_charge_rate_c": "2"}
A_DAY_MS = 86_400_000


def type_label(page: Page, name: str, kind: str = "LiPo", **label: str) -> None:
    page.get_by_role("textbox", name="Name").fill(name)
    page.locator(".taps").get_by_role("button", name=f"{kind}:").click()
    for field, text in (LABEL | label).items():
        page.locator(f"#own [name={field}]").fill(text)


def keep_it(page: Page) -> None:
    page.get_by_role("button", name="Keep it on this phone").click()


def enter_pack(page: Page, address: str, name: str, kind: str = "LiPo", **label: str) -> None:
    page.goto(address + "my-packs.html")
    page.get_by_role("link", name="+ New pack").click()
    type_label(page, name, kind, **label)
    keep_it(page)
    expect(page.get_by_role("status").filter(has_text=f"{name} is kept on this phone.")).to_be_visible()


def enter_charger(page: Page, address: str) -> None:
    page.goto(address + "my-chargers.html?new=")
    page.get_by_role("textbox", name="Name").fill("Bench charger")
    for field, text in {
        "outputs_1_charger_current_a": "10",
        "outputs_1_charger_power_w": "250",
        "outputs_2_charger_current_a": "3",
        "outputs_2_charger_power_w": "60",
        "charger_cells": "6",
        "port_cells": "6",
    }.items():
        if not page.locator(f"[name={field}]").is_visible():
            page.locator("summary", has_text="Output 2").click()
        page.locator(f"[name={field}]").fill(text)
    keep_it(page)
    expect(page.get_by_role("status").filter(has_text="Bench charger is kept on this phone.")).to_be_visible()


def enter_mains(page: Page, address: str) -> None:
    page.goto(address + "my-supplies.html?new=")
    page.get_by_role("textbox", name="Name").fill("Clubhouse")
    page.locator("[name=supply_kind]").select_option("mains")
    for field, text in {"supply_v": "13.8", "supply_current_a": "30", "lead_length_m": "1", "lead_area_mm2": "4 mm²"}.items():
        page.locator(f"[name={field}]").fill(text)
    keep_it(page)
    expect(page.get_by_role("status").filter(has_text="Clubhouse is kept on this phone.")).to_be_visible()


def tile(page: Page, name: str):
    return page.locator(".own-tile").filter(has=page.locator("b", has_text=name))


def own_pack(name: str, **more) -> dict:
    return {"id": name.lower(), "name": name, "entries": LABEL | {"chemistry": "lipo"}, "dates": {}} | more


def read_now(page: Page, cells: str = "3.71 3.72 3.70 3.71") -> None:
    type_readings(page, "resting_v", cells)
    entry(page, "pack_degc").fill("18")
    pause(page)


def check_cells(page: Page, address: str, cells: str) -> None:
    page.goto(address + "cell-check.html?pick=copper")
    page.locator("[name=look]").select_option("sound")
    page.locator("[name=read_when]").select_option("rested")
    read_now(page, cells)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")


def test_a_pack_and_a_charger_that_were_confirmed_are_there_after_the_browser_was_killed(playwright, browser_program, site, tmp_path):
    killed = Chromium(playwright, browser_program, tmp_path / "profile")
    enter_charger(killed.page, site.address)
    enter_pack(killed.page, site.address, "Copper Wren")
    killed.kill()
    after = Chromium(playwright, browser_program, tmp_path / "profile")
    after.page.goto(site.address + "my-packs.html")
    expect(tile(after.page, "Copper Wren")).to_contain_text("LiPo 4S 5000\u00a0mAh")
    after.page.goto(site.address + "my-chargers.html")
    expect(tile(after.page, "Bench charger")).to_contain_text("10\u00a0A 250\u00a0W 2 outputs")
    after.kill()


@pytest.mark.parametrize(
    ("fault", "sentence"),
    [(REFUSES, "This browser keeps nothing for Fieldslate"), (FULL, "Your last change could not be kept on this phone")],
    ids=["refused", "full"],
)
def test_where_nothing_can_be_kept_the_page_says_so_once_and_the_pack_can_be_picked_all_the_same(phone, site, fault, sentence):
    phone.add_init_script(NO_SERVICE_WORKER)
    phone.add_init_script(fault)
    page = phone.new_page()
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.goto(site.address + "my-packs.html?new=")
    type_label(page, "Copper Wren")
    keep_it(page)
    expect(page.get_by_text("Copper Wren is there until this page is closed: this phone keeps nothing now.")).to_be_visible()
    expect(page.get_by_text(sentence)).to_have_count(1)
    page.get_by_role("link", name="+ New pack").click()
    type_label(page, "Pine Wren")
    keep_it(page)
    tile(page, "Copper Wren").click()
    page.get_by_role("link", name="Charge it").click()
    expect(page.locator(".own-picked")).to_contain_text("Copper Wren")
    expect(entry(page, "capacity_mah")).to_have_count(0)
    expect(page.locator("[name=capacity_mah]")).to_have_value("5000")
    assert faults == []


def test_where_a_browser_refuses_locks_too_a_pack_is_entered_and_a_card_ends(phone, site):
    phone.add_init_script(NO_SERVICE_WORKER)
    phone.add_init_script(REFUSES)
    phone.add_init_script(NO_LOCKS)
    page = phone.new_page()
    page.goto(site.address + "my-packs.html?new=")
    type_label(page, "Copper Wren")
    keep_it(page)
    expect(page.get_by_text("Copper Wren is there until this page is closed: this phone keeps nothing now.")).to_be_visible()
    open_with(page, site.address, "charging-card", ENTRIES)
    start_card(page)
    end_card(page)


def test_what_is_kept_asks_the_browser_to_take_it_last_where_room_is_short(visited, far_page):
    far_page.add_init_script("window.asked = 0; navigator.storage.persist = async () => { window.asked += 1; return true; }")
    far_page.goto(visited.address + "my-packs.html?new=")
    type_label(far_page, "Copper Wren")
    far_page.evaluate("window.asked = 0")  # the page's start asks too
    keep_it(far_page)
    expect(far_page.get_by_role("status").filter(has_text="Copper Wren is kept on this phone.")).to_be_visible()
    assert far_page.evaluate("window.asked") > 0


def test_a_pack_that_another_tab_keeps_meanwhile_stays(visited, far_page):
    enter_pack(far_page, visited.address, "Copper Wren")
    far_page.get_by_role("link", name="+ New pack").click()
    type_label(far_page, "Pine Wren")
    other = visited.phone.new_page()
    enter_pack(other, visited.address, "Tin Lark")
    keep_it(far_page)
    for name in ("Copper Wren", "Pine Wren", "Tin Lark"):
        expect(tile(far_page, name)).to_be_visible()
        expect(tile(other, name)).to_be_visible()
    other.close()


def test_from_the_first_page_a_tap_on_a_pack_and_its_readings_give_the_settings(visited, far_page):
    enter_charger(far_page, visited.address)
    enter_pack(far_page, visited.address, "Copper Wren")
    enter_mains(far_page, visited.address)
    far_page.goto(visited.address + "charge-settings.html")
    far_page.get_by_role("button", name="Bench charger, output 1").click()
    far_page.get_by_role("button", name="Clubhouse").click()
    pause(far_page)
    far_page.get_by_role("link", name="Fieldslate", exact=True).click()
    far_page.locator("#home").get_by_role("link", name="Copper Wren").click()
    read_now(far_page)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(far_page, "Charge current")).to_contain_text("5.0\u00a0A")


def test_a_pack_that_is_picked_brings_its_label_and_no_reading(visited, far_page):
    enter_pack(far_page, visited.address, "Copper Wren")
    enter_pack(far_page, visited.address, "Tin Lark", cells="6", capacity_mah="3300")
    far_page.goto(visited.address + "charge-settings.html")
    far_page.get_by_role("button", name="Tin Lark").click()
    read_now(far_page, "3.8 3.8 3.8 3.8 3.8 3.8")
    far_page.get_by_role("button", name="Change: Tin Lark").click()
    far_page.get_by_role("button", name="Copper Wren").click()
    expect(far_page.locator("[name=cells]")).to_have_value("4")
    expect(entry(far_page, "resting_v")).to_have_value("")
    expect(entry(far_page, "pack_degc")).to_have_value("")
    pause(far_page)
    assert not {"resting_v", "pack_degc"} & kept(far_page, "entries").keys()
    far_page.reload()
    expect(far_page.locator(".own-picked").first).to_contain_text("Copper Wren")


def test_each_output_of_a_charger_has_a_current_and_a_power_of_its_own(visited, far_page):
    enter_charger(far_page, visited.address)
    far_page.goto(visited.address + "charge-settings.html")
    far_page.get_by_role("button", name="Bench charger, output 2").click()
    expect(far_page.locator("[name=charger_current_a]")).to_have_value("3")
    expect(far_page.locator("[name=charger_power_w]")).to_have_value("60")
    expect(far_page.locator("#picked-charger .own-picked")).to_contain_text("Bench charger, output 2")


def test_an_entry_that_is_typed_over_the_label_is_no_longer_the_pack_that_was_picked(visited, far_page):
    enter_pack(far_page, visited.address, "Copper Wren")
    tile(far_page, "Copper Wren").click()
    far_page.get_by_role("link", name="Charge it").click()
    expect(far_page.locator(".own-picked")).to_contain_text("Copper Wren")
    far_page.goto(visited.address + "voltages.html")
    expect(far_page.locator(".own-picked")).to_contain_text("Copper Wren")
    far_page.goto(visited.address + "charge-settings.html?cells=6")
    expect(far_page.get_by_text("These entries came with a link.")).to_be_visible()
    expect(far_page.locator(".own-picked")).to_have_count(0)


def test_a_name_of_one_long_word_makes_no_page_scroll_sideways(visited, far_page):
    wide = own_pack("W" * 40)
    log = {f"log {wide['id']}": sealed(f"log {wide['id']}", [])}
    lay_records(far_page, visited.address, log | {"own pack": sealed("own pack", [wide, own_pack("Tin")])})
    for page in ("my-packs", f"my-packs.html?log={wide['id']}", "index", "day-plan", f"charge-settings.html?pick={wide['id']}"):
        far_page.goto(visited.address + (page if "?" in page else f"{page}.html"))
        expect(far_page.get_by_text(wide["name"]).first).to_be_attached()
        assert too_wide(far_page) == [], page


def test_a_supply_that_is_picked_is_said_once_and_what_is_still_asked_of_it_is_named(visited, far_page):
    far_page.goto(visited.address + "my-packs.html")
    far_page.get_by_role("button", name="Put the club's examples in").press("Enter")
    expect(far_page.get_by_role("button", name="Take the club's examples out")).to_be_focused()
    far_page.goto(visited.address + "my-supplies.html")
    expect(far_page.locator(".own-tile", has_text="70\u00a0Ah").first).to_be_visible()
    far_page.goto(visited.address + "charge-settings.html")
    far_page.locator("#picked-supply .own-tile", has_text="70\u00a0Ah").first.click()
    line = far_page.locator("details[data-kept]").filter(has=far_page.locator("[name=battery_resting_v]"))
    expect(far_page.locator(".own-picked")).to_contain_text("70\u00a0Ah")
    expect(line.locator(".line-says")).to_have_text("Resting voltage of the battery")
    expect(line.locator(".line-act")).to_have_text("Enter")
    far_page.reload()
    expect(line.locator(".line-says")).to_have_text("Resting voltage of the battery")


def test_another_like_this_one_brings_the_label_alone(visited, far_page):
    lay_records(
        far_page,
        visited.address,
        {
            "own pack": sealed(
                "own pack",
                [
                    own_pack(
                        "Copper",
                        entries=LABEL | {"chemistry": "lipo", "measured_capacity_mah": "4700"},
                        dates={"measured_capacity_mah": 1_700_000_000_000},
                        state=["charged", 1_700_000_000_000],
                    )
                ],
            )
        },
    )
    far_page.goto(visited.address + "my-packs.html?id=copper")
    expect(far_page.locator(".own-dates")).to_contain_text("Capacity as last measured: 4700\u00a0mAh, 14 November 2023")
    far_page.get_by_role("link", name="Another like this one").click()
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("5000")
    expect(far_page.locator("[name=measured_capacity_mah]")).to_have_value("")
    far_page.get_by_role("textbox", name="Name").fill("Pine")
    keep_it(far_page)
    expect(tile(far_page, "Pine")).not_to_contain_text("store it")
    assert kept(far_page, "own pack")[1]["entries"].get("measured_capacity_mah") is None


def test_what_was_entered_before_is_taken_over_as_a_label_alone(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    type_entries(far_page, {"chemistry": "lihv"} | LABEL | {"pack_degc": "18"})
    pause(far_page)
    far_page.goto(visited.address + "my-packs.html")
    far_page.get_by_role("link", name="Keep what you entered last: LiHV 4S 5000\u00a0mAh").click()
    far_page.get_by_role("textbox", name="Name").fill("Old Heron")
    keep_it(far_page)
    expect(tile(far_page, "Old Heron")).to_contain_text("LiHV 4S 5000\u00a0mAh")
    expect(far_page.get_by_role("link", name="Keep what you entered last")).to_have_count(0)
    [pack] = kept(far_page, "own pack")
    assert not {"resting_v", "pack_degc"} & pack["entries"].keys()
    assert "state" not in pack


def test_the_kind_of_a_new_pack_is_never_assumed(visited, far_page):
    far_page.goto(visited.address + "my-packs.html?new=")
    expect(far_page.locator(".taps [aria-pressed=true]")).to_have_count(0)
    far_page.get_by_role("textbox", name="Name").fill("Copper Wren")
    keep_it(far_page)
    expect(far_page.get_by_role("alert").filter(has_text="Still needed: Chemistry.")).to_be_visible()
    expect(far_page.locator(".taps button").first).to_be_focused()


def test_a_pack_with_two_balance_plugs_says_how_many_cells_are_on_each(visited, far_page):
    far_page.goto(visited.address + "my-packs.html?new=")
    type_label(far_page, "Long Wren", cells="8")
    far_page.locator("[name=balance_plugs]").select_option("2")
    keep_it(far_page)
    expect(far_page.get_by_role("alert").filter(has_text="Still needed: Cells on its first balance plug.")).to_be_visible()
    far_page.locator("[name=first_plug_cells]").fill("5")
    keep_it(far_page)
    tile(far_page, "Long Wren").click()
    expect(far_page.get_by_text("Two balance plugs: the first, at the minus end, has 5\u00a0cells.")).to_be_visible()


def test_a_pack_is_removed_and_put_back_where_it_stood(visited, far_page):
    enter_pack(far_page, visited.address, "Copper Wren")
    enter_pack(far_page, visited.address, "Tin Lark")
    tile(far_page, "Copper Wren").click()
    far_page.get_by_role("button", name="Remove it").click()
    expect(tile(far_page, "Copper Wren")).to_have_count(0)
    expect(far_page.get_by_role("button", name="Put back")).to_be_focused()
    far_page.get_by_role("button", name="Put back").click()
    expect(far_page.locator(".own-tile b")).to_have_text(["Copper Wren", "Tin Lark"])
    assert [pack["name"] for pack in kept(far_page, "own pack")] == ["Copper Wren", "Tin Lark"]


def take_out(page: Page, address: str, out: str, taps: int = 1) -> None:
    """Take out a pack of one's own, Tin, or the club's examples, which are put in before."""
    if out == "a pack":
        page.goto(address + "my-packs.html?id=tin")
        page.get_by_role("button", name="Remove it").click(click_count=taps)
    else:
        page.goto(address + "my-packs.html")
        page.get_by_role("button", name="Put the club's examples in").click()
        page.get_by_role("button", name="Take the club's examples out").click(click_count=taps)


@pytest.mark.parametrize("out", ["a pack", "the club's examples"])
def test_a_second_tap_of_a_cold_finger_leaves_what_was_taken_out_to_be_put_back(visited, far_page, out):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Tin"), own_pack("Copper")])})
    take_out(far_page, visited.address, out, taps=2)
    pause(far_page)
    far_page.get_by_role("button", name="Put back").click()
    expect(tile(far_page, "Tin" if out == "a pack" else "Brass Heron")).to_be_visible()


@pytest.mark.parametrize("out", ["a pack", "the club's examples"])
def test_what_is_put_back_takes_nothing_back_of_what_another_tab_has_noted_meanwhile(visited, far_page, out):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Tin"), own_pack("Copper")])})
    take_out(far_page, visited.address, out)
    expect(far_page.get_by_role("button", name="Put back")).to_be_focused()
    take_copper_out_of_use(visited)
    far_page.get_by_role("button", name="Put back").click()
    expect(tile(far_page, "Tin" if out == "a pack" else "Brass Heron")).to_be_visible()
    expect(far_page.locator("[data-id=copper]")).to_contain_text("out of use: check it anew")
    assert [pack["name"] for pack in kept(far_page, "own pack")][:2] == ["Tin", "Copper"]


def test_what_is_changed_in_a_form_takes_nothing_back_of_what_was_noted_of_the_pack_meanwhile(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Copper")])})
    far_page.goto(visited.address + "my-packs.html?edit=copper")
    far_page.get_by_role("textbox", name="Name").fill("Copper Wren")
    take_copper_out_of_use(visited)
    other = visited.phone.new_page()
    other.goto(visited.address + "my-packs.html?log=copper&line=check")
    other.locator("[name=measured_capacity_mah]").fill("4400")
    other.get_by_role("button", name="Keep this line").click()
    expect(other.get_by_text("The line is kept on this phone.")).to_be_visible()
    other.close()
    keep_it(far_page)
    expect(tile(far_page, "Copper Wren")).to_contain_text("out of use: check it anew")
    [pack] = kept(far_page, "own pack")
    assert pack["entries"]["measured_capacity_mah"] == "4400"


def take_copper_out_of_use(visited) -> None:
    """Have another tab find it out of use, and be left."""
    other = visited.phone.new_page()
    check_cells(other, visited.address, "3.71 3.72 2.10 3.71")
    expect(other.locator("#answer-body")).to_contain_text("Take it out of use")
    other.get_by_role("link", name="Find", exact=True).first.click()
    expect(other.get_by_role("heading", level=1)).to_have_text("Find")
    other.close()


def test_the_clubs_examples_go_in_and_out_by_one_tap_and_leave_ones_own(visited, far_page):
    enter_pack(far_page, visited.address, "Copper Wren")
    far_page.get_by_role("button", name="Put the club's examples in").click()
    expect(tile(far_page, "Brass Heron")).to_contain_text("LiPo 3S 2650\u00a0mAh")
    assert len(kept(far_page, "own charger")) == 2
    far_page.get_by_role("button", name="Take the club's examples out").click()
    expect(far_page.locator(".own-tile b")).to_have_text(["Copper Wren"])
    far_page.get_by_role("button", name="Put back").click()
    expect(tile(far_page, "Brass Heron")).to_be_visible()
    assert len(kept(far_page, "own supply")) == 3


def test_how_a_pack_was_left_says_what_it_needs_next_and_fills_no_reading_in(visited, far_page):
    now = far_page.evaluate("Date.now()")
    packs = [own_pack("Copper", state=["charged", now - STORE_WITHIN_DAYS.value * A_DAY_MS]), own_pack("Tin")]
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", packs)})
    far_page.goto(visited.address + "my-packs.html")
    expect(tile(far_page, "Copper")).to_contain_text("full for 2 days: store it")
    tile(far_page, "Tin").click()
    far_page.get_by_role("button", name="Flown").click()
    expect(far_page.get_by_role("button", name="Flown")).to_have_attribute("aria-pressed", "true")
    expect(far_page.locator(".own-state")).to_contain_text("flown today")
    far_page.goto(visited.address + "charge-settings.html?pick=copper")
    expect(far_page.locator(".own-picked").first).to_contain_text("full for 2 days: store it")
    expect(entry(far_page, "resting_v")).to_have_value("")


@pytest.mark.parametrize("damaged", [False, True], ids=["no such pack", "a damaged list"])
def test_a_link_to_a_pack_that_is_not_on_this_phone_leaves_what_was_entered(visited, far_page, damaged):
    lay_records(far_page, visited.address, {"own pack": sealed_list("own pack", [own_pack("Copper")])})
    far_page.goto(visited.address + "charge-settings.html?pick=copper")
    read_now(far_page)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")
    before = kept(far_page, "entries")
    pack = "copper" if damaged else "x"
    lay_records(far_page, visited.address, {"own pack": "not a record"} if damaged else {})
    far_page.goto(f"{visited.address}charge-settings.html?pick={pack}")
    expect(far_page.get_by_text("The pack that this link is for is not on this phone. Your entries are as they were.")).to_be_visible()
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("5000")
    expect(far_page.locator("[name=resting_v]")).to_have_value("3.71 3.72 3.70 3.71")
    pause(far_page)
    assert kept(far_page, "entries") == before
    assert kept(far_page, "picked") == {"pack": "copper"}


def test_what_a_link_to_a_pack_puts_away_can_be_taken_back(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed_list("own pack", [own_pack("Copper")])})
    far_page.goto(visited.address + "charge-settings.html")
    lay_entries(far_page, club_entries("brass-heron", "small", "field-battery"))
    far_page.goto(visited.address + "charge-settings.html?pick=copper")
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("5000")
    expect(far_page.locator("[name=resting_v]")).to_have_value("")
    expect(far_page.locator("#undo")).to_contain_text("Your earlier entries are put away.")
    far_page.locator("#undo").get_by_role("button", name="Undo").click()
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("2650")
    expect(far_page.locator("[name=resting_v]")).not_to_have_value("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")


def test_a_pack_found_below_its_floor_gets_no_number_anywhere_until_a_cell_check_has_passed_it(own_phone_page):
    page = own_phone_page
    address = page.url.rsplit("/", 1)[0] + "/"
    lay_records(page, address, {"own pack": sealed("own pack", [own_pack("Copper"), own_pack("Tin")])})
    check_cells(page, address, "3.71 3.72 2.10 3.71")
    expect(page.locator("#answer-body")).to_contain_text("Take it out of use")
    page.goto(address + "charge-settings.html?pick=copper")
    read_now(page)
    expect(page.locator("#answer-body")).to_contain_text("Copper was taken out of use on")
    expect(page.locator("#answer-body")).not_to_contain_text("5.0\u00a0A")
    page.goto(address + "my-packs.html")
    expect(tile(page, "Copper")).to_contain_text("out of use: check it anew")
    check_cells(page, address, "3.71 3.72 3.70 3.71")
    expect(page.locator(".own-refused")).to_have_count(0)
    page.goto(address + "my-packs.html")
    expect(tile(page, "Copper")).not_to_contain_text("out of use")


@pytest.mark.parametrize(("name", "text"), [("look", "swollen"), ("measured_capacity_mah", "3500")], ids=["swollen", "done"])
def test_a_pack_that_a_check_has_found_swollen_or_done_gets_no_settings_until_it_is_checked_anew(own_phone_page, name, text):
    page = own_phone_page
    address = page.url.rsplit("/", 1)[0] + "/"
    lay_records(page, address, {"own pack": sealed("own pack", [own_pack("Copper")])})
    check_cells(page, address, "3.71 3.72 3.70 3.71")
    unfold(page, name)
    if name == "look":
        page.locator(f"[name={name}]").select_option(text)
    else:
        page.locator(f"[name={name}]").fill(text)
    expect(page.locator("#answer-body")).to_contain_text("Take it out of use")
    page.get_by_role("link", name="Find", exact=True).first.click()  # whoever goes on has meant it
    expect(page.get_by_role("heading", level=1)).to_have_text("Find")
    for opened in ("charge-settings.html?pick=copper", "storage.html?pick=copper"):
        page.goto(address + opened)
        read_now(page)
        expect(page.locator("#answer-body")).to_contain_text("Copper was taken out of use on")
        expect(page.locator("#answer")).to_have_attribute("data-state", "refusal")
    check_cells(page, address, "3.71 3.72 3.70 3.71")
    expect(page.locator(".own-refused")).to_have_count(0)  # the answer to the last of these readings has come
    page.goto(address + "charge-settings.html?pick=copper")
    read_now(page)
    expect(page.locator("#answer")).to_have_attribute("data-state", "partial")


@pytest.mark.parametrize(
    ("form", "read"),
    [("packs-in-series", "packs-in-series"), ("packs-in-parallel", "packs-in-parallel"), ("packs-in-series", "series-card")],
)
def test_of_ticked_packs_the_low_one_is_taken_out_of_use_and_not_the_one_picked_elsewhere(own_phone_page, form, read):
    page = own_phone_page
    address = page.url.rsplit("/", 1)[0] + "/"
    lay_records(page, address, {"own pack": sealed("own pack", [own_pack(name) for name in ("Copper", "Tin", "Zinc")])})
    page.goto(address + "charge-settings.html?pick=copper")
    page.goto(f"{address}{form}.html")
    for name in ("Tin", "Zinc"):
        tick_pack(page, name).check()
    type_readings(page, "packs_1_resting_v", "3.70 3.71 3.70 3.71")
    type_readings(page, "packs_2_resting_v", "3.70 3.71 2.10 3.71")
    pause(page)
    page.goto(f"{address}{read}.html")
    expect(page.locator("#answer")).to_have_attribute("data-state", "refusal")
    page.goto(address + "my-packs.html")
    expect(tile(page, "Zinc")).to_contain_text("out of use: check it anew")
    for name in ("Copper", "Tin"):
        expect(tile(page, name)).not_to_contain_text("out of use")
    assert [pack["refused"][0][:18] for pack in kept(page, "own pack") if "refused" in pack] == ["Cell 3 rests at 2."]


def test_a_voltage_that_is_half_typed_takes_no_pack_out_of_use(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Copper")])})
    far_page.goto(visited.address + "charge-settings.html?pick=copper")
    read_now(far_page, "3.71 3.72 3.70 2")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    read_now(far_page)
    far_page.goto(visited.address + "my-packs.html")
    expect(tile(far_page, "Copper")).not_to_contain_text("out of use")


@pytest.mark.parametrize("address", ["my-packs.html", "my-packs.html?new=", "my-packs.html?id=tin", "charge-settings.html", "index.html"])
def test_with_ten_packs_everybody_can_read_and_use_it(visited, far_page, found_wrong, address):
    names = ["Copper", "Tin", "Brass", "Iron", "Slate", "Stone", "Pine", "Oak", "Ash"]
    packs = [own_pack(name, state=["flown", 1_700_000_000_000]) for name in names] + [
        own_pack("Zinc", refused=["It has swollen.", 1_700_000_000_000])
    ]
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", packs)})
    far_page.goto(visited.address + address)
    expect(far_page.locator("#own-place > *, .own-tile").first).to_be_visible()
    assert (found_wrong(far_page), low_targets(far_page), too_wide(far_page), faults_of_a_walk(far_page)) == ([], [], [], [])


def test_a_pack_is_entered_and_picked_with_the_keyboard_alone(visited, far_page):
    far_page.goto(visited.address + "my-packs.html?new=")
    far_page.get_by_role("textbox", name="Name").focus()
    far_page.keyboard.type("Copper Wren")
    far_page.keyboard.press("Tab")
    far_page.keyboard.press("Enter")
    for text in ("4", "5000"):
        while far_page.evaluate("document.activeElement.tagName") != "INPUT" or far_page.evaluate("document.activeElement.value") != "":
            far_page.keyboard.press("Tab")
        far_page.keyboard.type(text)
    far_page.keyboard.press("Enter")
    expect(tile(far_page, "Copper Wren")).to_be_focused()
    far_page.keyboard.press("Enter")
    far_page.get_by_role("link", name="Charge it").focus()
    far_page.keyboard.press("Enter")
    expect(far_page.locator(".own-picked")).to_contain_text("Copper Wren")


def test_own_things_that_are_damaged_are_put_aside_and_named(visited, far_page):
    wrong = {"own pack": {"version": 1, "checksum": 0, "value": "[]"}, "own charger": sealed("own charger", [{"name": "x"}])}
    lay_records(far_page, visited.address, wrong)
    far_page.goto(visited.address + "my-packs.html")
    for called in (": your packs", ", among your chargers: x"):
        expect(far_page.get_by_text(f"Something that was kept on this phone is damaged, and put aside{called}.")).to_be_visible()
    enter_pack(far_page, visited.address, "Copper Wren")


@pytest.mark.parametrize("change", [("5000", "6000"), ('"dates"', '"states"'), ("\n", " ")])
def test_damage_to_one_pack_loses_that_one_and_names_it(visited, far_page, change):
    record = sealed_list("own pack", [own_pack("Copper"), own_pack("Tin"), own_pack("Zinc")])
    head, line = record["value"][:5], record["value"][5:]
    damaged = record | {"value": head + line.replace(*change, 1)}
    lay_records(far_page, visited.address, {"own pack": damaged})
    far_page.goto(visited.address + "my-packs.html")
    expect(far_page.get_by_text("is damaged, and put aside, among your packs: Copper.")).to_be_visible()
    expect(tile(far_page, "Zinc")).to_be_visible()
    expect(tile(far_page, "Copper")).to_have_count(0)
    assert "Copper" not in [pack["name"] for pack in kept(far_page, "own pack")]
    assert records(far_page)["aside own pack"] == damaged
    far_page.reload()
    expect(tile(far_page, "Zinc")).to_be_visible()
    expect(far_page.get_by_text("is damaged")).to_have_count(0)


def test_packs_that_were_kept_as_one_text_are_taken_over(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Copper"), {"name": "Tin"}])})
    far_page.goto(visited.address + "my-packs.html")
    expect(tile(far_page, "Copper")).to_be_visible()
    expect(far_page.get_by_text("put aside, among your packs: Tin.")).to_be_visible()
    assert [pack["name"] for pack in kept(far_page, "own pack")] == ["Copper"]


def start_storage_card(page: Page, address: str) -> None:
    page.goto(address + "storage.html?pick=copper")
    typed = club_entries("slate-badger", "large", "field-battery")
    lay_entries(page, {name: text for name, text in typed.items() if name not in {"chemistry", "requested_rate_c", *LABEL}})
    page.goto(address + "putting-away-card.html")
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    start_card(page)


def test_the_end_of_a_storage_card_says_that_the_pack_is_at_storage_and_an_end_taken_back_says_what_was_before(visited, far_page):
    now = far_page.evaluate("Date.now()")
    lay_records(far_page, visited.address, {"own pack": sealed_list("own pack", [own_pack("Copper", state=["flown", now])])})
    start_storage_card(far_page, visited.address)
    tick_steps(far_page, "Look in once a month")
    end_card(far_page)
    [pack] = kept(far_page, "own pack")
    assert pack["state"][0] == "stored" and pack["state"][1] >= now
    far_page.get_by_role("button", name="Take the end back").click()
    expect(far_page.locator("#card-now-title")).to_have_text("Look in once a month")
    [pack] = kept(far_page, "own pack")
    assert pack["state"] == ["flown", now]
    assert "before" not in pack
    end_card(far_page)
    far_page.goto(visited.address + "my-packs.html")
    expect(tile(far_page, "Copper")).to_contain_text("at storage since today")


def test_a_storage_card_that_is_ended_before_the_pack_is_in_its_box_says_nothing_of_it(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed_list("own pack", [own_pack("Copper")])})
    start_storage_card(far_page, visited.address)
    tick_steps(far_page, "Into the box")
    end_card(far_page)
    [pack] = kept(far_page, "own pack")
    assert "state" not in pack


def test_the_page_says_what_it_is_for_and_that_it_needs_a_script(page_without_scripts, site):
    page_without_scripts.goto(site.address + "my-packs.html")
    expect(page_without_scripts.locator(".no-script")).to_be_visible()
    expect(page_without_scripts.get_by_text("Enter each pack once, from its label.")).to_be_visible()


def tick_pack(page: Page, name: str):
    return page.locator("#picked-rows").get_by_role("checkbox", name=name)


TWO_AND_A_LOW_ONE = [own_pack("Copper"), own_pack("Tin"), own_pack("Zinc", refused=["It has swollen.", 1_700_000_000_000])]


def test_packs_that_are_ticked_fill_the_rows_in_turn_each_with_its_label_and_no_reading(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", TWO_AND_A_LOW_ONE)})
    far_page.goto(visited.address + "packs-in-series.html")
    tick_pack(far_page, "Tin").check()
    tick_pack(far_page, "Copper").check()
    for row in ("1", "2"):
        expect(far_page.locator(f"[name=packs_{row}_capacity_mah]")).to_have_value("5000")
        expect(far_page.locator(f"[name=packs_{row}_resting_v]")).to_have_value("")
    expect(tick_pack(far_page, "Zinc")).to_be_disabled()
    pause(far_page)
    far_page.reload()
    expect(far_page.locator("#picked-rows")).to_contain_text("pack 1 below")
    assert [tick_pack(far_page, name).is_checked() for name in ("Copper", "Tin")] == [True, True]


def test_a_pack_that_is_unticked_goes_and_the_next_comes_up_with_its_readings_as_old_as_they_are(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", TWO_AND_A_LOW_ONE)})
    far_page.goto(visited.address + "going-home.html")
    tick_pack(far_page, "Tin").check()
    tick_pack(far_page, "Copper").check()
    type_readings(far_page, "packs_2_resting_v", "3.80 3.81 3.80 3.80")
    pause(far_page)
    before = kept(far_page, "entries")["packs_2_resting_v"]
    tick_pack(far_page, "Tin").uncheck()
    expect(far_page.locator("[name=packs_1_resting_v]")).to_have_value("3.80 3.81 3.80 3.80")
    expect(far_page.locator("[name=packs_2_capacity_mah]")).to_have_value("")
    pause(far_page)
    assert kept(far_page, "entries")["packs_1_resting_v"] == before
    assert tick_pack(far_page, "Copper").is_checked()


def test_a_pack_that_is_unticked_can_be_taken_back_with_its_readings_as_old_as_they_are(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", TWO_AND_A_LOW_ONE)})
    far_page.goto(visited.address + "packs-in-series.html")
    tick_pack(far_page, "Tin").check()
    tick_pack(far_page, "Copper").check()
    type_readings(far_page, "packs_1_resting_v", "3.80 3.81 3.79 3.80")
    pause(far_page)
    before = kept(far_page, "entries")["packs_1_resting_v"]
    tick_pack(far_page, "Tin").uncheck()
    expect(far_page.locator("[name=packs_1_resting_v]")).to_have_value("")
    far_page.get_by_role("button", name="Undo").click()
    expect(far_page.locator("[name=packs_1_resting_v]")).to_have_value("3.80 3.81 3.79 3.80")
    pause(far_page)
    assert kept(far_page, "entries")["packs_1_resting_v"] == before
    assert [tick_pack(far_page, name).is_checked() for name in ("Copper", "Tin")] == [True, True]


def test_a_pack_that_was_taken_out_of_use_after_it_was_ticked_stops_the_answer_for_all(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", TWO_AND_A_LOW_ONE)})
    far_page.goto(visited.address + "packs-in-parallel.html")
    tick_pack(far_page, "Tin").check()
    pause(far_page)
    found = [own_pack("Copper"), own_pack("Tin", refused=["It has swollen.", 1_700_000_000_000])]
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", found)})
    far_page.goto(visited.address + "packs-in-parallel.html")
    expect(far_page.locator("#answer-body")).to_contain_text("Tin was taken out of use on 14 November 2023. It has swollen.")


def test_the_first_page_shows_of_many_packs_those_that_need_something_and_those_last_in_hand(visited, far_page):
    now = far_page.evaluate("Date.now()")
    packs = [own_pack(name) for name in ("Ash", "Brass", "Copper", "Iron", "Oak", "Pine")]
    packs[4]["state"] = ["charged", now - 3 * A_DAY_MS]
    packs[5]["state"] = ["flown", now]
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", packs)})
    far_page.goto(visited.address + "index.html")
    expect(far_page.locator("#home .own-tile b")).to_have_text(["Ash", "Brass", "Oak", "Pine"])
    expect(far_page.get_by_role("link", name="2 more packs")).to_be_visible()
    assert far_page.evaluate("document.documentElement.scrollHeight") <= 1700


def test_a_label_that_was_typed_can_be_kept_from_the_page_where_it_stands(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    type_entries(far_page, {"chemistry": "lipo"} | LABEL)
    expect(far_page.get_by_role("link", name="Keep this one among my packs")).to_have_count(0)
    far_page.reload()
    far_page.get_by_role("link", name="Keep this one among my packs").click()
    far_page.get_by_role("textbox", name="Name").fill("Copper Wren")
    keep_it(far_page)
    expect(tile(far_page, "Copper Wren")).to_contain_text("LiPo 4S 5000\u00a0mAh")


def test_what_was_read_of_the_pack_before_can_be_brought_back_with_it(visited, far_page):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack("Copper"), own_pack("Tin")])})
    far_page.goto(visited.address + "charge-settings.html?pick=copper")
    read_now(far_page)
    far_page.get_by_role("button", name="Change: Copper").click()
    far_page.get_by_role("button", name="Tin").click()
    expect(far_page.locator("[name=resting_v]")).to_have_value("")
    far_page.get_by_role("button", name="Undo").click()
    expect(far_page.locator("[name=resting_v]")).to_have_value("3.71 3.72 3.70 3.71")
    expect(far_page.locator(".own-picked").first).to_contain_text("Copper")


def test_at_the_bench_the_packs_to_tick_leave_the_answer_in_sight(far_page, visited):
    lay_records(far_page, visited.address, {"own pack": sealed("own pack", [own_pack(f"Number {number}") for number in range(1, 9)])})
    far_page.set_viewport_size({"width": 1280, "height": 900})
    far_page.goto(visited.address + "packs-in-series.html")
    expect(far_page.get_by_role("checkbox")).to_have_count(8)
    expect(far_page.locator(".panel").last).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize(
    "refused",
    [
        "window.BroadcastChannel = class { constructor() { throw new DOMException('no', 'SecurityError'); } }",
        "delete Crypto.prototype.randomUUID",
    ],
    ids=["no channel", "no names, as over plain http"],
)
def test_packs_can_be_entered_in_a_browser_that_refuses_what_others_have(phone, site, refused):
    phone.add_init_script(NO_SERVICE_WORKER)
    phone.add_init_script(refused)
    page = phone.new_page()
    page.goto(site.address + "my-packs.html")
    for name in ("Moss", "Fern"):
        page.get_by_role("link", name="+ New pack").click()
        type_label(page, name)
        keep_it(page)
        expect(page.locator(".own-tile b").filter(has_text=name)).to_be_visible()
    first, second = (pack["id"] for pack in kept(page, "own pack"))
    assert first != second
