"""The search finds what a constraint solver finds, and proves it: on 300 random days, 150 evenings, and 80 days each of outputs that differ,
of two supplies and of one charge at a time.

`rerun_solver` runs the solver again.
"""

from __future__ import annotations

import csv
from dataclasses import replace

import pytest

from calc.rules.plan.day import Bench, Plan, Worth
from calc.rules.plan.evening import evening_plan
from calc.rules.plan.search import best_plan
from tests.published.day_plan.days import EVENING_KINDS, KINDS
from tests.published.day_plan.optima import ALIKE, EVENING, SINGLE, SUPPLIED, UNLIKE, Solved


def _optima(solved: Solved) -> list[Worth]:
    """What the solver has found for each day, in order."""
    with solved.file.open(encoding="utf-8") as opened:
        frozen = {int(row.pop("day")): Worth(**{name: int(text) for name, text in row.items()}) for row in csv.DictReader(opened)}
    assert sorted(frozen) == list(range(solved.count))
    return [frozen[number] for number in range(solved.count)]


def _faults(solved: Solved, plans: list[Plan]) -> list[str]:
    faults = []
    for number, (worth, plan) in enumerate(zip(_optima(solved), plans, strict=True)):
        if plan.worth != worth or not plan.is_proven:
            faults.append(f"{number}: {plan.worth} with the bound {plan.bound}, and the solver has {worth}")
    return faults


def test_the_best_plan_of_each_day_is_the_solver_s_and_is_proven() -> None:
    faults = _faults(ALIKE, [best_plan(*one) for one in ALIKE.each()])
    assert not faults, "\n".join(faults)


def test_the_best_plan_on_two_outputs_that_differ_is_the_solver_s_and_is_proven() -> None:
    faults = _faults(UNLIKE, [best_plan(*one) for one in UNLIKE.each()])
    assert not faults, "\n".join(faults)


def test_the_best_plan_on_two_supplies_is_the_solver_s_and_is_proven() -> None:
    faults = _faults(SUPPLIED, [best_plan(*one) for one in SUPPLIED.each()])
    assert not faults, "\n".join(faults)


def test_the_best_plan_of_one_charge_at_a_time_is_the_solver_s_and_is_proven() -> None:
    faults = _faults(SINGLE, [best_plan(*one) for one in SINGLE.each()])
    assert not faults, "\n".join(faults)


def test_one_charge_at_a_time_uses_both_outputs_in_turn_and_never_two_at_once() -> None:
    in_turn = 0
    for number, (bench, lots) in enumerate(SINGLE.each()):
        turns = best_plan(bench, lots).turns
        in_turn += len({turn.output for turn in turns}) > 1
        begins = [turn.starts_min - lots[turn.lot].put_on_min for turn in turns]
        ends = [max([0, *(one.ends_min for one in bench.running)]), *(turn.ends_min for turn in turns)]
        assert all(begin >= end for begin, end in zip(begins, ends, strict=False)), number
    assert in_turn >= SINGLE.count // 4, in_turn


@pytest.mark.parametrize("solved", [ALIKE, UNLIKE, SUPPLIED], ids=lambda solved: solved.file.stem)
def test_the_bound_of_a_search_that_was_cut_short_is_never_above_the_solver_s_optimum(
    solved: Solved, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("calc.rules.plan.search._KEPT_WHOLE", (8,))
    optima = _optima(solved)
    short = [best_plan(*one) for one in solved.each()]
    faults = [
        f"{number}: {plan.bound} is above {worth}"
        for number, (plan, worth) in enumerate(zip(short, optima, strict=True))
        if plan.bound > worth
    ]
    assert not faults, "\n".join(faults)
    assert sum(not plan.is_proven for plan in short) > solved.count // 10, "too few were cut short to tell anything"


def test_what_a_plan_with_one_thing_more_charges_is_as_many_as_the_solver_charges() -> None:
    none_charged = Plan(turns=(), worth=Worth(100, 0, 0), bound=Worth(100, 0, 0))
    optima = _optima(SUPPLIED)
    found = [best_plan(*one, instead_of=none_charged) for one in SUPPLIED.each()]
    assert [plan.worth.left_out for plan in found] == [worth.left_out for worth in optima]
    assert any(plan.worth.end_min > worth.end_min for plan, worth in zip(found, optima, strict=True)), (
        "no search stopped at the count alone"
    )


@pytest.fixture(scope="module")
def evenings() -> list[tuple[Bench, Plan]]:
    """Each evening with its plan."""
    return [(bench, evening_plan(bench, lots)) for bench, lots in EVENING.each()]


def test_the_best_order_of_each_evening_is_the_solver_s_and_is_proven(evenings: list[tuple[Bench, Plan]]) -> None:
    faults = _faults(EVENING, [plan for _, plan in evenings])
    assert not faults, "\n".join(faults)


def test_slowest_first_is_worth_no_less_than_what_was_found(evenings: list[tuple[Bench, Plan]]) -> None:
    for number, (bench, plan) in enumerate(evenings):
        ends_min = max([0, *(turn.ends_min for turn in plan.turns), *(one.ends_min for one in bench.running if plan.turns)])
        assert ends_min <= plan.worth.end_min, number
        assert len(bench.wanted_min) - len(plan.turns) == plan.worth.left_out, number


def test_evenings_have_something_on_already_shared_power_and_a_battery_that_is_not_enough() -> None:
    found = dict.fromkeys(EVENING_KINDS, 0)
    for bench, lots in EVENING.each():
        found["on already"] += bool(bench.running)
        found["shared power"] += bench.feeds[0].power_w is not None
        found["battery"] += (battery_mah := bench.feeds[0].battery_mah) is not None and sum(lot.battery_mah for lot in lots) > battery_mah
    assert min(found.values()) >= EVENING.count // 3 - 3, found


def test_a_third_of_the_days_each_has_joints_shared_power_and_a_battery_that_is_not_enough() -> None:
    found = dict.fromkeys(KINDS, 0)
    for bench, lots in ALIKE.each():
        assert 5 <= len(bench.wanted_min) <= 8
        found["joining"] += any(len(lot.packs) > 1 for lot in lots)
        found["shared power"] += bench.feeds[0].power_w is not None
        needed_mah = sum(min(lot.battery_mah for lot in lots if place in lot.packs) for place in range(len(bench.wanted_min)))
        found["battery"] += (battery_mah := bench.feeds[0].battery_mah) is not None and needed_mah > battery_mah
    assert min(found.values()) >= ALIKE.count // 3 - 3, found


def test_days_of_outputs_that_differ_have_lots_for_one_output_alone_and_each_kind_of_day() -> None:
    found = {"joining": 0, "shared power": 0, "battery": 0, "on already": 0}
    for number, (bench, lots) in enumerate(UNLIKE.each()):
        assert 5 <= len(bench.wanted_min) <= 8
        assert {0, 1} <= {output for lot in lots for output in lot.outputs or ()}, number
        found["joining"] += any(len(lot.packs) > 1 for lot in lots)
        found["shared power"] += bench.feeds[0].power_w is not None
        needed_mah = sum(min((lot.battery_mah for lot in lots if place in lot.packs), default=0) for place in range(len(bench.wanted_min)))
        found["battery"] += (battery_mah := bench.feeds[0].battery_mah) is not None and needed_mah > battery_mah
        found["on already"] += bool(bench.running)
    assert min(found.values()) >= UNLIKE.count // 4 - 3, found


def test_on_days_of_two_supplies_a_supply_binds_nearly_always_and_each_kind_of_day_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("calc.rules.plan.search._KEPT_WHOLE", (8,))
    found = {"both are batteries": 0, "one is": 0, "shared power": 0, "on already": 0}
    binding = 0
    for number, (worth, (bench, lots)) in enumerate(zip(_optima(SUPPLIED), SUPPLIED.each(), strict=True)):
        assert 5 <= len(bench.wanted_min) <= 8
        assert {bench.feed_of(output) for lot in lots for output in lot.outputs or ()} == {0, 1}, number
        limited = [feed.battery_mah is not None for feed in bench.feeds]
        found["both are batteries"] += all(limited)
        found["one is"] += limited.count(True) == 1
        found["shared power"] += bench.feeds[0].power_w is not None
        found["on already"] += bool(bench.running)
        # One binds where a plan without its limit is better. What a short search finds is such a plan too, if not the best of them.
        free = tuple(replace(feed, battery_mah=None, power_w=None) for feed in bench.feeds)
        binding += best_plan(replace(bench, feeds=free), lots).worth < worth
    assert min(found.values()) >= SUPPLIED.count // 4 - 3, found
    assert binding >= 60, binding
