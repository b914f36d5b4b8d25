"""What the log of a pack has in one line: a charge, a flight, a check, a storage move, with what was read of it, and the day.

All of it is noted of a day in the past, so nothing here is a reading of now.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.calendar import day_number
from calc.figures.quantities import CELL_VOLTS, CHARGES, DAY, DEGREES_CELSIUS, MILLIAMPERE_HOURS, MILLIOHMS, MINUTES
from calc.inputs.fields import Group, choice, number, readings

LINE = Group("line", "This line")
LINE_MORE = Group("line-more", "What was read, if you have it", optional=True)

CHARGE, FLIGHT, CHECK, STORAGE, OTHER = "charge", "flight", "check", "storage", "other"
# What a card sets itself in the line that its end leaves; all the rest a step may take from the pilot.
SET_BY_THE_CARD = ("day", "kind", "charges")
# What a charger counts of all that is charged together. Nobody divides it: no part of it is one pack's.
COUNTED_TOGETHER = ("put_in_mah", "discharged_mah", "taken_min", "measured_capacity_mah")
KINDS = {CHARGE: "Charge", FLIGHT: "Flight", CHECK: "Check", STORAGE: "To storage", OTHER: "Something else"}
# Of a longer log a form takes so many: its first ones, against which it is held, and its last.
MOST_LINES = 40
FIRST_LINES = 8

_FIRST_DAY, _LAST_DAY = day_number(2000, 1, 1) or 0, day_number(2099, 12, 31) or 0


@dataclass(frozen=True, kw_only=True)
class LineEntries:
    """One line."""

    day: float = number(
        "Day",
        DAY,
        group=LINE,
        least=_FIRST_DAY,
        most=_LAST_DAY,
        such_as="2026-05-03",
        whole=True,
        hint="The year first: 2026-05-03.",
        asked_as="the day of this line",
    )
    kind: str = choice("What it was", KINDS, group=LINE, starts_as=CHARGE, asked_as="what it was")
    put_in_mah: float | None = number(
        "Charge put in",
        MILLIAMPERE_HOURS,
        group=LINE_MORE,
        least=5,
        most=60_000,
        optional=True,
        hint="As the charger counted it; after a flight too.",
    )
    discharged_mah: float | None = number(
        "Discharged",
        MILLIAMPERE_HOURS,
        group=LINE_MORE,
        least=5,
        most=60_000,
        optional=True,
        asked_as="the charge taken out",
        hint="As the charger counted it on the way down.",
    )
    from_v: tuple[float, ...] | None = readings(
        "Cells before",
        CELL_VOLTS,
        group=LINE_MORE,
        least=0,
        most=70,
        optional=True,
        measured=False,
        asked_as="the cell voltages before",
        hint="Rested, each cell: 3.70 3.71 3.69.",
    )
    to_v: tuple[float, ...] | None = readings(
        "Cells afterwards",
        CELL_VOLTS,
        group=LINE_MORE,
        least=0,
        most=70,
        optional=True,
        measured=False,
        asked_as="the cell voltages afterwards",
        hint="Rested. Empty after a full charge.",
    )
    taken_min: float | None = number(
        "Minutes it took", MINUTES, group=LINE_MORE, least=0, most=1440, optional=True, asked_as="the minutes that it took"
    )
    line_degc: float | None = number(
        "How warm the pack was",
        DEGREES_CELSIUS,
        group=LINE_MORE,
        least=-40,
        most=100,
        optional=True,
        such_as="20",
        asked_as="the temperature of the pack then",
    )
    measured_capacity_mah: float | None = number(
        "Capacity measured", MILLIAMPERE_HOURS, group=LINE_MORE, least=20, most=60_000, optional=True, hint="What it took in from empty."
    )
    cell_resistance_mohm: float | None = number(
        "Resistance, the highest cell",
        MILLIOHMS,
        group=LINE_MORE,
        least=0.1,
        most=500,
        optional=True,
        asked_as="the resistance of the highest cell",
    )
    each_mohm: tuple[float, ...] | None = readings(
        "Resistance of each cell", MILLIOHMS, group=LINE_MORE, least=0.1, most=500, optional=True, measured=False
    )
    charges: float | None = number(
        "Charges since the line before",
        CHARGES,
        group=LINE_MORE,
        least=0,
        most=2000,
        whole=True,
        optional=True,
        hint="Where not every charge has a line. This one counts, if it is a charge.",
        asked_as="the charges since the line before",
    )

    @property
    def charges_since(self) -> float:
        """The charges that this line adds: as noted, or itself."""
        return float(self.kind == CHARGE) if self.charges is None else self.charges

    @property
    def highest_mohm(self) -> float | None:
        """The resistance of the worst cell, mΩ, if any was read."""
        return max((self.cell_resistance_mohm or 0, *(self.each_mohm or ()))) or None
