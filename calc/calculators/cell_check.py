"""Is this pack fit to fly, and if it is not, what becomes of it?

The gravest rule that speaks gives the verdict: the look of the pack, its warmth, a cell at its limits, how far the cells are
apart, a cell with more resistance than its mates, what is left of its capacity. It is the condition that every other page
counts with. Assumes a meter that is right to a few hundredths of a volt.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators.parts.cell_check_rules import cautions_of, rules_table
from calc.facts.chemistries import Chemistry
from calc.facts.practice import SLOW_RATE_C, SPREAD_TO_CHARGE_SLOWLY_CELL_V, SPREAD_TO_WATCH_CELL_V
from calc.figures import showing
from calc.figures.quantities import CELL_VOLTS, CELLS, PACK_VOLTS, PERCENT, RATE, Band, Figure
from calc.figures.showing import Caution, Range, Row, Setting, Table, held_by, shown
from calc.figures.spans import Span
from calc.figures.units import percent_from_fraction
from calc.inputs.equipment import PACK_MORE, RESTED, PackEntries
from calc.inputs.fields import same_as
from calc.inputs.inspection import READABLE, LookEntries, MeterEntries
from calc.inputs.known_pack import WithReading
from calc.physics.cell.cells import share_between, state_of_charge
from calc.physics.pack.packs import cell_counts_that_fit
from calc.presenting.ranges import range_of
from calc.presenting.source_lines import source_line
from calc.presenting.verdicts import cautions_of_label, verdict_shown
from calc.rules.pack.acceptance import Judged, judged
from calc.rules.pack.condition import Condition, condition_of
from calc.rules.pack.findings import Act, Standing, Verdict
from calc.rules.pack.readings import Reading, cell_name, is_above_full, is_below_floor

_READ_OUT = CELL_VOLTS.to_step(0.001)
_NO_STATE = "not known"


@dataclass(frozen=True, kw_only=True)
class Inputs(MeterEntries, LookEntries, WithReading):
    """What eyes and nose say, then what the meter says; a pack that must not be touched is not read."""

    chemistry: str = same_as(PackEntries, "chemistry", only_with=("look", READABLE))
    cells: float = same_as(PackEntries, "cells", only_with=("look", READABLE))
    resting_v: tuple[float, ...] = same_as(
        PackEntries,
        "resting_v",
        only_with=("look", READABLE),
        hint="Each cell, typed or pasted in any form: 3.85 3.86 3.71, or C1: 3.85 V C2: 3.86 V. Or the whole pack.",
    )
    pack_degc: float | None = same_as(PackEntries, "pack_degc")
    pack_warmth: str | None = same_as(PackEntries, "pack_warmth", only_with=("look", READABLE))
    capacity_mah: float | None = same_as(PackEntries, "capacity_mah", group=PACK_MORE, optional=True, only_with=("look", READABLE))
    measured_capacity_mah: float | None = same_as(PackEntries, "measured_capacity_mah", only_with=("look", READABLE))
    cell_resistance_mohm: float | None = same_as(PackEntries, "cell_resistance_mohm", only_with=("look", READABLE))
    new_resistance_mohm: float | None = same_as(PackEntries, "new_resistance_mohm", only_with=("look", READABLE))
    air_degc: float | None = same_as(PackEntries, "air_degc", only_with=("look", READABLE))


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The verdict and its rule, then what is known of the charge in each cell and of how far they are apart."""

    cautions: tuple[Caution, ...] = shown("Look out")
    verdict: showing.Verdict = shown("Verdict")
    charge_at_most: Setting | None = shown("Charge it with at most", "This pack")
    rules: Table = shown("Every rule that it breaks", "Why")
    pack_state: Range | None = shown("Charge in its weakest cell", "What is in it")
    cell_by_cell: Table | None = shown("Cell by cell", "What is in it")
    spread: Setting | None = shown("From the lowest cell to the highest", "How far the cells are apart")
    behind: Range | None = shown("The lowest cell lacks", "How far the cells are apart")
    bands: Table | None = shown("Bands", "How far the cells are apart")
    counts: Table | None = shown("Cell counts", "Which cell counts this voltage fits")

    @property
    def standing(self) -> Standing:
        """What this check says of the pack beyond today, by the verdict that is shown."""
        verdict = next((one for one in Verdict if one.words == self.verdict.figure), None)
        if verdict is None:
            return Standing()
        return Standing(taken_out=f"{self.verdict.set_by}." if verdict.lasts else "", passed=verdict.passes)


def work_out(given: Inputs) -> Answer:
    """Return the verdict on a pack, with every rule that spoke. A pack that must not be touched gets its verdict from its look alone.

    Refuses a chemistry that is not known, and a reading that can mean two things.
    """
    if given.look in READABLE:
        pack = judged(given)
        condition, cautions, readings = pack.condition, _cautions(pack), _readings(given, pack)
    else:
        condition = condition_of(given, None, None)
        cautions, readings = cautions_of(condition.findings), _Readings()
    return Answer(
        cautions=cautions,
        verdict=verdict_shown(condition),
        charge_at_most=_charge_at_most(condition),
        rules=rules_table(condition.findings),
        **held_by(readings),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Readings:
    """What the meter says; all of it None for a pack that must not be touched."""

    pack_state: Range | None = None
    cell_by_cell: Table | None = None
    spread: Setting | None = None
    behind: Range | None = None
    bands: Table | None = None
    counts: Table | None = None


def _readings(given: Inputs, pack: Judged) -> _Readings:
    chemistry, reading = pack.chemistry, pack.reading
    compared = reading.each_cell and len(reading.cell_v) > 1 and given.read_when == RESTED
    return _Readings(
        pack_state=_pack_state(given, reading, chemistry),
        cell_by_cell=_cell_by_cell(given, reading, chemistry),
        spread=_spread(reading) if compared else None,
        behind=_behind(given, reading, chemistry) if compared else None,
        bands=_bands(reading) if compared else None,
        counts=None if reading.each_cell else _counts(given, reading, chemistry),
    )


def _cautions(pack: Judged) -> tuple[Caution, ...]:
    return (
        *cautions_of(pack.condition.findings),
        *cautions_of_label(pack.condition),
        Caution(sentence="A meter sees no dent and no smell: this verdict is only as good as your look."),
    )


def _charge_at_most(condition: Condition) -> Setting | None:
    if not condition.slow or condition.problems_of(Act.CHARGE):
        return None
    return Setting(
        figure=Figure(SLOW_RATE_C.value, RATE),
        set_by=source_line(SLOW_RATE_C),
        note="The settings page may allow less: by the label, the charger, the supply or the cold. Then that counts.",
    )


def _is_known(cell_v: float, chemistry: Chemistry, read_when: str) -> bool:
    """Whether a voltage tells a state of charge at all."""
    return read_when == RESTED and not is_below_floor(cell_v, chemistry) and not is_above_full(cell_v, chemistry)


def _state(given: Inputs, cell_v: float) -> Span:
    return state_of_charge(given.chemistry, cell_v).times(percent_from_fraction(1))


def _pack_state(given: Inputs, reading: Reading, chemistry: Chemistry) -> Range | None:
    if not _is_known(reading.lowest_cell_v, chemistry, given.read_when):
        return None
    because = "kinds of oxide differ in charge at the same voltage, and a meter may be off"
    note = "" if reading.each_cell else "By the mean cell: the weakest holds less."
    return range_of(_state(given, reading.lowest_cell_v), PERCENT, because, note)


def _cell_by_cell(given: Inputs, reading: Reading, chemistry: Chemistry) -> Table:
    rows = []
    for number, cell_v in enumerate(reading.cell_v, start=1):
        likely: Figure | str = _NO_STATE
        band: Band | str = _NO_STATE
        if _is_known(cell_v, chemistry, given.read_when):
            state = _state(given, cell_v)
            likely = Figure(state.likely, PERCENT)
            band = Band(Figure(state.least, PERCENT), Figure(state.most, PERCENT))
        rows.append(Row(heading=cell_name(reading, number), cells=(Figure(cell_v, _READ_OUT), likely, band)))
    notes = () if given.read_when == RESTED else ("The charge is not known: a cell that has not rested shows another voltage.",)
    return Table(
        caption="Cell by cell", columns=("Cell", "Voltage", "Charge, likely", "Charge, from and to"), rows=tuple(rows), notes=notes
    )


def _spread(reading: Reading) -> Setting:
    verdict, band = _band_of(reading.spread_v)
    return Setting(figure=Figure(reading.spread_v, _READ_OUT), set_by=f"the band {band}: {verdict.words.lower()}")


def _behind(given: Inputs, reading: Reading, chemistry: Chemistry) -> Range | None:
    if not all(_is_known(cell_v, chemistry, given.read_when) for cell_v in reading.cell_v):
        return None
    share = share_between(given.chemistry, reading.lowest_cell_v, reading.highest_cell_v)
    because = "a few millivolts mean much charge where the curve is flat, and little where it is steep"
    return range_of(share.times(percent_from_fraction(1)), PERCENT, because, "That much of a full charge must be moved by balancing.")


def _band_rows() -> tuple[tuple[Verdict, str], ...]:
    """The bands of the spread: what follows, and the band in words."""
    low, high = (Figure(one.value, CELL_VOLTS) for one in (SPREAD_TO_WATCH_CELL_V, SPREAD_TO_CHARGE_SLOWLY_CELL_V))
    return ((Verdict.FLY, f"up to {low}"), (Verdict.BALANCE, f"over {low}, up to {high}"), (Verdict.CHARGE_SLOWLY, f"over {high}"))


def _band_of(spread_v: float) -> tuple[Verdict, str]:
    place = sum(spread_v > band.value for band in (SPREAD_TO_WATCH_CELL_V, SPREAD_TO_CHARGE_SLOWLY_CELL_V))
    return _band_rows()[place]


def _bands(reading: Reading) -> Table:
    own = _band_of(reading.spread_v)
    return Table(
        caption="How far rested cells may be apart",
        columns=("Apart", "What follows"),
        rows=tuple(Row(heading=band, cells=(verdict.words,), marked=(verdict, band) == own) for verdict, band in _band_rows()),
        notes=(
            f"{source_line(SPREAD_TO_WATCH_CELL_V)}; {source_line(SPREAD_TO_CHARGE_SLOWLY_CELL_V)}.",
            "Nearly empty cells differ by more volts for the same charge: charge the pack, and read it again.",
        ),
    )


def _counts(given: Inputs, reading: Reading, chemistry: Chemistry) -> Table:
    return Table(
        caption=f"What {Figure(reading.pack_v, PACK_VOLTS)} may be",
        columns=("Cells", "Each cell then rests at"),
        rows=tuple(
            Row(heading=str(Figure(cells, CELLS)), cells=(Figure(reading.pack_v / cells, CELL_VOLTS),), marked=cells == given.cells)
            for cells in cell_counts_that_fit(chemistry, reading.pack_v)
        ),
        notes=("Count the wires of the balance plug, less one: too high a count burns the pack.",),
    )
