"""The whole job with no signal: the built site is visited once, its host is stopped, and a pilot charges a pack by it.

The pack of 2650 mAh, its 1C and the charger's step of 0.1 A make 2.6 A, which can be reckoned in the head.
"""

import re
import threading
from urllib.parse import parse_qsl

from playwright.sync_api import Page, expect

from site_builder.building.offline import FIRST_AID, first_visit_bytes
from site_builder.building.packing import PACKED
from site_builder.commands.serve import Server
from site_builder.harness.content import PAGES
from site_builder.harness.host import MOST_SENT, CountingHost
from site_builder.harness.phone import ALL_SAVED, PHONE, visit, wait_for_engine
from site_builder.harness.pilot import club_entries, link_to, open_with, setting, start_card, tick_steps, type_entries
from site_builder.harness.store import WITHOUT_SCRIPTS, forget

ENTRIES = club_entries("brass-heron", "small", "field-battery")
WORKER = "service-worker.js"


def follow(page: Page, name: str) -> None:
    page.get_by_role("link", name=name, exact=True).first.click()


def test_a_first_visit_says_how_far_it_is_and_when_everything_is_there(page, dist):
    signal = threading.Event()

    def hold_back_python(path: str) -> None:
        if path.endswith(".wasm"):
            signal.wait()

    with Server(dist, tamper=hold_back_python) as server:
        page.goto(server.address)
        total = (first_visit_bytes(dist) - (dist / WORKER).stat().st_size) / 1e6
        expect(page.locator("#offline-state")).to_contain_text(f"of {total:.1f} MB")
        expect(page.locator("#offline-state")).to_contain_text("Saving to this phone:")
        signal.set()
        expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)


def test_the_pages_against_a_fire_need_no_signal_after_the_first_300_kb_of_a_first_visit(page, dist):
    with CountingHost(dist, at_most=300_000) as host:
        page.goto(host.address + "charge-settings.html")
        expect(page.locator("#offline-state")).to_contain_text("The signal was lost. Saving goes on when it is back.")
    page.context.new_cdp_session(page).send("Network.clearBrowserCache")
    for opened in PAGES:
        if opened.address in FIRST_AID:
            page.goto(host.address + opened.address)
            expect(page.get_by_role("heading", level=1)).to_have_text(opened.title)
            assert page.evaluate("document.styleSheets[0].cssRules.length") > 0
            expect(page.locator("#offline-state")).to_contain_text("Saving stopped at")


def test_a_first_visit_fetches_no_file_twice_and_packed_once_more_only_what_the_page_itself_is_made_of(page, dist):
    with CountingHost(dist) as host:
        visit(page, host.address + "charge-settings.html")
        wait_for_engine(page)
    asked = [path for path in host.asked if path != f"/{WORKER}"]
    assert sorted(asked) == sorted(set(asked))
    both = {path.rpartition("/")[2] for path in asked if path + PACKED in asked}
    assert both == {"charge-settings.html", "fieldslate.css", "page.js", "starting.js"}
    assert host.sent <= MOST_SENT


def test_a_pilot_works_out_a_charge_and_follows_the_card_to_its_end_with_no_signal(far_page, visited, sent):
    far_page.goto(visited.address)
    follow(far_page, "Settings")
    type_entries(far_page, ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(far_page, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(setting(far_page, "Charge current")).to_contain_text("Set by the charge rate on the label")
    expect(setting(far_page, "Capacity setting")).to_contain_text("2700\u00a0mAh")
    expect(setting(far_page, "Full voltage")).to_contain_text("12.60\u00a0V")

    follow(far_page, "Start the charging card")
    expect(far_page.get_by_role("heading", name="Compare the label in your hand")).to_be_focused()
    expect(far_page.get_by_role("region", name="Numbers of this card")).to_contain_text("2.6\u00a0A")
    tick_steps(far_page, "Every step is ticked", count="3")

    follow(far_page, "Pack in trouble")
    expect(far_page.get_by_role("heading", level=1)).to_have_text("Pack in trouble")
    assert sent == []


def test_a_running_card_comes_back_after_a_reload_with_no_signal(visited, far_page):
    open_with(far_page, visited.address, "charging-card", ENTRIES)
    start_card(far_page)
    tick_steps(far_page, "Choose the place")
    far_page.reload()
    expect(far_page.get_by_role("heading", name="Choose the place")).to_be_visible()
    expect(far_page.get_by_role("region", name="Numbers of this card")).to_contain_text("2.6\u00a0A")


def whole_text(page: Page) -> str:
    """All that an answer says, and what stands around it."""
    return page.locator("#answer").inner_text()


def test_a_link_opens_the_same_answer_with_no_signal(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    type_entries(far_page, ENTRIES)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(far_page, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(far_page).to_have_url(re.compile("measured_at="))
    several = "Several at once\n"  # offered beside one's own entries alone
    link, answer = far_page.url, whole_text(far_page)
    assert several in answer
    far_page.goto(visited.address + WITHOUT_SCRIPTS)
    forget(far_page)
    far_page.goto(link)
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    assert whole_text(far_page) == answer.replace(several, "")


def test_the_whole_app_works_below_a_path_with_no_signal(browser, dist):
    phone = browser.new_context(**PHONE)
    with Server(dist, under="/club/fieldslate/") as server:
        page = phone.new_page()
        visit(page, server.address)
    page.goto(link_to(server.address, "charge-settings", ENTRIES))
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
    carrying = page.get_by_role("link", name="Start the charging card").evaluate("link => link.href")
    carried, query = carrying.split("?")
    assert carried == f"{server.address}charging-card.html"
    page.goto(carrying)
    assert ENTRIES.items() <= dict(parse_qsl(query)).items()
    follow(page, "Pack in trouble")
    expect(page.get_by_role("heading", level=1)).to_have_text("Pack in trouble")
    phone.close()
