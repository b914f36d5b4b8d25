"""A charge and a discharge in small steps of time, which know neither phases nor pieces: an independent check of what ships.

At each moment the current is the highest that no limit forbids, found by halving; half a step on it is found again and moves
the charge. What a step shares with what ships is Ohm's law and the resting curve, and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from calc.physics.cell.cells import voltage_and_slope

_HALVINGS = 40


class Stepped(NamedTuple):
    """What a run came to, per Ah of capacity: h, a state of charge, Wh per Ah at the terminals and as heat."""

    time_h: float
    end_state: float
    energy: float
    heat: float


def _highest(ceiling: float, is_allowed: Callable[[float], bool]) -> float:
    """The highest current up to a ceiling that is allowed, where every lower one is."""
    if is_allowed(ceiling):
        return ceiling
    low, high = 0.0, ceiling
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if is_allowed(middle) else (low, middle)
    return low


def charged_in_steps(
    curve: tuple[float, ...],
    *,
    resistance_ohm_ah: float,
    start_state: float,
    full_v: float,
    rate_c: float,
    taper_c: float,
    lead_h: float = 0.0,
    power_w_per_ah: float | None = None,
    step_h: float = 1 / 1000,
) -> Stepped:
    """A charge until the current has tapered."""

    def shown_v(state: float, at_c: float) -> float:
        return voltage_and_slope(curve, state + lead_h * at_c)[0] + at_c * resistance_ohm_ah

    def current_c(state: float) -> float:
        def is_allowed(at_c: float) -> bool:
            cell_v = shown_v(state, at_c)
            return cell_v <= full_v and (power_w_per_ah is None or at_c * cell_v <= power_w_per_ah)

        return _highest(rate_c, is_allowed)

    return _in_steps(curve, start_state, 1.0, current_c, shown_v, lambda _, at_c: at_c > taper_c, step_h)


def discharged_in_steps(
    curve: tuple[float, ...],
    *,
    resistance_ohm_ah: float,
    start_state: float,
    cutoff_v: float,
    rate_c: float,
    power_w_per_ah: float | None = None,
    step_h: float = 1 / 600,
) -> Stepped:
    """A discharge until the terminals show the cut-off. The cell must be able to give the power at every state on its way."""

    def shown_v(state: float, at_c: float) -> float:
        return voltage_and_slope(curve, state)[0] - at_c * resistance_ohm_ah

    def current_c(state: float) -> float:
        return _highest(rate_c, lambda at_c: power_w_per_ah is None or at_c * shown_v(state, at_c) <= power_w_per_ah)

    return _in_steps(curve, start_state, -1.0, current_c, shown_v, lambda state, at_c: shown_v(state, at_c) > cutoff_v, step_h)


def _in_steps(
    curve: tuple[float, ...],
    state: float,
    sign: float,
    current_c: Callable[[float], float],
    shown_v: Callable[[float, float], float],
    goes_on: Callable[[float, float], bool],
    step_h: float,
) -> Stepped:
    time_h = energy = heat = 0.0
    at_c = current_c(state)
    while goes_on(state, at_c):
        middle = state + sign * at_c * step_h / 2
        middle_c = current_c(middle)
        after = state + sign * middle_c * step_h
        after_c = current_c(after)
        if not goes_on(after, after_c):
            if step_h < 1e-7:
                break
            step_h /= 2
            continue
        cell_v = shown_v(middle, middle_c)
        time_h += step_h
        energy += cell_v * middle_c * step_h
        heat += sign * (cell_v - voltage_and_slope(curve, middle)[0]) * middle_c * step_h
        state, at_c = after, after_c
    return Stepped(time_h, state, energy, heat)
