"""What the command compare finds between two commits' answers, and what it leaves alone."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from calc.figures.quantities import AMPERES, Figure
from calc.figures.showing import Caution, Ceiling, Range, Row, Setting, Table
from calc.inputs.refusals import Problem, Refusal
from site_builder.commands.compare import Question, report
from site_builder.comparing.differences import Difference, differences
from site_builder.comparing.plain_answers import Line, lines_of


@dataclass(frozen=True)
class Told:
    found: object


@dataclass(frozen=True)
class Answer:
    current: Setting
    minutes: Range
    table: Table
    cautions: tuple[Caution, ...] = ()


ANSWER = Answer(
    current=Setting(
        figure=Figure(2.6, AMPERES), set_by="the label", ceilings=(Ceiling(because="the charger", figure=Figure(5, AMPERES), binds=False),)
    ),
    minutes=Range(least=Figure(1, AMPERES), most=Figure(2, AMPERES), because="the width"),
    table=Table(caption="Rates", columns=("Rate",), rows=(Row(heading="1C", cells=(Figure(2.65, AMPERES), "as marked")),)),
    cautions=(Caution(sentence="Stop at 49\u00a0°C."), Caution(sentence="Look at it.")),
)


def lines(answer: Answer) -> list[Line]:
    return list(lines_of(answer))


def found(now: Answer, renamed: dict[str, str] | None = None) -> list[Difference]:
    return differences([lines(ANSWER)], [lines(now)], renamed or {})


def with_setting(**changes: object) -> Answer:
    return replace(ANSWER, current=replace(ANSWER.current, **changes))


@pytest.mark.parametrize(
    "now",
    [
        with_setting(figure=Figure(2.61, AMPERES)),  # printed alike
        with_setting(figure=Figure(2.6, AMPERES, "down")),
        with_setting(figure=Figure(2.6, replace(AMPERES, sign="mA"))),
        with_setting(figure=Figure(2.6, AMPERES.to_step(0.01))),
        with_setting(ceilings=()),
        with_setting(ceilings=(replace(ANSWER.current.ceilings[0], binds=True),)),
        replace(ANSWER, minutes=replace(ANSWER.minutes, least=ANSWER.minutes.most, most=ANSWER.minutes.least)),
        replace(ANSWER, table=replace(ANSWER.table, rows=(replace(ANSWER.table.rows[0], cells=("as marked",)),))),
        replace(ANSWER, cautions=(Caution(sentence="Stop at 50\u00a0°C."), ANSWER.cautions[1])),
        replace(ANSWER, cautions=(Caution(sentence="Stop at 49\u00a0°F."), ANSWER.cautions[1])),
    ],
)
def test_a_number_a_unit_or_a_limit_that_differs_is_found_wherever_it_stands(now: Answer) -> None:
    assert any(one.changes_a_number for one in found(now))


def test_other_words_about_the_same_number_are_a_difference_in_words() -> None:
    [one] = found(replace(ANSWER, cautions=(Caution(sentence="Do not go above 49\u00a0°C."), ANSWER.cautions[1])))
    assert not one.changes_a_number and (one.was, one.now) == ("Stop at 49\u00a0°C.", "Do not go above 49\u00a0°C.")


def test_sentences_below_one_that_was_added_are_not_listed() -> None:
    [one] = [
        one
        for one in found(replace(ANSWER, cautions=(Caution(sentence="Wait."), *ANSWER.cautions)))
        if one.kind == "words" and "sentence" in one.place
    ]
    assert (one.was, one.now) == ("", "Wait.")


def test_an_answer_that_became_a_refusal_is_told_in_one_line() -> None:
    was, now = lines(Told(ANSWER)), lines(Told(Refusal((Problem("cells", "Count the cells."),))))
    assert [(one.was, one.now) for one in differences([was], [now], {})] == [("Answer, Stop at 49\u00a0°C.", "Refusal, Count the cells.")]


def test_a_sum_in_another_order_is_no_difference() -> None:
    assert 0.1 + 0.2 + 0.3 != 0.3 + 0.2 + 0.1
    assert [*lines_of(0.1 + 0.2 + 0.3)] == [*lines_of(0.3 + 0.2 + 0.1)]


def test_a_renamed_field_is_held_against_itself() -> None:
    now = [(place.replace("current", "charge_current"), kind, text) for place, kind, text in lines(ANSWER)]
    assert differences([lines(ANSWER)], [now], {"current": "charge_current"}) == []
    assert differences([lines(ANSWER)], [now], {})


def test_the_command_fails_on_a_number_and_not_on_words(capsys: pytest.CaptureFixture[str]) -> None:
    asked = [Question("charge_settings", {"cells": "6"}, {})]
    assert report(found(with_setting(figure=Figure(2.7, AMPERES))), asked, "main") == 1
    assert "was 2.6\u00a0A\n    now 2.7\u00a0A\n    asked" in capsys.readouterr().out
    assert report(found(with_setting(set_by="the cold")), asked, "main") == 0
    assert "was the label\n    now the cold" in capsys.readouterr().out
