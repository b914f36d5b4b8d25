"""Does the voltage fit another label better than the one that was entered: fewer cells, or another chemistry?

What a pack is likely to be is judged by what is sold, and by the state in which packs are brought to a charger: full, at
storage charge, or flown and landed with about a fifth left. One that seems emptier than that, where another label would make
it quite usual, is open to doubt. A healthy pack of any count that is sold is not.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from calc.facts.chemistries import CHEMISTRIES, Chemistry, Plateau
from calc.facts.practice import ANY_COUNT_SOLD_UP_TO, BELOW_FLOWN_CELL_V, CAPACITY_CUTOUT_MARGIN
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.inputs.fields import plain
from calc.inputs.known_pack import WithCapacity, WithCondition
from calc.inputs.refusals import Problem
from calc.physics.pack.packs import cell_counts_that_fit
from calc.rules.pack.readings import Reading, counts_in_words


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why a label may be another than was entered, and what to look at. A grave one is a charge past full if it is so."""

    sentence: str
    grave: bool


def doubts_of(chemistry_key: str, cells: float, reading: Reading) -> tuple[Doubt, ...]:
    """Return what makes the entered label doubtful; nothing for a pack that has rested and reads as its label lets expect.

    Source: `ANY_COUNT_SOLD_UP_TO` and `BELOW_FLOWN_CELL_V`; the resting curve of iron phosphate.

    >>> seven = Reading(pack_v=25.2, cell_v=(3.6,), each_cell=False)
    >>> [doubt.sentence for doubt in doubts_of("lipo", 7, seven)][0][:42]
    '25.2 V also fits 6 cells at 4.20 V each: c'
    """
    found = (_count(CHEMISTRIES[chemistry_key], int(cells), reading), _flat_curve(CHEMISTRIES[chemistry_key], reading))
    return tuple(doubt for doubt in found if doubt)


def _is_as_brought(cell_v: float, chemistry: Chemistry) -> bool:
    """Whether a cell is no emptier than after a flight."""
    return cell_v >= chemistry.end_of_flight_resting_cell_v.value - BELOW_FLOWN_CELL_V.value


def _is_sold(cells: int) -> bool:
    return cells <= ANY_COUNT_SOLD_UP_TO.value or cells % 2 == 0


def _count(chemistry: Chemistry, cells: int, reading: Reading) -> Doubt | None:
    """Too high a count makes the charger go on past full. Too low a one ends the charge before it begins, and needs no warning."""
    if reading.each_cell or (_is_sold(cells) and _is_as_brought(reading.pack_v / cells, chemistry)):
        return None
    lower = [
        count
        for count in cell_counts_that_fit(chemistry, reading.pack_v)
        if count < cells and _is_sold(count) and _is_as_brought(reading.pack_v / count, chemistry)
    ]
    if not lower:
        return None
    sentence = (
        f"{plain(reading.pack_v)} V also fits {counts_in_words(lower, reading.pack_v)}: count the balance plug's wires, less one, "
        "before you believe the label. Too high a count burns the pack."
    )
    return Doubt(sentence, grave=True)


def _flat_curve(entered: Chemistry, reading: Reading) -> Doubt | None:
    """A cell with a flat curve rests between narrow bounds, whatever it holds. No other lithium cell rests there unless it is all but empty."""
    if entered.plateau is not None:
        return _too_high_for(entered.plateau, reading)
    if _is_as_brought(reading.highest_cell_v, entered):
        return None
    for flat in CHEMISTRIES.values():
        if flat.plateau is not None and (there := _cells_there(flat.plateau, reading)):
            return _may_be(flat, flat.plateau, entered, fsum(there) / len(there))
    return None


def _too_high_for(plateau: Plateau, reading: Reading) -> Doubt | None:
    settles_below_v, called = plateau.settles_below_cell_v.value, plateau.called
    if reading.mean_cell_v <= settles_below_v:
        return None
    sentence = (
        f"{Figure(reading.mean_cell_v, CELL_VOLTS)} a cell is more than {called} shows after a rest: within half an hour of a charge it sinks below "
        f"{Figure(settles_below_v, CELL_VOLTS)}. Let it rest, and read the label again: it may be a pack of another kind."
    )
    return Doubt(sentence, grave=False)


def _cells_there(plateau: Plateau, reading: Reading) -> list[float]:
    """The cells that rest where such a kind does, V. One that is off takes no doubt away: of an uneven pack the fullest burns first."""
    return [cell_v for cell_v in reading.cell_v if plateau.plateau_least_cell_v.value <= cell_v <= plateau.settles_below_cell_v.value]


def _may_be(flat: Chemistry, plateau: Plateau, entered: Chemistry, cell_v: float) -> Doubt:
    is_flat_there = cell_v <= plateau.plateau_most_cell_v.value
    its, other = ("at almost any charge", "is all but empty") if is_flat_there else ("when it is full", "was flown too far")
    sentence = (
        f"{Figure(cell_v, CELL_VOLTS)} a cell is where lithium {plateau.called} rests {its}, and a pack of the kind that you entered only when it "
        f"{other}. Read the label again before you charge it: this mode goes on to {Figure(entered.full_cell_v.value, CELL_VOLTS)}, "
        f"and {plateau.called} is full at {Figure(flat.full_cell_v.value, CELL_VOLTS)}."
    )
    return Doubt(sentence, grave=True)


def problems_of_measured_capacity(pack: WithCapacity | WithCondition) -> list[Problem]:
    """Return why the capacity last measured cannot be right, if it cannot.

        Q_measured <= 1.1 x Q_label        the capacity cut-out is never above a tenth over the label

    Source: common practice, no source, for the tenth.
    """
    if pack.measured_capacity_mah is None or pack.capacity_mah is None:
        return []
    if pack.measured_capacity_mah <= pack.capacity_mah * CAPACITY_CUTOUT_MARGIN.value:
        return []
    sentence = "The capacity last measured is more than a tenth above the label, which no sound pack takes in: check both numbers."
    return [Problem("measured_capacity_mah", sentence)]
