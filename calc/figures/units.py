"""Conversions between the units on the label, the dial and the meter. The only 1000, 60 and 1.8 of the project.

Sources: thousandths and thousands, SI Brochure, 9th edition, table 7; minutes and hours, table 8; kelvins, section 2.3.1. Degrees
Fahrenheit: NIST Special Publication 811 (2008), appendix B.9, as a table of conversions restates it. Per cent: its definition. Months: the Julian year.
"""

from __future__ import annotations


def base_from_milli(value: float) -> float:
    """Return a quantity in its base unit for the same in thousandths: A = mA / 1000, V = mV / 1000.

    >>> base_from_milli(3850)
    3.85
    """
    return value / 1000


def milli_from_base(value: float) -> float:
    """Return thousandths of a quantity in its base unit: mA = A x 1000, mV = V x 1000.

    >>> milli_from_base(3.85)
    3850.0
    """
    return value * 1000


def ah_from_mah(capacity_mah: float) -> float:
    """Return ampere-hours for milliampere-hours: Ah = mAh / 1000.

    >>> ah_from_mah(2650)
    2.65
    """
    return base_from_milli(capacity_mah)


def mah_from_ah(capacity_ah: float) -> float:
    """Return milliampere-hours for ampere-hours: mAh = Ah x 1000.

    >>> mah_from_ah(5.0)
    5000.0
    """
    return capacity_ah * 1000


def ohm_from_mohm(resistance_mohm: float) -> float:
    """Return ohms for milliohms: ohm = mohm / 1000.

    >>> ohm_from_mohm(5)
    0.005
    """
    return base_from_milli(resistance_mohm)


def mohm_from_ohm(resistance_ohm: float) -> float:
    """Return milliohms for ohms: mohm = ohm x 1000.

    >>> mohm_from_ohm(0.005)
    5.0
    """
    return resistance_ohm * 1000


def min_from_h(time_h: float) -> float:
    """Return minutes for hours: min = h x 60.

    >>> min_from_h(1.5)
    90.0
    """
    return time_h * 60


def h_from_min(time_min: float) -> float:
    """Return hours for minutes: h = min / 60.

    >>> h_from_min(90)
    1.5
    """
    return time_min / 60


def months_from_days(time_days: float) -> float:
    """Return months for days, twelve of them to a year of 365.25 days.

    >>> months_from_days(365.25)
    12.0
    """
    return time_days * 12 / 365.25


def degf_from_degc(temperature_degc: float) -> float:
    """Return degrees Fahrenheit for degrees Celsius: F = 1.8 C + 32.

    >>> degf_from_degc(100)
    212.0
    """
    return temperature_degc * 1.8 + 32


def degc_from_degf(temperature_degf: float) -> float:
    """Return degrees Celsius for degrees Fahrenheit: C = (F - 32) / 1.8.

    >>> degc_from_degf(32)
    0.0
    """
    return (temperature_degf - 32) / 1.8


def fraction_from_percent(share_percent: float) -> float:
    """Return a fraction of one for a percentage: f = % / 100.

    >>> fraction_from_percent(85)
    0.85
    """
    return share_percent / 100


def percent_from_fraction(share: float) -> float:
    """Return a percentage for a fraction of one: % = 100 f.

    >>> percent_from_fraction(0.85)
    85.0
    """
    return share * 100


def k_from_degc(temperature_degc: float) -> float:
    """Return kelvins for degrees Celsius: K = C + 273.15, from -273.15 °C on.

    >>> k_from_degc(25)
    298.15
    """
    return temperature_degc + 273.15


def s_from_min(time_min: float) -> float:
    """Return seconds for minutes: s = min x 60.

    >>> s_from_min(1.5)
    90.0
    """
    return time_min * 60


def min_from_s(time_s: float) -> float:
    """Return minutes for seconds: min = s / 60.

    >>> min_from_s(90)
    1.5
    """
    return time_s / 60


def kg_from_g(mass_g: float) -> float:
    """Return kilograms for grams: kg = g / 1000.

    >>> kg_from_g(700)
    0.7
    """
    return mass_g / 1000


def g_from_kg(mass_kg: float) -> float:
    """Return grams for kilograms: g = kg x 1000.

    >>> g_from_kg(0.5)
    500.0
    """
    return mass_kg * 1000
