"""The lead between a supply and a charger: its resistance and the current that it may carry."""

from __future__ import annotations

from calc.facts.copper import (
    ALLOWED_CURRENT_A,
    FLEXIBLE_FACTOR,
    LARGEST_DROP_PERCENT,
    RESISTIVITY_OHM_MM2_PER_M,
    TABLE_DEGC,
    TEMPERATURE_COEFFICIENT_PER_K,
    THIN_LEAD_A_PER_MM2,
)
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent


def solid_wire_ohm_per_m(area_mm2: float) -> float:
    """Return the resistance of a metre of solid copper wire at 20 °C, Ω: R' = rho / A, with the cross-section A in mm².

    Source: IEC 60028 for the resistivity.

    >>> round(solid_wire_ohm_per_m(3.309), 5)
    0.00521
    """
    return RESISTIVITY_OHM_MM2_PER_M.value / area_mm2


def lead_resistance_ohm(length_m: float, area_mm2: float) -> float:
    """Return the resistance of a flexible lead, there and back, Ω.

        R = 2 x l x k x rho / A        l one way in m, A of one wire in mm², k for flexible strands

    Source: IEC 60028 for the resistivity, IEC 60228 class 5 for flexible strands.

    >>> round(lead_resistance_ohm(length_m=1.5, area_mm2=2.5), 4)
    0.024
    """
    return 2 * length_m * solid_wire_ohm_per_m(area_mm2) * FLEXIBLE_FACTOR.value


def lead_span_ohm(length_m: float, area_mm2: float) -> Span:
    """Return what a lead may have there and back at 20 °C, Ω: where a high current is to be feared, the least of it counts.

        R_least = 2 x l x rho / A        R_likely = R_most = k R_least        l, A and k as in `lead_resistance_ohm`

    The standard names the most that a wire may have, so a good one has less: never less than plain copper of its cross-section.

    Source: IEC 60028 for the resistivity; IEC 60228 class 1 for plain wires, all of which may have more, and class 5 for flexible strands.

    >>> round(lead_span_ohm(length_m=1.5, area_mm2=2.5).least, 4)
    0.0207
    """
    flexible_ohm = lead_resistance_ohm(length_m, area_mm2)
    return Span(2 * length_m * solid_wire_ohm_per_m(area_mm2), flexible_ohm, flexible_ohm)


def warm_resistance_ohm(resistance_ohm: float, lead_degc: float) -> float:
    """Return what a copper resistance of 20 °C becomes at another temperature, Ω.

        R(t) = R20 (1 + 0.00393 (t - 20))        t in °C

    Source: IEC 60028; FAA AC 43.13-1B, paragraph 11-66, has the same law.

    >>> round(warm_resistance_ohm(1.0, 60), 4)
    1.1572
    """
    return resistance_ohm * (1 + TEMPERATURE_COEFFICIENT_PER_K.value * (lead_degc - TABLE_DEGC.value))


def allowed_current_a(area_mm2: float) -> float:
    """Return the current that a lead may carry all the time, A: the row of the next thinner wire in the table.

    The cross-section is that of one wire, mm². Leads thinner than the table's thinnest get amperes in proportion to their area.

    Source: 33 CFR 183.425 table 5, the column for 60 °C insulation.

    >>> allowed_current_a(2.5), allowed_current_a(3.31)
    (20, 25)
    """
    # A label says 0.82 or 1.3 where the table has 0.823 and 1.309: one part in a hundred is the same wire.
    fitting = [amperes.value for area, amperes in ALLOWED_CURRENT_A if area_mm2 >= area * 0.99]
    return fitting[-1] if fitting else THIN_LEAD_A_PER_MM2.value * area_mm2


def largest_drop_v(supply_v: float) -> float:
    """Return the voltage that a supply lead may lose, V: dU = 10 % of the voltage at the supply's end.

    Source: ABYC E-11, circuits that are not critical.

    >>> round(largest_drop_v(12.6), 2)
    1.26
    """
    return supply_v * fraction_from_percent(LARGEST_DROP_PERCENT.value)
