"""What feeds the charger: how much power reaches it, and how much a lead-acid battery still holds."""

from __future__ import annotations

from itertools import pairwise
from math import sqrt

from calc.facts.lead_acid import RATED_HOURS, RESISTANCE_OHM_AH, LeadAcid
from calc.figures.units import fraction_from_percent


def power_at_current_w(source_v: float, resistance_ohm: float, current_a: float) -> float:
    """Return the power that arrives behind a resistance, W: P = (U - I R) I, with U at no load in V; past U / 2R it falls again.

    Source: Ohm's law.

    >>> round(power_at_current_w(source_v=12.0, resistance_ohm=0.02, current_a=10.0), 2)
    118.0
    """
    return (source_v - current_a * resistance_ohm) * current_a


def current_for_power_a(source_v: float, resistance_ohm: float, power_w: float) -> float:
    """Return the current that a source gives when a charger behind a resistance asks for a power at its input, A.

        I = 2 P / (U + sqrt(U^2 - 4 R P))        the lower root of P = (U - I R) I, with U at no load in V, R of source and lead in Ω

    Raises:
        ValueError: more power than can pass, P > U^2 / 4R: the caller's limits come first.

    Source: Ohm's law.

    >>> round(current_for_power_a(source_v=12.0, resistance_ohm=0.0, power_w=148.2), 2)
    12.35
    """
    under_root = source_v * source_v - 4 * resistance_ohm * power_w
    if under_root < 0:
        raise ValueError(f"{power_w} W cannot pass {resistance_ohm} ohm from {source_v} V")
    return 2 * power_w / (source_v + sqrt(under_root))


def largest_current_a(source_v: float, resistance_ohm: float, least_v: float) -> float:
    """Return the current at which a source's voltage, behind a resistance, sinks to the lowest that is usable, A; 0 if it is below already.

        I = (U - U_least) / R        U at no load in V, R of source and lead in Ω, above 0

    Source: Ohm's law.

    >>> round(largest_current_a(source_v=12.5, resistance_ohm=0.05, least_v=11.0), 1)
    30.0
    """
    return max(0.0, source_v - least_v) / resistance_ohm


def battery_resistance_ohm(battery_ah: float) -> float:
    """Return the resistance of a healthy 12 V lead-acid battery, Ω, by the capacity on its label: R = 0.5 ohm Ah / Q.

    Source: Linden, from memory: no text with the number could be found; an old or cold battery has more.

    >>> battery_resistance_ohm(100)
    0.005
    """
    return RESISTANCE_OHM_AH.value / battery_ah


def battery_state_percent(kind: LeadAcid, resting_v: float) -> float:
    """Return a lead-acid battery's state of charge from its voltage at rest, %, straight between the table's rows, 0 and 100 outside.

    The voltage is that of the 12 V battery; how long a rest takes, `facts.lead_acid` says.

    Source: Battery Council International service table; glass mat: common practice, no source.

    >>> from calc.facts.lead_acid import LEAD_ACID
    >>> battery_state_percent(LEAD_ACID["flooded"], 12.24)
    50.0
    """
    rows = [(percent, volts.value) for percent, volts in kind.rest_v]
    if resting_v <= rows[0][1]:
        return float(rows[0][0])
    for (low_percent, low_v), (high_percent, high_v) in pairwise(rows):
        if resting_v <= high_v:
            return low_percent + (high_percent - low_percent) * ((resting_v - low_v) / (high_v - low_v))
    return float(rows[-1][0])


def capacity_at_current_ah(battery_ah: float, current_a: float, exponent: float) -> float:
    """Return what a full lead-acid battery gives at a steady current, Ah, in the 20-hour form of Peukert's law.

        t = H (C / (I H))^k        Q = I t, and never more than C, the label's for H = 20 hours; k is 1 or more

    Source: Peukert's law.

    >>> round(capacity_at_current_ah(battery_ah=100, current_a=25, exponent=1.2), 1)
    72.5
    """
    hours: float = RATED_HOURS.value * (battery_ah / (current_a * RATED_HOURS.value)) ** exponent
    return min(battery_ah, current_a * hours)


def usable_ah(kind: LeadAcid, battery_ah: float, resting_v: float, current_a: float, floor_percent: float) -> float:
    """Return the ampere-hours that a battery gives at a current before it reaches its floor, Ah; 0 if it is there already.

        Q = (s - s_floor) x Q(I)        s as a fraction, Q(I) by Peukert

    Source: the rest-voltage table and Peukert's law.

    >>> from calc.facts.lead_acid import LEAD_ACID
    >>> usable_ah(LEAD_ACID["flooded"], battery_ah=70, resting_v=12.24, current_a=5, floor_percent=50)
    0.0
    """
    above_floor_percent = battery_state_percent(kind, resting_v) - floor_percent
    full_ah = capacity_at_current_ah(battery_ah, current_a, kind.peukert_exponent.value)
    return max(0.0, fraction_from_percent(above_floor_percent)) * full_ah
