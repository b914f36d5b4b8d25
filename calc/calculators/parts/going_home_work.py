"""An evening out of what was entered: the way of each pack to storage, and the order in which most of them are done in time."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum
from typing import TYPE_CHECKING

from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.inputs.equipment import ChargerEntries, DischargingChargerEntries
from calc.inputs.fields import entries_of, part_of
from calc.inputs.planned_day import BEGUN, BegunPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row
from calc.inputs.second_supply import supplies_of
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
from calc.rules.plan.day import Bench, Lot, Plan, Turn
from calc.rules.plan.evening import (
    EveningMove,
    battery_mah_of,
    evening_lots,
    evening_plan,
    into_pack,
    plan_of,
    possible_moves,
    quickest_ways,
)
from calc.rules.plan.supplies import PlanSupply, plan_supplies, problems_of_second_charger, share_a_supply
from calc.rules.plan.timing import waited_for
from calc.rules.plan.tools import Tools, outputs_of
from calc.rules.storage.storing import StoragePlan

if TYPE_CHECKING:
    from calc.calculators.going_home import Inputs


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningPack:
    """A pack that must go somewhere and waits for it: its place in the list, which way, how long, and what each supply that can charge it gives."""

    place: int
    goes_up: bool
    time_min: Span
    supplied_mah: Mapping[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """The plan of each pack as its own page has it, those that wait, the moves to choose from, and the best order of these.

    The packs of `lots` are places in `waiting`. `begun` is what is on or done already; `outputs` are those that the order has, from 0 on, and
    `chargers` what each is of, and `supplies` what feeds them.
    `waited_for` has for each turn the other output that must be ready before; `with_output` is the order with one more, where that could help.
    """

    plans: tuple[StoragePlan, ...]
    begun: Begun
    outputs: tuple[int, ...]
    one_at_a_time: bool
    chargers: tuple[ChargerEntries, ...]
    waiting: tuple[EveningPack, ...]
    moves: tuple[EveningMove, ...]
    lots: tuple[Lot, ...]
    supplies: tuple[PlanSupply, ...]
    until_min: float
    plan: Plan
    waited_for: tuple[int | None, ...]
    with_output: Plan | None

    @property
    def shares(self) -> bool:
        """Whether two charges may draw on one supply at once, and each then has but a part of it."""
        charged = any(move.move.goes_up for move in self.moves)
        return charged and share_a_supply(self.supplies, one_at_a_time=self.one_at_a_time)

    def move_of(self, turn: Turn) -> EveningMove:
        """The move of a turn."""
        return self.moves[turn.lot]

    def charger_for(self, place: int) -> ChargerEntries:
        """The charger that a pack goes on tonight; the first one for a pack that waits."""
        on = [turn.output for turn in self.plan.turns if self.move_of(turn).pack == place]
        return self.chargers[on[0] if on else 0]

    @property
    def left_out(self) -> tuple[EveningPack, ...]:
        """The waiting packs that are not done tonight."""
        done = {self.move_of(turn).pack for turn in self.plan.turns}
        return tuple(pack for pack in self.waiting if pack.place not in done)

    @property
    def on_batteries(self) -> tuple[PlanSupply, ...]:
        """The batteries from which a move of the evening takes charge."""
        taken = {self.move_of(turn).supply for turn in self.plan.turns}
        return tuple(supply for supply in self.supplies if supply.battery is not None and supply.number in taken)

    def too_empty_for(self, pack: EveningPack) -> list[PlanSupply]:
        """The batteries that would fall below their floor if this pack were charged as well; none where another supply could charge it."""
        found = []
        for number, more_mah in pack.supplied_mah.items():
            supply = self.supplies[number]
            if supply.battery is None:
                return []
            on_it = [self.lots[turn.lot].battery_mah for turn in self.plan.turns if self.move_of(turn).supply == number]
            if mah_from_ah(supply.begun_ah) + fsum(on_it) + more_mah <= mah_from_ah(supply.battery.usable_ah):
                return []
            found.append(supply)
        return found

    def left_percent(self, supply: PlanSupply, time_min: float, of: Callable[[Span], float]) -> float:
        """What is left in a supply's battery at a minute of the likely course, %: each charge takes its share of it evenly."""
        into_packs = []
        for turn in self.plan.turns:
            one = self.move_of(turn)
            if one.supply == supply.number:
                done = min(max((time_min - turn.starts_min) / (turn.ends_min - turn.starts_min), 0.0), 1.0)
                into_packs.append(into_pack(one, done * of(one.move.energy_wh)))
        return supply.left_percent(into_packs)


def evening_of(given: Inputs) -> Evening:
    """Return the evening worked out, or refuse what speaks against it, all at once."""
    begun = begun_of(given, given.packs, given.start_clock)
    first = part_of(given, DischargingChargerEntries)
    tools = Tools(
        supplies=supplies_of(given, given),
        outputs=outputs_of(first, given.second_discharging_charger_of(first), given),
        all_outputs_w=given.all_outputs_w,
        requested_rate_c=given.requested_rate_c,
        at_once=max(int(given.watched_charges), len(begun.on)),
    )
    return _evening_with(given, _plans(given, tools), begun, tools)


def _evening_with(given: Inputs, plans: tuple[StoragePlan, ...], begun: Begun, all_tools: Tools) -> Evening:
    watched = int(given.watched_charges)
    outputs = outputs_in_use(begun, all_tools.outputs, watched)
    tools = all_tools.on(outputs)
    packs = [one.as_pack(given.pack_degc, given.pack_warmth) for one in given.packs]
    all_moves = [move for place, pack in enumerate(packs) for move in possible_moves(place, pack, tools)]
    quickest = {move.pack: move for move in quickest_ways(all_moves)}
    begun_wh = [(place, way.move.energy_wh.most) for place, way in quickest.items() if place in begun.packs and way.move.goes_up]
    supplies = plan_supplies(tools, outputs, charges=all_moves, begun=begun_by_supply(begun, all_tools, begun_wh))
    waiting = tuple(_waiting(place, quickest[place], all_moves, supplies) for place in quickest if place not in begun.packs)
    moves = [move for move in all_moves if move.pack not in begun.packs]
    number_of = {pack.place: number for number, pack in enumerate(waiting)}
    lots = [replace(lot, packs=(number_of[lot.packs[0]],)) for lot in evening_lots(moves, given.change_min, supplies)]
    until_min = _until_min(given)
    bench = bench_of(
        begun,
        tools,
        outputs,
        watched=watched,
        supplies=supplies,
        wanted_min=(int(until_min),) * len(waiting),
        powers_w=[(move.power_w, move.supply) for move in all_moves if move.supply is not None],
        alone_w=lambda place: quickest[place].power_w if place in quickest else 0,
    )
    plan = evening_plan(bench, lots)
    may_watch_more = plan.worth.left_out > 0 and given.watched_charges > len(outputs)
    return Evening(
        plans=plans,
        begun=begun,
        outputs=outputs,
        one_at_a_time=bench.one_at_a_time,
        chargers=tuple(output.charger for output in tools.outputs),
        waiting=waiting,
        moves=tuple(moves),
        lots=tuple(lots),
        supplies=supplies,
        until_min=until_min,
        plan=plan,
        waited_for=waited_for(bench, lots, plan.turns),
        with_output=_with_output(bench, lots, plan) if may_watch_more else None,
    )


def _with_output(bench: Bench, lots: Sequence[Lot], plan: Plan) -> Plan:
    """The order with one output more, like the first and on its supply."""
    more = bench.outputs
    also = [replace(lot, outputs=(*lot.outputs, more)) if lot.outputs and 0 in lot.outputs else lot for lot in lots]
    return evening_plan(replace(bench, outputs=more + 1, hangs_on=(*bench.hangs_on, bench.hangs_on[0])), also, plan)


def _waiting(place: int, first: EveningMove, moves: Sequence[EveningMove], supplies: Sequence[PlanSupply]) -> EveningPack:
    on_each = [quickest_ways(move for move in moves if move.pack == place and move.supply == supply.number) for supply in supplies]
    return EveningPack(
        place=place,
        goes_up=first.move.goes_up,
        time_min=first.move.time_min,
        supplied_mah={number: battery_mah_of(one, supplies) for number, found in enumerate(on_each) for one in found},
    )


def _until_min(given: Inputs) -> float:
    """How long there is from the start: the time that was entered, or until the hour at which you go, whichever ends first."""
    if given.leave_clock is None or given.start_clock is None:
        return given.time_left_min
    return min(given.time_left_min, max(0, min_from_start(given.leave_clock, given.start_clock)))


def _plans(given: Inputs, tools: Tools) -> tuple[StoragePlan, ...]:
    """The way of each pack. What is wrong with charger, supply or evening is said once, and not for every pack."""
    of_a_pack = entries_of(BegunPackEntries)
    shared = {problem.field: problem for problem in _problems(given, tools)}

    def plan(stored: BegunPackEntries) -> StoragePlan | None:
        try:
            return plan_of(stored.as_pack(given.pack_degc, given.pack_warmth), tools)
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


def _problems(given: Inputs, tools: Tools) -> list[Problem]:
    found = problems_of_begun(given, given.packs, given.start_clock, int(given.charger_outputs))
    found += problems_of_second_charger(given, tools)
    if given.leave_clock is not None and given.start_clock is None and given.day_begun != BEGUN:
        found.append(Problem("start_clock", "Enter the hour at which you begin: you gave the hour at which you go.", missing=True))
    if given.leave_clock is None or given.start_clock is None or given.day_begun == BEGUN:
        return found
    if min_from_start(given.leave_clock, given.start_clock) <= 0:
        found.append(Problem("leave_clock", OUT_OF_THE_PLAN))
    return found
