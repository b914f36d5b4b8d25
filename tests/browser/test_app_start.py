"""What a pilot sees while the calculator starts, and when it does not."""

import threading
from collections.abc import Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.commands.serve import Response, Server
from site_builder.harness.phone import ALL_SAVED, PHONE, wait_for_engine
from site_builder.harness.pilot import club_entries, entry, link_to, open_with, setting, type_entries, unfold
from tests.browser.page_faults import A_LINE_IN_THE_STRIP, IS_PAINTED, NOTE_JUMPS

ENTRIES = club_entries("paper-wren", "small", "clubhouse")

# For so long after a key a browser takes whatever moves for what the key was to do.
OF_A_KEY_MS = 600
# Of what stands above the answer, and of its heading: what stands below it ends where the answer ends.
TOPS = """Array.from(document.querySelectorAll("h1, #entries, #answer-title, .asked:not(.later) :is(.group, .entry:not([hidden]))"))
  .filter((element) => element.checkVisibility()).map((element) => element.getBoundingClientRect().top + scrollY)"""


@pytest.fixture
def plain_phone(phone_without_store: BrowserContext) -> BrowserContext:
    phone_without_store.add_init_script(NOTE_JUMPS)
    return phone_without_store


@pytest.fixture
def slow_page(plain_phone, dist) -> Iterator[tuple[Page, threading.Event]]:
    """A page whose calculator does not come before its signal is set."""
    signal = threading.Event()
    with Server(dist, tamper=lambda path: signal.wait() and None if path.endswith(".wasm") else None) as server:
        page = plain_phone.new_page()
        page.goto(server.address + "charge-settings.html")
        yield page, signal
        signal.set()


@pytest.fixture
def page_without_engine(plain_phone, dist) -> Iterator[Page]:
    with Server(dist, tamper=lambda path: 404 if path.endswith("pyodide.mjs") else None) as server:
        page = plain_phone.new_page()
        page.goto(server.address + "charge-settings.html")
        yield page


def state(page: Page):
    return page.get_by_role("region", name="Calculator").get_by_role("status")


def test_entries_typed_before_the_calculator_is_up_are_kept_and_answered(slow_page):
    page, signal = slow_page
    expect(state(page)).to_have_text("Starting. You can enter your pack now.")
    type_entries(page, ENTRIES)
    expect(state(page)).to_have_text("Starting. Your entries are kept.")
    signal.set()
    # 350 mAh at 1C is 0.35 A, and the charger's step is 0.1 A.
    expect(setting(page, "Charge current")).to_contain_text("0.3\u00a0A")
    expect(page.get_by_role("heading", name="Your answer")).to_be_visible()
    expect(entry(page, "capacity_mah")).to_have_value("350")


def test_the_examples_numbers_never_stand_under_a_pilots_entries(slow_page):
    page, _ = slow_page
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
    type_entries(page, {"capacity_mah": "350"})
    expect(page.locator("#answer")).to_have_attribute("data-state", "waiting")
    expect(page.locator("#answer .figure")).to_have_count(0)
    expect(page.locator("#answer")).to_contain_text("It comes as soon as the calculator is ready.")


def test_nothing_moves_when_the_answer_of_entries_typed_early_comes(slow_page):
    page, signal = slow_page
    type_entries(page, ENTRIES)
    page.wait_for_timeout(OF_A_KEY_MS)
    page.evaluate(IS_PAINTED)
    before, tops = page.evaluate("jumps"), page.evaluate(TOPS)
    signal.set()
    expect(setting(page, "Charge current")).to_contain_text("0.3\u00a0A")
    assert page.evaluate(TOPS) == tops
    assert page.evaluate("jumps") - before < A_LINE_IN_THE_STRIP


# Where a field stands on the screen, and how high the answer is.
STANDS = """(field) => [field.getBoundingClientRect().top, document.getElementById("answer-body").offsetHeight].map(Math.round)"""


def test_a_field_below_the_answer_stays_under_the_finger_when_that_grows_or_shrinks(visited, far_page):
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    unfold(far_page, "lead_area_mm2")
    field = entry(far_page, "lead_area_mm2")
    field.evaluate("(field) => { field.focus({ preventScroll: true }); field.scrollIntoView({ block: 'center', behavior: 'instant' }); }")
    far_page.evaluate(IS_PAINTED)
    [top, height] = field.evaluate(STANDS)
    field.fill("")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "partial")
    far_page.evaluate(IS_PAINTED)
    [top_then, height_then] = field.evaluate(STANDS)
    assert abs(height_then - height) > 48, "the answer has hardly changed its height: this shows nothing"
    assert abs(top_then - top) <= 1
    field.fill("3.3")
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.evaluate(IS_PAINTED)
    assert abs(field.evaluate(STANDS)[0] - top) <= 1


def test_nothing_moves_when_a_link_with_entries_is_answered(visited, far_page):
    page = far_page
    page.add_init_script(NOTE_JUMPS)
    page.goto(link_to(visited.address, "charge-settings", ENTRIES), wait_until="commit")
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    assert page.evaluate("jumps") < A_LINE_IN_THE_STRIP


KEPT_ON = [
    "index",
    "charge-settings",
    "voltages",
    "cell-check",
    "day-plan",
    "packs-in-series",
    "my-packs",
    "my-chargers",
    "ageing",
    "save-and-share",
]


def test_nothing_moves_on_a_page_that_opens_where_packs_are_kept(visited, far_page):
    page = far_page
    page.goto(visited.address + "my-packs.html")
    page.get_by_role("button", name="Put the club's examples in").click()
    expect(page.get_by_role("button", name="Take the club's examples out")).to_be_visible()
    page.add_init_script(NOTE_JUMPS)
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
    jumps = {}
    for key in KEPT_ON:
        page.goto(f"{visited.address}{key}.html", wait_until="commit")
        expect(page.locator("html")).to_have_attribute("data-started", "")
        expect(page.locator("#home, #entries, #own, #save-and-share").first).to_be_visible()
        page.evaluate(IS_PAINTED)
        jumps[key] = page.evaluate("jumps")
    page.goto(link_to(visited.address, "charge-settings", ENTRIES), wait_until="commit")
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    jumps["a link"] = page.evaluate("jumps")
    assert {key: size for key, size in jumps.items() if size >= A_LINE_IN_THE_STRIP} == {}


def test_a_page_from_the_phone_whose_script_does_not_start_is_seen_all_the_same(visited):
    page = visited.phone.new_page()
    page.add_init_script("Object.defineProperty(Document.prototype, 'documentElement', { get: () => { throw new Error('a fault'); } })")
    page.goto(visited.address + "charge-settings.html")
    expect(page.locator("html")).to_have_attribute("data-from-phone", "")
    expect(page.locator("html:not([data-started]) #entries")).to_be_visible()
    page.close()


def test_a_calculator_that_cannot_start_says_so_and_the_example_stays(page_without_engine):
    expect(state(page_without_engine)).to_contain_text("The calculator could not start on this phone.")
    expect(page_without_engine.get_by_role("heading", name="Worked example")).to_be_visible()
    expect(setting(page_without_engine, "Charge current")).to_contain_text("2.6\u00a0A")


def test_entries_are_kept_where_the_calculator_cannot_start(page_without_engine):
    expect(state(page_without_engine)).to_contain_text("could not start")
    type_entries(page_without_engine, ENTRIES)
    expect(page_without_engine.locator("#answer-about")).to_contain_text("Below is the worked example: these are not your numbers.")
    page_without_engine.reload()
    expect(state(page_without_engine)).to_contain_text("could not start")
    expect(entry(page_without_engine, "capacity_mah")).to_have_value("350")
    expect(page_without_engine.locator("#answer")).to_have_attribute("data-state", "fault")
    expect(setting(page_without_engine, "Charge current")).to_contain_text("2.6\u00a0A")


def test_a_fault_of_ours_is_called_ours_and_shows_the_example_as_not_the_pilots(plain_phone, dist):
    [worker] = dist.glob("code-*/worker.js")
    asks = "const question=[calculator"
    assert asks in worker.read_text(encoding="utf-8")
    broken = worker.read_text(encoding="utf-8").replace(asks, "const question=['no such calculator'")
    with Server(dist, tamper=lambda path: broken.encode() if path.endswith("worker.js") and "code-" in path else None) as server:
        page = plain_phone.new_page()
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        expect(page.locator("#answer-about")).to_contain_text("The fault is ours, not yours.")
        expect(page.locator("#answer-about")).to_contain_text("these are not your numbers")
        expect(page.get_by_role("heading", name="Worked example")).to_be_visible()
        expect(entry(page, "capacity_mah")).to_have_value("350")


def test_what_is_typed_before_the_script_has_come_is_the_pilots_and_not_the_forms(browser, dist):
    phone = browser.new_context(**PHONE, service_workers="block")
    held = []

    def hold(route) -> None:
        held.append(route)

    with Server(dist) as server:
        page = phone.new_page()
        page.route("**/page.js", hold)
        with page.expect_request("**/page.js"):
            page.goto(server.address + "charge-settings.html", wait_until="commit")
        page.locator("[name=capacity_mah]").fill("350")
        expect(page.locator("#answer")).to_have_attribute("data-state", "example")
        while not held:
            page.wait_for_timeout(25)
        held[0].continue_()
        expect(page.locator("#answer")).not_to_have_attribute("data-state", "example")
        expect(page.locator("#answer .figure")).to_have_count(0)
        expect(page.locator("[name=capacity_mah]")).to_have_value("350")
    phone.close()


class WithoutScriptHost(Server):
    """Sends no script that a page can run: there is none, it is cut short, or a page stands in its place."""

    def __init__(self, dist, fault: str):
        self.fault = fault
        super().__init__(dist)

    def response(self, address: str) -> Response:
        found = super().response(address)
        if not address.endswith("/starting.js") or not self.fault:
            return found
        if self.fault == "not there":
            return Response(404, b"There is no such file.")
        if self.fault == "cut short":
            return replace(found, cut_to=len(found.body) // 2)
        return Response(200, b"<h1>Sign in</h1>", "text/html")


@pytest.mark.parametrize("fault", ["not there", "cut short", "a page in its place"])
def test_a_page_whose_script_did_not_come_says_so_and_what_still_holds_and_can_be_loaded_again(phone, dist, axe, fault):
    with WithoutScriptHost(dist, fault) as host:
        page = phone.new_page()
        page.goto(host.address + "charge-settings.html")
        told = page.get_by_role("complementary", name="This page has not started")
        expect(told).to_be_visible()
        expect(told).to_contain_text("The script of this page has not come.")
        expect(told).to_contain_text("these are not your numbers")
        expect(page.get_by_role("heading", name="Worked example")).to_be_visible()
        assert axe(page) == []
        host.fault = ""
        told.get_by_role("link", name="Load this page again").click()
        wait_for_engine(page)
        expect(page.locator("#not-started")).to_have_count(0)


def test_a_page_opened_as_a_file_says_that_its_script_did_not_come(phone, dist):
    page = phone.new_page()
    page.goto((dist / "charge-settings.html").as_uri())
    expect(page.get_by_role("complementary", name="This page has not started")).to_be_visible()


def test_a_page_whose_script_comes_never_says_that_it_did_not(visited):
    page = visited.phone.new_page()
    page.add_init_script("""addEventListener("animationstart", ({ target }) => (window.seen ??= target.id))""")
    page.goto(visited.address + "charge-settings.html")
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    expect(page.locator("#not-started")).to_have_count(0)
    assert page.evaluate("window.seen ?? null") != "not-started"
    page.close()
