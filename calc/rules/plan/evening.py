"""The packs of a day on their way to storage: which goes on which output, charged or discharged, so that most are done before you go.

The same search as for a day of charges finds it. What only discharges takes nothing from the supply: the charger turns it into heat.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import ceil

from calc.figures.limits import Limit
from calc.inputs.equipment import DischargingChargerEntries, PackEntries
from calc.inputs.refusals import Refused
from calc.inputs.supply import SupplyEntries
from calc.rules.charge.charging_limits import CHARGER_POWER
from calc.rules.plan.battery import at_its_floor
from calc.rules.plan.charges import ALL_POWER, SHARED_POWER, SHARED_SUPPLY, Tools
from calc.rules.plan.day import Bench, Lot, Plan, Turn
from calc.rules.plan.search import best_plan, timed
from calc.rules.storage.storage_moves import Move
from calc.rules.storage.storing import Goal, StoragePlan, storage_plan


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningMove:
    """One way of a pack to storage: its place in the list, its move, what sets the current, and the most power that it takes from the charger."""

    pack: int
    move: Move
    because: str
    power_w: int


def possible_moves(place: int, pack: PackEntries, plan: StoragePlan, charger: DischargingChargerEntries, tools: Tools) -> list[EveningMove]:
    """Return the ways that an evening may choose from for a pack that goes somewhere: up, at the full current and at what leaves room for
    a second output, as the supply is at its floor; down, by the discharger's own power.
    """
    if plan.move is None or plan.move.count is None:
        return []
    if not plan.move.goes_up:
        return [EveningMove(pack=place, move=plan.move, because=_because(plan.move.dial.binding, ALL_POWER, is_capped=False), power_w=0)]
    together_w = tools.together_w
    shared = SHARED_POWER if together_w == int(tools.own_w) else SHARED_SUPPLY
    ways = [(min(charger.charger_power_w, tools.own_w), ALL_POWER)]
    if tools.outputs > 1:
        ways.append((min(charger.charger_power_w, together_w // 2), shared))
    found: list[EveningMove] = []
    supply: SupplyEntries = at_its_floor(tools.supply)
    for number, (power_w, words) in enumerate(ways):
        try:
            move = storage_plan(
                pack=pack,
                charger=replace(charger, charger_power_w=power_w),
                supply=supply,
                goal=Goal.STORAGE,
                requested_rate_c=tools.requested_rate_c,
            ).move
        except Refused:
            # What cannot go at its full current is refused; a slower way is only left out.
            if number == 0:
                raise
            continue
        if move is None or any(one.move.dial.current_a == move.dial.current_a for one in found):
            continue
        most_w = tools.whole_w(move.dial.current_a * pack.cells * plan.chemistry.full_cell_v.value)
        because = _because(move.dial.binding, words, is_capped=power_w < charger.charger_power_w)
        found.append(EveningMove(pack=place, move=move, because=because, power_w=most_w))
    return found


def _because(binding: Limit, power_words: str, *, is_capped: bool) -> str:
    return power_words if is_capped and binding.because == CHARGER_POWER else binding.because


def evening_lots(moves: Sequence[EveningMove], change_min: float, taken_mah: Callable[[float], int]) -> list[Lot]:
    """Return the moves in whole numbers, each rounded up. `taken_mah` is what the battery gives for watt-hours that go into packs.

    Of two evenings with as many packs done that is better which leaves the quicker ones for another day: a pack costs the minutes by which
    the slowest of all takes longer.
    """
    # Of a pack's ways the first is the quickest: it stands for the pack.
    likely_min = {one.pack: _whole(one.move.time_min.likely) for one in reversed(moves)}
    slowest_min = max(likely_min.values(), default=0)
    return [
        Lot(
            packs=(one.pack,),
            put_on_min=ceil(change_min),
            likely_min=_whole(one.move.time_min.likely),
            most_min=_whole(one.move.time_min.most),
            power_w=one.power_w,
            battery_mah=taken_mah(one.move.energy_wh.most) if one.move.goes_up else 0,
            cost=slowest_min - likely_min[one.pack],
        )
        for one in moves
    ]


def _whole(time_min: float) -> int:
    return max(1, ceil(time_min))


def evening_plan(bench: Bench, lots: Sequence[Lot], kept: int | None = None) -> Plan:
    """Return the best order of an evening, the slowest first wherever that costs nothing: it is the one that is put off."""
    plan = best_plan(bench, lots, kept)
    order: list[tuple[int, int]] = []
    turns: tuple[Turn, ...] = ()
    for lot in sorted((turn.lot for turn in plan.turns), key=lambda lot: (-lots[lot].likely_min, lots[lot].packs)):
        tried = [(timed(bench, lots, [*order, (lot, output)]), (lot, output)) for output in range(bench.outputs)]
        turns, chosen = min(tried, key=lambda one: (one[0][-1].starts_min, one[1]))
        order.append(chosen)
    ends_min = max((*(turn.ends_min for turn in turns), *(one.ends_min for one in bench.running)), default=0)
    in_time = all(_is_in_time(bench, lots[turn.lot], turn) for turn in turns)
    return replace(plan, turns=turns) if in_time and ends_min <= plan.worth.end_min else plan


def _is_in_time(bench: Bench, lot: Lot, turn: Turn) -> bool:
    return all((by := bench.wanted_min[place]) is None or turn.ends_at_latest_min <= by for place in lot.packs)
