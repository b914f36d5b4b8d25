"""What is asked of a pack that is looked over: eyes and nose first, then the meter.

A pack that must not be touched needs no reading: with such a look nothing further is asked.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.asking.equipment import PACK, PACK_MORE
from calc.asking.fields import Group, choice, readings
from calc.facts.looks import LOOKS, SOUND, SOUND_WORDS
from calc.figures.quantities import MILLIOHMS

LOOK = Group("look", "Look it over first")

LOOK_CHOICES = {key: look.words for key, look in LOOKS.items()} | {SOUND: SOUND_WORDS}
# The looks with which a pack may be touched and read.
READABLE = ("shorted", "crashed", "rained-on", "watched", SOUND)

RESTED = "rested"
FLOWN = "flown"
LOADED = "loaded"
READ_CHOICES = {
    RESTED: "Rested: nothing plugged in for half an hour or more",
    FLOWN: "Just flown or charged, less than half an hour ago",
    LOADED: "While the motor ran, or while it charged",
}


@dataclass(frozen=True, kw_only=True)
class LookEntries:
    """What is seen, smelt or known of the pack."""

    look: str = choice(
        "What you see, smell or know", LOOK_CHOICES, group=LOOK, measured=True,
        hint="Go down the list and take the first line that fits.",
    )


@dataclass(frozen=True, kw_only=True)
class MeterEntries:
    """How the voltages were read, and the resistances if they are known."""

    read_when: str | None = choice(
        "When you read them", READ_CHOICES, group=PACK, measured=True, only_with=("look", READABLE),
        hint="A voltage under load is not a state of charge.",
    )
    cell_resistances_mohm: tuple[float, ...] | None = readings(
        "Resistance of each cell", MILLIOHMS, group=PACK_MORE, least=0.1, most=500, optional=True, only_with=("look", READABLE),
        hint="All cells in order, with spaces between: 5.1 4.9 5.0. Read together, on one charger or meter.",
    )
