"""A cold finger taps twice: the second tap counts for nothing where the first has put something else under it."""

import re

from playwright.sync_api import Locator, Page, expect

from site_builder.harness.pilot import SECOND_TAP_MS, pause, run_on, stand_still
from site_builder.harness.store import lay_records, sealed
from tests.browser.test_app_own import own_pack
from tests.browser.test_app_plan import followed_plan, look

LISTED = {"own pack": sealed("own pack", [own_pack(name) for name in ("Copper", "Tin", "Zinc", "Nickel")])}


def place_of(control: Locator) -> tuple[float, float]:
    control.scroll_into_view_if_needed()
    box = control.bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def tap_twice(page: Page, control: Locator, done: Locator) -> tuple[float, float]:
    """Tap where a control stands, there again once what the first tap does is to be seen, and return where that is."""
    place = place_of(control)
    stand_still(page)
    page.touchscreen.tap(*place)
    expect(done).to_be_visible()
    page.touchscreen.tap(*place)
    page.evaluate("delete performance.now")
    pause(page)
    return place


def test_the_second_tap_on_put_back_opens_no_pack_and_a_later_one_does(visited, far_page):
    lay_records(far_page, visited.address, LISTED)
    far_page.goto(visited.address + "my-packs.html?id=copper")
    far_page.get_by_role("button", name="Remove it").click()
    place = tap_twice(far_page, far_page.get_by_role("button", name="Put back"), far_page.locator("[data-id=copper]"))
    expect(far_page).to_have_url(visited.address + "my-packs.html")
    run_on(far_page, SECOND_TAP_MS)
    far_page.touchscreen.tap(*place)
    expect(far_page).to_have_url(re.compile(r"my-packs\.html\?id="))


def test_the_second_tap_on_put_on_changes_nothing_on_the_page_of_the_line(visited, far_page):
    followed_plan(far_page, visited.address)
    looked = far_page.get_by_role("button", name="I have looked")
    alarms = looked.count()
    look(far_page)
    boxes = far_page.locator(".entry[data-in-boxes] [name=resting_v]")
    expect(looked).to_have_count(alarms - 1)
    expect(far_page.locator(".looked-at")).to_have_count(0)
    put_on = far_page.locator(".followed li").first.get_by_role("button", name="Put on")
    tap_twice(far_page, put_on, far_page.get_by_role("button", name="The whole pack instead"))
    expect(boxes).to_have_count(1)


def test_two_taps_in_a_hurry_both_count_where_nothing_has_moved(visited, far_page):
    far_page.goto(visited.address + "charge-settings.html")
    for name in ("LiHV", "LiPo"):
        far_page.touchscreen.tap(*place_of(far_page.locator("[data-taps=chemistry] button").filter(has_text=name)))
    expect(far_page.locator("[data-taps=chemistry] [aria-pressed=true]")).to_contain_text("LiPo")
