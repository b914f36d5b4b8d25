"""The one verdict on an ageing pack: a bad cell, the end that it has reached, the end that is near, or what its lines say so far."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from calc.facts.ageing import NEAR_END_CHARGES, NEAR_END_DAYS
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.cited import Cited
from calc.facts.practice import AGED_PERCENT, DOUBLED_RESISTANCE
from calc.figures.calendar import day_in_words
from calc.figures.quantities import CHARGES, MONTHS, PERCENT, Figure
from calc.figures.showing import Verdict as Banner
from calc.figures.units import fraction_from_percent, months_from_days, percent_from_fraction
from calc.inputs.equipment import RESTED
from calc.inputs.refusals import within_sentence
from calc.presenting.source_lines import source_line
from calc.presenting.verdicts import share_beside_its_end
from calc.rules.ageing.histories import History, cells_of
from calc.rules.ageing.remaining_life import RemainingLife
from calc.rules.pack.cell_condition import findings_of_voltages
from calc.rules.pack.findings import Finding, Verdict, worst_first
from calc.rules.pack.readings import Reading

TOO_FEW = "Too few lines to tell"
# A quotient of two typed numbers may be off in its last bit: exactly 80 % counts as 80 %.
_ON_THE_BOUND = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """How a pack stands against one end of its life: `share` now, of `what`, which ends it at `ends_at`; the `remaining` life where a trend tells it."""

    what: str
    share: float
    ends_at: float
    rule: Cited
    remaining: RemainingLife | None = None
    by_charges: bool = True

    @property
    def is_over(self) -> bool:
        """Whether the end is reached; exactly at it counts."""
        if self.ends_at < 1:
            return self.share <= self.ends_at + _ON_THE_BOUND
        return self.share >= self.ends_at - _ON_THE_BOUND

    @property
    def is_near(self) -> bool:
        """Whether the end is likely to come before another pack can be had."""
        near = NEAR_END_CHARGES.value if self.by_charges else NEAR_END_DAYS.value
        return self.remaining is not None and self.remaining.left.likely <= near

    @property
    def says(self) -> str:
        """Where it stands, and where it ends."""
        ends = "and less" if self.ends_at < 1 else "and more"
        end_percent = percent_from_fraction(self.ends_at)
        now = share_beside_its_end(self.share, end_percent)
        return f"{now} of {self.what}; over at {Figure(end_percent, PERCENT)} {ends}"

    @property
    def coming(self) -> str:
        """How far that end is."""
        if self.remaining is None or not self.remaining.comes:
            return ""
        left = self.remaining.left
        value = left.likely if self.by_charges else months_from_days(left.likely)
        return f": about {Figure(value, CHARGES if self.by_charges else MONTHS)} away"


def worn_capacity(share: float, what: str, remaining: RemainingLife | None, *, by_charges: bool) -> Worn:
    """Return how a capacity stands: `share` of `what`."""
    ends_at = fraction_from_percent(AGED_PERCENT.value)
    return Worn(what=what, share=share, ends_at=ends_at, rule=AGED_PERCENT, remaining=remaining, by_charges=by_charges)


def worn_resistance(share: float, remaining: RemainingLife | None, *, by_charges: bool) -> Worn:
    """Return how the resistance stands: `share` of its own first."""
    rule = DOUBLED_RESISTANCE
    return Worn(what="its own first resistance", share=share, ends_at=rule.value, rule=rule, remaining=remaining, by_charges=by_charges)


def worn_cell(times_of_others: float) -> Worn:
    """Return how the worst cell stands beside the others of the pack, as every page judges it."""
    rule = DOUBLED_RESISTANCE
    return Worn(what="the middle of its other cells' resistances", share=times_of_others, ends_at=rule.value, rule=rule)


@dataclass(frozen=True, slots=True, kw_only=True)
class BadCell:
    """What the cells of a pack showed when they were last read, and on which day, where that takes it out of use on every page."""

    finding: Finding
    day: float


def bad_cell_of(history: History, *, chemistry_key: str, cells: int) -> BadCell | None:
    """Return the gravest of what the last lines with voltages say of the cells for good, or nothing: a later reading takes an earlier one's
    place, but the whole pack's takes none of each cell's, since a sum hides a weak cell.
    """
    is_whole_read = False
    for line in reversed(history.lines):
        readings = [
            read
            for typed in (line.entries.from_v, line.entries.to_v)
            if (read := cells_of(typed, cells)) and not (is_whole_read and len(read) < cells)
        ]
        if not readings:
            continue
        found = [
            finding
            for cell_v in readings
            for finding in findings_of_voltages(
                Reading(pack_v=fsum(cell_v) * cells / len(cell_v), cell_v=cell_v, each_cell=len(cell_v) == cells),
                CHEMISTRIES[chemistry_key],
                chemistry_key=chemistry_key,
                read_when=RESTED,
            )
            if finding.verdict.lasts
        ]
        if found:
            return BadCell(finding=worst_first(found)[0], day=line.day)
        if any(len(cell_v) == cells for cell_v in readings):
            return None
        is_whole_read = True
    return None


def verdict_on(found: list[Worn], bad_cell: BadCell | None) -> Banner:
    """Return the verdict: the gravest of what was found, and the rule that gave it. A bad cell is none of age and comes first; of two alike the
    first counts.
    """
    if bad_cell is not None:
        says = within_sentence(bad_cell.finding.found).removesuffix(".")
        return Banner(
            may=False,
            figure=Verdict.RETIRE.words,
            set_by=f"a bad cell, last read on {day_in_words(bad_cell.day)}: {says}",
            note=f"The rule: {source_line(bad_cell.finding.rule)}.",
        )
    with_trend = [one for one in found if one.remaining is not None]
    for words, warns, those in (
        (Verdict.RETIRE.words, False, [one for one in found if one.is_over]),
        ("Near its end", True, sorted((one for one in with_trend if one.is_near), key=_left)),
        ("Ageing", True, sorted((one for one in with_trend if one.remaining and one.remaining.is_sure), key=_left)),
    ):
        if those:
            return Banner(
                may=warns,
                warns=warns,
                figure=words,
                set_by=f"{those[0].says}{those[0].coming}",
                note=f"The rule: {source_line(those[0].rule)}.",
            )
    if with_trend:
        return Banner(may=True, figure="Steady so far", set_by=f"{with_trend[0].says}. Its lines scatter too much to show a fall")
    five = "A trend takes five lines with a capacity or a resistance, each on a day of its own. If they scatter, it takes more"
    return Banner(may=True, warns=True, figure=TOO_FEW, set_by=five)


def _left(one: Worn) -> float:
    return one.remaining.left.likely if one.remaining else 0.0
