"""What is measured, in which unit, and how many decimals a pilot can use.

A `Quantity` is the one place for a unit: its name suffix, its sign, its decimals, the ways in which it can be typed, and how it
counts in the other units of its kind. A `Figure` is a number on its way to the screen: it is rounded when printed, so nothing
computes with it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from operator import mul, truediv

from calc.figures.calendar import day_in_figures, day_of_text
from calc.figures.counted import CountedPack
from calc.figures.gauges import area_mm2_of_gauge, gauge_of, gauge_of_area_mm2
from calc.figures.rounding import down_to_step, up_to_step
from calc.figures.units import (
    ah_from_mah,
    base_from_milli,
    degc_from_degf,
    degf_from_degc,
    mah_from_ah,
    milli_from_base,
    min_from_h,
    min_from_s,
)

_TOWARDS = {"down": down_to_step, "up": up_to_step}


@dataclass(frozen=True, slots=True)
class Scale:
    """How a unit converts to the base unit of its kind, and back.

    `by` names what of a pack it counts from: a field of `CountedPack`, which both functions then take as their second argument.
    """

    to_base: Callable[..., float]
    from_base: Callable[..., float]
    by: str = ""

    def arguments(self, value: float, pack: CountedPack) -> tuple[float | None, ...]:
        """Return what the two functions take."""
        return (value, pack.number(self.by)) if self.by else (value,)


BASE = Scale(float, float)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A unit: `suffix` ends the name of every field that holds it, `sign` is printed, `decimals` is the resolution."""

    suffix: str
    sign: str
    decimals: int
    sign_of_one: str = ""
    # What the pilot may see in another unit: a key of `UNITS`.
    measures: str = ""
    # What may be written after the number, in small letters without spaces; and a text that is a number in a way of its own.
    typed: tuple[str, ...] = ()
    reads: Callable[[str], float | None] | None = None
    # Units that may be typed in place of this one, and are never shown.
    typed_too: tuple[Quantity, ...] = ()
    scale: Scale = BASE
    # Whether the number is lower for the larger thing.
    falls: bool = False
    # Whether it is shown beside the usual unit of its kind until the pilot chooses.
    stands_beside: bool = False
    # How a number is printed where that is not with decimals.
    written: Callable[[float], str] | None = None
    # How many decimals it has where it stands in for another unit, by the figure in that unit and the number in this one.
    finer: Callable[[Figure, float], int] | None = None

    @property
    def can_be_typed_in(self) -> tuple[Quantity, ...]:
        """Its own unit, then every other that may stand after the number."""
        return (self, *self.typed_too, *units_beside(self)[1:])

    def counts_from(self, unit: Quantity) -> str:
        """Return what of a pack must be known to show this in another unit, as a field of `CountedPack`; empty where nothing must."""
        return self.scale.by or unit.scale.by

    def in_unit(self, value: float, unit: Quantity, pack: CountedPack) -> float:
        """Return a number in another unit of its kind; the pack knows what the two count from: see `counts_from`.

        Raises:
            ValueError: a number that the other unit, or this one, does not go up to.

        >>> RATE.in_unit(2, PACK_AMPERES, CountedPack(capacity_ah=2.5))
        5.0
        """
        base = self.scale.to_base(*self.scale.arguments(value, pack))
        return unit.scale.from_base(*unit.scale.arguments(base, pack))

    def as_fine_as(self, own: Figure, value: float) -> Quantity:
        """Return this unit with the decimals for a figure of another unit, `own`, that is shown in it as `value`."""
        return self if self.finer is None else replace(self, decimals=self.finer(own, value))

    def to_step(self, step: float) -> Quantity:
        """Return this quantity with as many decimals as a dial shows whose smallest step that is, in its own unit and above 0.

        >>> Figure(2.65, AMPERES.to_step(0.05)).number
        '2.65'
        """
        return replace(self, decimals=max(0, -int(Decimal(repr(step)).normalize().as_tuple().exponent)))

    @property
    def as_it_is(self) -> Quantity:
        """The same unit, whatever the pilot chose: for a place that shows both units side by side."""
        return replace(self, measures="")


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its unit and resolution. Its `str` is what the pilot reads: `2.6 A`.

    `rounds` is "down" for a ceiling and "up" for a floor, in whatever unit it is shown; else it is rounded to the nearest.
    """

    value: float
    quantity: Quantity
    rounds: str = ""

    @property
    def number(self) -> str:
        """The rounded number alone, for a dial that shows the unit beside it."""
        if self.quantity.written is not None:
            return self.quantity.written(self.value)
        decimals = self.quantity.decimals
        value = _TOWARDS[self.rounds](self.value, float(f"1e-{decimals}")) if self.rounds else self.value
        text = f"{value:.{decimals}f}"
        return text.removeprefix("-") if float(text) == 0 else text

    @property
    def sign(self) -> str:
        """The unit's sign, in the singular where one is counted."""
        return self.quantity.sign_of_one if self.quantity.sign_of_one and self.number == "1" else self.quantity.sign

    def __str__(self) -> str:
        # A no-break space: a unit must not fall onto the next line without its number.
        return f"{self.number}\u00a0{self.sign}"


@dataclass(frozen=True, slots=True)
class Band:
    """Two figures in one unit, from the lower to the higher. Its `str` is `0.1 to 20 C`, or one value where both ends read alike."""

    least: Figure
    most: Figure

    def __str__(self) -> str:
        return str(self.most) if self.least.number == self.most.number else f"{self.least.number} to {self.most}"


_MINUTES_AND_SECONDS = re.compile(r"([0-9]{1,4}):([0-5][0-9])")


def _minutes_of_stopwatch(text: str) -> float | None:
    """6:30 is 6.5."""
    shown = _MINUTES_AND_SECONDS.fullmatch(text)
    return None if shown is None else float(shown[1]) + min_from_s(float(shown[2]))


_TIME = re.compile(r"([0-9]{1,2}?)(?:[:.,h ]?([0-5][0-9]))?")
_LIKE_A_TIME = re.compile(r"[0-9][0-9:.,h ]*")


def _minutes_of_clock(text: str) -> float | None:
    """9:30, 930 and 9.30 are 570, and 9 is 540. Anything else that looks like a time lies outside every bound: 90 is no minute."""
    if shown := _TIME.fullmatch(text):
        return float(min_from_h(int(shown[1]))) + float(shown[2] or 0)
    return -1.0 if _LIKE_A_TIME.fullmatch(text) else None


def _on_the_clock(time_min: float) -> str:
    """Minutes as hours and minutes, to the nearest minute."""
    hours, minutes = divmod(round(time_min), round(min_from_h(1)))
    return f"{hours}:{minutes:02}"


def _every_mah(own: Figure, _value: float) -> int:
    """385 mAh on a dial are 0.385 Ah, and not less."""
    return 3 if round(own.value, -1) != own.value == round(own.value) else 2


def _hundredths_below_ten(_own: Figure, value: float) -> int:
    """A small pack's C are tenths of an ampere."""
    return 2 if value < 10 else 1


_THOUSANDTHS = Scale(base_from_milli, milli_from_base)
_AMPERES_TYPED = ("a", "amp", "amps")
_VOLTS_TYPED = ("v", "volt", "volts")
_MILLIAMPERES = Quantity("ma", "mA", 0, typed=("ma",), scale=_THOUSANDTHS)
_MILLIVOLTS = Quantity("mv", "mV", 0, typed=("mv",), scale=_THOUSANDTHS)

# Capacities are reckoned in Ah, currents of a pack in A.
MILLIAMPERE_HOURS = Quantity("mah", "mAh", 0, measures="capacity", typed=("mah",), scale=Scale(ah_from_mah, mah_from_ah))
AMPERE_HOURS = Quantity("ah", "Ah", 1, typed=("ah",), typed_too=(MILLIAMPERE_HOURS,))
LABEL_AMPERE_HOURS = Quantity("ah", "Ah", 2, measures="capacity", typed=("ah",), finer=_every_mah)
AMPERES = Quantity("a", "A", 1, typed=_AMPERES_TYPED, typed_too=(_MILLIAMPERES,))
PACK_AMPERES = Quantity("a", "A", 1, measures="current", typed=_AMPERES_TYPED, typed_too=(_MILLIAMPERES,), finer=_hundredths_below_ten)
RATE = Quantity("c", "C", 2, measures="current", typed=("c",), scale=Scale(mul, truediv, by="capacity_ah"))
PACK_VOLTS = Quantity("v", "V", 2, typed=_VOLTS_TYPED, typed_too=(_MILLIVOLTS,))
CELL_VOLTS = Quantity("v", "V", 2, typed=_VOLTS_TYPED, typed_too=(_MILLIVOLTS,))
SUPPLY_VOLTS = Quantity("v", "V", 1, typed=_VOLTS_TYPED, typed_too=(_MILLIVOLTS,))
WATTS = Quantity("w", "W", 0, typed=("w", "watt", "watts"))
WATT_HOURS = Quantity("wh", "Wh", 1, typed=("wh",), scale=Scale(truediv, mul, by="nominal_v"))
MILLIOHMS = Quantity("mohm", "mΩ", 1, typed=("mohm", "mohms", "mω", "milliohm", "milliohms"))
OHMS = Quantity("ohm", "Ω", 1, typed=("ohm", "ohms", "ω"))
MINUTES = Quantity("min", "min", 0, typed=("min", "minute", "minutes"), reads=_minutes_of_stopwatch)
# A time of day, in minutes since midnight; or, where no hour was given for the start, hours and minutes since the start.
CLOCK = Quantity("clock", "h:min", 0, reads=_minutes_of_clock, written=_on_the_clock)
# A day of the calendar, by its number; written with the year first, which everybody reads alike.
DAY = Quantity("day", "y-m-d", 0, reads=day_of_text, written=day_in_figures)
DEGREES_CELSIUS = Quantity("degc", "°C", 0, measures="temperature", typed=("c", "°c", "degc"))
DEGREES_FAHRENHEIT = Quantity(
    "degf", "°F", 0, typed=("f", "°f", "degf"), scale=Scale(degc_from_degf, degf_from_degc), stands_beside=True,
    finer=lambda own, _value: own.quantity.decimals,
)  # fmt: skip
PERCENT = Quantity("percent", "%", 0, typed=("%", "percent"))
METRES = Quantity("m", "m", 1, typed=("m", "metre", "metres"))
SQUARE_MILLIMETRES = Quantity("mm2", "mm²", 2, measures="wire", typed=("mm2", "mm²", "mm^2", "sqmm", "sq.mm", "qmm"))
GAUGE = Quantity("awg", "AWG", 0, reads=gauge_of, scale=Scale(area_mm2_of_gauge, gauge_of_area_mm2), falls=True)
CELLS = Quantity("cells", "cells", 0, "cell", typed=("s", "cell", "cells"))
PORTS = Quantity("ports", "ports", 0, "port", typed=("port", "ports"))
LAMPS = Quantity("lamps", "lamps", 0, "lamp", typed=("lamps", "lamp"))
CHARGES = Quantity("charges", "charges", 0, "charge", typed=("charges", "charge"))
HOURS = Quantity("h", "h", 1)
PACKS = Quantity("packs", "packs", 0, "pack", typed=("packs", "pack"))
DAYS = Quantity("days", "days", 0, "day")
MONTHS = Quantity("months", "months", 0, "month")
TIMES_AS_FAST = Quantity("times", "times as fast", 1)
SECONDS = Quantity("s", "s", 0)
DRAW = Quantity("mahperminute", "mAh a minute", 0)
GRAMS = Quantity("g", "g", 0, typed=("g", "grams"))

# What the pilot may see in another unit, and in which: the first is the one of the label or of the dial. The currents of a
# supply are not among them: C counts from a pack.
UNITS: dict[str, tuple[Quantity, ...]] = {
    "temperature": (DEGREES_CELSIUS, DEGREES_FAHRENHEIT),
    "capacity": (MILLIAMPERE_HOURS, LABEL_AMPERE_HOURS, WATT_HOURS),
    "current": (PACK_AMPERES, RATE),
    "wire": (SQUARE_MILLIMETRES, GAUGE),
}

# What the screen calls them.
KINDS_OF_UNIT = {
    "temperature": "Temperatures", "capacity": "Capacities", "current": "Currents and rates of a pack", "wire": "Cross-sections",
}  # fmt: skip


def units_beside(quantity: Quantity) -> tuple[Quantity, ...]:
    """Return the units in which a quantity can be typed and shown: its own, then the others; none where there is no choice.

    >>> [unit.sign for unit in units_beside(RATE)]
    ['C', 'A']
    """
    others = [unit for unit in UNITS.get(quantity.measures, ()) if unit.suffix != quantity.suffix]
    return (quantity, *others) if others else ()
