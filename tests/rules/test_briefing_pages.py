"""The briefing: the rules of the safety page and no others, each with a drawing, read aloud in three minutes; and the poster."""

import re
from collections import Counter

from calc.facts.practice import AIR_LEAST_DEGC, AIR_MOST_DEGC
from tests.rules.spoken import spoken

WORDS_A_MINUTE = 130  # a calm voice out of doors: common practice, no source


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
    [air] = [one.drawing_html for one in pages["briefing"].screens if "A thermometer with a tick" in one.drawing_html]

    assert re.findall(r"(\d+)\s°C</text>", air) == [f"{AIR_MOST_DEGC.value:.0f}", f"{AIR_LEAST_DEGC.value:.0f}"]


def test_a_pool_of_25_questions_asks_after_every_rule(pages):
    questions = pages["briefing"].questions

    assert len(questions) == 25
    assert {one.rule for one in questions} == set(range(1, 15))
    assert all('class="source' in one.because_html for one in questions)


def test_who_guesses_one_letter_is_right_in_a_third_of_the_questions(pages):
    right = Counter(one.right[0] for one in pages["briefing"].questions)

    assert set(right) == {"A", "B", "C"} and max(right.values()) <= 9, right


def test_a_source_of_a_rule_leads_to_the_briefing_too(pages):
    assert set(pages["safety-rules"].sources) < set(pages["briefing"].sources)


def test_the_poster_says_in_trouble_what_the_trouble_page_says_first(pages):
    first = re.search(r'<p class="act">(.*?)</p>', pages["pack-in-trouble"].body_html)[1]

    assert spoken(pages["poster"].body_html).endswith(spoken(first))
