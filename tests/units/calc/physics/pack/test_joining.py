"""Packs that are joined side by side: the current at once, and how it dies away."""

from __future__ import annotations

from math import exp

import pytest

from calc.physics.cell.cells import Cell
from calc.physics.pack.joining import Branch, JoinedPack, currents_into_a, joint_v, level_out, resistance_to_others_ohm

# A straight curve makes a cell a capacitor: 0.6 V from empty to full, so 5 Ah are 5 / 0.6 Ah per volt.
STRAIGHT = (3.6, 4.2)


def pack(state: float, *, capacity_ah: float = 5.0, resistance_ohm_ah: float = 0.02, lead_ohm: float = 0.0, cells: int = 4) -> JoinedPack:
    cell = Cell(curve=STRAIGHT, capacity_ah=capacity_ah, resistance_ohm_ah=resistance_ohm_ah)
    return JoinedPack(cell=cell, start_states=(state,) * cells, lead_ohm=lead_ohm)


def test_two_alike_meet_halfway() -> None:
    assert joint_v([Branch(15.0, 0.02), Branch(16.0, 0.02)]) == pytest.approx(15.5)


def test_two_packs_have_one_current_between_them() -> None:
    # 0.4 V over 20 and 20 mΩ: 10 A.
    assert currents_into_a([Branch(15.2, 0.02), Branch(15.6, 0.02)]) == pytest.approx([10.0, -10.0])


def test_what_flows_out_of_some_flows_into_the_others() -> None:
    branches = [Branch(15.0, 0.02), Branch(15.3, 0.05), Branch(16.1, 0.011), Branch(15.6, 0.3)]
    assert sum(currents_into_a(branches)) == pytest.approx(0.0, abs=1e-9)


def test_the_others_side_by_side_stand_behind_one_resistance() -> None:
    # 10 mΩ, and two of 20 mΩ side by side, which are 10 mΩ.
    assert resistance_to_others_ohm([0.01, 0.02, 0.02], 0) == pytest.approx(0.02)


def test_no_pack_takes_more_than_if_all_others_rested_where_the_highest_does() -> None:
    resistances = [0.02, 0.03, 0.04]
    real = currents_into_a([Branch(15.0, 0.02), Branch(15.1, 0.03), Branch(15.4, 0.04)])
    assert real[0] < (15.4 - 15.0) / resistance_to_others_ohm(resistances, 0)


@pytest.mark.parametrize(("other_ah", "other_ohm_ah", "lead_ohm"), [(5.0, 0.02, 0.0), (2.0, 0.05, 0.002), (10.0, 0.1, 0.01)])
def test_the_current_of_two_packs_dies_away_as_that_of_two_capacitors_through_a_resistance(
    other_ah: float, other_ohm_ah: float, lead_ohm: float
) -> None:
    run = level_out([pack(0.4, lead_ohm=lead_ohm), pack(0.6, capacity_ah=other_ah, resistance_ohm_ah=other_ohm_ah, lead_ohm=lead_ohm)])
    ohm = 4 * 0.02 / 5 + 4 * other_ohm_ah / other_ah + 2 * lead_ohm
    one_ah_per_v, other_ah_per_v = 5.0 / (4 * 0.6), other_ah / (4 * 0.6)
    constant_min = 60 * ohm * one_ah_per_v * other_ah_per_v / (one_ah_per_v + other_ah_per_v)
    first_a = 4 * 0.6 * 0.2 / ohm
    for moment in run:
        assert moment.currents_a[0] == pytest.approx(first_a * exp(-moment.time_min / constant_min), rel=0.004)


def test_no_charge_is_lost_on_the_way() -> None:
    run = level_out([pack(0.2), pack(0.5, capacity_ah=2.0), pack(0.9, capacity_ah=1.0, resistance_ohm_ah=0.1)])
    assert [sum(moment.taken_ah) for moment in run] == pytest.approx([0.0] * len(run), abs=1e-9)
    # On a straight curve a cell tells what it holds: 0.6 V from empty to full.
    effective_ah = sum((cell_v[0] - 3.6) / 0.6 * ah for cell_v, ah in zip(run[-1].cell_v, (5.0, 2.0, 1.0), strict=True))
    assert effective_ah == pytest.approx(0.2 * 5 + 0.5 * 2 + 0.9 * 1)


def test_cells_that_differ_within_a_pack_stay_apart_while_the_packs_come_level() -> None:
    cell = Cell(curve=STRAIGHT, capacity_ah=5.0, resistance_ohm_ah=0.02)
    uneven, even = JoinedPack(cell=cell, start_states=(0.3, 0.7)), JoinedPack(cell=cell, start_states=(0.8, 0.8))
    last = level_out([uneven, even])[-1]
    assert last.cell_v[0][1] - last.cell_v[0][0] == pytest.approx(0.4 * 0.6)
    assert sum(last.cell_v[0]) == pytest.approx(sum(last.cell_v[1]), abs=0.05)


def test_packs_that_rest_alike_stay_as_they_are() -> None:
    assert len(level_out([pack(0.5), pack(0.5, capacity_ah=1.0)])) == 1
