"""Which packs go on which output next, alone or together, so that what is wanted is ready in time and each battery keeps its floor?

Each charge is one that its own page allows, at a current within every limit. A plan counts on the likely course of each, and holds
against the slowest: what is wanted by an hour is ready by then at the latest. Assumes that all packs are as warm as the air, and
one pair of hands. Before each one is put on, its cells are read again, and its own page has the last word.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators.parts.day_plan_planned_day import PlannedDay
from calc.calculators.parts.day_plan_shown import left_out_table, timeline, turns_table, what_if_table
from calc.calculators.parts.day_plan_work import AIMS, BATTERY_LEAST, BY_AN_HOUR, SOONEST, WEAR_LEAST, planned_day
from calc.facts.practice import CHANGE_PACKS_MIN
from calc.figures.followed import Agenda, Timeline
from calc.figures.quantities import CHARGES, CLOCK, MINUTES, PACKS, PERCENT, Figure
from calc.figures.showing import Caution, Range, Setting, Table, shown
from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries, PackEntries, RateEntries
from calc.inputs.fields import Group, choice, number, plain, same_as
from calc.inputs.joined_packs import PLUG_CHOICES, PORTS_OF_THEIR_OWN, SERIES_BALANCE_LEAD, LeadsEntries, PlugsEntries
from calc.inputs.planned_day import DAY, BegunDayEntries, PlannedPacksEntries, hour
from calc.inputs.second_charger import SecondChargerEntries
from calc.inputs.second_supply import SecondSupplyEntries
from calc.inputs.supply import SupplyEntries
from calc.presenting.balance_plugs import cautions_of_two_plugs
from calc.presenting.day_clock import DayClock
from calc.presenting.day_timeline import last_ready_shown
from calc.presenting.ranges import range_of
from calc.presenting.supply_load import cautions_of_inputs, floor_words
from calc.presenting.turns_in_words import OTHER_TAKES_A_PART
from calc.presenting.verdicts import cautions_of_no_look
from calc.rules.plan.begun import min_from_start

JOINING = Group("joining", "Several packs on one output, if you have the leads", optional=True)

BOARD, SERIES, EITHER = "board", "series", "either"
JOINING_CHOICES = {
    BOARD: "In parallel, on a board with one plug for each",
    SERIES: "In series, on a series lead",
    EITHER: "Either of the two",
}


@dataclass(frozen=True, kw_only=True)
class Inputs(BegunDayEntries, SecondSupplyEntries, SecondChargerEntries, SupplyEntries, ChargerEntries, PlannedPacksEntries):
    """The packs of the day, the outputs, what feeds them, and the hands."""

    aim: str = choice("What counts most", AIMS, group=DAY, starts_as=SOONEST, asked_as="what counts most")
    by_clock: float = hour("No charge ends after", only_with=("aim", (BY_AN_HOUR,)), asked_as="the hour by which the charges end")
    start_clock: float | None = hour(
        "You begin at", optional=True, hint="Left empty, all hours here count from the start.", asked_as="the hour at which you begin"
    )
    change_min: float = number(
        "Time to put one pack on",
        MINUTES,
        group=DAY,
        least=0,
        most=30,
        starts_as=plain(CHANGE_PACKS_MIN.value),
        hint="The last one off, the next one looked over and read, set and started.",
        asked_as="the time to put one pack on",
    )
    watched_charges: float = number(
        "Charges that you watch at once",
        CHARGES,
        group=DAY,
        least=1,
        most=4,
        whole=True,
        starts_as="2",
        asked_as="the number of charges that you watch at once",
    )
    pack_degc: float | None = same_as(
        PackEntries, "pack_degc", group=DAY, hint="The coldest of them. A number with F after it is read as °F."
    )
    pack_warmth: str | None = same_as(PackEntries, "pack_warmth", group=DAY)
    requested_rate_c: float = same_as(RateEntries, "requested_rate_c", group=DAY)
    joined_by: str | None = choice(
        "Packs may go on together",
        JOINING_CHOICES,
        asked_as="the way packs may go on together",
        group=JOINING,
        optional=True,
        hint="Left empty, each goes on alone.",
    )
    balance_plugs_into: str = same_as(
        PlugsEntries,
        "balance_plugs_into",
        group=JOINING,
        only_with=("joined_by", (SERIES, EITHER)),
        options={key: PLUG_CHOICES[key] for key in (PORTS_OF_THEIR_OWN, SERIES_BALANCE_LEAD)},
    )
    join_length_m: float = same_as(LeadsEntries, "join_length_m", group=JOINING, only_with=("joined_by", (BOARD, EITHER)))
    join_area_mm2: float = same_as(LeadsEntries, "join_area_mm2", group=JOINING, only_with=("joined_by", (BOARD, EITHER)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """When all is ready, what to do next in order of time, who is left out, and what would change it."""

    cautions: tuple[Caution, ...] = shown("Look out")
    ready: Setting = shown("Packs ready", "The plan")
    last_ready: Setting | None = shown("The last one", "The plan")
    charge_left: Range | None = shown("Left in the battery afterwards", "The plan")
    second_charge_left: Range | None = shown("Left in the battery of output 2 afterwards", "The plan")
    timeline: Timeline | None = shown("Timeline", "The plan")
    turns: Agenda | None = shown("What to do next", "What to do next")
    left_out: Table | None = shown("Left out", "Left out")
    what_if: Table | None = shown("What would change it", "What would change it")


def work_out(given: Inputs) -> Answer:
    """Return the plan. Refuses a pack that must not be charged, a charger or a supply that does not fit, and an hour before the start."""
    joined = given.joined_by
    day = planned_day(given, parallel=joined in (BOARD, EITHER), series=joined in (SERIES, EITHER))
    clock = DayClock(given.start_clock)
    return Answer(
        cautions=_cautions(given, day),
        ready=_ready(given, day),
        last_ready=last_ready_shown(day.begun, day.plan.turns, clock, "how full each pack is and how long its end may take"),
        charge_left=_charge_left(day, 0),
        second_charge_left=_charge_left(day, 1),
        timeline=timeline(given, day, clock),
        turns=turns_table(given, day, clock),
        left_out=left_out_table(day, clock),
        what_if=what_if_table(given, day),
    )


def _ready(given: Inputs, day: PlannedDay) -> Setting:
    if not day.waiting and day.begun.packs:
        return Setting(figure="Nothing more to put on", set_by="what is on already, or done")
    if not day.waiting:
        return Setting(figure="Nothing to charge", set_by=f"what you read: all are full already, {Figure(len(day.sound), PACKS)}")
    ready = len(day.waiting) - day.plan.worth.left_out
    if ready == len(day.waiting):
        return Setting(figure=f"All{' that wait' if day.begun.packs else ''}, {Figure(ready, PACKS)}", set_by=_how_good(given, day))
    return Setting(figure=f"{ready} of {Figure(len(day.waiting), PACKS)}", set_by=_how_good(given, day))


def _how_good(given: Inputs, day: PlannedDay) -> str:
    """How near the plan is to the best: proven, or how much better one could be that was not looked at."""
    best, bound = day.plan.worth, day.plan.bound
    if day.plan.is_proven:
        return "the best order of all at these currents, by what counts most: every other was ruled out"
    found = "a good order, found without trying every one"
    if bound.left_out < best.left_out:
        return f"{found}: the best has {Figure(best.left_out - bound.left_out, PACKS)} more at most"
    if given.aim in (BATTERY_LEAST, WEAR_LEAST):
        what = "from the battery" if given.aim == BATTERY_LEAST else "wear"
        return f"{found}: {'another may take a little less' if bound.cost < best.cost else 'none takes less'} {what}, and another may end sooner"
    return f"{found}: it ends at most {Figure(best.end_min - bound.end_min, MINUTES)} after the best"


def _charge_left(day: PlannedDay, number: int) -> Range | None:
    supply = next((one for one in day.on_batteries if one.number == number), None)
    if supply is None or supply.battery is None:
        return None
    left = [day.left_percent(supply, None, of) for of in (lambda span: span.most, lambda span: span.likely, lambda span: span.least)]
    whose = "The one of output 1. " if len(day.supplies) > 1 and number == 0 else ""
    note = f"{whose}From {Figure(supply.battery.before_percent, PERCENT)}; {floor_words(supply.entries)}."
    return range_of(Span(*left), PERCENT, "what the packs take is a range", note)


def _too_late(given: Inputs, day: PlannedDay) -> tuple[Caution, ...]:
    """The packs that wait although the hour by which they were wanted has passed: they are charged without it."""
    hours = [(day.sound[place], given.packs[place].wanted_clock) for place in day.waiting]
    return tuple(
        Caution(sentence=f"{one.title} was wanted by {Figure(hour, CLOCK).number}, which has passed: it comes too late.", grave=False)
        for one, hour in hours
        if hour is not None and min_from_start(hour, given.start_clock) <= 0
    )


def _cautions(given: Inputs, day: PlannedDay) -> tuple[Caution, ...]:
    no_more = f", but never more current than its line here: {OTHER_TAKES_A_PART}" if day.shares else ""
    sentences = [
        (f"Read each pack's cells again before you put it on, and take the settings that its own page then gives{no_more}. Stay with all of them, awake.", True, False),
        ("The packs differ: set chemistry and cells anew for each one. A wrong mode sets a pack on fire.", day.packs_differ, True),
        (f"Only the whole pack was read: {day.unread()}. It goes on alone, and its charge holds until every cell has been read.",
         bool(day.unread()), False),
        (f"Full already: {day.full()}.", bool(day.full()) and bool(day.waiting), False),
    ]  # fmt: skip
    no_look = next(filter(None, (cautions_of_no_look(one.condition) for one in day.sound)), ())
    doubts = tuple(
        Caution(sentence=f"{one.title}: {doubt.sentence}", grave=doubt.grave) for one in day.sound for doubt in one.condition.doubts
    )
    return (
        *cautions_of_inputs(day.supplies, day.outputs, day.chargers),
        *doubts,
        *(Caution(sentence=sentence, grave=grave) for sentence, applies, grave in sentences if applies),
        *_too_late(given, day),
        *cautions_of_two_plugs(day.on_two_ports()),
        *no_look,
    )
