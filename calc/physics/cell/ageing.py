"""How much faster a pack ages by lying at one voltage and temperature than at another."""

from __future__ import annotations

from math import exp

from calc.facts.ageing import AGEING_LEAST_CELL_V, AGEING_MOST_CELL_V, AGEING_OFFSET, AGEING_SLOPE_PER_V, AGEING_TEMPERATURE_K
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


def _by_voltage(cell_v: float) -> float:
    known_v = min(max(cell_v, AGEING_LEAST_CELL_V.value), AGEING_MOST_CELL_V.value)
    return AGEING_SLOPE_PER_V.value * known_v + AGEING_OFFSET.value
