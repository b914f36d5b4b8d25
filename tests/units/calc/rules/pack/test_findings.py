"""What a finding forbids, and in which words."""

from __future__ import annotations

import pytest

from calc.facts.practice import AIR_MOST_DEGC
from calc.rules.pack.findings import Act, Finding, Verdict, verdict_of, worst_first


def _finding(verdict: Verdict, found: str = "It is worn.") -> Finding:
    return Finding(verdict=verdict, found=found, rule=AIR_MOST_DEGC, field="look", go_to="pack-in-trouble")


@pytest.mark.parametrize(
    ("act", "forbidding"),
    [
        (Act.CHARGE, {Verdict.ELSEWHERE, Verdict.READ_AGAIN, Verdict.RETIRE, Verdict.GET_AWAY}),
        (Act.DISCHARGE, {Verdict.READ_AGAIN, Verdict.RETIRE, Verdict.GET_AWAY}),
        (Act.FLY, {Verdict.READ_AGAIN, Verdict.RETIRE, Verdict.GET_AWAY}),
    ],
)
def test_a_place_forbids_a_charge_alone_and_what_is_graver_forbids_all(act: Act, forbidding: set[Verdict]) -> None:
    assert {verdict for verdict in Verdict if _finding(verdict).forbids(act)} == forbidding


@pytest.mark.parametrize(
    ("verdict", "act", "sentence"),
    [
        (Verdict.ELSEWHERE, Act.CHARGE, "It is worn. Charge it elsewhere: do not charge it here."),
        (Verdict.READ_AGAIN, Act.FLY, "It is worn. Rest it, then read every cell: do not fly or charge it until then."),
        (Verdict.RETIRE, Act.DISCHARGE, "It is worn. Take it out of use: do not discharge or charge it."),
        (Verdict.GET_AWAY, Act.CHARGE, "It is worn. Get away from it: do not charge it."),
    ],
)
def test_a_problem_says_what_was_found_the_verdict_and_what_not_to_do(verdict: Verdict, act: Act, sentence: str) -> None:
    problem = _finding(verdict).problem(act)
    assert (problem.field, problem.sentence, problem.go_to) == ("look", sentence, "pack-in-trouble")


def test_what_takes_a_pack_out_of_use_lasts_and_what_a_warm_room_or_another_place_mends_does_not() -> None:
    assert {verdict for verdict in Verdict if _finding(verdict).problem(Act.CHARGE).lasts} == {Verdict.RETIRE, Verdict.GET_AWAY}


def test_no_verdict_both_passes_a_pack_and_takes_it_out_of_use() -> None:
    passing = {Verdict.FLY, Verdict.CHARGE, Verdict.BALANCE, Verdict.CHARGE_SLOWLY}
    assert {verdict for verdict in Verdict if verdict.passes} == passing
    assert not any(verdict.lasts for verdict in passing)


def test_the_gravest_finding_gives_the_verdict_and_equals_keep_their_order() -> None:
    first, second = _finding(Verdict.RETIRE, "It is bent."), _finding(Verdict.RETIRE, "It leaks.")
    mild = _finding(Verdict.CHARGE)
    assert verdict_of([mild, first]) is Verdict.RETIRE
    assert worst_first([mild, first, second]) == (first, second, mild)
