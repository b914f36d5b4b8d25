"""What is due of one's own stands on the first page, after as many days as calc says, and comes as a notice only where it was asked for."""

import pytest
from playwright.sync_api import Page, expect

from calc.facts.practice import MEASURED_KEEPS_DAYS, REFILL_WITHIN_DAYS, STORE_WITHIN_DAYS, STORED_CHECK_DAYS, SUPPLY_CHECK_DAYS
from site_builder.harness.store import kept, lay_records, sealed
from tests.browser.test_app_own import A_DAY_MS, check_cells, own_pack

BATTERY = {"supply_kind": "battery", "battery_ah": "70", "lead_length_m": "1.5", "lead_area_mm2": "2.5"}


def before(page: Page, days: float) -> int:
    return page.evaluate("Date.now()") - int(days) * A_DAY_MS


def lay(page: Page, address: str, packs: list[dict], supplies: list[dict] | None = None) -> None:
    lay_records(page, address, {"own pack": sealed("own pack", packs), "own supply": sealed("own supply", supplies or [])})


def due(page: Page, address: str) -> list[str]:
    page.goto(address + "index.html")
    page.locator("#home-packs .own-new").wait_for()
    return page.locator("#home-due b").all_text_contents()


@pytest.mark.parametrize(
    ("word", "days", "says"),
    [
        ("charged", STORE_WITHIN_DAYS, "Store Copper"),
        ("flown", STORE_WITHIN_DAYS, "Store Copper"),
        ("stored", STORED_CHECK_DAYS, "Read the cells of Copper"),
    ],
)
def test_a_pack_is_due_from_the_day_that_calc_says_and_not_before(visited, far_page, word, days, says):
    lay(far_page, visited.address, [own_pack("Copper", state=[word, before(far_page, days.value - 1)])])
    assert due(far_page, visited.address) == []
    lay(far_page, visited.address, [own_pack("Copper", state=[word, before(far_page, days.value)])])
    assert due(far_page, visited.address) == [says]


def test_old_measurements_are_due_and_those_of_the_new_pack_never(visited, far_page):
    entries = own_pack("Copper")["entries"] | {"measured_capacity_mah": "4400", "new_resistance_mohm": "2"}
    old = before(far_page, MEASURED_KEEPS_DAYS.value)
    lay(far_page, visited.address, [own_pack("Copper", entries=entries, dates={"measured_capacity_mah": old, "new_resistance_mohm": old})])
    assert due(far_page, visited.address) == ["Measure Copper anew"]
    lay(far_page, visited.address, [own_pack("Copper", entries=entries, dates={"new_resistance_mohm": old})])
    assert due(far_page, visited.address) == []


@pytest.mark.parametrize(
    ("word", "days", "says"), [("used", REFILL_WITHIN_DAYS, "Fill up Boot"), ("filled", SUPPLY_CHECK_DAYS, "Read Boot at rest")]
)
def test_the_battery_of_the_field_is_due(visited, far_page, word, days, says):
    boot = {"id": "boot", "name": "Boot", "entries": BATTERY, "dates": {}}
    lay(far_page, visited.address, [], [boot | {"state": [word, before(far_page, days.value - 1)]}])
    assert due(far_page, visited.address) == []
    lay(far_page, visited.address, [], [boot | {"state": [word, before(far_page, days.value)]}])
    assert due(far_page, visited.address) == [says]
    far_page.locator("#home-due").get_by_role("link", name=says).click()
    far_page.get_by_role("button", name="Filled up").click()
    expect(far_page.locator(".own-state")).to_contain_text("filled up today")
    assert due(far_page, visited.address) == []


def test_a_check_that_was_kept_ends_the_reminder(visited, far_page):
    lay(far_page, visited.address, [own_pack("Copper", state=["stored", before(far_page, 40)])])
    assert due(far_page, visited.address) == ["Read the cells of Copper"]
    check_cells(far_page, visited.address, "3.84 3.85 3.84 3.84")
    far_page.get_by_role("button", name="Keep this check in the log of Copper").click()
    expect(far_page.get_by_text("It is in the log of Copper.")).to_be_visible()
    assert due(far_page, visited.address) == []


def test_no_notice_is_asked_for_but_by_a_button(own_phone_page):
    """The browser's own question would block the page: it is answered here before, and counted."""
    page = own_phone_page
    address = page.url.rsplit("/", 1)[0] + "/"
    page.add_init_script(
        "window.asked = 0; Object.defineProperty(Notification, 'permission', { get: () => (window.asked ? 'denied' : 'default') });"
        "Notification.requestPermission = async () => { window.asked += 1; return 'denied'; };"
    )
    lay(page, address, [own_pack("Copper", state=["charged", before(page, 5)])])
    assert due(page, address) == ["Store Copper"]
    assert page.evaluate("window.asked") == 0
    page.get_by_role("button", name="Also tell me by a notice of this phone").click()
    expect(page.get_by_role("button", name="Also tell me by a notice of this phone")).to_have_count(0)
    assert page.evaluate("window.asked") == 1
    assert kept(page, "told") != []


def test_nothing_is_due_of_what_is_not_known(visited, far_page):
    lay(far_page, visited.address, [own_pack("Copper"), own_pack("Tin", refused=["It has swollen.", before(far_page, 9)])])
    assert due(far_page, visited.address) == []
    expect(far_page.locator("#home-due")).to_be_hidden()
