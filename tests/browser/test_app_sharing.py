"""Own things leave one phone and come to another: as one file, whole or not at all, and nothing that was there is lost."""

import io
import json
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

import pytest
import segno
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from site_builder.harness.phone import PATIENCE_MS, PHONE
from site_builder.harness.pilot import club_entries, open_with
from site_builder.harness.store import kept, lay_records, sealed, sealed_list
from tests.browser.page_faults import faults_of_a_walk, low_targets, too_wide
from tests.browser.phones import NO_SERVICE_WORKER
from tests.browser.test_app_kept import FULL, Chromium
from tests.browser.test_app_own import enter_pack, own_pack, tile

PAGE = "save-and-share.html"
LINES = [{"id": "one", "entries": {"day": "2026-05-03", "kind": "charge", "put_in_mah": "2400"}, "note": "=cold"}]
MEASURED = round(datetime(2025, 10, 9, 12).timestamp() * 1000)  # on the 9th wherever the tests run
UNTIL_IT_SAYS_SO = None  # no delay: the kill waits for the page to have said that it is done
OUT_OF_USE = ["A cell was below its floor.", 1_760_000_000_000]


def lay(page: Page, address: str, *packs: dict, log: list | None = None) -> None:
    records = {"own pack": sealed_list("own pack", list(packs))}
    if log is not None:
        records |= {f"log {packs[0]['id']}": sealed(f"log {packs[0]['id']}", log)}
    lay_records(page, address, records)
    page.goto(address + PAGE)


def saved(page: Page, button: str, into: Path) -> Path:
    with page.expect_download() as download:
        page.get_by_role("button", name=button).click()
    file = into / download.value.suggested_filename
    download.value.save_as(file)
    return file


def choose(page: Page, file: Path) -> None:
    page.get_by_label("A file that was saved here").set_input_files(file)


def take_in(page: Page, file: Path) -> None:
    choose(page, file)
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_role("status").filter(has_text="Taken in:")).to_be_visible()


@pytest.fixture
def second(browser):
    """A page of another phone."""
    context = browser.new_context(**PHONE, service_workers="block")
    yield context.new_page()
    context.close()


@pytest.fixture
def file(visited, far_page, tmp_path):
    """A file of two packs, one of them out of use, and a log."""
    lay(far_page, visited.address, own_pack("Copper Wren"), own_pack("Tin Lark", refused=OUT_OF_USE), log=[LINES[0]])
    return saved(far_page, "Save all as one file", tmp_path)


def packs_of(page: Page) -> list[dict]:
    return kept(page, "own pack") or []


def test_a_file_is_named_by_the_day_that_the_phone_shows(browser, site, tmp_path):
    phone = browser.new_context(**PHONE, timezone_id="Pacific/Auckland", service_workers="block")
    page = phone.new_page()
    page.clock.set_fixed_time(datetime(2026, 5, 9, 13, 0, tzinfo=UTC))  # an hour after midnight there
    lay(page, site.address, own_pack("Copper Wren"))
    assert saved(page, "Save all as one file", tmp_path).name == "fieldslate-2026-05-10.json"
    phone.close()


def test_all_that_is_here_is_there_on_a_second_phone_and_a_refused_pack_stays_refused(site, file, second):
    second.goto(site.address + PAGE)
    choose(second, file)
    brings = second.locator(".file-brings")
    expect(brings.locator("h3")).to_have_text(["New: 2"])
    expect(brings).to_contain_text("LiPo 4S 5000\u00a0mAh · 1 line in its log")
    assert packs_of(second) == [], "shown, and not taken yet"
    second.get_by_role("button", name="Take it in").click()
    expect(second.get_by_role("status").filter(has_text="Taken in: 2 new")).to_be_visible()
    assert [(one["name"], one.get("refused")) for one in packs_of(second)] == [("Copper Wren", None), ("Tin Lark", OUT_OF_USE)]
    assert kept(second, "log copper wren") == LINES
    second.goto(site.address + "my-packs.html?id=tin lark")
    expect(second.locator(".own-refused")).to_contain_text("A cell was below its floor.")
    expect(second.get_by_role("link", name="Charge it")).to_have_count(0)


def test_the_same_file_twice_doubles_nothing_and_it_can_be_taken_back_after_a_reload(site, file, second):
    second.goto(site.address + PAGE)
    take_in(second, file)
    choose(second, file)
    expect(second.locator(".file-brings")).to_contain_text("As it is here already: 2.")
    expect(second.get_by_role("button", name="Take it in")).to_have_count(0)
    second.get_by_role("button", name="Back").click()
    assert len(packs_of(second)) == 2
    second.reload()
    second.locator(".last-file summary").click()
    second.get_by_role("button", name="Take it back").click()
    expect(second.get_by_role("status").filter(has_text="The file is taken back.")).to_be_visible()
    assert packs_of(second) == [] and kept(second, "log copper wren") == []


def test_of_two_of_one_pack_the_pilot_chooses_and_until_then_what_is_here_stays(site, file, second):
    lay(second, site.address, own_pack("Copper Wren", entries={"chemistry": "lipo", "cells": "6", "capacity_mah": "5000"}))
    choose(second, file)
    two = second.get_by_role("group", name="Two of Copper Wren")
    expect(two).to_contain_text("Cells in series: 6\u00a0cells here, 4\u00a0cells in the file")
    expect(two.get_by_label("As it is here")).to_be_checked()
    two.get_by_label("Keep both").check()
    second.get_by_role("button", name="Take it in").click()
    expect(second.get_by_role("status").filter(has_text="Taken in:")).to_be_visible()
    assert [(one["name"], one["entries"]["cells"]) for one in packs_of(second)] == [
        ("Copper Wren", "6"),
        ("Copper Wren, from the file", "4"),
        ("Tin Lark", "4"),
    ]


def test_a_damaged_record_is_named_and_left_out_and_a_broken_file_changes_nothing(site, file, second, tmp_path):
    second.goto(site.address + PAGE)
    spoilt = tmp_path / "spoilt.json"
    spoilt.write_text(file.read_text().replace('"capacity_mah":"5000"', '"capacity_mah":"5800"', 1))
    choose(second, spoilt)
    expect(second.locator(".file-brings")).to_contain_text("Pack 1 of the file, “Copper Wren”: it is damaged")
    second.get_by_role("button", name="Leave all as it is").click()
    spoilt.write_text(file.read_text()[:-200])
    choose(second, spoilt)
    expect(second.get_by_role("status").filter(has_text="cannot be read. Nothing was taken from it.")).to_be_visible()
    newer = json.loads(file.read_text()) | {"version": 99}
    spoilt.write_text(json.dumps(newer))
    choose(second, spoilt)
    expect(second.get_by_role("status").filter(has_text="A newer version of Fieldslate made this file.")).to_be_visible()
    assert packs_of(second) == []


def test_a_browser_that_is_killed_in_the_middle_has_taken_in_all_or_nothing(playwright, browser_program, site, file, tmp_path):
    many = json.loads(file.read_text())
    for delay_ms in (0, 5, 20, UNTIL_IT_SAYS_SO):
        profile = tmp_path / f"profile-{delay_ms}"
        killed = Chromium(playwright, browser_program, profile)
        killed.page.goto(site.address + PAGE)
        choose(killed.page, file)
        take = killed.page.get_by_role("button", name="Take it in")
        take.wait_for()
        if delay_ms is UNTIL_IT_SAYS_SO:
            take.click()
            expect(killed.page.get_by_role("status").filter(has_text="Taken in:")).to_be_visible()
        else:
            with suppress(Exception):  # it may be gone before it has answered
                killed.page.evaluate(
                    "(ms) => { document.querySelector('.file-brings').requestSubmit(); return new Promise((go) => setTimeout(go, ms)); }",
                    delay_ms,
                )
        killed.kill()
        after = Chromium(playwright, browser_program, profile)
        after.page.goto(site.address + "my-packs.html")
        expect(after.page.locator(".own-new")).to_be_visible()
        found = len(packs_of(after.page)), bool(kept(after.page, "log copper wren"))
        whole = len(many["packs"]), True
        assert found in ([whole] if delay_ms is UNTIL_IT_SAYS_SO else [(0, False), whole]), delay_ms
        after.kill()


@pytest.mark.parametrize("fault", [FULL], ids=["full"])
def test_a_full_phone_takes_in_nothing_and_says_so(phone, site, file, fault):
    phone.add_init_script(NO_SERVICE_WORKER)
    page = phone.new_page()
    page.goto(site.address + PAGE)
    page.add_init_script(fault)
    page.reload()
    choose(page, file)
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_role("status").filter(has_text="Nothing was taken in: this phone cannot keep it.")).to_be_visible()
    page.goto(site.address + "my-packs.html")
    expect(tile(page, "Copper Wren")).to_have_count(0)


def test_what_another_tab_changes_meanwhile_is_shown_before_anything_is_taken_in(site, file, second):
    second.goto(site.address + PAGE)
    choose(second, file)
    expect(second.locator(".file-brings h3")).to_have_text(["New: 2"])
    other = second.context.new_page()
    enter_pack(other, site.address, "Pine Wren")
    second.get_by_role("button", name="Take it in").click()
    expect(second.get_by_role("status").filter(has_text="Something was changed in another tab meanwhile.")).to_be_visible()
    second.get_by_role("button", name="Take it in").click()
    expect(second.get_by_role("status").filter(has_text="Taken in:")).to_be_visible()
    assert [one["name"] for one in packs_of(second)] == ["Pine Wren", "Copper Wren", "Tin Lark"]


def test_the_logs_leave_as_a_table_without_a_formula(visited, far_page, tmp_path):
    lay(far_page, visited.address, own_pack("Copper Wren"), log=LINES)
    table = saved(far_page, "Save the logs as a table", tmp_path).read_bytes().decode("utf-8-sig")
    assert table.splitlines()[1].startswith("Copper Wren,2026-05-03,Charge,2400,") and table.endswith(",'=cold\r\n")


@pytest.mark.parametrize("way", ["", "?code=copper wren", "?read=", "?own_name=Pine+Wren&chemistry=lipo&cells=4&capacity_mah=5000"])
def test_each_screen_is_there_offline_for_keyboard_and_reader_and_in_large_text(visited, far_page, found_wrong, way):
    lay(far_page, visited.address, own_pack("Copper Wren"), log=LINES)
    far_page.goto(visited.address + PAGE + way)
    expect(far_page.locator("#file-place h2").first).to_be_visible()
    if "code" in way:
        expect(far_page.locator(".code svg")).to_be_visible(timeout=PATIENCE_MS)
    assert found_wrong(far_page) == []
    assert faults_of_a_walk(far_page) == []
    assert low_targets(far_page) == []
    assert too_wide(far_page) == []


def test_what_a_file_brings_is_for_everybody(far_page, file, found_wrong):
    changed = json.loads(file.read_text())
    far_page.goto(far_page.url.split("?")[0])
    spoilt = file.with_name("spoilt.json")
    changed["packs"][1]["name"] = "Tin Lark II"
    spoilt.write_text(json.dumps(changed))
    choose(far_page, spoilt)
    expect(far_page.locator(".file-brings")).to_contain_text("it is damaged")
    assert found_wrong(far_page) == []
    assert low_targets(far_page) == []
    assert too_wide(far_page) == []


# Codes. What is drawn is read by another library than ours, by the standard for QR codes, ISO/IEC 18004.

FOREIGN = "https://elsewhere.example/save-and-share.html?own_name=Trap"


def said_by_code(page: Page) -> str:
    [found] = zxingcpp.read_barcodes(Image.open(io.BytesIO(page.locator(".code").screenshot())))
    return found.text


def picture_of(text: str, into: Path) -> Path:
    segno.make_qr(text).save(into, scale=8, border=4)
    return into


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_code_of_a_pack_says_its_link_black_on_white_and_opens_on_a_second_phone(visited, far_page, site, second, scheme):
    far_page.emulate_media(color_scheme=scheme)
    measured = own_pack("Copper Wren", state=["charged", MEASURED])
    measured["entries"]["measured_capacity_mah"] = "4700"
    lay(far_page, visited.address, measured | {"dates": {"measured_capacity_mah": MEASURED}})
    far_page.goto(visited.address + "my-packs.html?id=copper wren")
    far_page.get_by_role("link", name="Share it a code and a link").click()
    expect(far_page.locator(".code svg")).to_be_visible(timeout=PATIENCE_MS)
    link = far_page.locator(".code-link").text_content()
    assert said_by_code(far_page) == link
    width = far_page.locator(".code").bounding_box()["width"]
    assert width >= 0.6 * far_page.viewport_size["width"] and width >= 48 / 25.4 * 96
    second.goto(link.replace(visited.address, site.address))
    expect(second.locator("#file-place")).to_contain_text("LiPo 4S 5000\u00a0mAh")
    expect(second.locator("#file-place")).to_contain_text("4700\u00a0mAh, 9 October 2025")
    expect(second.locator(".came-by-link")).to_contain_text("only once you take it")
    assert packs_of(second) == []
    second.get_by_role("button", name="Keep it among my packs").click()
    expect(second.get_by_role("status").filter(has_text="Copper Wren is kept on this phone.")).to_be_visible()
    [pack] = packs_of(second)
    assert "state" not in pack and pack["entries"] == measured["entries"]
    second.goto(link.replace(visited.address, site.address))
    expect(second.locator(".came-by-link")).to_contain_text("is among yours already")


def test_a_pack_that_is_out_of_use_has_no_code(visited, far_page):
    lay(far_page, visited.address, own_pack("Tin Lark", refused=OUT_OF_USE))
    far_page.goto(visited.address + PAGE + "?code=tin lark")
    expect(far_page.locator(".own-refused")).to_contain_text("so there is none")
    expect(far_page.locator(".code")).to_have_count(0)


def test_a_setting_as_a_code_brings_its_entries_as_a_links(visited, far_page, site, second):
    open_with(
        far_page,
        visited.address,
        "charge-settings",
        club_entries("brass-heron", "small", "field-battery") | {"resting_v": "11.4", "pack_degc": "20"},
    )
    far_page.get_by_role("link", name="This as a code").click()
    expect(far_page.locator(".code svg")).to_be_visible(timeout=PATIENCE_MS)
    link = said_by_code(far_page)
    assert link == far_page.locator(".code-link").text_content()
    assert "measured_at=" in link and "charge-settings.html" in link
    second.goto(link.replace(visited.address, site.address))
    expect(second.get_by_role("button", name="Use these entries")).to_be_visible()
    assert kept(second, "entries") is None


def test_a_code_in_a_picture_is_gone_to_and_a_foreign_one_is_only_told(site, second, tmp_path):
    second.goto(site.address + PAGE + "?read=")
    second.get_by_label("Or a picture of a code").set_input_files(picture_of(FOREIGN, tmp_path / "foreign.png"))
    expect(
        second.get_by_role("status").filter(has_text=f"This code leads elsewhere, so it is not opened. It says: {FOREIGN}")
    ).to_be_visible()
    assert second.url == site.address + PAGE + "?read="
    second.get_by_label("Or a picture of a code").set_input_files({"name": "blank.png", "mimeType": "image/png", "buffer": blank()})
    expect(second.get_by_role("status").filter(has_text="No code was found in the picture.")).to_be_visible()
    second.get_by_label("Or a picture of a code").set_input_files(
        picture_of(f"{site.address}{PAGE}?own_name=Pine+Wren&cells=4", tmp_path / "ours.png")
    )
    expect(second.locator(".came-by-link")).to_be_visible()
    expect(second.get_by_role("heading", name="Pine Wren")).to_be_visible()


def blank() -> bytes:
    into = io.BytesIO()
    Image.new("RGB", (200, 200), "white").save(into, "PNG")
    return into.getvalue()


OWN_DETECTOR = """globalThis.BarcodeDetector = class {
  static getSupportedFormats() { return Promise.resolve(["qr_code"]); }
  detect() { return Promise.resolve([{ rawValue: "https://elsewhere.example/" }]); }
}"""


def test_the_browsers_own_detector_is_asked_where_there_is_one(site, second):
    second.add_init_script(OWN_DETECTOR)
    second.goto(site.address + PAGE + "?read=")
    second.get_by_label("Or a picture of a code").set_input_files({"name": "blank.png", "mimeType": "image/png", "buffer": blank()})
    expect(second.get_by_role("status").filter(has_text="It says: https://elsewhere.example/")).to_be_visible()


def test_the_site_itself_may_ask_for_the_camera_and_nobody_else(site, second):
    second.goto(site.address + PAGE)
    assert second.evaluate("document.featurePolicy.getAllowlistForFeature('camera')") == [site.address.rstrip("/")]
    assert second.evaluate("document.featurePolicy.allowsFeature('microphone')") is False


def test_a_link_is_copied_and_shared_by_the_browsers_own_means(visited, far_page):
    far_page.add_init_script(
        "navigator.share = async (given) => { window.shared = given; }; navigator.clipboard.writeText = async (text) => { window.copied = text; };"
    )
    lay(far_page, visited.address, own_pack("Copper Wren"))
    far_page.goto(visited.address + PAGE + "?code=copper wren")
    link = far_page.locator(".code-link").text_content()
    far_page.get_by_role("button", name="Copy the link").click()
    expect(far_page.get_by_role("status").filter(has_text="The link is copied.")).to_be_visible()
    far_page.get_by_role("button", name="Share", exact=True).click()
    assert far_page.evaluate("[copied, shared.url, shared.title]") == [link, link, "Copper Wren"]


def test_a_link_brings_no_second_life_to_a_pack_that_is_out_of_use_here(site, second):
    lay(second, site.address, own_pack("Tin Lark", refused=OUT_OF_USE))
    second.goto(site.address + PAGE + "?own_name=Tin+Lark&chemistry=lipo&cells=4&capacity_mah=5000&label_charge_rate_c=2")
    expect(second.locator(".own-refused")).to_contain_text("The link says nothing of that.")
    expect(second.get_by_role("button", name="Keep it")).to_have_count(0)


@pytest.mark.parametrize(
    "query",
    [
        "chemistry=gold",
        "measured_capacity_mah=4700",
        "measured_capacity_mah=4700&measured_capacity_mah_day=soon",
        "resting_v=14.8",
        "state=charged",
    ],
)
def test_a_link_brings_nothing_that_does_not_fit_and_no_reading_of_a_pack(site, second, query):
    second.goto(site.address + PAGE + f"?own_name=Pine+Wren&cells=4&capacity_mah=5000&{query}")
    second.get_by_role("button", name="Keep it among my packs").click()
    expect(second.get_by_role("status").filter(has_text="Pine Wren is kept on this phone.")).to_be_visible()
    [pack] = packs_of(second)
    assert pack["entries"] == {"cells": "4", "capacity_mah": "5000"} and pack["dates"] == {} and "state" not in pack
