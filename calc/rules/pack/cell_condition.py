"""What do the cells of this pack say about it: their voltages, how far they are apart, and their resistances?

A cell is held against the limits of its chemistry, and against its mates: they were charged together and read on one meter.
"""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.practice import (
    DOUBLED_RESISTANCE,
    FALLEN_BEHIND_PERCENT,
    RESISTANCE_OVER_OTHERS,
    REST_MIN,
    SPREAD_TO_CHARGE_SLOWLY_CELL_V,
    SPREAD_TO_WATCH_CELL_V,
)
from calc.figures.quantities import CELL_VOLTS, MILLIOHMS, PERCENT, Figure
from calc.figures.units import percent_from_fraction
from calc.inputs.equipment import RESTED
from calc.inputs.refusals import Problem, within_sentence
from calc.physics.cell.cells import share_between
from calc.physics.pack.trends import median
from calc.rules.pack.findings import Finding, Verdict
from calc.rules.pack.readings import TROUBLE, Reading, cell_name, is_above_full, is_below_floor

_READ_OUT_V = CELL_VOLTS.to_step(0.001)


def findings_of_voltages(reading: Reading, chemistry: Chemistry, *, chemistry_key: str, read_when: str) -> list[Finding]:
    """Return what follows from the voltages, by how they were read: one cell after the other from the worst on, then all of them together.

    A page that names one cell for each rule names the first of these. A load only lowers a voltage, so a cell that is above
    full under load is above full. Nothing else follows from a cell that has not rested, but that it must be read again.

    Source: the chemistry's own limits; `facts.practice` for the bands of the spread.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> uneven = Reading(pack_v=11.42, cell_v=(3.85, 3.86, 3.71), each_cell=True)
    >>> [finding.verdict.name for finding in findings_of_voltages(uneven, CHEMISTRIES["lipo"], chemistry_key="lipo", read_when=RESTED)]
    ['CHARGE_SLOWLY']
    """
    rested = read_when == RESTED
    worst_on = sorted(enumerate(reading.cell_v, start=1), key=lambda one: -one[1] if is_above_full(one[1], chemistry) else one[1])
    found = [finding for number, cell_v in worst_on if (finding := _of_cell(cell_name(reading, number), cell_v, chemistry, rested))]
    if not rested:
        found.append(
            Finding(
                verdict=Verdict.READ_AGAIN,
                found="A pack that has not rested shows a voltage that will still change. Nothing more can be told from it.",
                rule=REST_MIN,
                field="read_when",
            )
        )
    elif reading.each_cell:
        found += _of_spread(reading, chemistry, chemistry_key)
    if not reading.each_cell:
        found.append(
            Finding(
                verdict=Verdict.READ_CELLS,
                found="Only the whole pack was read, and its sum hides a weak cell. Read every cell at the balance plug.",
                rule=SPREAD_TO_WATCH_CELL_V,
                field="resting_v",
            )
        )
    return found


def _of_cell(which: str, cell_v: float, chemistry: Chemistry, rested: bool) -> Finding | None:
    shows = f"{which} {'rests at' if rested else 'shows'} {Figure(cell_v, _READ_OUT_V)}"
    floor, full = (Figure(one.value, CELL_VOLTS) for one in (chemistry.never_below_cell_v, chemistry.full_cell_v))
    if is_above_full(cell_v, chemistry):
        return Finding(
            verdict=Verdict.RETIRE,
            found=f"{shows}, above its full voltage of {full}. Check the kind of pack; if it is right, this cell was charged too far.",
            rule=chemistry.full_cell_v,
            field="resting_v",
            go_to=f"{TROUBLE}#charged-too-far",
        )
    if is_below_floor(cell_v, chemistry):
        verdict = Verdict.RETIRE if rested else Verdict.READ_AGAIN
        after = "it may be harmed inside." if rested else "if it is still below after half an hour, the pack is done."
        return Finding(
            verdict=verdict,
            found=f"{shows}, below its floor of {floor}: {after}",
            rule=chemistry.never_below_cell_v,
            field="resting_v",
            go_to=f"{TROUBLE}#run-too-flat",
        )
    if not rested:
        return None
    if cell_v < chemistry.careful_cutoff_cell_v.value:
        careful = Figure(chemistry.careful_cutoff_cell_v.value, CELL_VOLTS)
        return Finding(
            verdict=Verdict.CHARGE_SLOWLY,
            found=f"{shows}, below the careful cutoff of {careful}: it was run nearly flat.",
            rule=chemistry.careful_cutoff_cell_v,
            field="resting_v",
        )
    if cell_v <= chemistry.end_of_flight_resting_cell_v.value:
        landed = Figure(chemistry.end_of_flight_resting_cell_v.value, CELL_VOLTS)
        return Finding(
            verdict=Verdict.CHARGE,
            found=f"{shows}, no more than the {landed} at which a flight ends.",
            rule=chemistry.end_of_flight_resting_cell_v,
            field="resting_v",
        )
    return None


def _of_spread(reading: Reading, chemistry: Chemistry, chemistry_key: str) -> list[Finding]:
    lowest = cell_name(reading, reading.cell_v.index(reading.lowest_cell_v) + 1)
    within = not is_below_floor(reading.lowest_cell_v, chemistry) and not is_above_full(reading.highest_cell_v, chemistry)
    if within and len(reading.cell_v) > 1:
        behind = percent_from_fraction(share_between(chemistry_key, reading.lowest_cell_v, reading.highest_cell_v).least)
        if behind >= FALLEN_BEHIND_PERCENT.value:
            found = f"{lowest} has dropped away: it holds at least {Figure(behind, PERCENT)} of a charge less than the highest."
            return [
                Finding(verdict=Verdict.RETIRE, found=found, rule=FALLEN_BEHIND_PERCENT, field="resting_v", go_to=f"{TROUBLE}#afterwards")
            ]
    apart = f"The cells rest {Figure(reading.spread_v, _READ_OUT_V)} apart"
    for band, verdict, says in (
        (SPREAD_TO_CHARGE_SLOWLY_CELL_V, Verdict.CHARGE_SLOWLY, f"{within_sentence(lowest)} is the one to watch"),
        (SPREAD_TO_WATCH_CELL_V, Verdict.BALANCE, f"{within_sentence(lowest)} is the lowest"),
    ):
        if reading.spread_v > band.value:
            found = f"{apart}, more than {Figure(band.value, CELL_VOLTS)}: {says}."
            return [Finding(verdict=verdict, found=found, rule=band, field="resting_v")]
    return []


def problems_of_resistances(known_mohm: tuple[float, ...] | None, *, cells: float) -> list[Problem]:
    """Return why the resistances cannot be those of the cells, if they cannot: there are more or fewer of them than cells."""
    if known_mohm is None or len(known_mohm) == cells:
        return []
    entered = "1 resistance" if len(known_mohm) == 1 else f"{len(known_mohm)} resistances"
    sentence = f"You entered {entered} for {'1 cell' if cells == 1 else f'{int(cells)} cells'}: enter each cell's, or none."
    return [Problem("cell_resistances_mohm", sentence)]


def findings_of_resistances(resistances_mohm: tuple[float, ...]) -> list[Finding]:
    """Return what follows from the resistances of the cells, the highest first, each held against the middle of the others: R / median of the others.

    The cells of one pack are read at one temperature on one meter, so they can be compared even where the numbers as such
    cannot be trusted.

    >>> [finding.found for finding in findings_of_resistances((12, 12, 12, 19))]
    ['Cell 4 has 19.0\\xa0mΩ, 58\\xa0% more than the middle of the others: it ages faster than they do.']
    """
    found = []
    cells = enumerate(zip(resistances_mohm, times_of_the_others(resistances_mohm), strict=False), start=1)
    for number, (own_mohm, times) in sorted(cells, key=lambda cell: -cell[1][1]):
        more = f"Cell {number} has {Figure(own_mohm, MILLIOHMS)}, {Figure(percent_from_fraction(times - 1), PERCENT)} more than the middle of the others"
        for rule, verdict, says in (
            (DOUBLED_RESISTANCE, Verdict.RETIRE, "it gives half of their power"),
            (RESISTANCE_OVER_OTHERS, Verdict.CHARGE_SLOWLY, "it ages faster than they do"),
        ):
            # A quotient of two typed numbers may be off in its last bit: exactly twice counts.
            if times >= rule.value - 1e-9:
                found.append(Finding(verdict=verdict, found=f"{more}: {says}.", rule=rule, field="cell_resistances_mohm"))
                break
    return found


def times_of_the_others(resistances_mohm: tuple[float, ...]) -> list[float]:
    """Return how many times the middle of the others each cell's resistance is; nothing for a cell that has no others.

        R / median of the others

    >>> times_of_the_others((12, 12, 12, 18)), times_of_the_others((12,))
    ([1.0, 1.0, 1.0, 1.5], [])
    """
    if len(resistances_mohm) < 2:
        return []
    return [own / median(resistances_mohm[:place] + resistances_mohm[place + 1 :]) for place, own in enumerate(resistances_mohm)]
