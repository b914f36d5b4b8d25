"""How far apart packs rest that are to be joined side by side, how far apart they may, and what flows through their main leads."""

from __future__ import annotations

from collections.abc import Sequence

from calc.facts.practice import JOIN_DIFFERENCE_CELL_V
from calc.figures.quantities import AMPERES, CELL_VOLTS, PACK_VOLTS, RATE, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Ceiling, Range, Setting
from calc.presenting.ranges import range_of
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.joined.moment_of_joining import PRACTICE, VOLT_STEP, Joining, Place


def difference_shown(packs: Sequence[SoundPack], joining: Joining) -> Setting:
    """Return how far apart whole packs rest."""
    by_voltage = sorted(packs, key=lambda one: one.reading.pack_v)
    return Setting(
        figure=Figure(joining.difference_v, PACK_VOLTS),
        set_by=f"your readings: {by_voltage[-1].title} rests highest, {by_voltage[0].title} lowest"
        if joining.flows
        else "your readings: all rest alike",
        note=f"For one cell {Figure(joining.difference_v / packs[0].cells, CELL_VOLTS)}. Measure all packs with one meter.",
    )


def largest_difference_shown(cells: float, joining: Joining) -> Setting:
    """Return how far apart whole packs may rest, with every limit that was compared."""
    binding, largest_v = joining.binding, joining.largest_v
    for_one_cell = f"For one cell {Figure(down_to_step(largest_v / cells, VOLT_STEP), CELL_VOLTS)}."
    worked_out = "Worked out for the lowest resistance that these packs may have. A measured one may allow more."
    return Setting(
        figure=Figure(largest_v, PACK_VOLTS),
        set_by=binding.because,
        note=for_one_cell if binding.because == PRACTICE else f"{for_one_cell} {worked_out}",
        ceilings=tuple(
            Ceiling(because=one.because, figure=Figure(down_to_step(one.ceiling, VOLT_STEP), PACK_VOLTS), binds=one is binding)
            for one in sorted(joining.limits, key=lambda one: one.ceiling)
        ),
    )


def joining_current_shown(joining: Joining) -> Range:
    """Return what flows through the main leads when they are joined."""
    return range_of(
        joining.main_a,
        AMPERES,
        "the resistance of cells and leads; the upper end is for the lowest that it may be",
        note=f"{joining.taker.title} takes most for its size, up to {Figure(joining.taken_c, RATE.as_it_is)}.",
    )


def cell_difference_shown(place: Place) -> Setting:
    """Return how far apart cells of one place rest."""
    return Setting(
        figure=Figure(place.difference_v, CELL_VOLTS),
        set_by=f"your readings: cell {place.cell} rests highest in {place.highest.title}, lowest in {place.lowest.title}"
        if place.difference_v > 0
        else "your readings: all cells of one place rest alike",
    )


def largest_cell_difference_shown() -> Setting:
    """Return how far apart cells of one place may rest."""
    return Setting(
        figure=Figure(JOIN_DIFFERENCE_CELL_V.value, CELL_VOLTS),
        set_by=PRACTICE,
        note="The balance plugs join cell to cell: compare the first cell of each pack, the second, and so on.",
    )
