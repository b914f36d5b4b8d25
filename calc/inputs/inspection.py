"""What is asked of a pack that is looked over: eyes and nose first, then the meter.

A pack that must not be touched needs no reading: with such a look nothing further is asked.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.looks import SOUND
from calc.inputs.equipment import READINGS, PackEntries
from calc.inputs.fields import Group, same_as
from calc.inputs.known_pack import WithCondition

LOOK = Group("look", "Look it over first")

# The looks with which a pack may be touched and read.
READABLE = ("shorted", "crashed", "rained-on", "watched", SOUND)


@dataclass(frozen=True, kw_only=True)
class LookEntries(WithCondition):
    """What eyes, nose and memory say of the pack."""

    look: str = same_as(PackEntries, "look", group=LOOK, optional=False)


@dataclass(frozen=True, kw_only=True)
class MeterEntries(WithCondition):
    """How the voltages were read, and the resistances if they are known."""

    read_when: str = same_as(PackEntries, "read_when", group=READINGS, optional=False, only_with=("look", READABLE))
    cell_resistances_mohm: tuple[float, ...] | None = same_as(PackEntries, "cell_resistances_mohm", only_with=("look", READABLE))
