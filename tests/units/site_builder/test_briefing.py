"""The briefing: the rules of the safety page and no others, each with a drawing, read aloud in three minutes."""

import re
from pathlib import Path

import pytest

from calc.facts.practice import AIR_LEAST_DEGC, AIR_MOST_DEGC
from site_builder.reading.briefing import Asked, DrawnRule, question_of, screens_of
from site_builder.reading.faults import ContentFault
from site_builder.reading.marks import Words
from site_builder.reading.pages import read_pages

CONTENT = Path(__file__).parents[3] / "content"
WORDS_A_MINUTE = 130  # a calm voice out of doors: common practice, no source
ONE_RULE = Words("1. **Stay with it.** Trouble starts small.", Path("safety-rules.md"), 9)


@pytest.fixture(scope="module")
def pages():
    return {page.key: page for page in read_pages(CONTENT)}


def spoken(html):
    """Return what a person hears: no marks, no tags, plain spaces."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", re.sub(r'<a class="source".*?</a>', "", html))).replace("\u00a0", " ").strip()


def read_aloud(page):
    return " ".join(spoken(f"{one.says_html} {one.reason_html}") for one in page.screens) + " " + spoken(page.after_screens_html)


def test_the_briefing_says_the_safety_rules_word_for_word(pages):
    assert read_aloud(pages["briefing"]) == spoken(pages["safety-rules"].body_html)


def test_the_briefing_is_read_aloud_in_three_minutes(pages):
    words = len(read_aloud(pages["briefing"]).split())

    assert 2 * WORDS_A_MINUTE < words <= 3 * WORDS_A_MINUTE


def test_each_rule_has_a_drawing_of_its_own_that_is_said_in_words(pages):
    drawings = [one.drawing_html for one in pages["briefing"].screens]

    assert len(set(drawings)) == len(drawings) == 14
    assert all('role="img" aria-label="' in drawing for drawing in drawings)


def test_each_rule_has_a_reason_of_one_or_two_short_sentences(pages):
    reasons = [spoken(one.reason_html) for one in pages["briefing"].screens]

    assert all(2 <= len(reason.split()) <= 22 for reason in reasons), reasons


def test_the_drawn_thermometer_has_the_temperatures_that_calc_refuses_by(pages):
    [air] = [one.drawing_html for one in pages["briefing"].screens if "thermometer" in one.drawing_html]

    assert re.findall(r"(\d+)\s°C</text>", air) == [f"{AIR_MOST_DEGC.value:.0f}", f"{AIR_LEAST_DEGC.value:.0f}"]


def test_five_questions_stand_at_the_end_each_with_its_reason_and_source(pages):
    questions = pages["briefing"].questions

    assert len(questions) == 5
    assert all('class="source"' in one.because_html for one in questions)
    assert {one.right[0] for one in questions} == {"A", "B", "C"}, "who guesses one letter must not be right"


def test_a_source_of_a_rule_leads_to_the_briefing_too(pages):
    assert set(pages["safety-rules"].sources) < set(pages["briefing"].sources)


def test_a_rule_without_a_drawing_is_refused_at_its_line():
    with pytest.raises(ContentFault, match=r"safety-rules\.md:9.*no drawing for this rule.*Stay with it"):
        screens_of((), ONE_RULE, CONTENT / "pages" / "briefing.md")


def test_a_drawing_of_a_rule_that_has_changed_is_refused(tmp_path):
    page = tmp_path / "pages" / "briefing.md"
    page.parent.mkdir()
    (tmp_path / "drawings").mkdir()
    (tmp_path / "drawings" / "eye.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"/>')
    page.write_text('rule = "Stay with it."\nrule = "Stay near it."\n')
    drawn = tuple(DrawnRule(rule=rule, drawing="drawings/eye.svg", shows="An eye.") for rule in ("Stay with it.", "Stay near it."))

    with pytest.raises(ContentFault, match=r"briefing\.md:2.*“Stay near it.” is no rule"):
        screens_of(drawn, ONE_RULE, page)


def test_a_question_knows_the_words_of_its_right_answer(tmp_path):
    page = tmp_path / "briefing.md"
    page.write_text("")
    asked = Asked(asks="It smokes. What now?", answers=["Wait.", "Get away.", "Blow."], right="B", because="Smoke is poison.")

    assert question_of(asked, page).right == ("B", "Get away.")


@pytest.mark.parametrize("because", ["It burns for 10 minutes.", "Thermal instability necessitates immediate evacuation of everybody nearby, irrespective of circumstances."])
def test_a_reason_with_a_bare_number_or_in_hard_words_is_refused(because, tmp_path):
    page = tmp_path / "briefing.md"
    page.write_text("")
    asked = Asked(asks="It smokes. What now?", answers=["Wait.", "Get away.", "Blow."], right="B", because=because)

    with pytest.raises(ContentFault):
        question_of(asked, page)
