"""From state to state of charge by formula: the points of the curve are met, up and down, and bends are not cut."""

from __future__ import annotations

from itertools import pairwise
from math import log

import pytest

from calc.physics.cell.cells import Cell
from calc.physics.cell.pieces import go_to, hold_voltage
from calc.physics.cell.runs import Instant

# Steep at first, then flat: a bend at half, 3.9 V.
_BENT = Cell(curve=(3.6, 3.9, 4.0), capacity_ah=1.0, resistance_ohm_ah=0.1)


def _held_at(state: float, resting_v: float) -> list[Instant]:
    return [Instant(0.0, state, (4.2 - resting_v) / 0.1, 4.2)]


def test_a_way_up_meets_the_bend_and_the_end() -> None:
    run = [Instant(0.0, 0.25, 1.0, 3.85)]
    go_to(run, _BENT, 0.75, lambda _: 1.0)
    assert [now.state for now in run] == [0.25, 0.5, 0.75]
    assert [now.cell_v for now in run] == pytest.approx([3.85, 4.0, 4.05])
    assert run[-1].time_h == pytest.approx(0.5)


def test_a_way_down_loses_what_the_way_up_gains() -> None:
    run = [Instant(0.0, 0.75, 1.0, 3.85)]
    go_to(run, _BENT, 0.25, lambda _: 1.0)
    assert [now.state for now in run] == [0.75, 0.5, 0.25]
    assert [now.cell_v for now in run] == pytest.approx([3.85, 3.8, 3.65])


def test_a_way_from_a_point_of_the_curve_does_not_stop_there_again() -> None:
    for end in (0.25, 0.75):
        run = [Instant(0.0, 0.5, 1.0, 3.9)]
        go_to(run, _BENT, end, lambda _: 1.0)
        assert [now.state for now in run] == [0.5, end]


def test_a_way_to_where_it_stands_adds_nothing() -> None:
    run = [Instant(0.0, 0.3, 1.0, 3.8)]
    go_to(run, _BENT, 0.3, lambda _: 1.0)
    hold_voltage(run, _BENT, 0.3, 4.2)
    assert len(run) == 1


def test_ways_past_the_ends_of_the_curve_go_on_along_its_last_lines() -> None:
    up = [Instant(0.0, 0.9, 1.0, 4.08)]
    go_to(up, _BENT, 1.1, lambda _: 1.0)
    assert up[-1].cell_v == pytest.approx(4.02 + 0.1)
    down = [Instant(0.0, 0.1, 1.0, 3.56)]
    go_to(down, _BENT, -0.1, lambda _: 1.0)
    assert down[-1].cell_v == pytest.approx(3.54 - 0.1)


def test_a_held_voltage_takes_the_logarithm_of_the_fall_on_each_piece() -> None:
    run = _held_at(0.25, 3.75)
    hold_voltage(run, _BENT, 0.75, 4.2)
    # 4.5 to 3 C where the curve rises by 0.6 V for the whole capacity, 3 to 2.5 C where by 0.2 V.
    assert run[-1].time_h == pytest.approx(0.1 / 0.6 * log(4.5 / 3.0) + 0.1 / 0.2 * log(3.0 / 2.5))
    assert run[-1].rate_c == pytest.approx(2.5)


def test_every_moment_of_a_held_voltage_lies_on_the_curve() -> None:
    run = _held_at(0.0, 3.6)
    hold_voltage(run, _BENT, 1.0, 4.2)
    for now in run:
        resting_v = 3.6 + 0.6 * now.state if now.state <= 0.5 else 3.8 + 0.2 * now.state
        assert now.rate_c == pytest.approx((4.2 - resting_v) / 0.1)
        assert now.cell_v == 4.2


def test_a_long_fall_has_moments_between_so_that_lines_through_them_are_smooth() -> None:
    run = [Instant(0.0, 0.0, 5.0, 4.2)]
    hold_voltage(run, Cell(curve=(3.7, 4.2), capacity_ah=1.0, resistance_ohm_ah=0.1), 0.99, 4.2)
    falls = [before.rate_c / after.rate_c for before, after in pairwise(run)]
    assert max(falls) < 1.3


def test_every_moment_of_a_held_voltage_is_later_than_the_one_before() -> None:
    run = _held_at(0.0, 3.6)
    hold_voltage(run, _BENT, 1.0, 4.2)
    assert all(after.time_h > before.time_h and after.state > before.state for before, after in pairwise(run))
