"""A run of one cell through time, step by step: what charging and discharging share.

Everything here is per Ah of capacity: rates in C, power in W per Ah, time in hours. Units of the dial return in `course`.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import exp
from typing import NamedTuple

from calc.figures.units import h_from_min, min_from_h
from calc.physics.cells import Cell
from calc.physics.courses import Moment

# Halving a step this often puts the end of a phase within a billionth of the step.
_HALVINGS = 34


class Now(NamedTuple):
    """A cell in the middle of a run. The rate is above 0 both on charge and on discharge."""

    time_h: float
    state: float
    slow_v: float
    rate_c: float
    cell_v: float


def go_on(
    run: list[Now],
    step: Callable[[Now, float], Now],
    length_h: Callable[[Now], float],
    is_over: Callable[[Now], bool],
) -> None:
    """Append steps to a run until a phase is over, the last one cut at the moment at which it ends.

    Args:
        run: the run so far, one moment or more; it is added to.
        step: the cell after so many hours.
        length_h: how long the next step should be, h.
        is_over: whether the phase has ended; once true, true for all longer steps.

    Returns:
        Nothing.

    Refuses: nothing.

    Source: bisection.

    >>> run = [Now(0.0, 0.0, 0.0, 1.0, 3.7)]
    >>> go_on(run, lambda now, h: now._replace(state=now.state + h), lambda now: 0.3, lambda now: now.state >= 0.5)
    >>> [round(now.state, 6) for now in run]
    [0.0, 0.3, 0.5]
    """
    now = run[-1]
    while not is_over(now):
        step_h = length_h(now)
        after = step(now, step_h)
        if is_over(after):
            short_h, long_h = 0.0, step_h
            for _ in range(_HALVINGS):
                middle_h = (short_h + long_h) / 2
                if is_over(step(now, middle_h)):
                    long_h = middle_h
                else:
                    short_h = middle_h
            after = step(now, long_h)
        run.append(after)
        now = after


def slow_after(cell: Cell, now: Now, rate_c: float, step_h: float) -> float:
    """Return the voltage of the slow part after a step at one current.

        v = c r1 + (v0 - c r1) exp(-t / t1)        v in V, c in C, r1 in ohm Ah, t and t1 in h

    Args:
        cell: the cell.
        now: the moment at the start of the step.
        rate_c: the current through the step, C.
        step_h: the step, h.

    Returns:
        The voltage, V; exact.

    Refuses: nothing.

    Source: circuit theory.

    >>> cell = Cell(curve=(3.6, 4.2), capacity_ah=1.0, resistance_ohm_ah=0.1, slow_ohm_ah=0.05, slow_time_min=5.0)
    >>> round(slow_after(cell, Now(0.0, 0.5, 0.0, 1.0, 4.0), 1.0, 5.0), 6)
    0.05
    """
    if not cell.slow_ohm_ah:
        return 0.0
    settled_v = rate_c * cell.slow_ohm_ah
    return settled_v + (now.slow_v - settled_v) * exp(-step_h / h_from_min(cell.slow_time_min))


def energy_and_heat_wh(run: list[Now], cell: Cell, cell_count: int) -> tuple[float, float]:
    """Return what passed the terminals in a run, and what of it became heat in the cells.

        E = sum of V I dt,    H = sum of (I^2 R + v^2 / R1) dt        by the trapezoid between the moments

    Args:
        run: the run, one moment or more.
        cell: the cell.
        cell_count: cells in series, 1 or more.

    Returns:
        Energy at the terminals and heat in the cells, Wh.

    Refuses: nothing.

    Source: circuit theory.

    >>> cell = Cell(curve=(3.6, 4.2), capacity_ah=2.0, resistance_ohm_ah=0.1)
    >>> energy_wh, heat_wh = energy_and_heat_wh([Now(0.0, 0.2, 0.0, 1.0, 4.0), Now(0.5, 0.7, 0.0, 1.0, 4.2)], cell, 3)
    >>> round(energy_wh, 6), round(heat_wh, 6)
    (12.3, 0.3)
    """

    def heat_rate(now: Now) -> float:
        slow = now.slow_v * now.slow_v / cell.slow_ohm_ah if cell.slow_ohm_ah else 0.0
        return now.rate_c * now.rate_c * cell.resistance_ohm_ah + slow

    energy = heat = 0.0
    for left, right in pairwise(run):
        half_h = (right.time_h - left.time_h) / 2
        energy += (left.rate_c * left.cell_v + right.rate_c * right.cell_v) * half_h
        heat += (heat_rate(left) + heat_rate(right)) * half_h
    size_ah = cell.capacity_ah * cell_count
    return energy * size_ah, heat * size_ah


def course(run: list[Now], capacity_ah: float) -> tuple[Moment, ...]:
    """Return a run in minutes and amperes.

    Args:
        run: the run, one moment or more.
        capacity_ah: capacity of the cell, Ah.

    Returns:
        Its moments.

    Refuses: nothing.

    Source: the definition of the C rate.

    >>> course([Now(0.5, 0.7, 0.0, 1.0, 4.2)], 2.0)
    (Moment(time_min=30.0, current_a=2.0, cell_v=4.2, state=0.7),)
    """
    return tuple(Moment(min_from_h(now.time_h), now.rate_c * capacity_ah, now.cell_v, now.state) for now in run)
