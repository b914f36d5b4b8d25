"""A phase ends at the moment at which it ends, and not a step later."""

from __future__ import annotations

import pytest

from calc.physics.cells import Cell
from calc.physics.runs import Now
from calc.physics.stepping import go_on, slow_after

_START = Now(0.0, 0.0, 0.0, 1.0, 3.7)


def _forward(now: Now, step_h: float) -> Now:
    return now._replace(time_h=now.time_h + step_h, state=now.state + step_h)


def test_the_last_step_is_cut_at_the_end_of_the_phase() -> None:
    run = [_START]
    go_on(run, _forward, lambda now: 0.3, lambda now: now.state >= 0.5)
    assert run[-1].time_h == pytest.approx(0.5, abs=1e-9)
    assert run[-1].state >= 0.5


def test_a_phase_that_is_over_adds_nothing() -> None:
    run = [_START]
    go_on(run, _forward, lambda now: 0.3, lambda now: True)
    assert run == [_START]


def test_the_slow_part_is_at_63_percent_after_its_own_time() -> None:
    cell = Cell(curve=(3.6, 4.2), capacity_ah=1.0, resistance_ohm_ah=0.1, slow_ohm_ah=0.05, slow_time_min=6.0)
    assert slow_after(cell, _START, 1.0, 0.1) == pytest.approx(0.05 * 0.632, rel=0.001)
