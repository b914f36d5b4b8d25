"""What do the typed voltages say: which cells, which pack, and do they fit the count at all?

A reading that can mean two things is sent back. One that is clear is passed on, however bad it is: whether such a pack may be
charged is for `acceptance`, what becomes of it is for `condition`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from calc.facts.chemistries import Chemistry
from calc.facts.practice import SPREAD_TO_WATCH_CELL_V
from calc.inputs.equipment import LabelledPack
from calc.inputs.fields import plain
from calc.inputs.known_pack import WithReading
from calc.inputs.refusals import Problem, Refused
from calc.physics.pack.packs import METER_OFF_V, cell_counts_that_fit

TROUBLE = "pack-in-trouble"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What the voltmeter said: the pack, and each cell where each was measured, else the mean cell alone."""

    pack_v: float
    cell_v: tuple[float, ...]
    each_cell: bool

    @property
    def mean_cell_v(self) -> float:
        """The mean of the cells."""
        return fsum(self.cell_v) / len(self.cell_v)

    @property
    def lowest_cell_v(self) -> float:
        """The lowest cell, or the mean where the pack alone was measured."""
        return min(self.cell_v)

    @property
    def highest_cell_v(self) -> float:
        """The highest cell, or the mean where the pack alone was measured."""
        return max(self.cell_v)

    @property
    def spread_v(self) -> float:
        """How far the highest cell is above the lowest, to the hundredth of a millivolt: 3.83 - 3.80 is not 0.03."""
        return round(self.highest_cell_v - self.lowest_cell_v, 5)

    @property
    def is_uneven(self) -> bool:
        """Whether the cells rest further apart than a healthy pack's do."""
        return self.spread_v > SPREAD_TO_WATCH_CELL_V.value


def clear_reading(pack: WithReading | LabelledPack, chemistry: Chemistry) -> Reading:
    """Return what the typed voltages say, V, once they can mean one thing only; of cells each measured, also such as no sound cell has.

    Refuses one cell's voltage for a whole pack, too few or too many cells, a voltage that no cell can have, and a pack voltage that
    does not fit the cell count: the sentence names the counts that it does fit.
    """
    assert pack.resting_v is not None, "one whose voltages nobody has typed has no reading"
    return reading_of(pack.resting_v, cells=int(pack.cells), chemistry=chemistry)


def reading_of(typed: tuple[float, ...], *, cells: int, chemistry: Chemistry) -> Reading:
    """Return `clear_reading` of voltages as typed."""
    if len(typed) == 1 and cells > 1:
        return _of_whole_pack(typed[0], cells, chemistry)
    if len(typed) != cells:
        count = "1 cell: enter one" if cells == 1 else f"{cells} cells: enter each cell's, or the whole pack's"
        raise Refused(Problem("resting_v", f"You entered {len(typed)} voltages for {count}."))
    reading = Reading(pack_v=fsum(typed), cell_v=typed, each_cell=True)
    for number, cell_v in enumerate(typed, start=1):
        if cell_v > chemistry.upper_limit_cell_v.value and cell_v > 2 * chemistry.never_below_cell_v.value:
            sentence = (
                f"{cell_name(reading, number)} cannot rest at {plain(cell_v)} V: enter one voltage for each cell, or the whole pack's."
            )
            raise Refused(Problem("resting_v", sentence))
    return reading


def cell_name(reading: Reading, number: int) -> str:
    """Return what to call a cell of a reading, counted from 1, at the beginning of a sentence: "Cell 2", "The cell" or "The mean cell"."""
    if not reading.each_cell:
        return "The mean cell"
    return "The cell" if len(reading.cell_v) == 1 else f"Cell {number}"


def is_below_floor(cell_v: float, chemistry: Chemistry) -> bool:
    """Return whether a rested cell is below the voltage under which it may be harmed inside: V < floor."""
    return cell_v < chemistry.never_below_cell_v.value


def is_above_full(cell_v: float, chemistry: Chemistry) -> bool:
    """Return whether a cell is above full by more than a meter may be off: V > full + tolerance. A load only lowers its voltage.

    Source: the chemistry's own limits; the tolerance is common practice, no source.
    """
    return cell_v > chemistry.full_cell_v.value + METER_OFF_V


def _of_whole_pack(pack_v: float, cells: int, chemistry: Chemistry) -> Reading:
    # To the microvolt: 9.6 V over three cells are 3.2 V, and not a hair less.
    cell_v = round(pack_v / cells, 6)
    if chemistry.never_below_cell_v.value <= pack_v <= chemistry.upper_limit_cell_v.value:
        sentence = (
            f"{plain(pack_v)} V is what one cell can have: enter all {cells} cells, or the whole pack's voltage. If the whole "
            "pack reads this, do not charge it."
        )
        raise Refused(Problem("resting_v", sentence, TROUBLE))
    fitting = cell_counts_that_fit(chemistry, pack_v)
    if cells not in fitting:
        state = "its cells are below their floor" if is_below_floor(cell_v, chemistry) else "it is above its full voltage"
        if not fitting:
            sentence = f"{plain(pack_v)} V fits no pack of this chemistry. Check the reading and the chemistry; do not charge it."
        else:
            sentence = (
                f"{plain(pack_v)} V does not fit {cells} cells: it fits {counts_in_words(fitting, pack_v)}. Count the balance plug's "
                f"wires, less one. If the count is right, {state}: do not charge it."
            )
        raise Refused(Problem("resting_v", sentence, TROUBLE))
    return Reading(pack_v=pack_v, cell_v=(cell_v,), each_cell=False)


def counts_in_words(counts: list[int], pack_v: float) -> str:
    """Return cell counts with the voltage that each makes of a pack's, as they stand in a sentence.

    >>> counts_in_words([6, 7], 25.2)
    '6 cells at 4.20 V each or 7 cells at 3.60 V each'
    """
    named = [f"{count} {'cell' if count == 1 else 'cells'} at {pack_v / count:.2f} V each" for count in counts]
    return named[0] if len(named) == 1 else ", ".join(named[:-1]) + " or " + named[-1]
