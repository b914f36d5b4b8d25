"""The ways of a pack to storage on outputs that share their power: each current once, and a way too slow for the charger's steps left out.

Then the order of an evening: the slowest first, but never so that a pack is late or the evening ends later.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.calculators import storage
from calc.inputs.entries import read
from calc.inputs.equipment import DischargingChargerEntries
from calc.inputs.fields import part_of
from calc.inputs.refusals import Refused
from calc.rules.plan.day import Bench, Feed, Lot, Plan, Worth
from calc.rules.plan.evening import EveningMove, evening_plan, possible_moves, quickest_ways
from calc.rules.plan.tools import PlanOutput, Tools
from tests.units.calc.sound_charge import ENTRIES

STRONG, WEAK, TINY = (10.0, 250.0), (5.0, 50.0), (1.0, 1.0)
# Three cells of 2200 mAh that are low: at 1C they take 2.2 A, which are 27.7 W at 12.6 V.
LOW = ENTRIES | {
    "goal": "storage",
    "capacity_mah": "2200",
    "resting_v": "3.6 3.6 3.6",
    "cell_resistance_mohm": "5",
    "discharge_current_a": "5",
}


def _ways(*outputs: tuple[float, float], all_outputs_w: float | None = None, **changes: str) -> list[EveningMove]:
    one = read(storage.Inputs, LOW | changes)
    charger = part_of(one, DischargingChargerEntries)
    each = tuple(PlanOutput(replace(charger, charger_current_a=current_a, charger_power_w=power_w)) for current_a, power_w in outputs)
    return possible_moves(4, one, Tools(supplies=(one,), outputs=each, all_outputs_w=all_outputs_w, requested_rate_c=1, at_once=2))


def _told(ways: list[EveningMove]) -> list[tuple[float, str]]:
    return [(one.move.dial.current_a, one.because) for one in ways]


def _currents_on_the_first(ways: list[EveningMove]) -> list[float]:
    return [one.move.dial.current_a for one in ways if one.outputs is None or 0 in one.outputs]


def test_outputs_that_share_too_little_give_a_way_at_all_of_it_and_one_at_half() -> None:
    ways = _ways(STRONG, STRONG, all_outputs_w=30)
    assert _told(ways) == [(2.2, "the charge rate on the label"), (1.1, "half of the power of all outputs together")]
    # In whole watts at the full voltage, rounded up.
    assert [(one.pack, one.power_w, one.outputs) for one in ways] == [(4, 28, None), (4, 14, None)]


def test_a_share_that_changes_no_current_is_no_way_of_its_own() -> None:
    assert _told(_ways(STRONG, STRONG)) == [(2.2, "the charge rate on the label")]
    assert _told(_ways(STRONG, STRONG, all_outputs_w=60)) == [(2.2, "the charge rate on the label")]


def test_a_share_that_changes_no_current_hides_no_later_one_that_does() -> None:
    # Of 40 W an output of 1 W leaves 39, enough for all, and a strong one half: 20 W, 1.59 A.
    assert _currents_on_the_first(_ways(STRONG, TINY, STRONG, all_outputs_w=40)) == [2.2, 1.5]


def test_a_way_below_the_smallest_step_is_left_out_and_one_at_full_current_is_refused() -> None:
    # Steps of 1 A: half of 24 W are 0.95 A.
    assert [one.move.dial.current_a for one in _ways(STRONG, STRONG, all_outputs_w=24, current_step_a="1")] == [1.0]
    with pytest.raises(Refused):
        _ways(STRONG, STRONG, all_outputs_w=12, current_step_a="1")


def test_a_way_that_is_left_out_hides_no_later_one() -> None:
    # Steps of 0.99 A: 25 W are two of them, the 12 W beside a strong output less than one, and the 24 W beside one of 1 W are one.
    assert _currents_on_the_first(_ways(STRONG, STRONG, TINY, all_outputs_w=25, current_step_a="0.99")) == [1.98, 0.99]


def test_a_pack_that_goes_down_takes_nothing_from_the_supply_on_any_output() -> None:
    [only] = _ways(STRONG, WEAK, resting_v="4.1 4.1 4.1")
    assert (only.pack, only.power_w, only.outputs, only.move.goes_up) == (4, 0, None, False)
    assert only.because == only.move.dial.binding.because


def test_a_pack_that_stays_has_no_way() -> None:
    assert _ways(STRONG, resting_v="3.82 3.82 3.82") == []


def test_of_two_ways_that_are_as_quick_the_one_on_the_earlier_output_stands_for_the_pack() -> None:
    [way] = _ways(STRONG)
    wasteful = replace(way, efficiency_percent=70)
    assert quickest_ways([way, wasteful]) == [way]
    assert quickest_ways([wasteful, way]) == [wasteful]


def _lots(*times_min: tuple[int, int]) -> list[Lot]:
    """One pack each, by its likely minutes and the most; it takes 3 min to put on."""
    return [
        Lot(packs=(place,), put_on_min=3, likely_min=likely_min, most_min=most_min, power_w=0, battery_mah=0, cost=0)
        for place, (likely_min, most_min) in enumerate(times_min)
    ]


def _bench(outputs: int, *wanted_min: int | None) -> Bench:
    return Bench(outputs=outputs, feeds=(Feed(power_w=None, battery_mah=None),), wanted_min=wanted_min)


def _order(bench: Bench, lots: list[Lot]) -> list[int]:
    return [turn.lot for turn in evening_plan(bench, lots).turns]


@pytest.mark.parametrize(("wanted_min", "order"), [(106, [1, 0]), (105, [0, 1])], ids=["just in time", "a minute late"])
def test_the_slowest_pack_goes_first_unless_that_makes_another_one_late(wanted_min: int, order: list[int]) -> None:
    # One after the other on one output, at the latest: 3 + 70 min for the slow pack, and 3 + 30 min more for the quick one.
    assert _order(_bench(1, wanted_min, None), _lots((20, 30), (60, 70))) == order


def test_the_slowest_pack_goes_first_only_where_the_evening_ends_no_later() -> None:
    # With 3 min for each to put on, three of 20 min on one output end at 69 min, and so do two of 30 min on the other, which begin once the
    # hands are free. Both of 30 min first, beside each other, would end at 79 min.
    plan = evening_plan(_bench(2, *[None] * 5), _lots((30, 30), (30, 30), (20, 20), (20, 20), (20, 20)))
    assert plan.worth == Worth(0, 0, 69)
    assert max(turn.ends_min for turn in plan.turns) == 69


def test_an_order_beside_another_is_looked_for_until_it_is_certain_how_many_packs_more_it_does() -> None:
    bench, lots = _bench(2, *[None] * 7), _lots(*((likely_min, likely_min) for likely_min in (31, 37, 41, 43, 47, 53, 59)))
    assert evening_plan(bench, lots).is_proven
    none_done = Plan(turns=(), worth=Worth(7, 0, 0), bound=Worth(7, 0, 0))
    beside = evening_plan(bench, lots, instead_of=none_done)
    assert beside.worth.left_out == beside.bound.left_out == 0
    assert not beside.is_proven
