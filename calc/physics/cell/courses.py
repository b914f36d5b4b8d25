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
    """Return what the pack shows so many minutes after its start, 0 or more; after the end, its last state with no current.

    Source: linear interpolation between the moments.

    >>> moment_at((Moment(0.0, 2.0, 3.8, 0.5), Moment(10.0, 2.0, 3.9, 0.7)), 5.0).state
    0.6
    """
    return _between(trace, bisect_right(trace, time_min, key=lambda moment: moment.time_min), time_min)


def moments_at(trace: tuple[Moment, ...], times_min: Sequence[float]) -> list[Moment]:
    """Return what the pack shows at each of several minutes, which must rise: `moment_at` in one pass.

    Source: linear interpolation between the moments.

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
    """Return the minute at which a charge reaches a state of charge, a fraction.

    It is 0 where the charge starts there or above, and None where it ends below.

    Source: linear interpolation between the moments.

    >>> minutes_to((Moment(0.0, 2.0, 3.8, 0.5), Moment(10.0, 2.0, 3.9, 0.7)), 0.6)
    5.0
    """
    if trace[0].state >= state:
        return 0.0
    for left, right in pairwise(trace):
        if right.state >= state:
            return left.time_min + (right.time_min - left.time_min) * (state - left.state) / (right.state - left.state)
    return None
