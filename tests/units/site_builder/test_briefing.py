"""The reader of the briefing: what it makes of rules and questions, and what it sends back with its line."""

from pathlib import Path

import pytest

from site_builder.reading.briefing import Asked, DrawnRule, questions_of, screens_of
from site_builder.reading.faults import ContentFault
from site_builder.reading.marks import Words

CONTENT = Path(__file__).parents[3] / "content"
ONE_RULE = Words("1. **Stay with it.** Trouble starts small.", Path("safety-rules.md"), 9)


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


SMOKE = {
    "rule": "Stay with it.",
    "asks": "It smokes. What now?",
    "answers": ["Wait.", "Get away.", "Blow."],
    "right": "B",
    "because": "Smoke is poison. {practice}",
}


def asked(tmp_path, *questions):
    page = tmp_path / "briefing.md"
    page.write_text("")
    return questions_of(tuple(Asked(**(SMOKE | changed)) for changed in questions), ONE_RULE, page)


def test_a_question_knows_the_words_of_its_right_answer_and_the_number_of_its_rule(tmp_path):
    [question] = asked(tmp_path, {})

    assert (question.right, question.rule) == (("B", "Get away."), 1)


@pytest.mark.parametrize(
    ("changed", "fault"),
    [
        ({"because": "It burns for 10 minutes."}, "no source beside it"),
        (
            {
                "because": "Thermal instability necessitates immediate evacuation of everybody nearby, irrespective of circumstances. {practice}"
            },
            ".",
        ),
        ({"because": "Smoke is poison."}, "Its reason has no source"),
        ({"rule": "Stay near it."}, "“Stay near it.” is no rule of safety-rules.md"),
        ({"answers": ["Wait.", "Get away.", "Wait."]}, "Two of its answers are alike"),
    ],
)
def test_a_question_that_does_not_hold_is_refused(changed, fault, tmp_path):
    with pytest.raises(ContentFault, match=fault):
        asked(tmp_path, changed)


def test_a_question_that_is_asked_twice_is_refused(tmp_path):
    with pytest.raises(ContentFault, match="asked twice"):
        asked(tmp_path, {}, {})
