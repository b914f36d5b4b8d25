"""How warm a pack gets: one lump of matter that is heated from within and cooled by the air around it.

The resistance falls as the pack warms, so a hot pack heats itself less. Each step is solved for the temperature at its end;
that keeps the order of things: more heat, or warmer air, never ends cooler, however long a step is.

A pack that is only known to be one of several bodies is taken, step by step, as the one that ends the step warmest, or the
one that ends it coolest. Every step keeps the order of temperatures, so no pack among the bodies, whichever it is and however
the air around it changes between them, ends warmer than the one course or cooler than the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import exp

from calc.facts.pack_heat import BRICK_SHAPE, DENSITY_KG_PER_M3, FORECAST_ENDS_DEGC
from calc.figures.units import s_from_min
from calc.physics.cell.bracketing import root_bracket

# How finely the temperature at the end of a step is looked for.
_NARROWED_TO_K = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A pack as heat sees it: what warms it by one kelvin, and what it loses to the air at one kelvin above it."""

    heat_capacity_j_per_k: float
    cooling_w_per_k: float


def body_of(*, mass_kg: float, specific_heat_j_per_kg_k: float, heat_transfer_w_per_m2_k: float) -> Body:
    """Return a pack of this mass as heat sees it.

        C = m c,    G = h A,    A = k (m / d)^(2/3)        C in J/K, m in kg, c in J/(kg K), G in W/K, h in W/(m² K),
        A in m², d the density in kg/m³, k the shape's number

    Source: heat transfer textbooks; shape and density from `facts.pack_heat`.

    >>> body = body_of(mass_kg=0.5, specific_heat_j_per_kg_k=1000, heat_transfer_w_per_m2_k=10)
    >>> body.heat_capacity_j_per_k, round(body.cooling_w_per_k, 2)
    (500.0, 0.29)
    """
    area_m2 = BRICK_SHAPE.value * (mass_kg / DENSITY_KG_PER_M3.value) ** (2 / 3)
    return Body(heat_capacity_j_per_k=mass_kg * specific_heat_j_per_kg_k, cooling_w_per_k=heat_transfer_w_per_m2_k * area_m2)


def warming(
    bodies: tuple[Body, ...],
    *,
    start_degc: float,
    air_degc: float,
    time_min: float,
    heat_w: Callable[[float], float],
    ends: Callable[[Iterable[float]], float] = max,
    steps: int = 40,
) -> tuple[float, ...]:
    """Return the temperatures of a pack that is heated from within, °C, at evenly spaced times from the start on: one more than steps.

        C dT/dt = P(T) - G (T - Tair)        over a step:  T = Tair + (T0 - Tair) e + P(T) (1 - e) / G,  e = exp(-dt G / C)

    The forecast ends at 80 °C: from there on the cell itself breaks down, and the pack stays at least that hot. It must start below.

    Args:
        bodies: the pack, or what it may be.
        start_degc: its temperature at the start, °C.
        air_degc: the air around it, °C.
        time_min: minutes, above 0.
        heat_w: the heat in the pack at a temperature in °C, W; 0 or more, and never rising with the temperature.
        ends: `max` for the body that ends each step warmest, `min` for the one that ends it coolest.
        steps: 1 or more.

    Source: the lumped body of heat transfer textbooks; exact where the heat is constant.

    >>> body = Body(heat_capacity_j_per_k=500, cooling_w_per_k=0.3)
    >>> round(warming((body,), start_degc=20, air_degc=20, time_min=10, heat_w=lambda degc: 8.0)[-1] - 20, 2)
    8.06
    """
    step_s = s_from_min(time_min / steps)
    all_kept = [exp(-step_s * body.cooling_w_per_k / body.heat_capacity_j_per_k) for body in bodies]
    raised_k_per_w = [(1 - kept) / body.cooling_w_per_k for kept, body in zip(all_kept, bodies, strict=True)]
    course = [start_degc]
    for _ in range(steps):
        if course[-1] >= FORECAST_ENDS_DEGC.value:
            course.append(course[-1])
            continue
        above_air_k = course[-1] - air_degc
        unheated = [air_degc + above_air_k * kept for kept in all_kept]

        # Where a pack meets the highest, or the lowest, of its bodies' lines is the highest, or the lowest, of where it meets each.
        def after(degc: float, unheated: list[float] = unheated) -> float:
            heat = heat_w(degc)
            return ends([cool_degc + heat * raised for cool_degc, raised in zip(unheated, raised_k_per_w, strict=True)])

        course.append(min(_fixed_point(after, ends(unheated)), FORECAST_ENDS_DEGC.value))
    return tuple(course)


def _fixed_point(after: Callable[[float], float], below_degc: float) -> float:
    """The temperature that a falling `after` maps to itself, sought from below: it lies between any temperature and what that maps to."""
    here, there = below_degc, after(below_degc)
    while abs(there - here) > _NARROWED_TO_K:
        further = after(there)
        # Steep, where a current is far too much for the pack: there going back and forth would not end.
        if abs(further - there) > abs(there - here) / 2:
            low, high = sorted((here, there))
            return root_bracket(lambda degc: degc - after(degc), low, high, _NARROWED_TO_K)[1]
        here, there = there, further
    return there
