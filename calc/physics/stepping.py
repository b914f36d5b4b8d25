"""A cell with a slow part goes through time step by step: what its charge and its discharge share.

Everything here is per Ah of capacity: rates in C, time in hours.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp

from calc.figures.units import h_from_min
from calc.physics.cells import Cell
from calc.physics.runs import Now

# Halving a step this often puts the end of a phase within a billionth of the step.
_HALVINGS = 34


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
