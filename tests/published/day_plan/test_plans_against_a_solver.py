"""The search finds what a constraint solver finds, on 300 random days, and proves it. `rerun_solver` runs the solver again."""

from __future__ import annotations

import csv

from calc.rules.plan.day import Worth
from calc.rules.plan.search import best_plan
from tests.published.day_plan.days import DAYS, KINDS, day
from tests.published.day_plan.optima import FROZEN


def test_the_best_plan_of_each_day_is_the_solver_s_and_is_proven() -> None:
    with FROZEN.open(encoding="utf-8") as file:
        frozen = {int(row.pop("day")): Worth(**{name: int(text) for name, text in row.items()}) for row in csv.DictReader(file)}
    assert sorted(frozen) == list(range(DAYS))
    faults = []
    for number, worth in frozen.items():
        plan = best_plan(*day(number))
        if plan.worth != worth or not plan.is_proven:
            faults.append(f"day {number}: {plan.worth} with the bound {plan.bound}, and the solver has {worth}")
    assert not faults, "\n".join(faults)


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
