"""A run of one cell through time, charge or discharge: its moments, and what passed the terminals.

Everything here is per Ah of capacity: rates in C, power in W per Ah, time in hours. Units of the dial return in `course`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from calc.figures.units import min_from_h
from calc.physics.cell.cells import Cell, stored_wh_per_ah
from calc.physics.cell.courses import Moment


class Instant(NamedTuple):
    """A cell in the middle of a run. The rate is above 0 both on charge and on discharge."""

    time_h: float
    state: float
    rate_c: float
    cell_v: float


def energy_and_heat_wh(run: list[Instant], cell: Cell, cell_count: int) -> tuple[float, float]:
    """Return what passed the terminals in a run of cells in series, Wh, and what of it became heat in them, Wh.

        E = sum of V Q ds,    H = sum of (V - U(s)) Q ds        by the trapezoid between the moments

    Over the state of charge the trapezoid is exact at constant current and at constant voltage, as long as the moments
    do not skip a bend of the curve.

    Source: circuit theory.

    >>> cell = Cell(curve=(3.6, 4.2), capacity_ah=2.0, resistance_ohm_ah=0.1)
    >>> energy_wh, heat_wh = energy_and_heat_wh([Instant(0.0, 0.2, 1.0, 4.0), Instant(0.5, 0.7, 1.0, 4.2)], cell, 3)
    >>> round(energy_wh, 6), round(heat_wh, 6)
    (12.3, 0.3)
    """
    energy = moved = 0.0
    for left, right in pairwise(run):
        share = abs(right.state - left.state)
        energy += (left.cell_v + right.cell_v) * share
        moved += (left.rate_c + right.rate_c) * share
    half_ah = cell.capacity_ah * cell_count / 2
    heat = moved * cell.resistance_ohm_ah
    if cell.lead_h:
        heat = energy - 2 * stored_wh_per_ah(cell.curve, run[0].state, run[-1].state)
    return energy * half_ah, heat * half_ah


def course(run: list[Instant], capacity_ah: float) -> tuple[Moment, ...]:
    """Return a run in minutes and amperes: multiples of the capacity, Ah, in place of C.

    Source: the definition of the C rate.

    >>> course([Instant(0.5, 0.7, 1.0, 4.2)], 2.0)
    (Moment(time_min=30.0, current_a=2.0, cell_v=4.2, state=0.7),)
    """
    an_hour_min = min_from_h(1.0)
    return tuple([Moment(time_h * an_hour_min, rate_c * capacity_ah, cell_v, state) for time_h, state, rate_c, cell_v in run])
