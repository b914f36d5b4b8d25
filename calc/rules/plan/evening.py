"""The packs of a day on their way to storage: which goes on which output, charged or discharged, so that most are done before you go.

The same search as for a day of charges finds it. What only discharges takes nothing from the supply: the charger turns it into heat.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil

from calc.figures.quantities import SUPPLY_VOLTS, Figure
from calc.inputs.equipment import ChargerEntries, DischargingChargerEntries, PackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import SupplyEntries
from calc.rules.pack.acceptance import problems_of_supply
from calc.rules.plan.day import Bench, Lot, Plan, Turn, whole_min
from calc.rules.plan.search import best_plan
from calc.rules.plan.supplies import IntoPacks, PlanSupply
from calc.rules.plan.timing import timed
from calc.rules.plan.tools import PlanOutput, Tools, joined_places
from calc.rules.storage.storage_moves import Move
from calc.rules.storage.storing import Goal, StoragePlan, storage_plan
from calc.rules.supply.battery_floor import at_its_floor


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningMove:
    """One way of a pack to storage: its place in the list, its move, what sets the current, and the most power that it takes from the charger.

    `outputs` are those that it is for, from 0 on; None where it may go on any. What goes up hangs on a `supply`,
    through a charger of this efficiency.
    """

    pack: int
    move: Move
    because: str
    power_w: int
    supply: int | None = None
    efficiency_percent: float | None = None
    outputs: tuple[int, ...] | None = None


def plan_of(pack: PackEntries, tools: Tools) -> StoragePlan:
    """Return the way of a pack to storage as its own page has it on the first output that can bring it there; refuses what every output refuses."""
    found, refused = [], []
    for output in tools.kinds:
        try:
            found.append(_plan_on(pack, output, tools))
        except Refused as problems:
            refused.append(problems)
    if not found:
        raise refused[0]
    return next((plan for plan in found if plan.move), found[0])


def _plan_on(pack: PackEntries, output: PlanOutput, tools: Tools) -> StoragePlan:
    return _storage_plan(pack, output.charger, tools.supplies[output.supply], tools)


def _storage_plan(pack: PackEntries, charger: ChargerEntries, supply: SupplyEntries, tools: Tools) -> StoragePlan:
    assert isinstance(charger, DischargingChargerEntries), "an evening asks what its chargers take out of a pack"
    return storage_plan(pack=pack, charger=charger, supply=supply, goal=Goal.STORAGE, requested_rate_c=tools.requested_rate_c)


def possible_moves(place: int, pack: PackEntries, tools: Tools) -> list[EveningMove]:
    """Return the ways that an evening may choose from for a pack that goes somewhere, on each kind of output: up, at the full current and at
    what leaves room for another output, as the supply is at its floor; down, by the discharger's own power.
    """
    found: dict[EveningMove, list[tuple[int, ...] | None]] = {}
    refused = []
    for output, places in tools.kinds.items():
        try:
            for way in _ways_on(place, pack, tools, output):
                found.setdefault(way, []).append(places)
        except Refused as problems:
            refused.append(problems)
    if not found and refused:
        raise refused[0]
    return [replace(way, outputs=joined_places(places, len(tools.outputs))) for way, places in found.items()]


def _ways_on(place: int, pack: PackEntries, tools: Tools, output: PlanOutput) -> list[EveningMove]:
    plan = _plan_on(pack, output, tools)
    if plan.move is None or plan.move.count is None:
        return []
    if plan.move.goes_up:
        return _ways_up(place, pack, plan, tools, output)
    return [EveningMove(pack=place, move=plan.move, because=plan.move.dial.binding.because, power_w=0)]


def _ways_up(place: int, pack: PackEntries, plan: StoragePlan, tools: Tools, output: PlanOutput) -> list[EveningMove]:
    found: list[EveningMove] = []
    supply = at_its_floor(tools.supplies[output.supply])
    if problems_of_supply(supply=supply, charger=output.charger):
        # As it rests now it starts the charger, or the plan of the pack would have been refused.
        rests = Figure(supply.battery_resting_v, SUPPLY_VOLTS.to_step(0.01))
        sentence = (
            f"At its floor this battery rests at {rests}, no higher than the charger's lowest input: the charger stops before then, so no "
            "evening can be planned on it. Use another supply."
        )
        raise Refused(Problem("battery_resting_v", sentence))
    for number, share in enumerate(tools.shares(output)):
        try:
            move = _storage_plan(pack, output.with_power(share.power_w), supply, tools).move
        except Refused:
            # What cannot go at its full current is refused; a slower way is only left out.
            if number == 0:
                raise
            continue
        if move is None or any(one.move.dial.current_a == move.dial.current_a for one in found):
            continue
        found.append(
            EveningMove(
                pack=place,
                move=move,
                because=share.set_by(move.dial.binding),
                power_w=tools.whole_w(move.dial.current_a * pack.cells * plan.chemistry.full_cell_v.value, output.supply),
                supply=output.supply,
                efficiency_percent=output.charger.efficiency_percent,
            )
        )
    return found


def quickest_ways(moves: Iterable[EveningMove]) -> list[EveningMove]:
    """Return the way of each pack that is most likely the quickest, which stands for the pack, in the order of the packs."""
    found: dict[int, EveningMove] = {}
    for one in moves:
        if one.pack not in found or one.move.time_min.likely < found[one.pack].move.time_min.likely:
            found[one.pack] = one
    return [found[pack] for pack in sorted(found)]


def evening_lots(moves: Sequence[EveningMove], change_min: float, supplies: Sequence[PlanSupply]) -> list[Lot]:
    """Return the moves in whole numbers, each rounded up.

    Of two evenings with as many packs done that is better which leaves the quicker ones for another day: a pack costs the minutes by which
    the slowest of all takes longer.
    """
    likely_min = {one.pack: whole_min(one.move.time_min.likely) for one in quickest_ways(moves)}
    slowest_min = max(likely_min.values(), default=0)
    return [
        Lot(
            packs=(one.pack,),
            put_on_min=ceil(change_min),
            likely_min=whole_min(one.move.time_min.likely),
            most_min=whole_min(one.move.time_min.most),
            power_w=one.power_w,
            battery_mah=battery_mah_of(one, supplies),
            cost=slowest_min - likely_min[one.pack],
            outputs=one.outputs,
        )
        for one in moves
    ]


def battery_mah_of(one: EveningMove, supplies: Sequence[PlanSupply]) -> int:
    """Return what a move takes from a battery at most, mAh: nothing where the pack goes down."""
    return 0 if one.supply is None else supplies[one.supply].taken_mah(into_pack(one, one.move.energy_wh.most))


def into_pack(one: EveningMove, energy_wh: float) -> IntoPacks:
    """Return what goes into a pack on its way up, and how."""
    assert one.efficiency_percent is not None, "what goes up is on a charger"
    return IntoPacks(energy_wh, one.efficiency_percent)


def evening_plan(bench: Bench, lots: Sequence[Lot], instead_of: Plan | None = None) -> Plan:
    """Return the best order of an evening, the slowest first wherever that costs nothing: it is the one that is put off.

    Beside an order that it would be `instead_of`, it is looked for less closely, as `best_plan` does.
    """
    plan = best_plan(bench, lots, instead_of)
    order: list[tuple[int, int]] = []
    turns: tuple[Turn, ...] = ()
    for lot in sorted((turn.lot for turn in plan.turns), key=lambda lot: (-lots[lot].likely_min, lots[lot].packs)):
        tried = [
            (timed(bench, lots, [*order, (lot, output)]), (lot, output)) for output in range(bench.outputs) if lots[lot].may_go_on(output)
        ]
        turns, chosen = min(tried, key=lambda one: (one[0][-1].starts_min, one[1]))
        order.append(chosen)
    ends_min = max((*(turn.ends_min for turn in turns), *(one.ends_min for one in bench.running)), default=0)
    in_time = all(_is_in_time(bench, lots[turn.lot], turn) for turn in turns)
    return replace(plan, turns=turns) if in_time and ends_min <= plan.worth.end_min else plan


def _is_in_time(bench: Bench, lot: Lot, turn: Turn) -> bool:
    return all((by := bench.wanted_min[place]) is None or turn.ends_at_latest_min <= by for place in lot.packs)
