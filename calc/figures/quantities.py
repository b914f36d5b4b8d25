"""What is measured, in which unit, and how many decimals a pilot can use.

A `Quantity` is the one place where a unit's name suffix, its sign and its decimals stand together. A `Figure` is a number
on its way to the screen: it is rounded when printed, so nothing computes with it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from calc.figures.rounding import down_to_step, up_to_step

_TOWARDS = {"down": down_to_step, "up": up_to_step}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A unit: `suffix` ends the name of every field that holds it, `sign` is printed, `decimals` is the resolution.

    `measures` names what the pilot may see in another unit: see `UNITS`. Empty where there is no choice.
    """

    suffix: str
    sign: str
    decimals: int
    sign_of_one: str = ""
    measures: str = ""

    def to_step(self, step: float) -> Quantity:
        """Return this quantity with as many decimals as a dial of that step shows.

        Args:
            step: the dial's smallest step, in this quantity's unit, above 0.

        Returns:
            The same unit with the step's decimals.

        Source: common practice, no source.

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
    """Two figures in one unit, from the lower to the higher. Its `str` is `0.1 to 20 C`."""

    least: Figure
    most: Figure

    def __str__(self) -> str:
        return f"{self.least.number} to {self.most}"


MILLIAMPERE_HOURS = Quantity("mah", "mAh", 0, measures="capacity")
AMPERE_HOURS = Quantity("ah", "Ah", 1)
LABEL_AMPERE_HOURS = Quantity("ah", "Ah", 2, measures="capacity")
AMPERES = Quantity("a", "A", 1)
PACK_AMPERES = Quantity("a", "A", 1, measures="current")
RATE = Quantity("c", "C", 2, measures="current")
PACK_VOLTS = Quantity("v", "V", 2)
CELL_VOLTS = Quantity("v", "V", 2)
SUPPLY_VOLTS = Quantity("v", "V", 1)
WATTS = Quantity("w", "W", 0)
WATT_HOURS = Quantity("wh", "Wh", 1)
MILLIOHMS = Quantity("mohm", "mΩ", 1)
OHMS = Quantity("ohm", "Ω", 1)
MINUTES = Quantity("min", "min", 0)
DEGREES_CELSIUS = Quantity("degc", "°C", 0, measures="temperature")
DEGREES_FAHRENHEIT = Quantity("degf", "°F", 0)
PERCENT = Quantity("percent", "%", 0)
METRES = Quantity("m", "m", 1)
SQUARE_MILLIMETRES = Quantity("mm2", "mm²", 2, measures="wire")
CELLS = Quantity("cells", "cells", 0, "cell")
PORTS = Quantity("ports", "ports", 0, "port")
LAMPS = Quantity("lamps", "lamps", 0, "lamp")
CHARGES = Quantity("charges", "charges", 0, "charge")
HOURS = Quantity("h", "h", 1)
PACKS = Quantity("packs", "packs", 0, "pack")
DAYS = Quantity("days", "days", 0, "day")
TIMES_AS_FAST = Quantity("times", "times as fast", 1)
SECONDS = Quantity("s", "s", 0)
DRAW = Quantity("mahperminute", "mAh a minute", 0)
GRAMS = Quantity("g", "g", 0)
GAUGE = Quantity("awg", "AWG", 0)

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
    """Return the units in which a quantity can be typed and shown: its own, then the others.

    Args:
        quantity: as it is asked or worked out.

    Returns:
        Units; none where there is no choice.

    >>> [unit.sign for unit in units_beside(RATE)]
    ['C', 'A']
    """
    others = [unit for unit in UNITS.get(quantity.measures, ()) if unit.suffix != quantity.suffix]
    return (quantity, *others) if others else ()
