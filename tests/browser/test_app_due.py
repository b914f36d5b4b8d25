"""What is due of one's own stands on the first page, after as many days as calc says, and comes as a notice only where it was asked for."""

from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from calc.facts.practice import MEASURED_KEEPS_DAYS, REFILL_WITHIN_DAYS, STORE_WITHIN_DAYS, STORED_CHECK_DAYS, SUPPLY_CHECK_DAYS
from site_builder.harness.pilot import start_card
from site_builder.harness.store import kept, lay_records, sealed
from tests.browser.test_app_own import A_DAY_MS, check_cells, own_pack

NOON = datetime(2026, 5, 9, 12, 0, tzinfo=UTC)
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


def test_no_reminder_waits_for_a_day_that_the_clock_has_left_again(own_phone_page):
    page = own_phone_page
    address = page.url.removesuffix("index.html")
    page.clock.install(time=NOON + timedelta(days=365))  # the clock is a year ahead
    lay(page, address, [own_pack("Copper"), own_pack("Tin", state=["stored", before(page, 1)], checked=before(page, 0))])
    page.goto(address + "my-packs.html?id=copper")
    page.get_by_role("button", name="Charged").click()
    expect(page.locator(".own-state")).to_contain_text("charged today")
    page.clock.set_system_time(NOON)  # and is put right
    assert due(page, address) == []
    expect(page.locator("#home-packs")).to_contain_text("charged today")
    page.clock.set_system_time(NOON + timedelta(days=STORE_WITHIN_DAYS.value))
    assert due(page, address) == ["Store Copper"]
    page.clock.set_system_time(NOON + timedelta(days=STORED_CHECK_DAYS.value))
    assert due(page, address) == ["Store Copper", "Read the cells of Tin"]


def test_a_page_that_was_left_open_says_on_another_day_what_is_due_then(own_phone_page):
    page = own_phone_page
    address = page.url.removesuffix("index.html")
    page.clock.install(time=NOON)
    lay(page, address, [own_pack("Copper", state=["charged", before(page, 0)])])
    assert due(page, address) == []
    expect(page.locator("#home-packs")).to_contain_text("charged today")
    page.clock.set_system_time(NOON + timedelta(days=STORE_WITHIN_DAYS.value))
    look_away(page)  # a notice tells what nobody sees
    expect(page.locator("#home-due b")).to_have_count(0)
    look_away(page, False)
    expect(page.locator("#home-due b")).to_have_text("Store Copper")
    expect(page.locator("#home-packs")).to_contain_text(f"full for {STORE_WITHIN_DAYS.value} days: store it")
    page.goto(address + "charge-settings.html?pick=copper")
    expect(page.locator(".own-picked")).to_contain_text(f"full for {STORE_WITHIN_DAYS.value} days: store it")
    page.clock.set_system_time(NOON + timedelta(days=9))
    look_away(page, False)
    expect(page.locator(".own-picked")).to_contain_text("full for 9 days: store it")


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


# The phone's own answer to the question for notices, and what it was given to show. A browser without windows has neither.
NOTICES = """(answer) => {
  window.asked = 0;
  window.shown = [];
  let permission = answer === "granted" ? answer : "default";
  Object.defineProperty(Notification, "permission", { get: () => permission });
  Notification.requestPermission = async () => { window.asked += 1; permission = answer; return answer; };
  ServiceWorkerRegistration.prototype.showNotification = async (title, { body, tag }) => {
    window.shown = [...shown.filter((one) => one.tag !== tag), { title, body, tag, close() { window.shown = shown.filter((one) => one.tag !== tag); } }];
  };
  ServiceWorkerRegistration.prototype.getNotifications = async ({ tag }) => shown.filter((one) => one.tag === tag);
}"""
SHOWN = "shown.map(({ title, body }) => `${title}: ${body}`)"
ASK = "Also tell me by a notice of this phone"


def answers_notices_with(page: Page, answer: str) -> None:
    page.add_init_script(f"({NOTICES})({answer!r})")


def look_away(page: Page, is_away: bool = True) -> None:
    page.evaluate(
        "(away) => { Object.defineProperty(document, 'hidden', { configurable: true, get: () => away });"
        "document.dispatchEvent(new Event('visibilitychange')); }",
        is_away,
    )


def test_no_notice_is_asked_for_but_by_a_button_and_a_refusal_is_said_once(visited, far_page):
    page, address = far_page, visited.address
    answers_notices_with(page, "denied")
    lay(page, address, [own_pack("Copper", state=["charged", before(page, 5)])])
    assert due(page, address) == ["Store Copper"]
    assert page.evaluate("window.asked") == 0
    page.get_by_role("button", name=ASK).click()
    expect(page.locator("#home-due")).to_contain_text("Notices of Fieldslate are refused on this phone")
    expect(page.get_by_role("button", name=ASK)).to_have_count(0)
    expect(page.get_by_role("heading", name="Due")).to_be_focused()
    assert page.evaluate("window.asked") == 1
    page.add_init_script("Object.defineProperty(Notification, 'permission', { get: () => 'denied' })")
    assert due(page, address) == ["Store Copper"]
    expect(page.locator("#home-due")).not_to_contain_text("otices")


def test_where_a_browser_has_no_notices_the_first_page_says_so_once_and_what_is_due_stands_there(visited, far_page):
    page, address = far_page, visited.address
    page.add_init_script("delete window.Notification")
    lay(page, address, [own_pack("Copper", state=["charged", before(page, 5)])])
    assert due(page, address) == ["Store Copper"]
    expect(page.locator("#home-due")).to_contain_text("This browser shows no notices of Fieldslate.")
    assert due(page, address) == ["Store Copper"]
    expect(page.locator("#home-due")).not_to_contain_text("otices")


def test_what_has_become_due_is_told_by_one_notice_while_nobody_looks_and_it_goes_once_it_is_seen(visited, far_page, until):
    page, address = far_page, visited.address
    answers_notices_with(page, "granted")
    entries = own_pack("Tin")["entries"] | {"measured_capacity_mah": "4400"}
    packs = [
        own_pack("Copper", state=["charged", before(page, 2)]),
        own_pack("Pine", state=["stored", before(page, 120)]),
        own_pack("Tin", entries=entries, dates={"measured_capacity_mah": before(page, 400)}),
    ]
    lay(page, address, packs, [{"id": "boot", "name": "Boot", "entries": BATTERY, "dates": {}, "state": ["used", before(page, 2)]}])
    page.goto(address + "voltages.html")
    page.locator("[data-started]").wait_for()
    assert page.evaluate(SHOWN) == []
    look_away(page)
    until(page, "shown.length === 1")
    [notice] = page.evaluate(SHOWN)
    assert notice.removeprefix("Due: ").splitlines() == [
        "Store Copper: full for 2 days",
        "Read the cells of Pine: not read for 120 days",
        "Measure Tin anew: measured 400 days ago",
        "Fill up Boot: used 2 days ago",
    ]
    look_away(page, False)
    page.get_by_role("link", name="Fieldslate").first.click()
    page.locator("#home-due b").first.wait_for()
    until(page, "shown.length === 0")
    look_away(page)
    page.evaluate("navigator.serviceWorker.ready")
    assert page.evaluate(SHOWN) == [], "it was seen, and is told no second time"


def test_a_timer_that_is_up_while_another_app_is_in_front_is_told_by_a_notice_until_somebody_has_looked(visited, far_page, until):
    page, address = far_page, visited.address
    answers_notices_with(page, "granted")
    page.goto(address + "soldering-card.html")
    start_card(page)
    cards = kept(page, "running-cards")
    timer = {"title": "Cool down", "ends": page.evaluate("Date.now()"), "looked": False}
    cards["running"][0]["timers"] = {"cool": timer}
    lay_records(page, address, {"running-cards": sealed("running-cards", cards)})
    page.add_init_script("Object.defineProperty(document, 'hidden', { configurable: true, get: () => true })")
    page.goto(address + "voltages.html")
    until(page, "shown.length === 1")
    [notice] = page.evaluate(SHOWN)
    assert notice.startswith(f"{timer['title']}: time was up at ") and notice.endswith(". Look now.")
    look_away(page, False)
    page.get_by_role("button", name="I have looked").click()
    until(page, "shown.length === 0")


# A tap on a notice, as the service worker hears of it. Only a finger may bring a window to the front: what it asks for is noted instead.
TAP = """async (tag) => {
  const asked = [];
  WindowClient.prototype.focus = async function () { asked.push(`to the front: ${this.url}`); };
  self.clients.openWindow = async (address) => { asked.push(`opened: ${address}`); };
  let done;
  const tap = Object.assign(new Event("notificationclick"), { notification: { tag, close() {} }, waitUntil: (promise) => (done = promise) });
  self.dispatchEvent(tap);
  await done;
  return asked;
}"""


# A page that was left stays among the worker's for a moment.
UNTIL_ALONE = """async () => {
  while ((await self.clients.matchAll({ type: "window" })).length > 0) await new Promise((go_on) => setTimeout(go_on, 25));
}"""


def test_a_tap_on_a_notice_brings_the_open_page_to_the_front_and_opens_one_only_where_there_is_none(own_phone_page):
    page = own_phone_page
    home = page.url.removesuffix("index.html")
    lay(page, home, [own_pack("Copper", state=["charged", before(page, 5)])])
    [worker] = page.context.service_workers
    page.goto(home + "voltages.html")
    page.locator("[data-started]").wait_for()
    page.evaluate("window.mark = 'the same document'")
    assert worker.evaluate(TAP, "cool") == [f"to the front: {page.url}"]
    assert worker.evaluate(TAP, "due") == [f"to the front: {page.url}"]
    expect(page.locator("#home-due b")).to_have_text("Store Copper")
    assert page.evaluate("window.mark") == "the same document", "what runs there would have begun anew"
    page.goto("about:blank")
    worker.evaluate(UNTIL_ALONE)
    assert worker.evaluate(TAP, "due") == [f"opened: {home}"]


def test_nothing_is_due_of_what_is_not_known(visited, far_page):
    lay(far_page, visited.address, [own_pack("Copper"), own_pack("Tin", refused=["It has swollen.", before(far_page, 9)])])
    assert due(far_page, visited.address) == []
    expect(far_page.locator("#home-due")).to_be_hidden()
