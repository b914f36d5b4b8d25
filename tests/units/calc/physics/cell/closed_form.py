"""The minutes of a charge by one formula for each phase, with no moments between: what a charge built of moments is held against."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import asinh, floor, fsum, log, sqrt
from typing import NamedTuple

from calc.figures.units import min_from_h
from calc.physics.cell.cells import state_at, voltage_and_slope

_SLIVER = 1e-12


class PhaseMinutes(NamedTuple):
    """Minutes of a charge by phase."""

    constant_current_min: float
    constant_power_min: float
    constant_voltage_min: float


def closed_form_minutes(
    curve: tuple[float, ...],
    *,
    start_state: float,
    full_cell_v: float,
    rate_c: float,
    resistance_ohm_ah: float,
    taper_rate_c: float,
    power_w_per_ah: float | None = None,
) -> PhaseMinutes:
    """Each phase as a sum over the straight pieces of the resting curve.

    constant current:  t = ds / c                                     until U = min(V_full, p / c) - c r
    constant power:    t = integral of V / p ds, V = (U + sqrt(U^2 + 4 p r)) / 2,    until U = V_full - p r / V_full
    constant voltage:  t = r ds ln(a / b) / (a - b), a, b = V_full - U at the piece's ends,    until U = V_full - c_end r
    t in h, c in C, p in W per Ah, r in ohm Ah, U and V in V
    """
    power_v = full_cell_v if power_w_per_ah is None else min(full_cell_v, power_w_per_ah / rate_c)
    at_full_c = rate_c if power_w_per_ah is None else min(rate_c, power_w_per_ah / full_cell_v)
    ends = [start_state]
    for shown_v, at_c in ((power_v, rate_c), (full_cell_v, at_full_c), (full_cell_v, taper_rate_c)):
        ends.append(max(state_at(curve, shown_v - at_c * resistance_ohm_ah), ends[-1]))
    power_min = 0.0
    if power_w_per_ah is not None:
        power_min = constant_power_minutes(
            curve, from_state=ends[1], to_state=ends[2], power_w_per_ah=power_w_per_ah, resistance_ohm_ah=resistance_ohm_ah
        )
    voltage_h = fsum(_voltage_h(*piece, full_cell_v, resistance_ohm_ah) for piece in _pieces(curve, ends[2], ends[3]))
    return PhaseMinutes(min_from_h((ends[1] - ends[0]) / rate_c), power_min, min_from_h(voltage_h))


def constant_power_minutes(
    curve: tuple[float, ...], *, from_state: float, to_state: float, power_w_per_ah: float, resistance_ohm_ah: float
) -> float:
    """The minutes that a power needs to bring a cell from one state of charge up to another."""
    return min_from_h(fsum(_power_h(*piece, power_w_per_ah, resistance_ohm_ah) for piece in _pieces(curve, from_state, to_state)))


def _pieces(curve: tuple[float, ...], start: float, end: float) -> Iterator[tuple[float, float, float]]:
    """The straight pieces between two states: resting voltage at both ends, and the width in state."""
    count = len(curve) - 1
    inner = [node / count for node in range(max(floor(start * count) + 1, 1), count) if node / count < end]
    for left, right in pairwise([start, *inner, end]):
        # A sliver between a state and a point that rounding parts has no voltage of its own to divide by.
        if right - left > _SLIVER:
            # The slope belongs to the piece, not to the one that begins at its right end.
            left_v, slope = voltage_and_slope(curve, left)
            yield left_v, left_v + slope * (right - left), right - left


def _voltage_h(left_v: float, right_v: float, width: float, full_v: float, resistance: float) -> float:
    left_gap, right_gap = full_v - left_v, full_v - right_v
    return resistance * width * log(left_gap / right_gap) / (left_gap - right_gap)


def _power_h(left_v: float, right_v: float, width: float, power: float, resistance: float) -> float:
    own = 4 * power * resistance

    def primitive(resting_v: float) -> float:
        root = sqrt(resting_v * resting_v + own)
        return (resting_v * resting_v + resting_v * root + own * asinh(resting_v / sqrt(own))) / 2

    return (primitive(right_v) - primitive(left_v)) / (2 * power) * width / (right_v - left_v)
