"""A verdict in words: with what to do, and its rule."""

from __future__ import annotations

import pytest

from calc.presenting.verdicts import verdict_shown
from calc.rules.pack.condition import Condition, findings_of_look
from calc.rules.pack.findings import Verdict, worst_first


@pytest.mark.parametrize("verdict", Verdict)
def test_every_verdict_has_its_words(verdict: Verdict) -> None:
    assert verdict.words


def test_the_verdict_is_set_by_the_gravest_finding() -> None:
    findings = worst_first(findings_of_look("watched") + findings_of_look("bent"))
    setting = verdict_shown(Condition(findings=findings, each_cell=True, looked_over=True))
    assert setting.figure == "Take it out of use"
    assert setting.set_by.startswith("It is dented")
    assert setting.note.startswith("Do not charge it")


@pytest.mark.parametrize(("look", "sign"), [("sound", (True, False)), ("watched", (True, True)), ("bent", (False, False))])
def test_each_of_three_signs_stands_beside_what_it_says(look: str, sign: tuple[bool, bool]) -> None:
    shown = verdict_shown(Condition(findings=findings_of_look(look), each_cell=True, looked_over=True))
    assert (shown.may, shown.warns) == sign
