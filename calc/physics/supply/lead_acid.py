"""A 12 V lead-acid battery: its resistance, its charge and its voltage at rest, and what it gives at a current."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from calc.facts.lead_acid import RATED_HOURS, RESISTANCE_OHM_AH, LeadAcid
from calc.figures.units import fraction_from_percent


def interpolated(rows: Sequence[tuple[float, float]], x: float) -> float:
    """Return a table's value at x, in the unit of its second column: straight lines join its rows; past its ends the first and the last go on.

    Source: linear interpolation.

    >>> interpolated([(0, 40), (32, 75), (80, 100)], 16)
    57.5
    """
    pairs = list(pairwise(rows))
    (low_x, low_y), (high_x, high_y) = next((pair for pair in pairs if x <= pair[1][0]), pairs[-1])
    return low_y + (high_y - low_y) * ((x - low_x) / (high_x - low_x))


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
    return min(max(interpolated([(volts.value, percent) for percent, volts in kind.rest_v], resting_v), 0.0), 100.0)


def battery_rest_v(kind: LeadAcid, charged_percent: float) -> float:
    """Return a lead-acid battery's voltage at rest for a state of charge: the inverse of `battery_state_percent`.

        U = U_low + (U_high - U_low) (s - s_low) / (s_high - s_low)        s in %; below 0 the table's first straight line goes on

    Source: Battery Council International service table; glass mat: common practice, no source.

    >>> from calc.facts.lead_acid import LEAD_ACID
    >>> battery_rest_v(LEAD_ACID["flooded"], 50)
    12.24
    """
    return interpolated([(percent, volts.value) for percent, volts in kind.rest_v], charged_percent)


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
