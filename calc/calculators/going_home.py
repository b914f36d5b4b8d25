"""Which of these packs need storage tonight, in which order on this charger, and which cannot be done before I go?

Each pack goes the way of the storage page. One charger takes them one after the other, the slowest first; a pack that may not
be done in time waits for another day. Assumes that all packs are as warm as the air and rested for half an hour.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators import storage
from calc.facts.practice import CHANGE_PACKS_MIN, STORE_WITHIN_DAYS
from calc.figures.quantities import AMPERES, CELL_VOLTS, CELLS, DAYS, MILLIAMPERE_HOURS, MINUTES, PACKS, Band, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Row, Setting, Table, shown
from calc.figures.spans import Span
from calc.inputs.equipment import DischargingChargerEntries, PackEntries
from calc.inputs.fields import Group, entries_of, number, same_as
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, several
from calc.inputs.stored_packs import StoredPackEntries
from calc.inputs.supply import SupplyEntries
from calc.presenting.clock import in_hours
from calc.presenting.ranges import minutes_range
from calc.presenting.storage_words import band_words, count_to_stop_at
from calc.presenting.supply_load import input_cautions
from calc.presenting.verdicts import cautions_of_no_look
from calc.rules.charge.charge_outlook import STATE_UNSURE
from calc.rules.pack.findings import Verdict
from calc.rules.storage.evening import Evening, evening_of
from calc.rules.storage.storage_moves import Count, Move
from calc.rules.storage.storing import Goal, Plan, Way, plan_of

EVENING = Group("evening", "This evening")


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries, DischargingChargerEntries):
    """The packs of the day, one charger with its supply, and the time that is left."""

    packs: tuple[StoredPackEntries, ...] = several(StoredPackEntries, "Pack", group_key="packs", least=2, most=12)
    time_left_min: float = number(
        "Time left on the charger",
        MINUTES,
        group=EVENING,
        least=5,
        most=1440,
        starts_as="180",
        hint="For as long as you stay with it, awake.",
    )
    pack_degc: float = same_as(PackEntries, "pack_degc")
    requested_rate_c: float = same_as(storage.Inputs, "requested_rate_c", group=EVENING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """How many are done tonight, in which order, and what becomes of the rest."""

    cautions: tuple[Caution, ...] = shown("Look out")
    done_tonight: Setting = shown("Done tonight", "Tonight")
    whole_time: Range | None = shown("Minutes on the charger", "Tonight")
    in_order: Table | None = shown("In this order", "Tonight")
    not_tonight: Table | None = shown("Not tonight", "The others")
    to_balance: Table | None = shown("Balance them first", "The others")
    left_alone: Table | None = shown("Leave them", "The others")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """A pack that must go somewhere: what it is called on the sheet, and how it goes."""

    name: str
    pack: StoredPackEntries
    plan: Plan
    move: Move
    count: Count


def work_out(given: Inputs) -> Answer:
    """Return the sheet for going home; what is promised for tonight holds for the most that each pack may take."""
    plans = _plans(given)
    named = [(_name(number, pack), pack, plan) for number, (pack, plan) in enumerate(zip(given.packs, plans, strict=True), 1)]
    ways = [
        _Way(name=name, pack=pack, plan=plan, move=plan.move, count=plan.move.count)
        for name, pack, plan in named
        if plan.move and plan.move.count
    ]
    evening = evening_of([way.move.time_min for way in ways], given.time_left_min)
    return Answer(
        cautions=(*input_cautions(given, given.charger_input_most_v), *_doubts(named), *_cautions(ways, evening), *_no_look(plans)),
        done_tonight=_done_tonight(given, ways, evening, balanced=sum(plan.way is Way.BALANCE for plan in plans)),
        whole_time=_whole_time(evening),
        in_order=_in_order(given, ways, evening),
        not_tonight=_not_tonight(ways, evening),
        to_balance=_to_balance([(name, plan) for name, _, plan in named if plan.way is Way.BALANCE]),
        left_alone=_left_alone([(name, plan) for name, _, plan in named if plan.way is Way.LEAVE]),
    )


def _name(number: int, pack: StoredPackEntries) -> str:
    return worded(f"Pack {number}: {{}}, {{}}", Figure(pack.cells, CELLS), Figure(pack.capacity_mah, MILLIAMPERE_HOURS))


def _plans(given: Inputs) -> tuple[Plan, ...]:
    """The way of each pack. What is wrong with charger, supply or evening is said once, and not for every pack."""
    of_a_pack = entries_of(StoredPackEntries)
    shared: dict[str, Problem] = {}

    def plan(stored: StoredPackEntries) -> Plan | None:
        try:
            pack = stored.as_pack(given.pack_degc)
            return plan_of(pack=pack, charger=given, supply=given, goal=Goal.STORAGE, requested_rate_c=given.requested_rate_c)
        except Refused as refused:
            own = []
            for problem in refused.problems:
                if problem.field and problem.field not in of_a_pack:
                    shared.setdefault(problem.field, problem)
                else:
                    own.append(problem)
            if own:
                raise Refused(*own) from None
            return None

    try:
        plans = each_row(given, "packs", plan)
    except Refused as refused:
        raise Refused(*refused.problems, *shared.values()) from None
    if shared:
        raise Refused(*shared.values())
    # A pack is without a plan only where something was refused.
    return tuple(one for one in plans if one)


def _done_tonight(given: Inputs, ways: list[_Way], evening: Evening, *, balanced: int) -> Setting:
    if not ways and balanced:
        return Setting(
            figure=Verdict.BALANCE.words, set_by=f"the cells, too far apart for a charge or a discharge, {Figure(balanced, PACKS)} in all"
        )
    if not ways:
        return Setting(figure="Nothing to do", set_by=f"all of them rest in their storage band, {Figure(len(given.packs), PACKS)} in all")
    return Setting(
        figure=Figure(len(evening.tonight), PACKS),
        set_by=f"the {in_hours(given.time_left_min)} that are left, by the most that each pack may take",
        note=f"Of {Figure(len(ways), PACKS)} that must go to storage. Between two packs {Figure(CHANGE_PACKS_MIN.value, MINUTES)} to change them.",
    )


def _whole_time(evening: Evening) -> Range | None:
    if not evening.tonight:
        return None
    least, most = in_hours(evening.whole_min.least), in_hours(evening.whole_min.most)
    return minutes_range(evening.whole_min, STATE_UNSURE, f"That is {least} to {most}, one after the other.")


def _from_to(span: Span) -> str:
    return f"{Figure(span.least, MINUTES).number} to {Figure(span.most, MINUTES)}"


def _way_words(way: _Way) -> str:
    return "Charge" if way.move.goes_up else "Discharge"


def _in_order(given: Inputs, ways: list[_Way], evening: Evening) -> Table | None:
    amperes = AMPERES.to_step(given.current_step_a)
    rows = []
    for turn, (place, starts_min) in enumerate(zip(evening.tonight, evening.starts_min, strict=True), 1):
        way = ways[place]
        rows.append(
            Row(
                heading=f"{turn}. {way.name}",
                cells=(
                    f"{_way_words(way)}, {way.plan.chemistry.charger_mode}",
                    Figure(way.move.dial.current_a, amperes),
                    count_to_stop_at(way.count, given.capacity_step_mah),
                    Figure(way.move.stop_cell_v, CELL_VOLTS),
                    _from_to(way.move.time_min),
                    "at once" if turn == 1 else f"after {_from_to(starts_min)}",
                ),
            )
        )
    if not rows:
        return None
    return Table(
        caption="In this order, the slowest first",
        columns=("Pack", "What to do", "Dial", "Stop after", "Or when a cell shows", "Takes", "Begin"),
        rows=tuple(rows),
        notes=(
            (
                "Stop by the count, or as soon as one cell shows its voltage: the lowest on the way down, the highest on the way up. Let it "
                "rest for half an hour, and read every cell again: the terminals under current do not show its rest."
            ),
        ),
    )


def _not_tonight(ways: list[_Way], evening: Evening) -> Table | None:
    if not evening.not_tonight:
        return None

    def until(way: _Way) -> str:
        return "tomorrow: it is low" if way.move.goes_up else f"within {Figure(STORE_WITHIN_DAYS.value, DAYS)}, or fly it"

    rows = tuple(
        Row(heading=way.name, cells=(_way_words(way), _from_to(way.move.time_min), until(way)))
        for way in (ways[place] for place in evening.not_tonight)
    )
    return Table(caption="Not tonight", columns=("Pack", "What to do", "Takes", "Do it"), rows=rows)


def _left_alone(resting: list[tuple[str, Plan]]) -> Table | None:
    if not resting:
        return None
    rows = tuple(Row(heading=name, cells=(_cells_rest(plan), band_words(plan.chemistry))) for name, plan in resting)
    return Table(caption="Leave them: they rest in their band", columns=("Pack", "The cells rest at", "The band"), rows=rows)


def _cells_rest(plan: Plan) -> Band | Figure:
    lowest, highest = Figure(plan.reading.lowest_cell_v, CELL_VOLTS), Figure(plan.reading.highest_cell_v, CELL_VOLTS)
    return lowest if lowest == highest else Band(lowest, highest)


def _to_balance(apart: list[tuple[str, Plan]]) -> Table | None:
    if not apart:
        return None
    rows = tuple(Row(heading=name, cells=(_cells_rest(plan), band_words(plan.chemistry))) for name, plan in apart)
    return Table(
        caption="Balance them first: their cells are too far apart for a charge or a discharge",
        columns=("Pack", "The cells rest at", "The band"),
        rows=rows,
        notes=("With the balance plug in, until the cells stand level. Then let it rest, read every cell, and enter it anew.",),
    )


def _doubts(named: list[tuple[str, StoredPackEntries, Plan]]) -> tuple[Caution, ...]:
    return tuple(
        Caution(sentence=f"{name.split(':')[0]}: {doubt.sentence}", grave=doubt.grave)
        for name, _, plan in named
        for doubt in plan.condition.doubts
    )


def _no_look(plans: tuple[Plan, ...]) -> tuple[Caution, ...]:
    """That the packs are to be looked over first, said once."""
    return next(filter(None, (cautions_of_no_look(plan.condition) for plan in plans)), ())


def _cautions(ways: list[_Way], evening: Evening) -> tuple[Caution, ...]:
    tonight = [ways[place] for place in evening.tonight]
    kinds = {(way.pack.chemistry, way.pack.cells) for way in tonight}
    unread = [way.name.split(":")[0] for way in ways if not way.plan.reading.each_cell]
    uneven = [way.name.split(":")[0] for way in ways if way.plan.reading.is_uneven]
    sentences = [
        ("The packs differ: set chemistry and cells anew for each one. A wrong mode sets a pack on fire.", len(kinds) > 1, True),
        ("Stay with each one, awake. None in the car on the way home, none overnight.", bool(ways), False),
        (f"Cells far apart: {', '.join(uneven)}. Find out why before you put it away. What stays apart is for the balancer.", bool(uneven), False),
        (f"Only the whole pack was read: {', '.join(unread)}. These counts hold until every cell has been read.", bool(unread), False),
        ("A charger's power holds a discharge far below the dial: the minutes here count that.",
         any(way.move.is_held_by_power for way in tonight), False),
    ]  # fmt: skip
    return tuple(Caution(sentence=sentence, grave=grave) for sentence, applies, grave in sentences if applies)
