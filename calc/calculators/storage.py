"""How do I bring this pack to storage, or down to a cutoff, how long will it take, and when do I stop?

On the way down the charger's power binds long before the current on the dial; on the way up the limits are those of a charge.
Storage is reached by counting the charge, a cutoff by what the weakest cell shows under load. The lowest cell ends a discharge and
the highest a charge; cells too far apart for either are balanced first. Assumes a rested, sound pack.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators.parts.storage_way import left_apart_sentence, stops_shown, way_shown
from calc.facts.ageing import HOT_CAR_DEGC, ROOM_DEGC
from calc.facts.practice import STORE_WITHIN_DAYS
from calc.figures.quantities import CELL_VOLTS, DAYS, DEGREES_CELSIUS, RATE, TIMES_AS_FAST, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Row, Setting, Table, held_by, shown
from calc.inputs.equipment import DischargingChargerEntries, PackEntries
from calc.inputs.fields import Group, choice, number
from calc.inputs.supply import SupplyEntries
from calc.physics.cell.ageing import ageing_compared
from calc.presenting.balance_plugs import cautions_of_two_plugs
from calc.presenting.source_lines import source_line
from calc.presenting.stops import warming_sentence
from calc.presenting.storage_words import band_words
from calc.presenting.supply_load import feed_cautions, floor_cautions
from calc.presenting.verdicts import UNTIL_READ, cautions_before_storage, cautions_of_label, cautions_of_no_look
from calc.rules.charge.own_plugs import needs_two_ports
from calc.rules.pack.findings import Verdict
from calc.rules.storage.storing import Goal, StoragePlan, Way, cutoff_of, is_in_band, storage_plan, storage_target_cell_v

WANTED = Group("wanted", "Where you want it")
GOALS = {
    Goal.STORAGE.value: "Storage: not flown in the next day or two",
    Goal.CAREFUL_CUTOFF.value: "The careful cutoff: to measure what it holds",
    Goal.MAKER_CUTOFF.value: "The maker's cutoff: no margin is left",
}


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries, DischargingChargerEntries, PackEntries):
    """A pack, a charger, a supply, where the pack is to be left, and at which rate."""

    goal: str = choice("Bring it to", GOALS, group=WANTED, starts_as=Goal.STORAGE.value, asked_as="what to bring it to")
    requested_rate_c: float = number(
        "Rate you want, up or down",
        RATE,
        group=WANTED,
        least=0.05,
        most=20,
        starts_as="1",
        hint="1C suits most packs. The label still counts, and may allow less.",
        asked_as="the rate you want",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What to do, what to dial in, when to stop, what to expect, and by when."""

    cautions: tuple[Caution, ...] = shown("Look out")
    what_to_do: Setting = shown("Which way", "What to do")
    current: Setting | None = shown("Current to dial in", "What to do")
    real_current: Range | None = shown("What will really flow", "What to do")
    time: Range | None = shown("Minutes", "How long, how much")
    charge_moved: Range | None = shown("Charge to move", "How long, how much")
    energy_moved: Range | None = shown("Energy to move", "How long, how much")
    stop_after: Setting | None = shown("Stop after", "When to stop")
    cutoff: Setting | None = shown("Discharge cutoff of one cell", "When to stop")
    stop_cell: Setting | None = shown("Or as soon as one cell shows", "When to stop")
    temperature_stop: Setting | None = shown("Temperature stop", "When to stop")
    cell_shows: Range | None = shown("A cell then shows, still under current", "When to stop")
    pack_shows: Range | None = shown("The pack then shows, still under current", "When to stop")
    rests_at: Setting | None = shown("Half an hour later it should rest at", "When to stop")
    rests_afterwards: Range | None = shown("Half an hour later a cell rests at", "When to stop")
    stopped_by_voltage: Range | None = shown("Stopped by what a cell shows, that cell rests at", "When to stop")
    within: Setting | None = shown("Do it within", "By when")
    waiting: Table | None = shown("What waiting costs", "By when")


def work_out(given: Inputs) -> Answer:
    """Return the way from the reading to the goal, up or down, or the advice to leave the pack alone.

    Refuses what speaks against the pack, the charger, the supply or the temperature.
    """
    goal = Goal(given.goal)
    plan = storage_plan(pack=given, charger=given, supply=given, goal=goal, requested_rate_c=given.requested_rate_c)
    way = way_shown(plan, pack=given, charger=given)
    stops = stops_shown(plan, goal, pack=given, charger=given)
    return Answer(
        cautions=(*feed_cautions(given, given), *(floor_cautions(given) if plan.is_charged else ()), *_cautions(given, goal, plan)),
        what_to_do=_what_to_do(goal, plan),
        **held_by(way),
        **held_by(stops),
        within=_within(goal, plan),
        waiting=_waiting(plan) if goal is Goal.STORAGE and plan.chemistry.ages_as_modelled else None,
    )


def _what_to_do(goal: Goal, plan: StoragePlan) -> Setting:
    lowest, highest = (Figure(cell_v, CELL_VOLTS) for cell_v in (plan.reading.lowest_cell_v, plan.reading.highest_cell_v))
    if goal is Goal.STORAGE:
        return _to_storage(plan, lowest, highest)
    cutoff = f"the cutoff of {Figure(cutoff_of(goal, plan.chemistry).value, CELL_VOLTS)}"
    if plan.move is None:
        return Setting(
            figure="Do not discharge it",
            also=lowest,
            set_by=f"the lowest cell, at rest no higher than {cutoff}",
            note="Bring it to storage now: it is low.",
        )
    return Setting(figure="Discharge it", also=lowest, set_by=f"the lowest cell, at rest above {cutoff}")


def _to_storage(plan: StoragePlan, lowest: Figure, highest: Figure) -> Setting:
    band = f"the storage band of {band_words(plan.chemistry)}"
    every = "every cell" if plan.reading.each_cell else "the mean of the cells"
    if plan.way is Way.LEAVE:
        nearly = "" if is_in_band(plan.chemistry, plan.reading) else ", as near as a meter can tell"
        return Setting(figure="Leave it", also=lowest, set_by=f"{every} at rest, within {band}{nearly}", note="Unplug it and put it away.")
    if plan.way is Way.BALANCE:
        return Setting(
            figure=Verdict.BALANCE.words,
            also=lowest,
            set_by=f"the cells, from {lowest} to {highest}: too far apart to bring all of them to {band} by a charge or a discharge",
            note="Let the charger balance it at the current below, with the balance plug in, until the cells are level. Let it rest for half an "
            "hour, read every cell, and enter the new reading here.",
        )
    which = "lowest cell" if plan.reading.each_cell else "mean of the cells"
    if plan.way is Way.CHARGE:
        return Setting(figure="Charge it", also=lowest, set_by=f"the {which}, at rest below {band}")
    which = which.replace("lowest", "highest")
    return Setting(figure="Discharge it", also=highest, set_by=f"the {which}, at rest above {band}")


def _within(goal: Goal, plan: StoragePlan) -> Setting | None:
    if goal is not Goal.STORAGE:
        return Setting(
            figure="today, to storage",
            set_by="a pack at its cutoff has little left above its floor, below which copper can dissolve (Hendricks 2020)",
        )
    if plan.way is Way.LEAVE:
        return None
    if plan.is_charged:
        return Setting(
            figure="today", set_by="a low cell loses the little that it has, and below its floor copper can dissolve (Hendricks 2020)"
        )
    return Setting(figure=Figure(STORE_WITHIN_DAYS.value, DAYS), set_by=source_line(STORE_WITHIN_DAYS))


def _waiting(plan: StoragePlan) -> Table:
    target_v, room_degc = storage_target_cell_v(plan.chemistry), ROOM_DEGC.value
    # Fuller ages faster: the fullest cell counts.
    highest_v = plan.reading.highest_cell_v
    now = f"As it is, {Figure(highest_v, CELL_VOLTS)}"
    stored = f"In the band, {Figure(target_v, CELL_VOLTS.to_step(0.001))}"

    def cell(cell_v: float, degc: float) -> Figure:
        return Figure(ageing_compared(cell_v, degc, with_cell_v=target_v, with_degc=room_degc), TIMES_AS_FAST)

    degrees = (ROOM_DEGC.value, HOT_CAR_DEGC.value)
    return Table(
        caption="How fast it ages while it lies there",
        columns=("State", "In a cool room", "In a hot car"),
        rows=tuple(
            Row(heading=words, cells=tuple(cell(cell_v, degc) for degc in degrees))
            for words, cell_v in ((now, highest_v), (stored, target_v))
        ),
        notes=(
            worded(
                "At {} and {}, compared with storage in the cool room, by a published model of a round cell (Schmalstieg 2014). For a "
                "pouch-type pack no such model is published: take the order from it, not the figures.",
                Figure(ROOM_DEGC.value, DEGREES_CELSIUS),
                Figure(HOT_CAR_DEGC.value, DEGREES_CELSIUS),
            ),
        ),
    )


def _cautions(given: Inputs, goal: Goal, plan: StoragePlan) -> tuple[Caution, ...]:
    move = plan.move
    sentences = [
        (warming_sentence(given, plan.chemistry, move.time_min, move.dial.current_a) if move and move.goes_up else "", True),
        ("At the maker's cutoff nothing is left for the weakest cell: stay with it, and watch every cell.", True)
        if move and goal is Goal.MAKER_CUTOFF
        else ("", True),
        ("A pack at its cutoff is not stored: bring it back up to storage the same day.", False)
        if goal is not Goal.STORAGE
        else ("", False),
        ("The cells differ by more than a healthy pack's do: find out why before you put it away.", False)
        if plan.reading.is_uneven
        else ("", False),
        (left_apart_sentence(move.count) if move and move.count and plan.reading.is_uneven else "", False),
        (UNTIL_READ if not plan.reading.each_cell and given.cells > 1 and plan.way is not Way.LEAVE else "", False),
        (
            "The charger's power limits the current to far less than you set. It takes hours: plan for them, and do not set more current.",
            False,
        )
        if move and move.is_held_by_power
        else ("", False),
        ("Stay with it, awake, as with a charge: pack and charger get warm.", False) if plan.way is not Way.LEAVE else ("", False),
    ]
    return (
        *cautions_of_label(plan.condition),
        *cautions_before_storage(plan.condition, is_charged=plan.is_charged),
        *(Caution(sentence=sentence, grave=grave) for sentence, grave in sentences if sentence),
        *cautions_of_two_plugs(["This pack"] if plan.way is not Way.LEAVE and needs_two_ports(given.cells, given) else []),
        # A pack is put away for weeks only when it is whole: that holds of one that is left as it is, too.
        *cautions_of_no_look(plan.condition),
    )
