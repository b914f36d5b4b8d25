"""How much faster a pack ages in storage at one voltage and temperature than at another, and what the cells of a study lost in storage and in use."""

from __future__ import annotations

from math import exp, sqrt

from calc.facts.ageing import (
    AGEING_DAYS_POWER,
    AGEING_LEAST_CELL_V,
    AGEING_MOST_CELL_V,
    AGEING_OFFSET,
    AGEING_SCALE,
    AGEING_SLOPE_PER_V,
    AGEING_TEMPERATURE_K,
    CYCLE_BEND_PER_V2,
    CYCLE_BY_DEPTH,
    CYCLE_CELL_AH,
    CYCLE_LEAST,
    CYCLE_MEAN_V,
    CYCLE_MILDEST_V,
)
from calc.figures.units import k_from_degc


def ageing_compared(cell_v: float, degc: float, with_cell_v: float, with_degc: float) -> float:
    """Return how many times as fast a cell loses capacity in storage as it does at another voltage, V, and temperature, °C.

        f = (a V + b) / (a V0 + b) x exp(-B (1/T - 1/T0))        V in V, T and B in K

    A voltage beyond those of the paper's cells counts as the nearest of theirs.

    Source: Schmalstieg and others (2014).

    >>> round(ageing_compared(4.16, 20, with_cell_v=3.825, with_degc=20), 2)
    1.5
    """
    faster = _by_voltage(cell_v) / _by_voltage(with_cell_v)
    return faster * exp(-AGEING_TEMPERATURE_K.value * (1 / k_from_degc(degc) - 1 / k_from_degc(with_degc)))


def calendar_loss(cell_v: float, degc: float, days: float) -> float:
    """Return the share of its capacity, a fraction, that the cell of a study loses in storage: by days, at a voltage, V, and a temperature, °C.

        s = (a V + b) 1e6 exp(-B / T) t^0.75        V in V, T and B in K, t in days

    Source: Schmalstieg and others (2014).

    >>> round(calendar_loss(3.85, 20, 365), 3)
    0.02
    """
    rate = _by_voltage(cell_v) * AGEING_SCALE.value * exp(-AGEING_TEMPERATURE_K.value / k_from_degc(degc))
    return rate * float(days**AGEING_DAYS_POWER.value)


def cycle_loss(charges: float, depth: float) -> float:
    """Return the share of its capacity, a fraction, that the cell of a study loses in use: by charges, and their depth, a fraction of the capacity.

        s = (a (V - b)^2 + c + d depth) sqrt(2 depth n Q)        V in V, Q the capacity of its cell in Ah, n charges

    Source: Schmalstieg and others (2014).

    >>> round(cycle_loss(100, 0.8), 3)
    0.075
    """
    rate = CYCLE_BEND_PER_V2.value * (CYCLE_MEAN_V.value - CYCLE_MILDEST_V.value) ** 2 + CYCLE_LEAST.value + CYCLE_BY_DEPTH.value * depth
    return rate * sqrt(2 * depth * charges * CYCLE_CELL_AH.value)


def _by_voltage(cell_v: float) -> float:
    known_v = min(max(cell_v, AGEING_LEAST_CELL_V.value), AGEING_MOST_CELL_V.value)
    return AGEING_SLOPE_PER_V.value * known_v + AGEING_OFFSET.value
