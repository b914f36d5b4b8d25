"""The ways of a pack to storage on outputs that share their power: each current once, and a way too slow for the charger's steps left out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.calculators import storage
from calc.inputs.entries import read
from calc.inputs.equipment import DischargingChargerEntries
from calc.inputs.fields import part_of
from calc.inputs.refusals import Refused
from calc.rules.plan.evening import EveningMove, possible_moves
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
