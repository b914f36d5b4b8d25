"""A verdict in words: with what to do, and its rule."""

from __future__ import annotations

import pytest

from calc.presenting.verdicts import verdict_setting
from calc.rules.pack.condition import Condition, findings_of_look
from calc.rules.pack.findings import Verdict, worst_first


@pytest.mark.parametrize("verdict", Verdict)
def test_every_verdict_has_its_words(verdict: Verdict) -> None:
    assert verdict.words


def test_the_verdict_is_set_by_the_gravest_finding() -> None:
    findings = worst_first(findings_of_look("watched") + findings_of_look("bent"))
    setting = verdict_setting(Condition(findings=findings, each_cell=True, looked_over=True))
    assert setting.figure == "Take it out of use"
    assert setting.set_by.startswith("It is dented")
    assert setting.note.startswith("Do not charge it")
