"""The course of a charge or a discharge over time, and how to read it between its moments."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple


class Moment(NamedTuple):
    """What a charge or a discharge shows at one minute: one cell's voltage and state, and the current through all."""

    time_min: float
    current_a: float
    cell_v: float
    state: float


def moment_at(trace: tuple[Moment, ...], time_min: float) -> Moment:
    """Return what the pack shows at a minute of its run; after the end, its last state with no current.

    Args:
        trace: the course of a run, from `Charge` or `Discharge`.
        time_min: minutes from the start, 0 or more.

    Returns:
        The moment, between two of the trace by straight line.

    Source: linear interpolation.

    >>> moment_at((Moment(0.0, 2.0, 3.8, 0.5), Moment(10.0, 2.0, 3.9, 0.7)), 5.0).state
    0.6
    """
    return _between(trace, bisect_right(trace, time_min, key=lambda moment: moment.time_min), time_min)


def moments_at(trace: tuple[Moment, ...], times_min: Sequence[float]) -> list[Moment]:
    """Return what the pack shows at each of several minutes: `moment_at` in one pass.

    Args:
        trace: the course of a run, from `Charge` or `Discharge`.
        times_min: minutes from the start, 0 or more, rising.

    Returns:
        A moment for each time.

    Source: linear interpolation.

    >>> trace = (Moment(0.0, 2.0, 3.8, 0.5), Moment(10.0, 2.0, 3.9, 0.7))
    >>> moments_at(trace, [5.0, 20.0]) == [moment_at(trace, 5.0), moment_at(trace, 20.0)]
    True
    """
    found, after = [], 0
    for time_min in times_min:
        while after < len(trace) and trace[after].time_min <= time_min:
            after += 1
        found.append(_between(trace, after, time_min))
    return found


def _between(trace: tuple[Moment, ...], after: int, time_min: float) -> Moment:
    """The moment at a minute that lies before the trace's `after`."""
    if after == len(trace):
        return trace[-1]._replace(time_min=time_min, current_a=0.0 if time_min > trace[-1].time_min else trace[-1].current_a)
    left, right = trace[after - 1], trace[after]
    share = (time_min - left.time_min) / (right.time_min - left.time_min)
    return Moment(
        time_min,
        left.current_a + (right.current_a - left.current_a) * share,
        left.cell_v + (right.cell_v - left.cell_v) * share,
        left.state + (right.state - left.state) * share,
    )


def minutes_to(trace: tuple[Moment, ...], state: float) -> float | None:
    """Return the minute at which a charge reaches a state of charge.

    Args:
        trace: the course of a charge.
        state: state of charge, a fraction.

    Returns:
        The minute; 0 if it starts there or above; None if the charge ends below it.

    Source: linear interpolation.

    >>> minutes_to((Moment(0.0, 2.0, 3.8, 0.5), Moment(10.0, 2.0, 3.9, 0.7)), 0.6)
    5.0
    """
    if trace[0].state >= state:
        return 0.0
    for left, right in pairwise(trace):
        if right.state >= state:
            return left.time_min + (right.time_min - left.time_min) * (state - left.state) / (right.state - left.state)
    return None
