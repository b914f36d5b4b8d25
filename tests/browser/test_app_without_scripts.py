"""With scripts off every page can be read and used as paper is: the words, the worked example, the tables and the form."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from site_builder.commands.serve import Server
from site_builder.engine.answer import respond
from site_builder.trying.phone import PHONE
from site_builder.trying.pilot import PAGES, setting

CALCULATORS = [page for page in PAGES if page.calculator]


@pytest.fixture(scope="module")
def site_without_scripts(browser, dist) -> Iterator[tuple[Page, str]]:
    phone = browser.new_context(**PHONE, java_script_enabled=False)
    with Server(dist) as server:
        yield phone.new_page(), server.address
    phone.close()


@pytest.fixture
def opened(site_without_scripts, request) -> Page:
    page, address = site_without_scripts
    page.goto(address + request.param.address)
    return page


def each(pages):
    return pytest.mark.parametrize("opened", pages, indirect=True, ids=lambda page: page.key)


@pytest.mark.parametrize(("opened", "written"), [(page, page) for page in PAGES], indirect=["opened"], ids=[page.key for page in PAGES])
def test_every_page_has_its_title_its_words_and_its_ways_on(opened, written):
    expect(opened.get_by_role("heading", level=1)).to_have_text(written.title)
    for heading in written.ids:
        expect(opened.locator(f"[id='{heading}']")).to_be_visible()
    expect(opened.get_by_role("banner").get_by_role("link", name="Pack in trouble")).to_be_visible()
    expect(opened.get_by_role("navigation", name="Main")).to_be_visible()


@each(CALCULATORS)
def test_a_calculator_says_that_it_needs_scripts_and_shows_no_dead_button(opened):
    expect(opened.get_by_text("Scripts are off, so your own entries cannot be worked out here.")).to_be_visible()
    expect(opened.get_by_role("button")).to_have_count(0)


@pytest.mark.parametrize(
    ("opened", "written"), [(page, page) for page in CALCULATORS], indirect=["opened"], ids=[page.key for page in CALCULATORS]
)
def test_the_worked_example_is_complete_and_says_whose_it_is(opened, written):
    expect(opened.get_by_role("heading", name="Worked example")).to_be_visible()
    expect(opened.locator("#answer-about")).to_contain_text("These are not your numbers.")
    expected = opened.evaluate("html => new DOMParser().parseFromString(html, 'text/html').body.textContent", respond(written.calculator, written.worked_example).html)
    assert opened.locator("#answer-body").text_content().split() == expected.split()


@each([page for page in PAGES if page.key == "charge-settings"])
def test_the_example_can_be_read_and_the_form_is_there(opened):
    expect(setting(opened, "Charge current")).to_contain_text("2.6\u00a0A")
    expect(setting(opened, "Charge current")).to_contain_text("Set by the charge rate on the label")
    expect(opened.get_by_role("textbox", name="Capacity on the label mAh")).to_be_editable()


@each([page for page in PAGES if page.key == "charging-card"])
def test_the_card_can_be_ticked_without_a_script(opened):
    opened.get_by_role("checkbox", name="Choose the place").check()
    expect(opened.get_by_role("checkbox", name="Choose the place")).to_be_checked()


@each([page for page in PAGES if page.key == "voltages"])
def test_every_table_of_voltages_opens_without_a_script(opened):
    for folded in opened.locator("#answer-body details:not([open]) > summary").all():
        folded.click()
    for table in opened.get_by_role("table").all():
        expect(table).to_be_visible()
