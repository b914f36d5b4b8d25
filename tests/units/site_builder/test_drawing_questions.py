"""Each drawing has two questions that it must answer by itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from site_builder.building.site import drawings_made
from site_builder.reading.cards import ACTS
from site_builder.reading.drawing_questions import refuse_untried_drawing
from site_builder.reading.faults import ContentFault
from site_builder.setting_up.checkout import CONTENT

TWO = '[plug]\n"Which is plus?" = "The red one."\n"How many cells?" = "Three."\n'


def refusal(tmp_path: Path, questions: str, made: tuple[str, ...] = ()) -> str:
    """What the build says to a folder with one drawing and these questions."""
    (tmp_path / "drawings").mkdir()
    (tmp_path / "drawings" / "plug.svg").write_text("<svg/>")
    (tmp_path / "drawings" / "questions.toml").write_text(questions)
    with pytest.raises(ContentFault) as refused:
        refuse_untried_drawing(tmp_path, made)
    return str(refused.value)


def test_our_drawings_have_their_questions() -> None:
    refuse_untried_drawing(CONTENT, drawings_made())


def test_the_drawings_of_answers_and_the_acts_of_cards_are_among_them() -> None:
    answers = {"packs-in-series.wiring", "packs-in-parallel.never", "charge-course.picture", "curves"}
    assert answers | {f"act.{act}" for act in ACTS} <= set(drawings_made())
    assert {"act.measure", "act.solder"} <= set(drawings_made())


@pytest.mark.parametrize(
    ("questions", "made"),
    [("", ()), ('[plug]\n"Which is plus?" = "The red one."\n', ()), (TWO.replace("Three.", ""), ()), (TWO, ("packs.wiring",))],
)
def test_a_drawing_with_fewer_than_two_answered_questions_is_refused(tmp_path: Path, questions: str, made: tuple[str, ...]) -> None:
    assert "needs two questions" in refusal(tmp_path, questions, made)


def test_questions_about_a_drawing_that_is_not_there_are_refused(tmp_path: Path) -> None:
    assert "There is no drawing socket" in refusal(tmp_path, TWO + TWO.replace("plug", "socket"))
