"""A verdict in words: with what to do, its rule, and each place to go once."""

from __future__ import annotations

import pytest

from calc.presenting.verdicts import cautions_of, rules_table, verdict_setting
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


def test_a_rule_says_where_it_stands() -> None:
    [row] = rules_table(findings_of_look("crashed")).rows
    assert "emergency alert" in row.cells[1]


def test_a_place_is_named_once_and_the_gravest_comes_first() -> None:
    findings = findings_of_look("crashed") + findings_of_look("smoking") + findings_of_look("bent")
    cautions = cautions_of(findings)
    assert [caution.go_to for caution in cautions] == ["pack-in-trouble#smoke-fire-or-hissing", "pack-in-trouble#crash-or-dent"]
    assert cautions[1].sentence.startswith("It is dented")
