"""The reader of the briefing: what it makes of rules and questions, and what it sends back with its line."""

from pathlib import Path

import pytest

from site_builder.reading.briefing import Asked, DrawnRule, question_of, screens_of
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


def test_a_question_knows_the_words_of_its_right_answer(tmp_path):
    page = tmp_path / "briefing.md"
    page.write_text("")
    asked = Asked(asks="It smokes. What now?", answers=["Wait.", "Get away.", "Blow."], right="B", because="Smoke is poison.")

    assert question_of(asked, page).right == ("B", "Get away.")


@pytest.mark.parametrize(
    "because",
    [
        "It burns for 10 minutes.",
        "Thermal instability necessitates immediate evacuation of everybody nearby, irrespective of circumstances.",
    ],
)
def test_a_reason_with_a_bare_number_or_in_hard_words_is_refused(because, tmp_path):
    page = tmp_path / "briefing.md"
    page.write_text("")
    asked = Asked(asks="It smokes. What now?", answers=["Wait.", "Get away.", "Blow."], right="B", because=because)

    with pytest.raises(ContentFault):
        question_of(asked, page)
