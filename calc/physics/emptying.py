"""How long a resistor or a row of lamps takes to empty a pack.

The load has no electronics: what it draws follows from the voltage alone, and the voltage from the state of charge. So no time
step is needed: the minutes are a sum over the resting curve. The end is where the lowest cell shows its floor under the load.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import floor

from calc.facts.resting_voltages import RESTING_TABLES
from calc.figures.spans import Span
from calc.figures.units import min_from_h
from calc.physics.bracketing import narrowed
from calc.physics.cells import Cell, state_at, voltage_and_slope
from calc.physics.courses import Moment

# The part of the voltage to which it is looked for.
_PART = 1e-9

CurrentOf = Callable[[float], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Emptying:
    """A pack that was emptied through a load: minutes, what the load turned into heat, and the course of it."""

    time_min: float
    energy_wh: float
    trace: tuple[Moment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EmptyingOutlook:
    """The emptying to come: minutes and energy as spans, the likely course, and all courses that the entries allow."""

    time_min: Span
    energy_wh: Span
    likely: Emptying
    corners: tuple[Emptying, ...]


def emptying(cell: Cell, *, start_state: float, floor_cell_v: float, cell_count: float, current_of: CurrentOf) -> Emptying:
    """Return how a load empties so many like cells in series, until a cell shows its floor.

        t = sum of Q ds / I,    V = n (U(s) - I R),    I = f(V)        by Simpson's rule on each piece of the curve
        t in h, Q in Ah, s a fraction, I in A, V and U in V, R in ohm per cell

    Args:
        cell: one of the cells; its slow part is left out.
        start_state: state of charge at the start, a fraction from 0 to 1.
        floor_cell_v: the emptying ends when a cell shows this under the load, V, or when the curve ends.
        cell_count: cells in series, 1 or more.
        current_of: the current that the load draws at a voltage, A for V; rising.

    Returns:
        The emptying; of no minutes if the floor is reached at once.

    Refuses: nothing; a pack that must not be discharged is refused before.

    Source: circuit theory; checked against the exact discharge of a capacitor through a resistor.

    >>> straight = Cell(curve=(3.0, 4.0), capacity_ah=1.0, resistance_ohm_ah=0.0)
    >>> done = emptying(straight, start_state=1.0, floor_cell_v=3.0, cell_count=1, current_of=lambda v: v / 4)
    >>> round(done.time_min)
    69
    """

    inside_ohm = cell.resistance_ohm_ah / cell.capacity_ah

    def at(state: float) -> tuple[float, float]:
        resting_v = voltage_and_slope(cell.curve, state)[0]
        # More voltage at the load draws more current, and more current leaves less voltage: they meet once.
        least_v = max(resting_v - current_of(cell_count * resting_v) * inside_ohm, 0.0)
        _, shown_v = narrowed(
            lambda shown_v: shown_v + current_of(cell_count * shown_v) * inside_ohm - resting_v, least_v, resting_v, resting_v * _PART
        )
        return current_of(cell_count * shown_v), shown_v

    resting_floor_v = floor_cell_v + current_of(cell_count * floor_cell_v) * inside_ohm
    end_state = min(max(state_at(cell.curve, resting_floor_v), 0.0), start_state)
    states = _nodes(len(cell.curve) - 1, start_state, end_state)
    time_h = energy_wh = 0.0
    trace = [Moment(0.0, *at(start_state), start_state)]
    for before, after in pairwise(states):
        current_a, shown_v = at((before + after) / 2)
        moved_ah = (before - after) * cell.capacity_ah
        last, (end_a, end_v) = trace[-1], at(after)
        time_h += moved_ah * (1 / last.current_a + 4 / current_a + 1 / end_a) / 6
        energy_wh += moved_ah * cell_count * (last.cell_v + 4 * shown_v + end_v) / 6
        trace.append(Moment(min_from_h(time_h), end_a, end_v, after))
    return Emptying(time_min=min_from_h(time_h), energy_wh=energy_wh, trace=tuple(trace))


def _nodes(pieces: int, start_state: float, end_state: float) -> list[float]:
    """The start, the points of the curve between, and the end, falling; the start alone if they are the same."""
    if end_state >= start_state:
        return [start_state]
    inner = [point / pieces for point in range(floor(start_state * pieces), -1, -1)]
    return [start_state, *(state for state in inner if end_state < state < start_state), end_state]


def emptying_outlook(
    chemistry_key: str,
    *,
    resting_cell_v: float,
    floor_cell_v: float,
    cell_count: float,
    capacity_ah: Span,
    resistance_ohm: Span,
    currents_of: tuple[CurrentOf, CurrentOf, CurrentOf],
) -> EmptyingOutlook:
    """Return how a load will empty a pack, with all that is not known of the pack and of the load.

        least: U - e, the least capacity, the most current, the most resistance; most: the reverse; over all curves

    Args:
        chemistry_key: a key of `RESTING_TABLES`.
        resting_cell_v: the lowest cell's resting voltage, V.
        floor_cell_v: where the emptying ends under the load, V.
        cell_count: cells in series, 1 or more.
        capacity_ah: what a cell may hold, Ah, above 0.
        resistance_ohm: resistance of a cell, Ω, 0 or more; it stays the same whatever the cell holds.
        currents_of: the load as it may be: at its least, its likely and its most current.

    Returns:
        The outlook.

    Refuses: nothing; a pack that must not be discharged is refused before.

    Source: `emptying` on every curve of `RESTING_TABLES`.

    >>> coming = emptying_outlook("lipo", resting_cell_v=3.85, floor_cell_v=3.0, cell_count=3, capacity_ah=Span(2.0, 2.0, 2.0),
    ...     resistance_ohm=Span(0.01, 0.01, 0.01), currents_of=(lambda v: v / 12,) * 3)
    >>> coming.time_min.least < coming.time_min.likely < coming.time_min.most
    True
    """
    table = RESTING_TABLES[chemistry_key]
    error_v = table.reading_error_v.value

    def run(curve: tuple[float, ...], off_v: float, capacity: float, resistance: float, current_of: CurrentOf) -> Emptying:
        return emptying(
            Cell(curve=curve, capacity_ah=capacity, resistance_ohm_ah=resistance * capacity),
            start_state=min(max(state_at(curve, resting_cell_v + off_v), 0.0), 1.0),
            floor_cell_v=floor_cell_v,
            cell_count=cell_count,
            current_of=current_of,
        )

    weak, usual, strong = currents_of
    likely = run(table.likely.cell_v, 0.0, capacity_ah.likely, resistance_ohm.likely, usual)
    fast = [run(curve.cell_v, -error_v, capacity_ah.least, resistance_ohm.most, strong) for curve in table.curves]
    slow = [run(curve.cell_v, error_v, capacity_ah.most, resistance_ohm.least, weak) for curve in table.curves]
    runs = (likely, *fast, *slow)
    return EmptyingOutlook(
        time_min=Span(min(one.time_min for one in runs), likely.time_min, max(one.time_min for one in runs)),
        energy_wh=Span(min(one.energy_wh for one in runs), likely.energy_wh, max(one.energy_wh for one in runs)),
        likely=likely,
        corners=(*fast, *slow),
    )
