"""The resistance of a cell: what a meter, a label or its kind says of it, and how it changes with the temperature."""

from __future__ import annotations

from math import exp

from calc.facts.cell_parameters import (
    CHARGE_OVER_READING,
    HIGHEST_BELIEVED_LABEL_RATE_C,
    LOSS_AT_LABEL_RATE_V,
    REFERENCE_TEMPERATURE_DEGC,
    RESISTANCE_TEMPERATURE_K,
)
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, k_from_degc, ohm_from_mohm

_INVERSE_REFERENCE_K = 1 / k_from_degc(REFERENCE_TEMPERATURE_DEGC.value)
_LEAST_K, _MOST_K = RESISTANCE_TEMPERATURE_K.least.value, RESISTANCE_TEMPERATURE_K.most.value


def temperature_factor(degc: float) -> Span:
    """Return how many times the resistance at 25 °C a cell has at its own temperature, from -20 to 60 °C.

        f = exp(B (1/T - 1/T25))        T, T25 in K, B in K

    Source: the form is Arrhenius's; B from `RESISTANCE_TEMPERATURE_K`.

    >>> round(temperature_factor(0).likely, 2)
    1.91
    """
    return Span(least_factor(degc), likely_factor(degc), most_factor(degc))


def least_factor(degc: float) -> float:
    """Return the least of `temperature_factor` at a temperature in °C: it falls as the cell warms, and is 1 at 25 °C.

    Source: `temperature_factor`.

    >>> least_factor(25)
    1.0
    """
    inverse_k = 1 / k_from_degc(degc) - _INVERSE_REFERENCE_K
    return exp((_LEAST_K if inverse_k >= 0 else _MOST_K) * inverse_k)


def likely_factor(degc: float) -> float:
    """Return the likely one of `temperature_factor` at a temperature in °C.

    Source: `temperature_factor`.

    >>> likely_factor(25)
    1.0
    """
    return exp(RESISTANCE_TEMPERATURE_K.likely.value * (1 / k_from_degc(degc) - _INVERSE_REFERENCE_K))


def most_factor(degc: float) -> float:
    """Return the most of `temperature_factor` at a temperature in °C: it falls as the cell warms, and is 1 at 25 °C.

    Source: `temperature_factor`.

    >>> most_factor(25)
    1.0
    """
    inverse_k = 1 / k_from_degc(degc) - _INVERSE_REFERENCE_K
    return exp((_MOST_K if inverse_k >= 0 else _LEAST_K) * inverse_k)


def cell_resistance_ohm(
    *,
    capacity_mah: float,
    effective_capacity_mah: float,
    cell_resistance_mohm: float | None,
    label_discharge_rate_c: float | None,
    degc: float,
    chemistry_key: str = "lipo",
) -> Span:
    """Return the resistance of one cell that a whole charge meets, Ω, from the best that is known of the pack.

        measured:   R = F x R_read x f          F from 1 to 4, f the temperature factor
        by label:   R = u / (N Q) x f           N the label's discharge rate in C, u the volts lost at that rate, Q in Ah
        else:       R = r / Q x f               r the class of the chemistry, ohm Ah

    A resistance that was measured is that of the pack as it is, aged or not. One that is guessed rises as the capacity fades, but
    for its least: some packs lose capacity and no more. A label's rate is a promise that one pack breaks and another exceeds: with it
    the most is never below that of the class, nor the least above it.

    Args:
        capacity_mah: capacity on the label, mAh, above 0.
        effective_capacity_mah: what the pack holds, mAh, above 0.
        cell_resistance_mohm: resistance of one cell, read near 25 °C, mΩ, above 0; None if it was not read.
        label_discharge_rate_c: continuous discharge rate on the label, C, above 0; None if there is none.
        degc: the cell's own temperature, °C.
        chemistry_key: a key of `CHEMISTRIES`.

    Source: `CHARGE_OVER_READING`, `LOSS_AT_LABEL_RATE_V`, `CHEMISTRIES`.

    >>> span = cell_resistance_ohm(
    ...     capacity_mah=2000, effective_capacity_mah=1600, cell_resistance_mohm=5, label_discharge_rate_c=None, degc=25
    ... )
    >>> f"{span.least:.4f} {span.likely:.4f} {span.most:.4f}"
    '0.0050 0.0100 0.0200'
    """
    factor = temperature_factor(degc)
    if cell_resistance_mohm is not None:
        read_ohm = ohm_from_mohm(cell_resistance_mohm)
        over = CHARGE_OVER_READING
        return Span(
            read_ohm * over.least.value * factor.least,
            read_ohm * over.likely.value * factor.likely,
            read_ohm * over.most.value * factor.most,
        )
    label_ah = ah_from_mah(capacity_mah)
    effective_ah = min(label_ah, ah_from_mah(effective_capacity_mah))
    of_class = CHEMISTRIES[chemistry_key].resistance_class_ohm_ah
    least, likely, most = of_class.least.value, of_class.likely.value, of_class.most.value
    if label_discharge_rate_c is not None:
        believed_c = min(label_discharge_rate_c, HIGHEST_BELIEVED_LABEL_RATE_C.value)
        least = min(LOSS_AT_LABEL_RATE_V.least.value / label_discharge_rate_c, least)
        likely = LOSS_AT_LABEL_RATE_V.likely.value / believed_c
        most = max(LOSS_AT_LABEL_RATE_V.most.value / believed_c, most)
    return Span(least / label_ah * factor.least, likely / effective_ah * factor.likely, most / effective_ah * factor.most)
