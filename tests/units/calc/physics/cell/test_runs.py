"""What passed the terminals in a run, and what of it became heat."""

from __future__ import annotations

import pytest

from calc.physics.cell.cells import Cell
from calc.physics.cell.runs import Instant, course, energy_and_heat_wh

_CELL = Cell(curve=(3.6, 4.2), capacity_ah=2.0, resistance_ohm_ah=0.1)
_UP = [Instant(0.0, 0.0, 1.0, 3.7), Instant(1.0, 1.0, 1.0, 4.3)]


def test_a_discharge_counts_as_much_as_the_charge_that_goes_the_same_way_back() -> None:
    down = [Instant(0.0, 1.0, 1.0, 4.3), Instant(1.0, 0.0, 1.0, 3.7)]
    assert energy_and_heat_wh(_UP, _CELL, 3) == pytest.approx(energy_and_heat_wh(down, _CELL, 3))


def test_cells_in_series_add_up() -> None:
    # 4 V on the average for 2 Ah, and 0.1 V lost.
    assert energy_and_heat_wh(_UP, _CELL, 3) == pytest.approx((24.0, 0.6))


def test_a_course_is_in_minutes_and_amperes() -> None:
    assert [(moment.time_min, moment.current_a) for moment in course(_UP, 2.0)] == [(0.0, 2.0), (60.0, 2.0)]
