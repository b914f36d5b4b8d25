"""A cell with one resistance goes from state of charge to state of charge: by formula on each straight piece of its curve.

No step of time is needed, since the current at each state follows from the resting voltage there alone.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, exp, floor, log

from calc.physics.cell.cells import Cell, voltage_and_slope
from calc.physics.cell.runs import Instant

# While it tapers, the current falls by no more than this between two moments, as a power of e: a line through them is smooth.
_FALL = 0.25


def go_to(run: list[Instant], cell: Cell, end_state: float, rate_at: Callable[[float], float]) -> None:
    """Append the way to a state of charge, up or down, at a current that the resting voltage tells, in C for V and above 0.

        t = sum of (1 / c_left + 1 / c_right) / 2 ds        between the points of the curve; t in h, c in C, s a fraction

    Exact at constant current. At constant power 1 / c is as good as straight, since it goes with the voltage. Nothing is added to
    a run that is there already.

    Source: circuit theory, integrated over straight lines.

    >>> run = [Instant(0.0, 0.2, 1.0, 3.82)]
    >>> go_to(run, Cell(curve=(3.6, 3.9, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1), 0.8, lambda resting_v: 1.0)
    >>> [(round(now.time_h, 6), now.state, round(now.cell_v, 6)) for now in run]
    [(0.0, 0.2, 3.82), (0.3, 0.5, 4.0), (0.6, 0.8, 4.18)]
    """
    now = run[-1]
    lost_ohm_ah = cell.resistance_ohm_ah if end_state > now.state else -cell.resistance_ohm_ah
    for state, resting_v in _stops(cell.curve, now.state, end_state):
        rate_c = rate_at(resting_v)
        time_h = now.time_h + abs(state - now.state) * (1 / now.rate_c + 1 / rate_c) / 2
        now = Instant(time_h, state, rate_c, resting_v + rate_c * lost_ohm_ah)
        run.append(now)


def hold_voltage(run: list[Instant], cell: Cell, end_state: float, held_v: float) -> None:
    """Append the way up to a state of charge while the terminals are held at a voltage, above which it does not rest there.

        c = (V - U) / r,    t = sum of r / k ln(c_left / c_right)
        c in C, V and U in V, r in ohm Ah and above 0, t in h, k the slope of the piece in V per unit of state

    Nothing is added to a run that is there already.

    Source: circuit theory, integrated over straight lines.

    >>> run = [Instant(0.0, 0.5, 3.0, 4.2)]
    >>> hold_voltage(run, Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1), 0.95, 4.2)
    >>> round(run[-1].time_h * 60, 2), round(run[-1].rate_c, 6)
    (23.03, 0.3)
    """
    resistance = cell.resistance_ohm_ah
    for state, resting_v in _stops(cell.curve, run[-1].state, end_state):
        start = run[-1]
        rate_c = (held_v - resting_v) / resistance
        slope = voltage_and_slope(cell.curve, (start.state + state) / 2)[1]
        fall = log(start.rate_c / rate_c)
        parts = max(ceil(fall / _FALL), 1)
        for part in range(1, parts):
            part_c = start.rate_c * exp(-fall * part / parts)
            filled = (start.rate_c - part_c) * resistance / slope
            time_h = start.time_h + fall * part / parts * resistance / slope
            run.append(Instant(time_h, start.state + filled, part_c, held_v))
        run.append(Instant(start.time_h + fall * resistance / slope, state, rate_c, held_v))


def _stops(curve: tuple[float, ...], start: float, end: float) -> list[tuple[float, float]]:
    """The points of the curve between two states, in the order of the way, and its end: state and resting voltage."""
    count = len(curve) - 1
    if end > start:
        between = range(max(floor(start * count) + 1, 1), count)
        stops = [(node / count, curve[node]) for node in between if start < node / count < end]
    elif end < start:
        between = range(min(ceil(start * count), count) - 1, 0, -1)
        stops = [(node / count, curve[node]) for node in between if end < node / count < start]
    else:
        return []
    return [*stops, (end, voltage_and_slope(curve, end)[0])]
