"""What hangs on one supply is bound by that alone: in the search, in the hours of an order, and in what its battery gives."""

from __future__ import annotations

from dataclasses import replace

from calc.rules.plan.day import Bench, Feed, Lot, Running
from calc.rules.plan.search import best_plan
from calc.rules.plan.timing import timed

FREE = Feed(power_w=None, battery_mah=None)
LOT = Lot(packs=(0,), put_on_min=3, likely_min=60, most_min=70, power_w=40, battery_mah=6, cost=0)


def test_outputs_of_two_supplies_are_not_alike_though_the_same_lots_may_go_on_them() -> None:
    bench = Bench(outputs=2, feeds=(Feed(power_w=None, battery_mah=5), FREE), wanted_min=(None,), hangs_on=(0, 1))
    for turned in (bench, replace(bench, hangs_on=(1, 0))):
        [turn] = best_plan(turned, [LOT]).turns
        assert turned.feed_of(turn.output) == 1


def test_each_battery_counts_what_hangs_on_it_alone() -> None:
    small = Feed(power_w=None, battery_mah=6)
    lots = [LOT, replace(LOT, packs=(1,)), replace(LOT, packs=(2,))]
    plan = best_plan(Bench(outputs=2, feeds=(small, small), wanted_min=(None,) * 3, hangs_on=(0, 1)), lots)
    assert plan.worth.left_out == plan.bound.left_out == 1
    assert {turn.output for turn in plan.turns} == {0, 1}


def test_a_charge_waits_for_the_power_of_its_own_supply_and_for_no_other() -> None:
    shares = Feed(power_w=60, battery_mah=None)
    bench = Bench(outputs=3, feeds=(shares, shares), wanted_min=(None,) * 2, hangs_on=(0, 0, 1))
    lots = [LOT, replace(LOT, packs=(1,))]
    assert [turn.starts_min for turn in timed(bench, lots, [(0, 0), (1, 1)])] == [3, 63]
    assert [turn.starts_min for turn in timed(bench, lots, [(0, 0), (1, 2)])] == [3, 6]
    on = replace(bench, running=(Running(output=0, ends_min=30, ends_at_latest_min=40, power_w=40),))
    assert [turn.starts_min for turn in timed(on, lots, [(0, 1)])] == [30]
    assert [turn.starts_min for turn in timed(on, lots, [(0, 2)])] == [3]
