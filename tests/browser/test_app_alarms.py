"""An alarm stands below the page until somebody has looked, and hides nothing that somebody is at."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.page_faults import LARGE_TEXT_PERCENT, faults_of_a_walk, show
from tests.browser.test_app_plan import followed_plan

# Scrolls so far that something stands right above the bar.
PUT_ABOVE_THE_BAR = "one => scrollBy(0, one.getBoundingClientRect().bottom - document.querySelector('.bottom').getBoundingClientRect().top)"

LIES_ON_TOP = """one => {
  const { x, y, width, height } = one.getBoundingClientRect();
  return document.elementFromPoint(x + width / 2, y + height / 2) === one;
}"""


def called(page: Page) -> None:
    """See an alarm that can be looked at."""
    expect(page.get_by_role("button", name="I have looked").first).to_be_enabled()


@pytest.mark.parametrize(("width", "height", "text_percent"), [(390, 844, 100), (844, 390, 100), (320, 640, LARGE_TEXT_PERCENT)])
def test_the_way_of_the_tab_key_goes_under_no_alarm(visited, far_page, width, height, text_percent):
    followed_plan(far_page, visited.address)
    far_page.goto(visited.address + "voltages.html")
    called(far_page)
    show(far_page, width, height, text_percent)
    assert faults_of_a_walk(far_page) == []


def test_an_alarm_that_comes_covers_no_field_that_is_typed_in(visited, far_page):
    far_page.emulate_media(reduced_motion="reduce")
    far_page.goto(visited.address + "my-packs.html?new=")
    field = far_page.locator("#own [name=label_charge_rate_c]")
    field.focus()
    field.evaluate(PUT_ABOVE_THE_BAR)
    assert field.evaluate(LIES_ON_TOP)
    other = visited.phone.new_page()
    followed_plan(other, visited.address)
    called(far_page)
    other.close()
    expect(field).to_be_focused()
    assert field.evaluate(LIES_ON_TOP)


def test_the_end_of_a_page_can_be_scrolled_above_an_alarm(visited, far_page):
    followed_plan(far_page, visited.address)
    far_page.goto(visited.address + "voltages.html")
    called(far_page)
    far_page.emulate_media(reduced_motion="reduce")
    far_page.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
    bar, alarms = (far_page.locator(one).bounding_box() for one in (".bottom", ".card-alarms"))
    assert bar["y"] + bar["height"] <= alarms["y"]
