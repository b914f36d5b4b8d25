"""How has this pack aged, and how much longer will it last?

Each line of its log that has a capacity or a resistance is held against its own first ones, the resistance at one temperature. A straight line
through them says how far the end is: four fifths of the first capacity, or twice the first resistance. How far the lines scatter says how sure
that is. Assumes that it goes on to be used as it was; a pack that begins to fall fast falls faster than a straight line.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators.parts.ageing_shown import (
    MILLIVOLT_STEP,
    age_shown,
    full_days_shown,
    left_shown,
    lines_table,
    months_left,
    picture_of,
    share_shown,
)
from calc.calculators.parts.ageing_verdict import BadCell, Worn, bad_cell_of, verdict_on, worn_capacity, worn_cell, worn_resistance
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.practice import AGED_PERCENT, CAPACITY_CUTOUT_MARGIN, DOUBLED_RESISTANCE, SPREAD_TO_WATCH_CELL_V
from calc.figures.quantities import CELL_VOLTS, CELLS, CHARGES, MILLIAMPERE_HOURS, MONTHS, PERCENT, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Picture, Range, Setting, Table, Verdict, shown
from calc.figures.units import fraction_from_percent, months_from_days, percent_from_fraction
from calc.inputs.equipment import PACK, PackEntries
from calc.inputs.fields import choice, same_as
from calc.inputs.log_lines import MOST_LINES, LineEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, several
from calc.presenting.ranges import range_of
from calc.presenting.source_lines import source_line
from calc.presenting.verdicts import share_beside_its_end
from calc.rules.ageing.histories import History, cells_of, first_of, history_of
from calc.rules.ageing.remaining_life import RemainingLife, remaining_life, share_by_a_study
from calc.rules.pack.cell_condition import times_of_the_others
from calc.rules.pack.findings import Standing
from calc.rules.pack.findings import Verdict as PackVerdict
from calc.rules.pack.touch_limit import problems_of_touch

# Lower than any cell rests that was ever worth a line: what reads so is one cell's voltage for a whole pack.
_LEAST_CELL_V = 1.5


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A pack and the lines of its log."""

    chemistry: str = choice("Chemistry", {key: one.name for key, one in CHEMISTRIES.items()}, group=PACK, starts_as="lipo", on_label=True)
    cells: float = same_as(PackEntries, "cells")
    capacity_mah: float = same_as(PackEntries, "capacity_mah")
    lines: tuple[LineEntries, ...] = several(LineEntries, "Line", group_key="lines", least=1, most=MOST_LINES, comes_later=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The verdict with its rule, the capacity and the resistance against their own first, what is left, and every line."""

    cautions: tuple[Caution, ...] = shown("Look out")
    life: Verdict = shown("This pack")
    picture: Picture | None = shown("Picture")
    held: Range | None = shown("Of its own first capacity", "Capacity")
    of_label: Setting | None = shown("Of the label", "Capacity")
    charges_left: Range | Setting | None = shown("Left until it is over", "Capacity")
    months_left: Range | Setting | None = shown("In months, used as so far", "Capacity")
    by_a_study: Range | None = shown("What cells of a study would hold", "Capacity")
    resistance: Range | None = shown("Of its own first resistance", "Resistance of the worst cell, at 25 °C")
    resistance_left: Range | Setting | None = shown("Left until it has doubled", "Resistance of the worst cell, at 25 °C")
    spread: Setting | None = shown("Cells apart, last read", "Its cells, and its use")
    charges: Setting = shown("Charges so far", "Its cells, and its use")
    full_days: Setting = shown("Days that it lay full", "Its cells, and its use")
    age: Setting = shown("Time in the log", "Its cells, and its use")
    every_line: Table = shown("Line by line", "Its log")

    @property
    def standing(self) -> Standing:
        """A pack at its end stays out of use."""
        if self.life.figure != PackVerdict.RETIRE.words:
            return Standing()
        return Standing(taken_out=f"By its log it has {self.life.set_by}.")


def work_out(given: Inputs) -> Answer:
    """Return how a pack has aged by its own lines, and how far the end is.

    Refuses a pack with more volts than anybody may touch, a capacity and a voltage that no such pack has, and readings of another number of
    cells.
    """
    _refuse_what_cannot_be(given)
    history = history_of(given.lines, chemistry_key=given.chemistry, cells=int(given.cells))
    capacities, resistances = history.capacities(), history.resistances()
    by_charges, now = history.goes_by_charges, history.place_of(history.last)
    capacity = remaining_life(capacities, now=now, ends_at=fraction_from_percent(AGED_PERCENT.value))
    resistance = remaining_life(resistances, now=now, ends_at=DOUBLED_RESISTANCE.value)
    first_mah = first_of(capacities, by_charges=by_charges) if capacities else None
    first_mohm = first_of(resistances, by_charges=by_charges) if resistances else None
    worn = _worn(given, history, capacity, resistance, first_mah, first_mohm)
    bad_cell = bad_cell_of(history, chemistry_key=given.chemistry, cells=int(given.cells))
    life = verdict_on(worn, bad_cell)
    # Of a pack that is over now nobody asks when it would have been.
    by_label = () if life.figure == PackVerdict.RETIRE.words else _over_by_its_label(given, history, capacity)
    return Answer(
        cautions=(*by_label, *_cautions(history, bad_cell)),
        life=life,
        picture=picture_of(history, capacity) if capacity and now > 0 else None,
        held=share_shown(capacity) if capacity else None,
        of_label=_of_label(given, capacities),
        charges_left=left_shown(capacity, by_charges=by_charges) if capacity else None,
        months_left=months_left(capacity, history) if capacity else None,
        by_a_study=None if capacity else _by_a_study(given, history),
        resistance=share_shown(resistance) if resistance else None,
        resistance_left=left_shown(resistance, by_charges=by_charges) if resistance else None,
        spread=_spread(history),
        charges=Setting(figure=Figure(history.last.charges, CHARGES), set_by="the charges in the log, and those that a line adds"),
        full_days=full_days_shown(history),
        age=age_shown(history),
        every_line=lines_table(history, first_mah, first_mohm),
    )


def _refuse_what_cannot_be(given: Inputs) -> None:
    problems = problems_of_touch(given.cells, CHEMISTRIES[given.chemistry])
    try:
        each_row(given, "lines", lambda line: _refuse_line(given, line))
    except Refused as refused:
        problems += refused.problems
    if problems:
        raise Refused(*problems)


def _refuse_line(given: Inputs, line: LineEntries) -> None:
    most_mah = given.capacity_mah * CAPACITY_CUTOUT_MARGIN.value
    for field in ("measured_capacity_mah", "put_in_mah", "discharged_mah"):
        value = getattr(line, field)
        if value is not None and value > most_mah:
            raise Refused(Problem(field, "This is more than such a pack can hold: check the number, and the capacity on the label."))
    for field, read in (("from_v", line.from_v), ("to_v", line.to_v), ("each_mohm", line.each_mohm)):
        if read is not None and len(read) not in (1, given.cells):
            raise Refused(Problem(field, f"{len(read)} were read, and the pack has {Figure(given.cells, CELLS)}: one for each, in order."))
    for field, read in (("from_v", line.from_v), ("to_v", line.to_v)):
        for cell_v in cells_of(read, int(given.cells)) or ():
            if not _LEAST_CELL_V <= cell_v <= CHEMISTRIES[given.chemistry].upper_limit_cell_v.value:
                sentence = f"{Figure(cell_v, CELL_VOLTS)} is no voltage of a cell of this kind: check the number, and the cells in series."
                raise Refused(Problem(field, sentence))


def _worn(
    given: Inputs,
    history: History,
    capacity: RemainingLife | None,
    resistance: RemainingLife | None,
    first_mah: float | None,
    first_mohm: float | None,
) -> list[Worn]:
    """Where the pack stands against each end: by the trend where there is one, else by its last line."""
    by_charges, capacities, resistances = history.goes_by_charges, history.capacities(), history.resistances()
    found = []
    if measured := _measured_mah(history):
        # What every other page judges by.
        found.append(worn_capacity(measured[-1] / given.capacity_mah, "the capacity on its label", None, by_charges=by_charges))
    if first_mah is not None:
        share = capacity.share.likely if capacity else capacities[-1][1] / first_mah
        found.append(worn_capacity(share, "its own first capacity", capacity, by_charges=by_charges))
    if first_mohm is not None:
        # So other pages judge it: by the last reading alone.
        found.append(worn_resistance(resistances[-1][1] / first_mohm, None, by_charges=by_charges))
        share = resistance.share.likely if resistance else resistances[-1][1] / first_mohm
        found.append(worn_resistance(share, resistance, by_charges=by_charges))
    # Read together, cells are held against each other at any temperature.
    beside = [times for one in history.lines if one.entries.each_mohm and (times := times_of_the_others(one.entries.each_mohm))]
    if beside:
        found.append(worn_cell(max(beside[-1])))
    return found


def _measured_mah(history: History) -> list[float]:
    return [one.entries.measured_capacity_mah for one in history.lines if one.entries.measured_capacity_mah is not None]


def _over_by_its_label(given: Inputs, history: History, capacity: RemainingLife | None) -> tuple[Caution, ...]:
    """That the label, by which every other page judges, ends it before its own first does: only where a capacity was measured, since one that
    follows from a charge goes by the curve of another cell.
    """
    over_mah = fraction_from_percent(AGED_PERCENT.value) * given.capacity_mah
    measured = _measured_mah(history)
    if capacity is None or not measured or measured[-1] <= over_mah:
        return ()
    left = capacity.left_to(over_mah)
    # By less than one it comes no sooner.
    if not left < capacity.left.likely - 1:
        return ()
    by_charges = history.goes_by_charges
    away = Figure(left if by_charges else months_from_days(left), CHARGES if by_charges else MONTHS)
    sentence = worded(
        "By its label it is over sooner: at {}, four fifths of it, about {} away. From there on every page takes it out of use.",
        Figure(over_mah, MILLIAMPERE_HOURS),
        away,
    )
    return (Caution(sentence=sentence),)


def _cautions(history: History, bad_cell: BadCell | None) -> tuple[Caution, ...]:
    found = []
    if any(one.entries.highest_mohm is not None and one.resistance_mohm is None for one in history.lines):
        found.append("A resistance without the pack's temperature is left out: in the cold a sound cell has twice as much.")
    spreads = [one.spread_v for one in history.lines if one.spread_v is not None]
    if bad_cell is None and spreads and spreads[-1] > SPREAD_TO_WATCH_CELL_V.value:
        found.append("Its cells were further apart than a sound pack's when they were last read: check them before the next charge.")
    others = tuple(Caution(sentence=sentence, go_to="cell-check" if "check them" in sentence else "") for sentence in found)
    if bad_cell is None:
        return others
    sentence = "Do not charge it, and do not fly it: see what to do with such a pack."
    return (Caution(sentence=sentence, grave=True, go_to=bad_cell.finding.go_to), *others)


def _of_label(given: Inputs, capacities: tuple[tuple[float, float], ...]) -> Setting | None:
    if not capacities:
        return None
    held_mah = capacities[-1][1]
    return Setting(
        figure=share_beside_its_end(held_mah / given.capacity_mah, AGED_PERCENT.value),
        also=Figure(held_mah, MILLIAMPERE_HOURS),
        set_by="the last line with a capacity, over the label",
        note=f"Over at {Figure(AGED_PERCENT.value, PERCENT)}: {source_line(AGED_PERCENT)}.",
    )


def _by_a_study(given: Inputs, history: History) -> Range:
    days = history.last.day - history.first.day
    share = share_by_a_study(CHEMISTRIES[given.chemistry], charges=history.last.charges, days=days)
    return range_of(
        share.times(percent_from_fraction(1)),
        PERCENT,
        "how full and how warm it lay, and how deep it was flown, is not known",
        "Shown until its log has five lines with a capacity. The cells are round ones of another kind, after as many charges and days as are in the "
        "log (Schmalstieg and others 2014, read in a text that reproduces it): no pack is judged by it.",
    )


def _spread(history: History) -> Setting | None:
    read = [one for one in history.lines if one.spread_v is not None]
    if not read or read[-1].spread_v is None:
        return None
    watch = Figure(SPREAD_TO_WATCH_CELL_V.value, CELL_VOLTS)
    return Setting(
        figure=Figure(read[-1].spread_v, MILLIVOLT_STEP),
        set_by=f"the highest cell less the lowest; watch from {watch} on",
        note=source_line(SPREAD_TO_WATCH_CELL_V),
    )
