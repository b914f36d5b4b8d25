"""The plan of a day out of what was entered: the packs judged, the charges that they may have, and the best order of these."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, fsum
from typing import TYPE_CHECKING

from calc.calculators.parts.day_plan_planned_day import PlannedDay
from calc.figures.units import mah_from_ah, percent_from_fraction
from calc.inputs.joined_packs import SERIES_BALANCE_LEAD
from calc.inputs.planned_day import BEGUN, WAITING, PlannedPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, in_row
from calc.physics.supply.leads import lead_resistance_ohm
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.pack.acceptance import judged, problems_of_charger, problems_of_supply
from calc.rules.pack.findings import Act
from calc.rules.plan.battery import Battery, battery_of
from calc.rules.plan.begun import begun_of, bench_of, on_at_once, problems_of_begun
from calc.rules.plan.charges import PossibleCharge, Tools, possible_charges
from calc.rules.plan.day import Bench, Lot, Plan
from calc.rules.plan.joints import JoiningLead
from calc.rules.plan.search import best_plan

if TYPE_CHECKING:
    from calc.calculators.day_plan import Inputs

SOONEST, BY_AN_HOUR, BATTERY_LEAST, WEAR_LEAST = "soonest", "by_hour", "battery", "wear"
AIMS = {
    SOONEST: "All ready as soon as can be",
    BY_AN_HOUR: "As many as can be by an hour",
    BATTERY_LEAST: "The least from the battery",
    WEAR_LEAST: "The least wear: as slow as there is time for",
}
# The aims for which slower charges are worth a look.
_SLOWER = (BATTERY_LEAST, WEAR_LEAST)
# A cell this near to full is full.
_FULL_WITHIN_V = 0.01
# What would be with one battery or output more is looked at less closely than the plan itself.
_KEPT_WHAT_IF = 40


def planned_day(given: Inputs, *, parallel: bool, series: bool) -> PlannedDay:
    """Return the day worked out, or refuse what speaks against it, all at once."""
    start_min = round(given.start_clock or 0)
    sound = _sound(given, _problems(given, start_min))
    begun = begun_of(given, given.packs, given.start_clock)
    outputs = on_at_once(begun, int(given.charger_outputs), int(given.watched_charges))
    not_full = [place for place, one in enumerate(sound) if one.reading.lowest_cell_v < one.chemistry.full_cell_v.value - _FULL_WITHIN_V]
    waiting = tuple(place for place in not_full if place not in begun.packs)
    tools = Tools(
        charger=given,
        supply=given,
        outputs=len(outputs),
        all_outputs_w=given.all_outputs_w,
        requested_rate_c=given.requested_rate_c,
        lead=_lead(given) if parallel else None,
        series=series,
        series_balance_lead=given.balance_plugs_into == SERIES_BALANCE_LEAD,
    )
    waiting_packs = [sound[place] for place in waiting]
    charges = possible_charges(waiting_packs, tools, slower=given.aim in _SLOWER)
    begun_places = [place for place in not_full if place in begun.packs]
    alone = possible_charges([sound[place] for place in begun_places], replace(tools, lead=None, series=False), slower=False)
    battery = _battery(given, [*charges, *alone], tools)
    begun_ah = _taken_by_begun_ah(given, alone, battery)
    wanted = tuple(_wanted_min(given, sound[place], start_min) for place in waiting)
    lots = [_lot(given, charge, battery) for charge in charges]
    alone_w = {place: max((one.power_w for one in alone if one.packs == (number,)), default=0) for number, place in enumerate(begun_places)}
    bench = bench_of(
        begun,
        tools,
        outputs,
        battery=battery,
        begun_ah=begun_ah,
        wanted_min=wanted,
        powers_w=[charge.power_w for charge in (*charges, *alone)],
        alone_w=lambda place: alone_w.get(place, 0),
    )
    plan = best_plan(bench, lots)
    has_more = bench.battery_mah is not None and plan.worth.left_out > 0
    more = replace(bench, battery_mah=(bench.battery_mah or 0) + (0 if battery is None else int(mah_from_ah(battery.usable_ah))))
    return PlannedDay(
        sound=sound,
        waiting=waiting,
        begun=begun,
        begun_ah=begun_ah,
        outputs=outputs,
        charges=tuple(charges),
        battery=battery,
        efficiency_percent=given.efficiency_percent,
        wanted_min=wanted,
        plan=plan,
        with_battery=best_plan(more, lots, _KEPT_WHAT_IF) if has_more else None,
        with_output=_with_output(given, waiting_packs, bench, tools, battery)
        if given.watched_charges > tools.outputs and plan.turns
        else None,
    )


def _with_output(given: Inputs, packs: Sequence[SoundPack], bench: Bench, tools: Tools, battery: Battery | None) -> Plan:
    """The plan with one output more of the same charger, and the battery as it is."""
    wider = replace(tools, outputs=tools.outputs + 1)
    lots = [_lot(given, charge, battery) for charge in possible_charges(packs, wider, slower=given.aim in _SLOWER)]
    return best_plan(replace(bench, outputs=wider.outputs, power_w=wider.together_w), lots, _KEPT_WHAT_IF)


def _problems(given: Inputs, start_min: int) -> list[Problem]:
    """What speaks against the day, whatever the packs: the supply, an aim that it has not, hours before the start."""
    found = problems_of_supply(supply=given, charger=given)
    found += problems_of_begun(given, given.packs, given.start_clock, int(given.charger_outputs))
    if given.aim == BATTERY_LEAST and not given.is_lead_acid:
        found.append(Problem("aim", "A mains supply does not run down: choose another aim."))
    before = "This hour is before you begin: enter a later one, or begin earlier."
    if given.aim == BY_AN_HOUR and given.by_clock <= start_min:
        found.append(Problem("by_clock", before))
    for number, one in enumerate(given.packs, 1):
        waits = given.day_begun != BEGUN or one.stands == WAITING
        if waits and one.wanted_clock is not None and one.wanted_clock <= start_min:
            found.append(in_row(type(given), "packs", number, Problem("wanted_clock", before)))
    return found


def _sound(given: Inputs, also: Sequence[Problem]) -> tuple[SoundPack, ...]:
    def sound(stored: PlannedPackEntries) -> SoundPack:
        pack = stored.as_pack(given.pack_degc, given.pack_warmth)
        one = judged(pack, problems_of_charger(given, pack.cells), Act.CHARGE)
        return SoundPack(number=0, entries=pack, chemistry=one.chemistry, reading=one.reading, condition=one.condition)

    try:
        found = each_row(given, "packs", sound)
    except Refused as refused:
        raise Refused(*refused.problems, *also) from None
    if also:
        raise Refused(*also)
    return tuple(replace(one, number=number) for number, one in enumerate(found, 1))


def _lead(given: Inputs) -> JoiningLead:
    return JoiningLead(resistance_ohm=lead_resistance_ohm(given.join_length_m, given.join_area_mm2), area_mm2=given.join_area_mm2)


def _wanted_min(given: Inputs, pack: SoundPack, start_min: int) -> int | None:
    hours = [given.packs[pack.number - 1].wanted_clock, given.by_clock if given.aim == BY_AN_HOUR else None]
    return min((round(hour) - start_min for hour in hours if hour is not None), default=None)


def _battery(given: Inputs, charges: Sequence[PossibleCharge], tools: Tools) -> Battery | None:
    if not given.is_lead_acid or not charges:
        return None
    at_once_w = min(tools.together_w, tools.outputs * max(charge.power_w for charge in charges))
    return battery_of(given, pack_power_w=at_once_w, efficiency_percent=given.efficiency_percent)


def _taken_by_begun_ah(given: Inputs, alone: Sequence[PossibleCharge], battery: Battery | None) -> float:
    """What the packs that are on or done have taken from the battery, or will have: the most that each may take, from its reading before."""
    if battery is None:
        return 0.0
    most_wh = {place: max(one.energy_wh.most for one in alone if one.packs == place) for place in {one.packs for one in alone}}
    return fsum(battery.taken_ah(energy_wh, given.efficiency_percent) for energy_wh in sorted(most_wh.values()))


def _lot(given: Inputs, charge: PossibleCharge, battery: Battery | None) -> Lot:
    """A charge in whole numbers, each rounded up: no plan counts on less than it takes."""
    battery_mah = ceil(mah_from_ah(battery.taken_ah(charge.energy_wh.most, given.efficiency_percent))) if battery else 0
    wear = len(charge.packs) * ceil(percent_from_fraction(charge.rate_c))
    return Lot(
        packs=charge.packs,
        put_on_min=ceil(given.change_min) * len(charge.packs),
        likely_min=max(1, ceil(charge.time_min.likely)),
        most_min=max(1, ceil(charge.time_min.most)),
        power_w=charge.power_w,
        battery_mah=battery_mah,
        cost={BATTERY_LEAST: battery_mah, WEAR_LEAST: wear}.get(given.aim, 0),
    )
