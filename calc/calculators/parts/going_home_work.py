"""An evening out of what was entered: the way of each pack to storage, and the order in which most of them are done in time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import ceil, fsum
from typing import TYPE_CHECKING

from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.inputs.fields import entries_of
from calc.inputs.planned_day import BEGUN, BegunPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row
from calc.rules.plan.battery import Battery, battery_of
from calc.rules.plan.begun import Begun, begun_of, bench_of, on_at_once, problems_of_begun
from calc.rules.plan.charges import Tools
from calc.rules.plan.day import Lot, Plan, Turn
from calc.rules.plan.evening import EveningMove, evening_lots, evening_plan, possible_moves
from calc.rules.storage.storing import Goal, StoragePlan, storage_plan

if TYPE_CHECKING:
    from calc.calculators.going_home import Inputs

# What would be with one output more is looked at less closely than the evening itself.
_KEPT_WHAT_IF = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningPack:
    """A pack that must go somewhere and waits for it: its place in the list, which way, how long, and what it takes from the battery."""

    place: int
    goes_up: bool
    time_min: Span
    battery_mah: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """The plan of each pack as its own page has it, those that wait, the moves to choose from, and the best order of these.

    The packs of `lots` are places in `waiting`. `begun` is what is on or done already, `begun_ah` what the battery has given for it at
    most; `outputs` are those that the order has, from 0 on. `with_output` is the order with one more, where that could help.
    """

    plans: tuple[StoragePlan, ...]
    begun: Begun
    begun_ah: float
    outputs: tuple[int, ...]
    waiting: tuple[EveningPack, ...]
    moves: tuple[EveningMove, ...]
    lots: tuple[Lot, ...]
    battery: Battery | None
    efficiency_percent: float
    until_min: float
    plan: Plan
    with_output: Plan | None

    def move_of(self, turn: Turn) -> EveningMove:
        """The move of a turn."""
        return self.moves[turn.lot]

    @property
    def left_out(self) -> tuple[EveningPack, ...]:
        """The waiting packs that are not done tonight."""
        done = {self.move_of(turn).pack for turn in self.plan.turns}
        return tuple(pack for pack in self.waiting if pack.place not in done)

    @property
    def takes_charge(self) -> bool:
        """Whether any move of the evening takes charge from the battery."""
        return any(self.move_of(turn).move.goes_up for turn in self.plan.turns)

    def battery_would_fall(self, pack: EveningPack) -> bool:
        """Whether the battery would fall below its floor if this pack were charged as well."""
        if self.battery is None:
            return False
        used_mah = mah_from_ah(self.begun_ah) + fsum(self.lots[turn.lot].battery_mah for turn in self.plan.turns)
        return used_mah + pack.battery_mah > mah_from_ah(self.battery.usable_ah)

    def left_percent(self, battery: Battery, time_min: float, course: str) -> float:
        """What is left in the battery at a minute of the likely course, %, if each charge takes what it does on a course."""
        taken = [self.begun_ah]
        for turn in self.plan.turns:
            move = self.move_of(turn).move
            if move.goes_up:
                done = min(max((time_min - turn.starts_min) / (turn.ends_min - turn.starts_min), 0.0), 1.0)
                taken.append(done * battery.taken_ah(getattr(move.energy_wh, course), self.efficiency_percent))
        return battery.left_percent(fsum(taken))


def evening_of(given: Inputs) -> Evening:
    """Return the evening worked out, or refuse what speaks against it, all at once."""
    begun = begun_of(given, given.packs, given.start_clock)
    outputs = on_at_once(begun, int(given.charger_outputs), int(given.watched_charges))
    tools = Tools(
        charger=given, supply=given, outputs=len(outputs), all_outputs_w=given.all_outputs_w, requested_rate_c=given.requested_rate_c
    )
    plans = _plans(given)
    all_moves = [
        move
        for place, plan in enumerate(plans)
        for move in possible_moves(place, given.packs[place].as_pack(given.pack_degc, given.pack_warmth), plan, given, tools)
    ]
    first_moves = {move.pack: move for move in reversed(all_moves)}
    battery = _battery(given, all_moves, tools)

    def taken_mah(energy_wh: float) -> int:
        return 0 if battery is None else ceil(mah_from_ah(battery.taken_ah(energy_wh, given.efficiency_percent)))

    waiting = _waiting([move for place, move in sorted(first_moves.items()) if place not in begun.packs], taken_mah)
    moves = [move for move in all_moves if move.pack not in begun.packs]
    number_of = {pack.place: number for number, pack in enumerate(waiting)}
    lots = [replace(lot, packs=(number_of[lot.packs[0]],)) for lot in evening_lots(moves, given.change_min, taken_mah)]
    begun_ah = _taken_by_begun_ah(given, [move for place, move in first_moves.items() if place in begun.packs], battery)
    until_min = _until_min(given)
    bench = bench_of(
        begun,
        tools,
        outputs,
        battery=battery,
        begun_ah=begun_ah,
        wanted_min=(int(until_min),) * len(waiting),
        powers_w=[move.power_w for move in all_moves],
        alone_w=lambda place: first_moves[place].power_w if place in first_moves else 0,
    )
    plan = evening_plan(bench, lots)
    may_watch_more = plan.worth.left_out > 0 and given.watched_charges > tools.outputs
    return Evening(
        plans=plans,
        begun=begun,
        begun_ah=begun_ah,
        outputs=outputs,
        waiting=waiting,
        moves=tuple(moves),
        lots=tuple(lots),
        battery=battery,
        efficiency_percent=given.efficiency_percent,
        until_min=until_min,
        plan=plan,
        with_output=evening_plan(replace(bench, outputs=bench.outputs + 1), lots, _KEPT_WHAT_IF) if may_watch_more else None,
    )


def _waiting(first_moves: Sequence[EveningMove], taken_mah: Callable[[float], int]) -> tuple[EveningPack, ...]:
    return tuple(
        EveningPack(
            place=one.pack,
            goes_up=one.move.goes_up,
            time_min=one.move.time_min,
            battery_mah=taken_mah(one.move.energy_wh.most) if one.move.goes_up else 0,
        )
        for one in first_moves
    )


def _until_min(given: Inputs) -> float:
    """How long there is from the start: the time that was entered, or until the hour at which you go, whichever ends first."""
    if given.leave_clock is None or given.start_clock is None:
        return given.time_left_min
    return min(given.time_left_min, given.leave_clock - given.start_clock)


def _plans(given: Inputs) -> tuple[StoragePlan, ...]:
    """The way of each pack. What is wrong with charger, supply or evening is said once, and not for every pack."""
    of_a_pack = entries_of(BegunPackEntries)
    shared = {problem.field: problem for problem in _problems(given)}

    def plan(stored: BegunPackEntries) -> StoragePlan | None:
        try:
            return storage_plan(
                pack=stored.as_pack(given.pack_degc, given.pack_warmth),
                charger=given,
                supply=given,
                goal=Goal.STORAGE,
                requested_rate_c=given.requested_rate_c,
            )
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


def _problems(given: Inputs) -> list[Problem]:
    found = problems_of_begun(given, given.packs, given.start_clock, int(given.charger_outputs))
    if given.leave_clock is not None and given.start_clock is None and given.day_begun != BEGUN:
        found.append(Problem("start_clock", "Enter the hour at which you begin: you gave the hour at which you go.", missing=True))
    if given.leave_clock is not None and given.start_clock is not None and given.leave_clock <= given.start_clock:
        found.append(Problem("leave_clock", "This hour is before you begin: enter a later one, or begin earlier."))
    return found


def _battery(given: Inputs, moves: Sequence[EveningMove], tools: Tools) -> Battery | None:
    """The battery, where anything is charged from one."""
    at_once_w = min(tools.together_w, tools.outputs * max((move.power_w for move in moves), default=0))
    if not given.is_lead_acid or not at_once_w:
        return None
    return battery_of(given, pack_power_w=at_once_w, efficiency_percent=given.efficiency_percent)


def _taken_by_begun_ah(given: Inputs, moves: Sequence[EveningMove], battery: Battery | None) -> float:
    """What the packs that are on or done have taken from the battery, or will have, at most."""
    if battery is None:
        return 0.0
    return fsum(battery.taken_ah(one.move.energy_wh.most, given.efficiency_percent) for one in moves if one.move.goes_up)
