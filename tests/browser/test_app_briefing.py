"""The briefing as it teaches: as slides with keys, read aloud where the phone has a voice, and by five questions out of the pool."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.page_faults import LARGE_TEXT_PERCENT, show, too_wide

# A voice of the phone's own, which no browser for tests has: it says at once what it is given, and keeps what it said. While `holds` is
# true it stays in the middle of a sentence.
VOICE = """
window.said = [];
const voice = {
  holds: false,
  getVoices: () => [{ lang: "de-DE", localService: true }, { lang: "en-US", localService: false }, { lang: "en_GB", localService: true }],
  addEventListener() {},
  speak(sentence) {
    window.said.push([sentence.text, sentence.voice.lang]);
    this.next = setTimeout(() => this.holds || sentence.onend(), 0);
  },
  cancel() { clearTimeout(this.next); },
};
Object.defineProperty(window, "speechSynthesis", { value: voice });
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
"""
NO_VOICE = "Object.defineProperty(window, 'speechSynthesis', { value: { getVoices: () => [], addEventListener() {}, cancel() {} } });"


@pytest.fixture
def briefing(far_page, visited) -> Page:
    far_page.goto(f"{visited.address}briefing.html")
    return far_page


@pytest.fixture
def briefing_in_its_window(far_page, visited) -> Page:
    """On a browser that has no whole screen to give: there the slides fill its window, whose size a test can choose."""
    far_page.add_init_script("delete Element.prototype.requestFullscreen;")
    far_page.goto(f"{visited.address}briefing.html")
    return far_page


@pytest.fixture
def spoken(far_page, visited) -> Page:
    far_page.add_init_script(VOICE)
    far_page.goto(f"{visited.address}briefing.html")
    return far_page


def open_slides(page: Page) -> None:
    page.get_by_role("button", name="Show it as slides").click()
    expect(page.get_by_role("dialog")).to_be_visible()


def slide(page: Page):
    return page.get_by_role("dialog").get_by_role("heading", level=2)


def test_the_keys_lead_through_the_slides_and_the_focus_goes_with_them(briefing):
    briefing.set_viewport_size({"width": 1280, "height": 720})
    open_slides(briefing)
    expect(slide(briefing)).to_contain_text("Rule 1 of 14")
    for key, says in [
        ("ArrowRight", "Rule 2 of 14"),
        (" ", "Rule 3 of 14"),
        ("ArrowDown", "Rule 4 of 14"),
        ("ArrowLeft", "Rule 3 of 14"),
        ("Shift+ ", "Rule 2 of 14"),
        ("End", "Last words"),
        ("Home", "Rule 1 of 14"),
        ("ArrowLeft", "Rule 1 of 14"),
    ]:
        briefing.keyboard.press(key)
        expect(slide(briefing)).to_contain_text(says)
        expect(slide(briefing)).to_be_focused()


def test_the_slides_take_the_whole_screen_and_escape_gives_it_back(briefing):
    open_slides(briefing)
    assert briefing.evaluate("document.fullscreenElement !== null")
    briefing.keyboard.press("Escape")
    expect(briefing.get_by_role("dialog")).to_have_count(0)
    expect(briefing.get_by_role("button", name="Show it as slides")).to_be_focused()
    expect(briefing.locator(".screens > .screen")).to_have_count(15)


def test_a_browser_without_the_whole_screen_fills_its_window(briefing_in_its_window):
    open_slides(briefing_in_its_window)
    box, size = briefing_in_its_window.get_by_role("dialog").bounding_box(), briefing_in_its_window.viewport_size
    assert (box["x"], box["y"], box["width"], box["height"]) == (0, 0, size["width"], size["height"])


def test_the_last_slide_leads_to_the_questions(briefing):
    open_slides(briefing)
    briefing.keyboard.press("End")
    briefing.get_by_role("button", name="Questions", exact=True).click()
    expect(briefing.get_by_role("dialog")).to_have_count(0)
    expect(briefing.get_by_role("heading", name="Questions", exact=True)).to_be_focused()


def test_a_page_that_is_left_with_the_slides_open_is_left(briefing):
    open_slides(briefing)
    briefing.keyboard.press("End")
    briefing.get_by_role("dialog").get_by_role("link", name="Pack in trouble").click()
    expect(briefing.get_by_role("heading", level=1, name="Pack in trouble")).to_be_visible()
    expect(briefing.get_by_role("dialog")).to_have_count(0)


def test_the_slides_break_no_rule_of_access_and_fit_in_large_text(briefing_in_its_window, found_wrong):
    open_slides(briefing_in_its_window)
    assert found_wrong(briefing_in_its_window) == []
    show(briefing_in_its_window, 320, 844, LARGE_TEXT_PERCENT)
    assert too_wide(briefing_in_its_window) == []


def test_the_phone_reads_each_rule_and_its_reason_in_english_and_no_source(spoken, until):
    spoken.get_by_role("button", name="Read aloud").click()
    until(spoken, "said.length > 30 && document.querySelector('.read-aloud button').hidden === false")
    sentences = [text for text, _ in spoken.evaluate("said")]
    assert sentences[:2] == ["Read the label first.", "The maker knows this pack."]
    assert {lang for _, lang in spoken.evaluate("said")} == {"en_GB"}, "a voice on the phone speaks without signal too"
    for rule in spoken.locator(".screen").all():
        expect(rule).to_be_attached()
    assert not any("[" in one or "Rule" in one or "practice" in one for one in sentences)
    assert "Never put a pack in the household bin." in sentences


def test_a_pause_goes_on_with_the_sentence_that_it_broke_off(spoken):
    spoken.evaluate("speechSynthesis.holds = true")
    spoken.get_by_role("button", name="Read aloud").click()
    spoken.get_by_role("button", name="Pause").click()
    expect(spoken.get_by_role("button", name="Go on reading")).to_be_focused()
    spoken.get_by_role("button", name="Go on reading").click()
    assert [text for text, _ in spoken.evaluate("said")] == ["Read the label first."] * 2
    spoken.get_by_role("button", name="Stop reading").click()
    expect(spoken.get_by_role("button", name="Read aloud")).to_be_focused()
    expect(spoken.get_by_role("button", name="Stop reading")).to_be_hidden()


def test_read_aloud_from_a_slide_the_slides_follow(spoken):
    open_slides(spoken)
    spoken.get_by_role("button", name="Next").click()
    spoken.get_by_role("button", name="Read aloud").click()
    expect(slide(spoken)).to_contain_text("Last words")
    assert spoken.evaluate("said")[0][0] == "Stay with the pack, awake, while it charges."


def test_a_phone_that_cannot_speak_english_offers_nothing(far_page, visited):
    far_page.add_init_script(NO_VOICE)
    far_page.goto(f"{visited.address}briefing.html")
    expect(far_page.get_by_role("button", name="Show it as slides")).to_be_visible()
    expect(far_page.get_by_role("button", name="Read aloud")).to_be_hidden()


def questions(page: Page) -> list[str]:
    return page.locator("#drawn h3").all_inner_texts()


def test_five_questions_are_drawn_and_none_comes_again_before_all_have_been_asked(briefing):
    expect(briefing.get_by_role("button", name="Five other questions")).to_be_visible()
    asked = questions(briefing)
    for _ in range(4):
        briefing.get_by_role("button", name="Five other questions").click()
        assert len(questions(briefing)) == 5
        asked += questions(briefing)
    assert len(set(asked)) == 25
    expect(briefing.locator("#drawn h3").first).to_be_focused()


def test_an_answer_has_its_reason_and_leads_to_its_rule(briefing):
    expect(briefing.get_by_role("button", name="Five other questions")).to_be_visible()  # the five have been drawn
    question = briefing.locator("#drawn .question").first
    question.get_by_text("Answer").first.click()
    expect(question.locator("details p").nth(1)).to_be_visible()
    question.get_by_role("link", name="Rule").click()
    expect(briefing.locator(".screen:target h2")).to_be_in_viewport()


def test_without_a_script_all_questions_stand_there(page_without_scripts, site):
    page_without_scripts.goto(f"{site.address}briefing.html")
    expect(page_without_scripts.locator("#drawn .question")).to_have_count(5)
    page_without_scripts.get_by_text("The other 20 questions").click()
    expect(page_without_scripts.locator("#pool .question").last).to_be_visible()
    expect(page_without_scripts.get_by_role("button", name="Read aloud")).to_have_count(0)
