"""The plan of a day out of what was entered: the packs judged, the charges that they may have, and the best order of these."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from calc.calculators.parts.day_plan_planned_day import PlannedDay
from calc.figures.units import mah_from_ah, percent_from_fraction
from calc.inputs.equipment import ChargerEntries
from calc.inputs.fields import part_of
from calc.inputs.joined_packs import SERIES_BALANCE_LEAD
from calc.inputs.planned_day import BEGUN, PlannedPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, in_row
from calc.inputs.second_supply import supplies_of
from calc.physics.supply.leads import lead_span_ohm
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.pack.acceptance import judged, problems_of_charger, problems_of_supply
from calc.rules.pack.findings import Act
from calc.rules.plan.begun import (
    OUT_OF_THE_PLAN,
    Begun,
    begun_by_supply,
    begun_of,
    bench_of,
    min_from_start,
    outputs_in_use,
    problems_of_begun,
)
from calc.rules.plan.charges import PossibleCharge, possible_charges
from calc.rules.plan.day import Bench, Feed, Lot, Plan, whole_min
from calc.rules.plan.joints import JoiningLead
from calc.rules.plan.search import best_plan
from calc.rules.plan.supplies import IntoPacks, PlanSupply, plan_supplies, problems_of_second_charger
from calc.rules.plan.timing import waited_for
from calc.rules.plan.tools import PlanOutput, Tools, outputs_of

if TYPE_CHECKING:
    from calc.calculators.day_plan import Inputs

SOONEST, BY_AN_HOUR, BATTERY_LEAST, WEAR_LEAST = "soonest", "by_hour", "battery", "wear"
AIMS = {
    SOONEST: "All ready as soon as possible",
    BY_AN_HOUR: "As many as possible by an hour",
    BATTERY_LEAST: "The least from the battery",
    WEAR_LEAST: "The least wear: as slow as there is time for",
}
# The aims for which slower charges are worth a look.
_SLOWER = (BATTERY_LEAST, WEAR_LEAST)
# A cell this near to full is full.
_FULL_WITHIN_V = 0.01


def planned_day(given: Inputs, *, parallel: bool, series: bool) -> PlannedDay:
    """Return the day worked out, or refuse what speaks against it, all at once."""
    begun = begun_of(given, given.packs, given.start_clock)
    first = part_of(given, ChargerEntries)
    tools = Tools(
        supplies=supplies_of(given, given),
        outputs=outputs_of(first, given.second_charger_of(first), given),
        all_outputs_w=given.all_outputs_w,
        requested_rate_c=given.requested_rate_c,
        at_once=max(int(given.watched_charges), len(begun.on)),
        lead=_lead(given) if parallel else None,
        series=series,
        series_balance_lead=given.balance_plugs_into == SERIES_BALANCE_LEAD,
    )
    sound = _sound(given, tools.outputs, _problems(given, tools))
    return _planned_with(given, sound, begun, tools)


def _planned_with(given: Inputs, sound: tuple[SoundPack, ...], begun: Begun, all_tools: Tools) -> PlannedDay:
    watched = int(given.watched_charges)
    outputs = outputs_in_use(begun, all_tools.outputs, watched)
    tools = all_tools.on(outputs)
    not_full = [place for place, one in enumerate(sound) if one.reading.lowest_cell_v < one.chemistry.full_cell_v.value - _FULL_WITHIN_V]
    waiting = tuple(place for place in not_full if place not in begun.packs)
    waiting_packs = [sound[place] for place in waiting]
    charges = possible_charges(waiting_packs, tools, slower=given.aim in _SLOWER)
    begun_places = [place for place in not_full if place in begun.packs]
    alone = possible_charges([sound[place] for place in begun_places], replace(tools, lead=None, series=False), slower=False)
    begun_wh = [(place, max(one.energy_wh.most for one in alone if one.packs == (number,))) for number, place in enumerate(begun_places)]
    supplies = plan_supplies(tools, outputs, charges=(*charges, *alone), begun=begun_by_supply(begun, all_tools, begun_wh))
    wanted = tuple(_wanted_min(given, sound[place]) for place in waiting)
    lots = [_lot(given, charge, supplies) for charge in charges]
    alone_w = {place: max((one.power_w for one in alone if one.packs == (number,)), default=0) for number, place in enumerate(begun_places)}
    bench = bench_of(
        begun,
        tools,
        outputs,
        watched=watched,
        supplies=supplies,
        wanted_min=wanted,
        powers_w=[(charge.power_w, charge.supply) for charge in (*charges, *alone)],
        alone_w=lambda place: alone_w.get(place, 0),
    )
    plan = best_plan(bench, lots)
    has_more = any(supply.battery for supply in supplies) and plan.worth.left_out > 0
    may_watch_more = given.watched_charges > len(outputs) and plan.turns
    return PlannedDay(
        sound=sound,
        waiting=waiting,
        begun=begun,
        outputs=outputs,
        chargers=tuple(output.charger for output in tools.outputs),
        outputs_differ=len(tools.kinds) > 1,
        one_at_a_time=bench.one_at_a_time,
        charges=tuple(charges),
        supplies=supplies,
        wanted_min=wanted,
        plan=plan,
        waited_for=waited_for(bench, lots, plan.turns),
        with_battery=best_plan(_with_batteries(bench, supplies), lots, plan) if has_more else None,
        with_output=_with_output(given, waiting_packs, bench, tools, supplies, plan) if may_watch_more else None,
    )


def _with_batteries(bench: Bench, supplies: Sequence[PlanSupply]) -> Bench:
    """The same with a second battery like each."""

    def more(feed: Feed, supply: PlanSupply) -> Feed:
        if feed.battery_mah is None or supply.battery is None:
            return feed
        return replace(feed, battery_mah=feed.battery_mah + int(mah_from_ah(supply.battery.usable_ah)))

    return replace(bench, feeds=tuple(more(feed, supply) for feed, supply in zip(bench.feeds, supplies, strict=True)))


def _with_output(given: Inputs, packs: Sequence[SoundPack], bench: Bench, tools: Tools, supplies: Sequence[PlanSupply], plan: Plan) -> Plan:
    """The plan with one output more, like the first and on its supply, and the batteries as they are."""
    first = tools.outputs[0]
    wider = replace(tools, outputs=(*tools.outputs, first))
    lots = [_lot(given, charge, supplies) for charge in possible_charges(packs, wider, slower=given.aim in _SLOWER)]
    feeds = list(bench.feeds)
    feeds[first.supply] = replace(feeds[first.supply], power_w=wider.together_w(first.supply))
    with_output = replace(bench, outputs=len(wider.outputs), feeds=tuple(feeds), hangs_on=(*bench.hangs_on, first.supply))
    return best_plan(with_output, lots, plan)


def _problems(given: Inputs, tools: Tools) -> list[Problem]:
    """What speaks against the day, whatever the packs: the supply, an aim that it has not, hours before the start."""
    found = [*problems_of_supply(supply=given, charger=given), *problems_of_second_charger(given, tools)]
    found += problems_of_begun(given, given.packs, given.start_clock, int(given.charger_outputs))
    if given.aim == BATTERY_LEAST and not any(supply.is_lead_acid for supply in tools.supplies):
        found.append(Problem("aim", "A mains supply does not run down: choose another aim."))
    if given.day_begun == BEGUN:  # that hours pass is what a late day is
        return found
    if given.aim == BY_AN_HOUR and min_from_start(given.by_clock, given.start_clock) <= 0:
        found.append(Problem("by_clock", OUT_OF_THE_PLAN))
    for number, one in enumerate(given.packs, 1):
        if one.wanted_clock is not None and min_from_start(one.wanted_clock, given.start_clock) <= 0:
            found.append(in_row(type(given), "packs", number, Problem("wanted_clock", OUT_OF_THE_PLAN)))
    return found


def _sound(given: Inputs, outputs: Sequence[PlanOutput], also: Sequence[Problem]) -> tuple[SoundPack, ...]:
    def sound(stored: PlannedPackEntries) -> SoundPack:
        pack = stored.as_pack(given.pack_degc, given.pack_warmth)
        of_each = [problems_of_charger(output.charger, pack.cells) for output in outputs]
        one = judged(pack, of_each[0] if all(of_each) else (), Act.CHARGE)
        return SoundPack(number=0, entries=pack, chemistry=one.chemistry, reading=one.reading, condition=one.condition)

    try:
        found = each_row(given, "packs", sound)
    except Refused as refused:
        raise Refused(*refused.problems, *also) from None
    if also:
        raise Refused(*also)
    return tuple(replace(one, number=number) for number, one in enumerate(found, 1))


def _lead(given: Inputs) -> JoiningLead:
    return JoiningLead(resistance_ohm=lead_span_ohm(given.join_length_m, given.join_area_mm2), area_mm2=given.join_area_mm2)


def _wanted_min(given: Inputs, pack: SoundPack) -> int | None:
    """By when a pack must be ready. What comes too late for its own hour is charged all the same; after the hour of all nothing is."""
    hours_min = [min_from_start(given.by_clock, given.start_clock)] if given.aim == BY_AN_HOUR else []
    own_clock = given.packs[pack.number - 1].wanted_clock
    if own_clock is not None and (own_min := min_from_start(own_clock, given.start_clock)) > 0:
        hours_min.append(own_min)
    return min(hours_min, default=None)


def _lot(given: Inputs, charge: PossibleCharge, supplies: Sequence[PlanSupply]) -> Lot:
    """A charge in whole numbers, each rounded up: no plan counts on less than it takes."""
    battery_mah = supplies[charge.supply].taken_mah(IntoPacks(charge.energy_wh.most, charge.efficiency_percent))
    wear = len(charge.packs) * ceil(percent_from_fraction(charge.rate_c))
    return Lot(
        packs=charge.packs,
        put_on_min=ceil(given.change_min) * len(charge.packs),
        likely_min=whole_min(charge.time_min.likely),
        most_min=whole_min(charge.time_min.most),
        power_w=charge.power_w,
        battery_mah=battery_mah,
        cost={BATTERY_LEAST: battery_mah, WEAR_LEAST: wear}.get(given.aim, 0),
        outputs=charge.outputs,
    )
