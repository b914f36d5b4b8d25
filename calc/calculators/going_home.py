"""Which of these packs need storage tonight, in which order, on which output, and which cannot be done before I go?

Each pack goes the way of the storage page. The order is the one in which most packs are done; where several do, the slowest are
done and go on first, since they are the ones that are put off. A pack that may not be done in time waits for another day. Assumes that
all packs are as warm as the air and rested for half an hour, and one pair of hands.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators import day_plan, storage
from calc.calculators.parts.going_home_shown import in_order, name_of, not_tonight, timeline, title_of, what_if
from calc.calculators.parts.going_home_work import Evening, evening_of
from calc.figures.followed import Agenda, Timeline
from calc.figures.quantities import CELL_VOLTS, MINUTES, PACKS, Band, Figure
from calc.figures.showing import Caution, Row, Setting, Table, shown
from calc.inputs.equipment import DischargingChargerEntries, PackEntries
from calc.inputs.fields import number, same_as
from calc.inputs.planned_day import DAY, BegunDayEntries, BegunPackEntries, BegunPacksEntries, hour
from calc.inputs.second_charger import SecondDischargingChargerEntries
from calc.inputs.second_supply import SecondSupplyEntries
from calc.inputs.supply import SupplyEntries
from calc.presenting.balance_plugs import cautions_of_two_plugs
from calc.presenting.clock import in_hours
from calc.presenting.day_clock import DayClock
from calc.presenting.day_timeline import last_ready_shown
from calc.presenting.storage_words import band_words
from calc.presenting.supply_load import cautions_of_inputs
from calc.presenting.verdicts import cautions_of_no_look
from calc.rules.charge.own_plugs import needs_two_ports
from calc.rules.pack.findings import Verdict
from calc.rules.storage.storing import StoragePlan, Way


@dataclass(frozen=True, kw_only=True)
class Inputs(
    BegunDayEntries, SecondSupplyEntries, SecondDischargingChargerEntries, SupplyEntries, DischargingChargerEntries, BegunPacksEntries
):
    """The packs of the day, the outputs and their supply, and the time that is left."""

    start_clock: float | None = same_as(day_plan.Inputs, "start_clock")
    time_left_min: float = number(
        "Time left on the charger", MINUTES, group=DAY, least=5, most=1440, starts_as="180", hint="For as long as you stay with it, awake."
    )
    leave_clock: float | None = hour(
        "You go at",
        optional=True,
        hint="With an hour at which you begin. Left empty, the time left counts.",
        asked_as="the hour at which you go",
    )
    change_min: float = same_as(day_plan.Inputs, "change_min")
    watched_charges: float = same_as(day_plan.Inputs, "watched_charges")
    pack_degc: float | None = same_as(PackEntries, "pack_degc")
    pack_warmth: str | None = same_as(PackEntries, "pack_warmth")
    requested_rate_c: float = same_as(storage.Inputs, "requested_rate_c", group=DAY)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """How many are done tonight, in which order, and what becomes of the rest."""

    cautions: tuple[Caution, ...] = shown("Look out")
    done_tonight: Setting = shown("Done tonight", "Tonight")
    last_ready: Setting | None = shown("The last one", "Tonight")
    timeline: Timeline | None = shown("Timeline", "Tonight")
    in_order: Agenda | None = shown("What to do next", "What to do next")
    not_tonight: Table | None = shown("Not tonight", "The others")
    what_if: Table | None = shown("What would change it", "The others")
    to_balance: Table | None = shown("Balance them first", "The others")
    left_alone: Table | None = shown("Leave them", "The others")


def work_out(given: Inputs) -> Answer:
    """Return the sheet for going home; what is promised for tonight holds for the most that each pack may take."""
    evening = evening_of(given)
    named = [(name_of(number, pack), pack, plan) for number, (pack, plan) in enumerate(zip(given.packs, evening.plans, strict=True), 1)]
    clock = DayClock(given.start_clock)
    return Answer(
        cautions=(
            *cautions_of_inputs(evening.supplies, evening.outputs, evening.chargers),
            *_doubts(named),
            *_cautions(given, evening),
            *cautions_of_two_plugs(_on_two_ports(given, evening)),
            *_no_look(evening.plans),
        ),
        done_tonight=_done_tonight(given, evening),
        last_ready=last_ready_shown(evening.begun, evening.plan.turns, clock, "how full each pack is"),
        timeline=timeline(evening, clock),
        in_order=in_order(given, evening, clock),
        not_tonight=not_tonight(given, evening),
        what_if=what_if(evening),
        to_balance=_to_balance([(name, plan) for name, _, plan in named if plan.way is Way.BALANCE]),
        left_alone=_left_alone([(name, plan) for name, _, plan in named if plan.way is Way.LEAVE]),
    )


def _done_tonight(given: Inputs, evening: Evening) -> Setting:
    balanced = sum(plan.way is Way.BALANCE for plan in evening.plans)
    if not evening.waiting and evening.begun.packs:
        return Setting(figure="Nothing more to put on", set_by="what is on already, or done")
    if not evening.waiting and balanced:
        return Setting(
            figure=Verdict.BALANCE.words, set_by=f"the cells, too far apart for a charge or a discharge, {Figure(balanced, PACKS)} in all"
        )
    if not evening.waiting:
        return Setting(figure="Nothing to do", set_by=f"all of them rest in their storage band, {Figure(len(given.packs), PACKS)} in all")
    in_time = f"the {in_hours(evening.until_min)} that are left, by the most that each pack may take; {_how_good(evening)}"
    return Setting(
        figure=Figure(len(evening.waiting) - len(evening.left_out), PACKS),
        set_by=in_time if evening.until_min > 0 else "the hour at which you go, which has passed",
        note=f"Of {Figure(len(evening.waiting), PACKS)} that must go to storage. Each takes {Figure(given.change_min, MINUTES)} to put on.",
    )


def _how_good(evening: Evening) -> str:
    """Whether more could be done: proven, or how many more at most by what was ruled out."""
    more = evening.plan.worth.left_out - evening.plan.bound.left_out
    if more > 0:
        return f"a good order, found without trying every one: the best has {Figure(more, PACKS)} more at most"
    return "no other order gets more of them done at these currents"


def _left_alone(resting: list[tuple[str, StoragePlan]]) -> Table | None:
    if not resting:
        return None
    rows = tuple(Row(heading=name, cells=(_cells_rest(plan), band_words(plan.chemistry))) for name, plan in resting)
    return Table(
        caption="Leave them: they rest in their band, as near as a meter can tell",
        columns=("Pack", "The cells rest at", "The band"),
        rows=rows,
    )


def _cells_rest(plan: StoragePlan) -> Band:
    return Band(Figure(plan.reading.lowest_cell_v, CELL_VOLTS), Figure(plan.reading.highest_cell_v, CELL_VOLTS))


def _to_balance(apart: list[tuple[str, StoragePlan]]) -> Table | None:
    if not apart:
        return None
    rows = tuple(Row(heading=name, cells=(_cells_rest(plan), band_words(plan.chemistry))) for name, plan in apart)
    return Table(
        caption="Balance them first: their cells are too far apart for a charge or a discharge",
        columns=("Pack", "The cells rest at", "The band"),
        rows=rows,
        notes=(
            (
                "With the balance plug in, at the current that the storage page gives for the pack, until its cells are level. Then let it "
                "rest, read every cell, and enter it anew."
            ),
        ),
    )


def _doubts(named: list[tuple[str, BegunPackEntries, StoragePlan]]) -> tuple[Caution, ...]:
    return tuple(
        Caution(sentence=f"{name.split(':')[0]}: {doubt.sentence}", grave=doubt.grave)
        for name, _, plan in named
        for doubt in plan.condition.doubts
    )


def _no_look(plans: tuple[StoragePlan, ...]) -> tuple[Caution, ...]:
    """That the packs are to be looked over first, said once."""
    return next(filter(None, (cautions_of_no_look(plan.condition) for plan in plans)), ())


def _on_two_ports(given: Inputs, evening: Evening) -> list[str]:
    """The packs that go on the charger yet, to storage or to be balanced, and need two of its balance ports."""
    return [
        title_of(place)
        for place, (pack, plan) in enumerate(zip(given.packs, evening.plans, strict=True))
        if place not in evening.begun.packs and plan.way is not Way.LEAVE and needs_two_ports(pack.cells, evening.charger_for(place))
    ]


def _cautions(given: Inputs, evening: Evening) -> tuple[Caution, ...]:
    tonight = [evening.move_of(turn) for turn in evening.plan.turns]
    kinds = {(given.packs[one.pack].chemistry, given.packs[one.pack].cells) for one in tonight}
    unread = [title_of(pack.place) for pack in evening.waiting if not evening.plans[pack.place].reading.each_cell]
    uneven = [title_of(pack.place) for pack in evening.waiting if evening.plans[pack.place].reading.is_uneven]
    goes_on = bool(evening.waiting) or any(plan.way is Way.BALANCE for plan in evening.plans)
    sentences = [
        ("The packs differ: set chemistry and cells anew for each one. A wrong mode sets a pack on fire.", len(kinds) > 1, True),
        ("Stay with each one, awake. Do not go on in the car on the way home, or overnight.", goes_on, False),
        (f"Cells far apart: {', '.join(uneven)}. Find out why before you put it away. Only the balancer brings such cells together.", bool(uneven), False),
        (f"Only the whole pack was read: {', '.join(unread)}. These counts hold until every cell has been read.", bool(unread), False),
        ("A charger's power limits a discharge to far less than the current that you set. The minutes here count that.",
         any(one.move.is_held_by_power for one in tonight), False),
    ]  # fmt: skip
    return tuple(Caution(sentence=sentence, grave=grave) for sentence, applies, grave in sentences if applies)
