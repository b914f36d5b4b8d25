"""The resistance inside a pack by two loads: what is asked of them, what cannot be of this pack, and what they tell."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.facts.looks import SOUND
from calc.figures.quantities import AMPERES, CELL_VOLTS, CELLS, MILLIOHMS, PACK_VOLTS, Figure
from calc.figures.showing import Setting
from calc.inputs.equipment import PackEntries
from calc.inputs.fields import Group, entries_of, number
from calc.inputs.refusals import Problem, Refused
from calc.physics.pack.loads import resistance_of_two_loads_mohm
from calc.physics.pack.packs import METER_OFF_V
from calc.rules.pack.readings import Reading

TWO_LOADS = Group("two-loads", "Two loads, if you measured with them", optional=True)
# A pack that is harmed, wet, or was harmed today and has not been watched, is not judged by its readings.
JUDGED = ("watched", SOUND)


@dataclass(frozen=True, kw_only=True)
class TwoLoadsEntries:
    """Two voltages of the whole pack, each with the current that it was read under."""

    first_load_v: float | None = number(
        "Pack voltage under a small load",
        PACK_VOLTS,
        group=TWO_LOADS,
        least=1,
        most=70,
        optional=True,
        measured=True,
        of_pack=True,
        only_with=("look", JUDGED),
    )
    first_load_a: float | None = number(
        "Current of the small load", AMPERES, group=TWO_LOADS, least=0, most=200, optional=True, only_with=("look", JUDGED), such_as="2"
    )
    second_load_v: float | None = number(
        "Pack voltage under a large load",
        PACK_VOLTS,
        group=TWO_LOADS,
        least=1,
        most=70,
        optional=True,
        measured=True,
        of_pack=True,
        only_with=("look", JUDGED),
        hint="Read it straight after the small one.",
    )
    second_load_a: float | None = number(
        "Current of the large load", AMPERES, group=TWO_LOADS, least=0.1, most=200, optional=True, only_with=("look", JUDGED), such_as="20"
    )


def by_two_loads_mohm(given: TwoLoadsEntries, chemistry: Chemistry, reading: Reading, *, cells: float) -> float | None:
    """Return the resistance of one cell by two loads, mΩ, if they were measured: the mean of the cells.

    Refuses voltages that are not of this pack: above its rest, or one cell's; and loads that are too much alike to tell.
    """
    first_v, first_a, second_v, second_a = given.first_load_v, given.first_load_a, given.second_load_v, given.second_load_a
    if first_v is None or first_a is None or second_v is None or second_a is None:
        _ask_for_the_rest(given)
        return None
    if second_a <= first_a or second_v >= first_v:
        sentence = "The large load must draw more current than the small one, and the voltage under it must be lower: read both again."
        raise Refused(Problem("second_load_v", sentence))
    if first_v > reading.pack_v + cells * METER_OFF_V:
        rests = Figure(reading.pack_v, PACK_VOLTS)
        raise Refused(Problem("first_load_v", f"This pack rests at {rests}, and a load only lowers that: read both again."))
    if cells > 1 and second_v <= chemistry.upper_limit_cell_v.value:
        own, count = Figure(second_v, CELL_VOLTS), Figure(cells, CELLS)
        raise Refused(Problem("second_load_v", f"Enter the voltage of the whole pack, {count}: {own} is what one of them may have."))
    mohm = resistance_of_two_loads_mohm(first_v=first_v, first_a=first_a, second_v=second_v, second_a=second_a) / cells
    has = entries_of(PackEntries)["cell_resistance_mohm"]
    if not has.least <= mohm <= has.most:
        so = "little" if mohm < has.least else "much"
        raise Refused(Problem("second_load_v", f"No cell has so {so} resistance: read both again, under loads further apart."))
    return mohm


def _ask_for_the_rest(given: TwoLoadsEntries) -> None:
    """Ask for what is missing of two loads, where one of the four was entered: it would count for nothing, and nobody would be told."""
    asked = entries_of(TwoLoadsEntries)
    missing = [name for name in asked if getattr(given, name) is None]
    if len(missing) < len(asked):
        rest = "two loads count together, or not at all"
        raise Refused(*(Problem(name, f"Enter {asked[name].within}: {rest}.", missing=True) for name in missing))


def two_loads_shown(by_loads_mohm: float | None, read_mohm: float | None) -> Setting | None:
    """Return what two loads tell, and which of it and the highest that was read by a meter counts; nothing where there were no loads."""
    if by_loads_mohm is None:
        return None
    note = "Enter it as the resistance of one cell, and every other page judges the pack by it too."
    if read_mohm is not None and read_mohm > by_loads_mohm:
        note = f"It is the mean of all cells: the higher {Figure(read_mohm, MILLIOHMS)} that you entered counts."
    return Setting(figure=Figure(by_loads_mohm, MILLIOHMS), set_by="the two loads that you measured with", note=note)
