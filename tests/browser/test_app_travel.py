"""From page to page: the calculator runs on, and all that a browser does by itself at a new page is still done."""

import threading
import time

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from site_builder.commands.serve import Server
from site_builder.harness.pilot import club_entries, entry, link_to, open_with, setting, type_entries, use_link
from site_builder.harness.store import REFUSES
from tests.browser.page_faults import IS_PAINTED
from tests.browser.phones import NO_SERVICE_WORKER

ENTRIES = club_entries("brass-heron", "small", "field-battery")
# A document that is loaded anew has lost it.
MARK = "window.mark = 'the same document'"
IS_MARKED = "window.mark === 'the same document'"
MOST_SCROLLS = 100
MOST_LOOKS = 1000
# Scrolls, and says whether the page is still there two frames later.
SCROLLED = """top => new Promise((seen) => {
  scrollTo({ top, behavior: "instant" });
  requestAnimationFrame(() => requestAnimationFrame(() => seen(scrollY === top)));
})"""


@pytest.fixture
def settings(visited, far_page) -> Page:
    """The settings of the club's trainer, answered, in a document that is marked."""
    open_with(far_page, visited.address, "charge-settings", ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    far_page.evaluate(MARK)
    return far_page


def tap(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Main").get_by_role("link", name=name, exact=True).click()


def tap_in_place(link: Locator) -> None:
    """Playwright's own click scrolls first, even to what is in sight."""
    link.evaluate("link => link.click()")


def scroll_to(page: Page, top: int) -> None:
    """Scroll there, once what scrolls by itself has come to rest: a way to the answer, or to the top of a new page."""
    for _ in range(MOST_SCROLLS):
        if page.evaluate(SCROLLED, top):
            return
    pytest.fail(f"The page does not stay where it is scrolled to: {page.url}")


def heading(page: Page):
    return page.get_by_role("heading", level=1)


def is_same_document(page: Page) -> bool:
    return page.evaluate(IS_MARKED)


def test_moving_between_calculators_starts_nothing_anew_and_answers_there(settings):
    [worker] = settings.workers
    tap(settings, "Cards")
    settings.get_by_role("main").get_by_role("link", name="Charging card", exact=True).click()
    expect(settings.locator("[data-step=set-current]")).to_contain_text("2.6\u00a0A")
    tap(settings, "Voltages")
    expect(settings.locator(".marked").first).to_contain_text("this pack")
    tap(settings, "Settings")
    expect(setting(settings, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(settings.locator("#answer")).to_have_attribute("data-state", "answer")
    assert settings.workers == [worker] and is_same_document(settings)


def test_a_new_page_has_its_own_title_bar_and_strip(settings):
    strip = settings.get_by_role("region", name="Calculator")
    expect(strip).to_have_count(1)
    tap(settings, "Rules")
    expect(settings).to_have_title("Safety rules · Fieldslate")
    expect(settings.get_by_role("navigation", name="Main").locator("[aria-current=page]")).to_have_text("Rules")
    expect(strip).to_have_count(0)
    assert settings.url.endswith("/safety-rules.html") and is_same_document(settings)
    settings.get_by_role("banner").get_by_role("link", name="Fieldslate").click()
    expect(settings.get_by_role("banner").locator("[aria-current=page]")).to_have_text("Fieldslate")
    assert settings.evaluate("document.body.dataset.page") == "index"


def test_a_new_page_is_read_out_has_the_focus_at_its_heading_and_begins_at_its_top(settings, until):
    settings.get_by_role("contentinfo").scroll_into_view_if_needed()
    tap(settings, "Rules")
    expect(heading(settings)).to_be_focused()
    expect(settings.get_by_role("status").get_by_text("Safety rules · Fieldslate")).to_have_count(1)
    until(settings, "scrollY === 0")


def test_the_enter_key_follows_a_link_and_the_tab_key_goes_on_from_the_new_heading(settings):
    settings.get_by_role("navigation", name="Main").get_by_role("link", name="Rules").focus()
    settings.keyboard.press("Enter")
    expect(heading(settings)).to_have_text("Safety rules")
    settings.keyboard.press("Tab")
    assert settings.evaluate("document.querySelector('main').contains(document.activeElement)")


def test_back_and_forward_bring_each_page_with_its_entries_and_its_place(settings, until):
    scroll_to(settings, 900)
    tap_in_place(settings.get_by_role("navigation", name="Main").get_by_role("link", name="Rules"))
    expect(heading(settings)).to_have_text("Safety rules")
    scroll_to(settings, 300)
    settings.go_back()
    expect(setting(settings, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(entry(settings, "capacity_mah")).to_have_value(ENTRIES["capacity_mah"])
    until(settings, "scrollY === 900")
    settings.go_forward()
    expect(heading(settings)).to_have_text("Safety rules")
    until(settings, "scrollY === 300")
    assert is_same_document(settings)


def test_a_reload_shows_the_page_that_was_gone_to_at_its_place(settings, until):
    tap(settings, "Rules")
    expect(heading(settings)).to_have_text("Safety rules")
    scroll_to(settings, 300)
    settings.reload()
    expect(heading(settings)).to_have_text("Safety rules")
    until(settings, "scrollY === 300")
    settings.go_back()
    expect(setting(settings, "Charge current")).to_contain_text("2.6\u00a0A")


def test_a_link_into_a_page_leads_to_its_place_there_and_back_to_where_it_stood(visited, far_page, until):
    far_page.goto(visited.address + "safety-rules.html")
    far_page.evaluate(MARK)
    source = far_page.locator("main a.source").last
    scroll_to(far_page, 300)
    key = source.get_attribute("href").partition("#")[2]
    tap_in_place(source)
    expect(far_page.locator(":target")).to_have_attribute("id", key)
    expect(far_page.locator(":target")).to_be_in_viewport()
    expect(far_page.locator(":target")).to_be_focused()
    far_page.go_back()
    expect(heading(far_page)).to_have_text("Safety rules")
    until(far_page, "scrollY === 300")
    assert is_same_document(far_page)


def test_a_heading_of_the_same_page_and_the_way_back_from_it_load_nothing(visited, far_page, until):
    far_page.goto(visited.address + "pack-in-trouble.html")
    far_page.evaluate(MARK)
    tap_in_place(far_page.get_by_role("navigation", name="What").get_by_role("link").last)
    expect(far_page.locator(":target")).to_be_in_viewport()
    far_page.go_back()
    expect(far_page.locator(":target")).to_have_count(0)
    until(far_page, "scrollY === 0")
    assert is_same_document(far_page)


def test_a_link_can_still_be_opened_in_another_tab(settings):
    with settings.context.expect_page() as opened:
        settings.get_by_role("navigation", name="Main").get_by_role("link", name="Rules").click(modifiers=["ControlOrMeta"])
    assert heading_over_the_protocol(opened.value) == "Safety rules"
    expect(heading(settings)).to_have_text("Charge settings")
    opened.value.close()


def heading_over_the_protocol(page: Page) -> str:
    """Read the heading past Playwright: of a tab that it did not open itself it may wait for ever for a navigation that has long ended."""
    devtools = page.context.new_cdp_session(page)
    for _ in range(MOST_LOOKS):
        found = devtools.send("Runtime.evaluate", {"expression": "document.querySelector('h1')?.textContent"})["result"].get("value")
        if found:
            return found
        time.sleep(0.05)
    pytest.fail(f"No heading has come in {page.url}.")


@pytest.fixture
def plain_phone(phone: BrowserContext) -> BrowserContext:
    phone.add_init_script(NO_SERVICE_WORKER)
    return phone


def opened(phone: BrowserContext, address: str) -> Page:
    page = phone.new_page()
    page.goto(address)
    page.evaluate(MARK)
    return page


def test_without_a_service_worker_the_calculator_runs_on_as_well(plain_phone, site):
    page = opened(plain_phone, link_to(site.address, "charge-settings", ENTRIES))
    use_link(page)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    [worker] = page.workers
    tap(page, "Cards")
    page.get_by_role("main").get_by_role("link", name="Charging card", exact=True).click()
    expect(page.locator("[data-step=set-current]")).to_contain_text("2.6\u00a0A")
    assert page.workers == [worker] and is_same_document(page)


def test_where_the_phone_keeps_nothing_a_link_carries_what_was_typed_last(plain_phone, site):
    plain_phone.add_init_script(REFUSES)
    page = opened(plain_phone, link_to(site.address, "charge-settings", ENTRIES))
    use_link(page)
    type_entries(page, {"requested_rate_c": "0.5"})
    page.get_by_role("link", name="Start the charging card").click()
    expect(page.locator("[data-step=set-current]")).to_contain_text("1.3\u00a0A")
    assert is_same_document(page)


def test_a_page_that_is_missing_is_left_to_the_browser(plain_phone, dist):
    with Server(dist, tamper=lambda path: 404 if path == "/voltages.html" else None) as server:
        page = opened(plain_phone, server.address + "safety-rules.html")
        with page.expect_navigation() as gone:
            tap(page, "Voltages")
        assert gone.value.status == 404
        page.go_back()
        expect(heading(page)).to_have_text("Safety rules")


def test_a_page_of_another_version_is_loaded_with_its_own_scripts(plain_phone, dist):
    newer = (dist / "voltages.html").read_bytes().replace(b'data-engine="engine-', b'data-engine="engine-newer-')
    with Server(dist, tamper=lambda path: newer if path == "/voltages.html" else None) as server:
        page = opened(plain_phone, server.address + "safety-rules.html")
        tap(page, "Voltages")
        expect(heading(page)).to_have_text("Voltages")
        assert not is_same_document(page)


def test_a_page_that_does_not_come_is_asked_for_by_the_browser_itself(plain_phone, dist):
    asked, signal = [], threading.Event()

    def hold_back_the_first(path: str) -> None:
        if path == "/voltages.html":
            asked.append(path)
            if len(asked) == 1:
                signal.wait()

    with Server(dist, tamper=hold_back_the_first) as server:
        page = opened(plain_phone, server.address + "safety-rules.html")
        tap(page, "Voltages")
        expect(heading(page)).to_have_text("Voltages")
        assert not is_same_document(page)
        signal.set()


def test_of_two_taps_the_last_one_counts(plain_phone, dist):
    ended, signal = [], threading.Event()
    with Server(dist, tamper=lambda path: signal.wait() and None if path == "/voltages.html" else None) as server:
        page = opened(plain_phone, server.address + "index.html")
        for event in ("requestfinished", "requestfailed"):
            page.on(event, lambda request: ended.append(request.url))
        tap(page, "Voltages")
        tap(page, "Rules")
        expect(heading(page)).to_have_text("Safety rules")
        signal.set()
        while not any(url.endswith("/voltages.html") for url in ended):
            page.wait_for_timeout(25)
        page.evaluate(IS_PAINTED)
        expect(heading(page)).to_have_text("Safety rules")
        assert page.url.endswith("/safety-rules.html") and is_same_document(page)


def test_with_no_signal_a_page_that_is_not_there_says_so(far_page, visited):
    far_page.goto(visited.address)
    far_page.evaluate(MARK)
    far_page.evaluate("document.querySelector('nav a').href = 'never-was.html'")
    far_page.get_by_role("navigation", name="Main").get_by_role("link").first.click()
    expect(heading(far_page)).to_have_text("This page is not on this phone")
