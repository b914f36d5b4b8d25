"""Resistors and lamps that empty a pack: which one, how many watts, how hot, and what two loads tell of the resistance inside."""

from __future__ import annotations

from math import ceil

from calc.facts.loads import (
    CONVECTION_EXPONENT,
    E12,
    HOT_SPOT_HIGH_DEGC,
    HOT_SPOT_LOW_DEGC,
    LAMP_CURRENT_EXPONENT,
    POWER_DERATING,
    RATED_IN_AIR_DEGC,
)
from calc.figures.rounding import up_to_step
from calc.figures.spans import Span
from calc.figures.units import mohm_from_ohm

# A value within a billionth counts as reached: 12 V / 1 A must find 12 ohm.
_NOISE = 1e-9


def preferred_ohm(least_ohm: float) -> float:
    """Return the lowest resistance of series E12, Ω, that is not below the one asked for.

        R = v x 10^k        v one of 1.0 to 8.2, k a whole number

    Source: IEC 60063, series E12.

    >>> preferred_ohm(16.8), preferred_ohm(8.3), preferred_ohm(220)
    (18.0, 10.0, 220.0)
    """
    decade = 1.0
    while decade > least_ohm:
        decade /= 10
    while E12.values[-1] * decade < least_ohm * (1 - _NOISE):
        decade *= 10
    found = next(value for value in E12.values if value * decade >= least_ohm * (1 - _NOISE))
    return round(found * decade, 9)


def rating_w(power_w: float) -> float:
    """Return the rating that a resistor needs to carry a power at half of its rating or less, up to a whole watt.

        P_rated = P / 0.5        in W

    Source: MIL-PRF-26, 6.4.

    >>> rating_w(15.7)
    32.0
    """
    return up_to_step(power_w / POWER_DERATING.value, 1)


def resistor_current_a(pack_v: float, resistor_ohm: float) -> float:
    """Return the current through a resistor: I = V / R, in A, V and Ω.

    Source: Ohm's law.

    >>> resistor_current_a(12.0, 6.0)
    2.0
    """
    return pack_v / resistor_ohm


def lamp_current_a(pack_v: float, lamps: int, lamp_v: float, lamp_w: float) -> float:
    """Return the current through like filament lamps in series, A.

        I = P / V_lamp x (V / (n V_lamp))^0.55        P and V_lamp of one lamp's base, in W and V; V at the ends of the row

    A filament has less resistance when it glows less, so the current falls less than the voltage does.

    Source: Standard Handbook for Electrical Engineers, 11th edition, section 22.

    >>> lamp_current_a(12.0, lamps=1, lamp_v=12.0, lamp_w=24.0)
    2.0
    """
    share: float = (pack_v / (lamps * lamp_v)) ** LAMP_CURRENT_EXPONENT.value
    return lamp_w / lamp_v * share


def lamps_in_series(full_pack_v: float, lamp_v: float) -> int:
    """Return how many lamps in series a full pack needs, so that none gets more than its own voltage, V: V_full / V_lamp, rounded up.

    Source: Kirchhoff's voltage law.

    >>> lamps_in_series(25.2, 12.0), lamps_in_series(24.0, 12.0)
    (3, 2)
    """
    return max(1, ceil(full_pack_v / lamp_v * (1 - _NOISE)))


def resistor_temperature_degc(air_degc: float, power_w: float, rating_w: float) -> Span:
    """Return how hot the hottest spot of a wirewound resistor gets in still air, °C.

        T = T_air + (T_hot - 25) s^x        s = P / P_rated, x from 0.8 to 1, T in °C

    `T_hot` is the surface at full load in air of 25 °C, 275 or 350 °C by kind. With x = 1 the rise follows the power, as the
    derating line has it; with x = 0.8 it follows the laws of warm air alone, which carries off less of a small rise.

    Source: MIL-PRF-26 for the temperatures at full load; heat transfer textbooks for the exponent.

    >>> span = resistor_temperature_degc(25, power_w=10, rating_w=20)
    >>> round(span.least), round(span.likely), round(span.most)
    (150, 188, 212)
    """
    share = power_w / rating_w
    low_k, high_k = (one.value - RATED_IN_AIR_DEGC.value for one in (HOT_SPOT_LOW_DEGC, HOT_SPOT_HIGH_DEGC))
    return Span(air_degc + low_k * share, air_degc + high_k * share, air_degc + high_k * share**CONVECTION_EXPONENT.value)


def resistance_of_two_loads_mohm(*, first_v: float, first_a: float, second_v: float, second_a: float) -> float:
    """Return the resistance inside, mΩ, from the voltages under a small and a large load.

        R = (U1 - U2) / (I2 - I1)        1 under the small load, 2 under the large; U1 > U2 in V, I2 > I1 in A

    Source: IEC 61960-3, clause 7.7.3.

    >>> round(resistance_of_two_loads_mohm(first_v=3.95, first_a=1.0, second_v=3.80, second_a=5.0), 3)
    37.5
    """
    return mohm_from_ohm((first_v - second_v) / (second_a - first_a))
