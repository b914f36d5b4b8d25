"""Is this pack at the end of its life, and if it is, how do I empty it before it goes away?

The first end that is reached ends it: look, a cell at its floor, capacity, resistance. What empties it is a resistor or a row
of filament lamps, sized at the full voltage. Only a whole, dry, cool pack is emptied: a harmed one is left as it is, and one that
was crashed or shorted once is judged, but not emptied.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import reduce

from calc.calculators.parts.end_of_life_emptying import EmptyingShown, LoadShown, cautions_of_emptying, emptying_shown, load_shown
from calc.calculators.parts.end_of_life_ends import ends_table, life_verdict
from calc.calculators.parts.end_of_life_two_loads import JUDGED, TwoLoadsEntries, by_two_loads_mohm, two_loads_shown
from calc.facts.chemistries import Chemistry
from calc.facts.loads import EMPTYING_MOST_RATE_C, EMPTYING_RATE_C, OLD_PACK_HOLDS_PERCENT
from calc.facts.looks import SOUND
from calc.facts.practice import AGED_PERCENT, DOUBLED_RESISTANCE, FALLEN_BEHIND_PERCENT
from calc.figures.quantities import OHMS, RATE, SUPPLY_VOLTS, WATTS
from calc.figures.showing import Caution, Picture, Range, Setting, Table, Verdict, held_by, shown
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, fraction_from_percent, mah_from_ah
from calc.inputs.equipment import NICKEL, UNKNOWN, PackEntries
from calc.inputs.fields import Group, choice, number, part_of, same_as
from calc.inputs.inspection import LookEntries
from calc.inputs.known_pack import WithReading
from calc.inputs.refusals import Problem, Refused
from calc.physics.cell.cell_resistance import cell_resistance_ohm
from calc.physics.pack.emptying import EmptyingOutlook, emptying_outlook, over_both
from calc.presenting.verdicts import cautions_of_label
from calc.rules.charge.load_choice import Load, lamps_for, resistor_for
from calc.rules.pack.acceptance import judged
from calc.rules.pack.condition import Condition, condition_of
from calc.rules.pack.findings import Act
from calc.rules.pack.readings import Reading

LOAD = Group("load", "What empties it")
RESISTOR, LAMP_ROW = "resistor", "lamps"
# A cell that a crash or a short has harmed may show nothing for long: such a pack goes away as it is.
EMPTIED = (SOUND,)
# A pack whose life ended by these is whole, and may be emptied; whatever else forbids its use forbids that too.
_WORN = (AGED_PERCENT, DOUBLED_RESISTANCE, FALLEN_BEHIND_PERCENT)
_NOT_EMPTIED = {
    UNKNOWN: "Nobody can say how far a pack of an unknown kind may be emptied. Do not empty it, and do not charge it. Cover its "
    "contacts and hand it in.",
    NICKEL: "The figures of this page are for lithium packs. A nickel-metal hydride pack is handed in as it is: cover its contacts, "
    "and say what kind it is.",
}


@dataclass(frozen=True, kw_only=True)
class Inputs(LookEntries, WithReading):
    """The look of the pack, what is known of its age, and the load that is at hand."""

    chemistry: str = same_as(PackEntries, "chemistry", only_with=("look", JUDGED))
    cells: float = same_as(PackEntries, "cells", only_with=("look", JUDGED))
    capacity_mah: float = same_as(PackEntries, "capacity_mah", only_with=("look", JUDGED))
    resting_v: tuple[float, ...] = same_as(PackEntries, "resting_v", only_with=("look", JUDGED))
    pack_degc: float | None = same_as(PackEntries, "pack_degc")
    pack_warmth: str | None = same_as(PackEntries, "pack_warmth", only_with=("look", JUDGED))
    measured_capacity_mah: float | None = same_as(PackEntries, "measured_capacity_mah", only_with=("look", JUDGED))
    cell_resistance_mohm: float | None = same_as(PackEntries, "cell_resistance_mohm", only_with=("look", JUDGED))
    new_resistance_mohm: float | None = same_as(PackEntries, "new_resistance_mohm", only_with=("look", JUDGED))
    cell_resistances_mohm: tuple[float, ...] | None = same_as(PackEntries, "cell_resistances_mohm", only_with=("look", JUDGED))
    read_when: str = same_as(PackEntries, "read_when", only_with=("look", JUDGED))
    air_degc: float | None = same_as(PackEntries, "air_degc", only_with=("look", JUDGED))
    first_load_v: float | None = same_as(TwoLoadsEntries, "first_load_v")
    first_load_a: float | None = same_as(TwoLoadsEntries, "first_load_a")
    second_load_v: float | None = same_as(TwoLoadsEntries, "second_load_v")
    second_load_a: float | None = same_as(TwoLoadsEntries, "second_load_a")
    load_kind: str = choice(
        "Load",
        {RESISTOR: "A power resistor", LAMP_ROW: "Filament lamps in a row"},
        group=LOAD,
        starts_as=RESISTOR,
        only_with=("look", EMPTIED),
        hint="No LED lamps: they stop drawing current long before the pack is empty.",
    )
    emptying_rate_c: float = number(
        "Empty it at",
        RATE,
        group=LOAD,
        asked_as="the rate for emptying it",
        least=0.02,
        most=EMPTYING_MOST_RATE_C.value,
        starts_as=str(EMPTYING_RATE_C.value),
        only_with=("load_kind", (RESISTOR,)),
        hint="Gently: a fifth of the capacity each hour. Faster makes more heat.",
    )
    resistor_ohm: float | None = number(
        "Resistor that you have",
        OHMS,
        group=LOAD,
        asked_as="the resistance of your resistor",
        least=0.1,
        most=10_000,
        optional=True,
        only_with=("load_kind", (RESISTOR,)),
        hint="Left empty, one is chosen for you.",
    )
    resistor_w: float | None = number(
        "Watts on it",
        WATTS,
        group=LOAD,
        asked_as="the watts on your resistor",
        least=0.1,
        most=2000,
        optional=True,
        only_with=("load_kind", (RESISTOR,)),
    )
    lamp_v: float = number(
        "Volts on one lamp", SUPPLY_VOLTS, group=LOAD, least=1, most=60, starts_as="12", only_with=("load_kind", (LAMP_ROW,))
    )
    lamp_w: float = number("Watts on one lamp", WATTS, group=LOAD, least=1, most=200, starts_as="21", only_with=("load_kind", (LAMP_ROW,)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Whether its life is over, then the load, how long it takes, how hot it gets, and when to stop."""

    cautions: tuple[Caution, ...] = shown("Look out")
    life: Verdict = shown("Verdict")
    ends: Table = shown("What ends the life of a pack", "This pack")
    by_two_loads: Setting | None = shown("Resistance of one cell, by the two loads", "This pack")
    resistor: Setting | None = shown("Resistor", "The load, if you take it out of use")
    resistor_rating: Setting | None = shown("Rated for at least", "The load, if you take it out of use")
    lamps: Setting | None = shown("Lamps in a row", "The load, if you take it out of use")
    current_at_start: Range | None = shown("Current at the start", "The load, if you take it out of use")
    heat_at_start: Range | None = shown("Heat in the load at the start", "The load, if you take it out of use")
    load_temperature: Range | None = shown("Hottest spot of the load", "The load, if you take it out of use")
    time_to_empty: Range | None = shown("Minutes to empty", "How long, and when to stop")
    energy_out: Range | None = shown("Energy that becomes heat", "How long, and when to stop")
    stop_at_cell: Setting | None = shown("Stop when the lowest cell shows", "How long, and when to stop")
    stop_at_pack: Setting | None = shown("Or when the whole pack shows", "How long, and when to stop")
    picture: Picture | None = shown("Picture", "How long, and when to stop")


def work_out(given: Inputs) -> Answer:
    """Return where a pack stands in its life, and how to empty it; the load is sized for the full voltage, whatever is in the pack now.

    Refuses a pack that is harmed, wet, hot, below its floor or above full: it is not discharged. Refuses a load at hand that draws
    too much or gets too hot.
    """
    if given.look not in JUDGED:
        _refuse(condition_of(given, None, None))
    if given.chemistry in _NOT_EMPTIED:
        raise Refused(Problem("chemistry", _NOT_EMPTIED[given.chemistry], "handing-in"))
    pack, known = judged(given), given
    _refuse(pack.condition)
    chemistry, reading = pack.chemistry, pack.reading
    by_loads_mohm = by_two_loads_mohm(part_of(given, TwoLoadsEntries), chemistry, reading, cells=given.cells)
    if by_loads_mohm is not None:
        # Two loads tell of the mean of the cells: what was read of the worst one is not forgotten for it.
        known = replace(given, cell_resistance_mohm=max(by_loads_mohm, given.highest_resistance_mohm or 0))
        pack = judged(known)
    load, emptying = _emptying(known, chemistry, reading) if given.look in EMPTIED else (LoadShown(), EmptyingShown())
    return Answer(
        cautions=(
            *cautions_of_label(pack.condition),
            *cautions_of_emptying(
                emptying, is_emptied=given.look in EMPTIED, was_read_whole=not reading.each_cell and given.cells > 1, rests_v=reading.pack_v
            ),
        ),
        life=life_verdict(pack.condition),
        ends=ends_table(
            chemistry,
            given.chemistry,
            given.look,
            reading,
            held=_share(given.measured_capacity_mah, given.capacity_mah),
            times_new=_share(known.highest_resistance_mohm, given.new_resistance_mohm),
        ),
        by_two_loads=two_loads_shown(by_loads_mohm, given.highest_resistance_mohm),
        **held_by(load),
        **held_by(emptying),
    )


def _emptying(given: Inputs, chemistry: Chemistry, reading: Reading) -> tuple[LoadShown, EmptyingShown]:
    load = _load(given, chemistry)
    # Where the warmth of a pack is told in a word, what is shown holds from one end of it to the other.
    coming = reduce(over_both, (_outlook(given, chemistry, reading, load, degc) for degc in given.ends_degc))
    return (
        load_shown(
            load,
            coming,
            rate_c=given.emptying_rate_c,
            is_own=given.resistor_ohm is not None,
            air_degc=given.warmest_degc if given.air_degc is None else given.air_degc,
            cells=given.cells,
        ),
        emptying_shown(chemistry, given.cells, coming, each_cell=reading.each_cell),
    )


def _refuse(condition: Condition) -> None:
    """Send a pack away that is harmed, hot or not rested: nothing is plugged into it."""
    problems = [one.problem(Act.DISCHARGE) for one in condition.findings if one.forbids(Act.DISCHARGE) and one.rule not in _WORN]
    if problems:
        raise Refused(*problems)


def _share(now: float | None, then: float | None) -> float | None:
    return None if now is None or then is None else now / then


def _load(given: Inputs, chemistry: Chemistry) -> Load:
    full_pack_v = given.cells * chemistry.full_cell_v.value
    holds_ah = ah_from_mah(min(given.capacity_mah, given.measured_capacity_mah or given.capacity_mah))
    if given.load_kind == LAMP_ROW:
        return lamps_for(full_pack_v=full_pack_v, capacity_ah=holds_ah, lamp_v=given.lamp_v, lamp_w=given.lamp_w)
    return resistor_for(
        full_pack_v=full_pack_v, capacity_ah=holds_ah, rate_c=given.emptying_rate_c, own_ohm=given.resistor_ohm, own_w=given.resistor_w
    )


def _outlook(given: Inputs, chemistry: Chemistry, reading: Reading, load: Load, degc: float) -> EmptyingOutlook:
    capacity_ah = _capacity_ah(given)
    return emptying_outlook(
        given.chemistry,
        resting_cells_v=reading.cell_v if reading.each_cell else reading.cell_v * int(given.cells),
        floor_cell_v=chemistry.never_below_cell_v.value,
        capacity_ah=capacity_ah,
        resistance_ohm=cell_resistance_ohm(
            capacity_mah=given.capacity_mah,
            effective_capacity_mah=mah_from_ah(capacity_ah.likely),
            cell_resistance_mohm=given.highest_resistance_mohm,
            label_discharge_rate_c=None,
            degc=degc,
            chemistry_key=given.chemistry,
        ),
        currents_of=load.currents_of,
    )


def _capacity_ah(given: Inputs) -> Span:
    """What the pack holds: as it was measured, else what an old pack may hold of its label."""
    if given.measured_capacity_mah is None:
        least, likely = (fraction_from_percent(one.value) for one in (OLD_PACK_HOLDS_PERCENT, AGED_PERCENT))
        return Span(least, likely, 1.0).times(ah_from_mah(given.capacity_mah))
    measured_ah = ah_from_mah(given.measured_capacity_mah)
    return Span(measured_ah, measured_ah, measured_ah)
