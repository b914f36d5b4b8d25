"""The search finds what a constraint solver finds, on 300 random days and 150 evenings, and proves it. `rerun_solver` runs the solver again."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

from calc.rules.plan.day import Bench, Lot, Plan, Worth
from calc.rules.plan.evening import evening_plan
from calc.rules.plan.search import best_plan
from tests.published.day_plan.days import DAYS, EVENING_KINDS, EVENINGS, KINDS, day, evening
from tests.published.day_plan.optima import FROZEN, FROZEN_EVENINGS


def _faults(file: Path, count: int, draw: Callable[[int], tuple[Bench, list[Lot]]], find: Callable[[Bench, list[Lot]], Plan]) -> list[str]:
    with file.open(encoding="utf-8") as opened:
        frozen = {int(row.pop("day")): Worth(**{name: int(text) for name, text in row.items()}) for row in csv.DictReader(opened)}
    assert sorted(frozen) == list(range(count))
    faults = []
    for number, worth in frozen.items():
        plan = find(*draw(number))
        if plan.worth != worth or not plan.is_proven:
            faults.append(f"{number}: {plan.worth} with the bound {plan.bound}, and the solver has {worth}")
    return faults


def test_the_best_plan_of_each_day_is_the_solver_s_and_is_proven() -> None:
    faults = _faults(FROZEN, DAYS, day, best_plan)
    assert not faults, "\n".join(faults)


def test_the_best_order_of_each_evening_is_the_solver_s_and_is_proven() -> None:
    faults = _faults(FROZEN_EVENINGS, EVENINGS, evening, evening_plan)
    assert not faults, "\n".join(faults)


def test_slowest_first_is_worth_no_less_than_what_was_found() -> None:
    for number in range(EVENINGS):
        bench, lots = evening(number)
        plan = evening_plan(bench, lots)
        ends_min = max([0, *(turn.ends_min for turn in plan.turns), *(one.ends_min for one in bench.running if plan.turns)])
        assert ends_min <= plan.worth.end_min, number
        assert len(bench.wanted_min) - len(plan.turns) == plan.worth.left_out, number


def test_evenings_have_something_on_already_shared_power_and_a_battery_that_is_not_enough() -> None:
    found = dict.fromkeys(EVENING_KINDS, 0)
    for number in range(EVENINGS):
        bench, lots = evening(number)
        found["on already"] += bool(bench.running)
        found["shared power"] += bench.power_w is not None
        found["battery"] += bench.battery_mah is not None and sum(lot.battery_mah for lot in lots) > bench.battery_mah
    assert min(found.values()) >= EVENINGS // 3 - 3, found


def test_a_third_of_the_days_each_has_joints_shared_power_and_a_battery_that_is_not_enough() -> None:
    found = dict.fromkeys(KINDS, 0)
    for number in range(DAYS):
        bench, lots = day(number)
        assert 5 <= len(bench.wanted_min) <= 8
        found["joining"] += any(len(lot.packs) > 1 for lot in lots)
        found["shared power"] += bench.power_w is not None
        needed_mah = sum(min(lot.battery_mah for lot in lots if place in lot.packs) for place in range(len(bench.wanted_min)))
        found["battery"] += bench.battery_mah is not None and needed_mah > bench.battery_mah
    assert min(found.values()) >= DAYS // 3 - 3, found
