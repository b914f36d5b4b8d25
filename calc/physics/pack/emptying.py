"""How long a resistor or a row of lamps takes to empty a pack.

The load has no electronics: what it draws follows from the pack's voltage alone, and that from the state of charge of each cell.
So no time step is needed: the minutes are a sum over the resting curve. All cells give the same charge, and the end is where the
lowest shows its floor under the load, however much the others still hold.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, fsum

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.figures.units import min_from_h
from calc.physics.cell.bracketing import root_bracket
from calc.physics.cell.cells import Cell, state_at, voltage_and_slope
from calc.physics.cell.courses import Moment

# The part of the voltage to which it is looked for.
_PART = 1e-9
# Each round brings the end nearer by a tenth or less: the resistance of a cell is small beside that of the load.
_ROUNDS = 10

CurrentOf = Callable[[float], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Emptying:
    """A pack that was emptied through a load: minutes, what the load turned into heat, and the course of it.

    `trace` is the course of the lowest cell, `mean_trace` that of the mean of all, which is what the load sees.
    """

    time_min: float
    energy_wh: float
    trace: tuple[Moment, ...]
    mean_trace: tuple[Moment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EmptyingOutlook:
    """The emptying to come: minutes and energy as spans, the likely course, and all courses that the entries allow."""

    time_min: Span
    energy_wh: Span
    likely: Emptying
    corners: tuple[Emptying, ...]


def emptying(cell: Cell, *, start_states: Sequence[float], floor_cell_v: float, current_of: CurrentOf) -> Emptying:
    """Return how a load empties cells in series that are alike but for their charge, until the lowest shows its floor.

        t = sum of Q ds / I,    V = sum of U(s_k) - n I R,    I = f(V)        by Simpson's rule on each piece of the lowest's curve
        t in h, Q in Ah, s_k fractions, I in A, V and U in V, R in ohm per cell

    Args:
        cell: one of the cells.
        start_states: state of charge of each cell at the start, fractions from 0 to 1.
        floor_cell_v: the emptying ends when the lowest cell shows this under the load, V, or when its curve ends; at once if it is there.
        current_of: the current that the load draws at a voltage, A for V; rising.

    Source: circuit theory; checked against the exact discharge of a capacitor through a resistor.

    >>> straight = Cell(curve=(3.0, 4.0), capacity_ah=1.0, resistance_ohm_ah=0.0)
    >>> done = emptying(straight, start_states=(1.0,), floor_cell_v=3.0, current_of=lambda v: v / 4)
    >>> round(done.time_min)
    69
    """
    count, start_state = len(start_states), min(start_states)
    inside_ohm = cell.resistance_ohm_ah / cell.capacity_ah
    ahead = Counter(state - start_state for state in start_states)

    def at(state: float) -> tuple[float, float, float]:
        """The current, and what the lowest cell and the mean of all show, once the lowest is at a state."""
        resting_v = voltage_and_slope(cell.curve, state)[0]
        mean_v = fsum(many * voltage_and_slope(cell.curve, state + more)[0] for more, many in ahead.items()) / count
        # More voltage at the load draws more current, and more current leaves less voltage: they meet once.
        least_v = max(mean_v - current_of(count * mean_v) * inside_ohm, 0.0)
        _, shown_v = root_bracket(
            lambda shown_v: shown_v + current_of(count * shown_v) * inside_ohm - mean_v, least_v, mean_v, mean_v * _PART
        )
        return current_of(count * shown_v), resting_v - (mean_v - shown_v), shown_v

    end_state = min(max(state_at(cell.curve, floor_cell_v + current_of(count * floor_cell_v) * inside_ohm), 0.0), start_state)
    if len(ahead) > 1:
        # The others stand higher than the floor and drive more current: the rest of the lowest at its floor is a little higher.
        for _ in range(_ROUNDS):
            end_state = min(max(state_at(cell.curve, floor_cell_v + at(end_state)[0] * inside_ohm), 0.0), start_state)
    states = _nodes(len(cell.curve) - 1, start_state, end_state)
    time_h = energy_wh = 0.0
    first_a, lowest_v, mean_v = at(start_state)
    trace, means = [Moment(0.0, first_a, lowest_v, start_state)], [Moment(0.0, first_a, mean_v, start_state)]
    for before, after in pairwise(states):
        current_a, _, shown_v = at((before + after) / 2)
        moved_ah = (before - after) * cell.capacity_ah
        last, (end_a, end_lowest_v, end_v) = means[-1], at(after)
        time_h += moved_ah * (1 / last.current_a + 4 / current_a + 1 / end_a) / 6
        energy_wh += moved_ah * count * (last.cell_v + 4 * shown_v + end_v) / 6
        trace.append(Moment(min_from_h(time_h), end_a, end_lowest_v, after))
        means.append(Moment(min_from_h(time_h), end_a, end_v, after))
    return Emptying(time_min=min_from_h(time_h), energy_wh=energy_wh, trace=tuple(trace), mean_trace=tuple(means))


def _nodes(pieces: int, start_state: float, end_state: float) -> list[float]:
    """The start, the points of the curve between, and the end, falling; the start alone if they are the same."""
    if end_state >= start_state:
        return [start_state]
    inner = [point / pieces for point in range(floor(start_state * pieces), -1, -1)]
    return [start_state, *(state for state in inner if end_state < state < start_state), end_state]


def emptying_outlook(
    chemistry_key: str,
    *,
    resting_cells_v: Sequence[float],
    floor_cell_v: float,
    capacity_ah: Span,
    resistance_ohm: Span,
    currents_of: tuple[CurrentOf, CurrentOf, CurrentOf],
) -> EmptyingOutlook:
    """Return how a load will empty a pack, with all that is not known of the pack and of the load.

        least: U - e, the least capacity, the most current, the most resistance; most: the reverse; over all curves

    Args:
        chemistry_key: a key of `CHEMISTRIES`.
        resting_cells_v: resting voltage of each cell, V; a meter that is off is so on all of them alike.
        floor_cell_v: where the emptying ends for the lowest cell under the load, V.
        capacity_ah: what a cell may hold, Ah, above 0.
        resistance_ohm: resistance of a cell, Ω, 0 or more; it stays the same whatever the cell holds.
        currents_of: the load as it may be: at its least, its likely and its most current.

    Source: `emptying` on every curve of `CHEMISTRIES`.

    >>> coming = emptying_outlook("lipo", resting_cells_v=(3.85,) * 3, floor_cell_v=3.0, capacity_ah=Span(2.0, 2.0, 2.0),
    ...     resistance_ohm=Span(0.01, 0.01, 0.01), currents_of=(lambda v: v / 12,) * 3)
    >>> coming.time_min.least < coming.time_min.likely < coming.time_min.most
    True
    """
    table = CHEMISTRIES[chemistry_key].resting
    error_v = table.reading_error_v.value

    def run(curve: tuple[float, ...], off_v: float, capacity: float, resistance: float, current_of: CurrentOf) -> Emptying:
        return emptying(
            Cell(curve=curve, capacity_ah=capacity, resistance_ohm_ah=resistance * capacity),
            start_states=[min(max(state_at(curve, cell_v + off_v), 0.0), 1.0) for cell_v in resting_cells_v],
            floor_cell_v=floor_cell_v,
            current_of=current_of,
        )

    weak, usual, strong = currents_of
    likely = run(table.likely.cell_v, 0.0, capacity_ah.likely, resistance_ohm.likely, usual)
    fast = [run(curve.cell_v, -error_v, capacity_ah.least, resistance_ohm.most, strong) for curve in table.curves]
    slow = [run(curve.cell_v, error_v, capacity_ah.most, resistance_ohm.least, weak) for curve in table.curves]
    return _outlook_of(likely, (*fast, *slow))


def over_both(cool: EmptyingOutlook, warm: EmptyingOutlook) -> EmptyingOutlook:
    """Return one outlook over two of a pack that is between two temperatures: every course of both, of which the cool one's is the likely.

    Source: the two outlooks.

    >>> cool, warm = (
    ...     emptying_outlook("lipo", resting_cells_v=(3.85,) * 3, floor_cell_v=3.0, capacity_ah=Span(2.0, 2.0, 2.0),
    ...         resistance_ohm=Span(ohm, ohm, ohm), currents_of=(lambda v: v / 12,) * 3)
    ...     for ohm in (0.04, 0.01)
    ... )
    >>> both = over_both(cool, warm)
    >>> both.time_min.most == max(cool.time_min.most, warm.time_min.most), both.likely == cool.likely
    (True, True)
    """
    return _outlook_of(cool.likely, (warm.likely, *cool.corners, *warm.corners))


def _outlook_of(likely: Emptying, corners: tuple[Emptying, ...]) -> EmptyingOutlook:
    runs = (likely, *corners)
    return EmptyingOutlook(
        time_min=Span(min(one.time_min for one in runs), likely.time_min, max(one.time_min for one in runs)),
        energy_wh=Span(min(one.energy_wh for one in runs), likely.energy_wh, max(one.energy_wh for one in runs)),
        likely=likely,
        corners=corners,
    )
