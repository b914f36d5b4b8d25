"""The ends of a pack's life: where each stands, how near this pack is to it, and which one it has reached."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.looks import LOOKS, SOUND_WORDS
from calc.facts.practice import AGED_PERCENT, DOUBLED_RESISTANCE, FALLEN_BEHIND_PERCENT
from calc.figures import showing
from calc.figures.quantities import CELL_VOLTS, PERCENT, Figure
from calc.figures.showing import Row, Table
from calc.figures.units import percent_from_fraction
from calc.physics.cell.cells import share_between
from calc.presenting.source_lines import source_line
from calc.presenting.verdicts import share_beside_its_end, verdict_shown
from calc.rules.pack.condition import Condition
from calc.rules.pack.findings import Verdict
from calc.rules.pack.readings import Reading

_NOT_KNOWN = "not known"


def life_verdict(condition: Condition) -> showing.Verdict:
    """Return whether a pack's life is over, and what ended it. A finding milder than an end does not end a life."""
    if condition.verdict >= Verdict.RETIRE:
        return verdict_shown(condition)
    return showing.Verdict(
        may=True,
        figure="Not at its end",
        set_by="no end of the table below has been reached by what was entered",
        note="What is not known is not counted: measure the capacity and the resistance once a season.",
    )


def ends_table(
    chemistry: Chemistry, chemistry_key: str, look: str, reading: Reading, *, held: float | None, times_new: float | None
) -> Table:
    """Return each end of a pack's life beside where this pack stands.

    Args:
        held: capacity now over that on the label; None if it was not measured.
        times_new: resistance now over that of the new pack; None if it is not known.
    """
    behind = _NOT_KNOWN
    if reading.each_cell:
        share = share_between(chemistry_key, reading.lowest_cell_v, reading.highest_cell_v)
        behind = f"at least {share_beside_its_end(share.least, FALLEN_BEHIND_PERCENT.value)}"
    floor, doubled = chemistry.never_below_cell_v, DOUBLED_RESISTANCE
    return Table(
        caption="What ends the life of a pack",
        columns=("End", "This pack", "It is over", "Where the rule is given"),
        rows=(
            Row(
                heading="Its look",
                cells=(
                    LOOKS[look].words if look in LOOKS else SOUND_WORDS,
                    "swollen, leaking, bent, soaked, overcharged or hot",
                    source_line(LOOKS["swollen"]),
                ),
            ),
            Row(
                heading="A rested cell" if reading.each_cell else "The mean of the rested cells",
                cells=(Figure(reading.lowest_cell_v, CELL_VOLTS), f"below {Figure(floor.value, CELL_VOLTS)}", source_line(floor)),
            ),
            Row(
                heading="A cell behind the highest",
                cells=(behind, f"{Figure(FALLEN_BEHIND_PERCENT.value, PERCENT)} of a charge and more", source_line(FALLEN_BEHIND_PERCENT)),
            ),
            Row(
                heading="Capacity, of the label",
                cells=(
                    _NOT_KNOWN if held is None else share_beside_its_end(held, AGED_PERCENT.value),
                    f"{Figure(AGED_PERCENT.value, PERCENT)} and less",
                    source_line(AGED_PERCENT),
                ),
            ),
            Row(
                heading="Resistance, of the new pack",
                cells=(
                    _NOT_KNOWN if times_new is None else share_beside_its_end(times_new, percent_from_fraction(doubled.value)),
                    f"{Figure(percent_from_fraction(doubled.value), PERCENT)} and more",
                    source_line(doubled),
                ),
            ),
        ),
    )
