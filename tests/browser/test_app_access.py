"""No page, in no state, by day or by night, breaks a rule of access that a program can check: WCAG 2.2 AA, contrast AAA.

What an answer, a refusal and a running card look like is reached by links and taps on one phone without a signal.
"""

import pytest
from playwright.sync_api import Page, expect

from site_builder.trying.pilot import PAGES, club_entries, link_to, open_page

ENTRIES = club_entries("brass-heron", "small", "field-battery")
CALCULATORS = [page for page in PAGES if page.calculator]


@pytest.fixture
def breaks(axe):
    """Return what a page breaks, by day and by night."""

    def found(page: Page) -> dict[str, list[dict]]:
        by_scheme = {}
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
            by_scheme[scheme] = axe(page)
        return by_scheme

    return found


NOTHING = {"light": [], "dark": []}


def unfold(page: Page) -> None:
    for folded in page.locator("details:not([open]) > summary").all():
        folded.click()


@pytest.mark.parametrize("opened", PAGES, ids=lambda opened: opened.key)
def test_a_page_breaks_no_rule_of_access(visited, far_page, breaks, opened):
    open_page(far_page, visited.address, opened)
    assert breaks(far_page) == NOTHING


@pytest.mark.parametrize("opened", CALCULATORS, ids=lambda opened: opened.key)
def test_an_answer_breaks_no_rule_of_access(visited, far_page, breaks, opened):
    far_page.goto(link_to(visited.address, opened.key, ENTRIES | opened.worked_example))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    unfold(far_page)
    assert breaks(far_page) == NOTHING


def test_a_refusal_breaks_no_rule_of_access(visited, far_page, breaks):
    far_page.goto(link_to(visited.address, "charge-settings", ENTRIES | {"resting_v": "8.0", "charger_power_w": "-5"}))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    assert breaks(far_page) == NOTHING


def test_a_running_card_breaks_no_rule_of_access(visited, far_page, breaks):
    far_page.goto(link_to(visited.address, "charging-card", ENTRIES))
    far_page.get_by_role("button", name="Start this card").click()
    far_page.get_by_role("checkbox", name="Choose the place").check()
    assert breaks(far_page) == NOTHING
