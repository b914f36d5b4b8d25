"""A pack emptied through a load, against closed forms that a textbook has."""

from __future__ import annotations

from itertools import pairwise
from math import log

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.physics.cell.cells import Cell
from calc.physics.pack.emptying import Emptying, emptying, emptying_outlook

# A straight resting curve is a capacitor: 1 Ah over 1 V.
STRAIGHT = tuple(3.0 + 1.2 * place / 40 for place in range(41))


def _emptied(
    resistance_ohm_ah: float = 0.0, *, start_state: float = 1.0, cells: int = 1, ohm: float = 4.0, floor_v: float = 3.0
) -> Emptying:
    cell = Cell(curve=STRAIGHT, capacity_ah=2.0, resistance_ohm_ah=resistance_ohm_ah)
    return emptying(cell, start_states=(start_state,) * cells, floor_cell_v=floor_v, current_of=lambda v: v / ohm)


def _capacitor_min(start_v: float, end_v: float, ohm: float) -> float:
    """t = R C ln(U0 / U1) for a capacitor of 2 Ah over 1.2 V, min."""
    return 60 * ohm * (2.0 / 1.2) * log(start_v / end_v)


def test_a_straight_curve_empties_as_a_capacitor_does() -> None:
    assert _emptied().time_min == pytest.approx(_capacitor_min(4.2, 3.0, 4.0), rel=1e-6)


def test_the_resistance_inside_adds_to_the_load_and_brings_the_floor_nearer() -> None:
    # 0.1 ohm inside, 3.9 ohm outside: at the floor of 3.0 V outside it rests at 3.0 x 4.0 / 3.9 V.
    assert _emptied(0.2, ohm=3.9).time_min == pytest.approx(_capacitor_min(4.2, 3.0 * 4.0 / 3.9, 4.0), rel=1e-6)


def test_three_cells_through_three_times_the_ohms_take_as_long_as_one() -> None:
    assert _emptied(0.2, cells=3, ohm=12.0).time_min == pytest.approx(_emptied(0.2, ohm=4.0).time_min)


def test_the_energy_is_the_mean_voltage_times_the_charge() -> None:
    # 2 Ah at 3.6 V on average.
    assert _emptied().energy_wh == pytest.approx(7.2, rel=1e-6)


def test_a_steady_current_takes_its_share_of_the_capacity() -> None:
    cell = Cell(curve=STRAIGHT, capacity_ah=2.0, resistance_ohm_ah=0.0)
    done = emptying(cell, start_states=(0.75,), floor_cell_v=3.3, current_of=lambda _: 1.0)
    # From 75 % to 25 % are 1 Ah, which 1 A moves in an hour.
    assert done.time_min == pytest.approx(60.0, rel=1e-6)


def test_a_cell_at_its_floor_has_nothing_to_give() -> None:
    done = _emptied(start_state=0.0)
    assert (done.time_min, done.energy_wh, len(done.trace)) == (0.0, 0.0, 1)


def test_a_cell_that_gives_way_at_once_takes_no_time() -> None:
    assert _emptied(40.0).time_min == 0.0


def test_a_curve_that_ends_above_the_floor_is_empty_where_it_ends() -> None:
    assert _emptied(floor_v=2.5).trace[-1].state == 0.0


def test_the_course_falls_from_start_to_floor() -> None:
    trace = _emptied(0.2).trace
    assert trace[-1].cell_v == pytest.approx(3.0, abs=1e-6)
    for before, after in pairwise(trace):
        assert after.time_min > before.time_min and after.cell_v < before.cell_v and after.current_a < before.current_a


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_an_outlook_holds_its_likely_course_between_its_ends(key: str) -> None:
    coming = emptying_outlook(
        key,
        resting_cells_v=(3.3,) * 4,
        floor_cell_v=2.6,
        capacity_ah=Span(1.5, 1.8, 2.0),
        resistance_ohm=Span(0.005, 0.015, 0.1),
        currents_of=(lambda v: v / 33, lambda v: v / 30, lambda v: v / 27),
    )
    assert coming.time_min.least < coming.time_min.likely == coming.likely.time_min < coming.time_min.most
    assert coming.energy_wh.least < coming.energy_wh.likely < coming.energy_wh.most


def test_two_unequal_cells_empty_as_two_capacitors_in_series_until_the_lower_is_at_its_floor() -> None:
    # 4.2 and 3.6 V on straight curves of 2 Ah over 1.2 V, 8 ohm outside: 7.8 V, and 6.6 V when the lower is at 3.0 V.
    cell = Cell(curve=STRAIGHT, capacity_ah=2.0, resistance_ohm_ah=0.0)
    done = emptying(cell, start_states=(1.0, 0.5), floor_cell_v=3.0, current_of=lambda v: v / 8)
    assert done.time_min == pytest.approx(60 * 8 * (2.0 / 2.4) * log(7.8 / 6.6), rel=1e-6)
    assert (done.trace[-1].cell_v, done.mean_trace[-1].cell_v) == pytest.approx((3.0, 3.3))
    # 1 Ah at 7.2 V on average.
    assert done.energy_wh == pytest.approx(7.2, rel=1e-6)


def test_the_current_of_all_cells_is_what_pulls_the_lowest_to_its_floor() -> None:
    # 0.1 ohm in each: at the end 3.0 + 0.1 I at rest in the lower, and (6.6 + 0.2 I) / 8.2 flows: I = 0.825 A.
    cell = Cell(curve=STRAIGHT, capacity_ah=2.0, resistance_ohm_ah=0.2)
    done = emptying(cell, start_states=(1.0, 0.5), floor_cell_v=3.0, current_of=lambda v: v / 8)
    assert done.trace[-1].current_a == pytest.approx(0.825, rel=1e-6)
    assert done.trace[-1].cell_v == pytest.approx(3.0, abs=1e-6)
    assert done.trace[0].current_a == pytest.approx(7.8 / 8.2, rel=1e-6)


def test_other_cells_that_stand_higher_empty_the_lowest_sooner() -> None:
    cell = Cell(curve=STRAIGHT, capacity_ah=2.0, resistance_ohm_ah=0.02)
    level, uneven = (
        emptying(cell, start_states=states, floor_cell_v=3.0, current_of=lambda v: v / 15) for states in ((0.5,) * 4, (0.5, 0.9, 0.9, 0.9))
    )
    assert uneven.time_min < level.time_min
