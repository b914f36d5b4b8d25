"""What may go on an output: each pack alone, or several together, at the current that the limits allow, and at slower ones.

Each charge is one that the page for it would allow: the packs judged, joined by the rules of joining, the current by every limit.
A battery counts as it rests at its floor, and the outputs of a supply never take more at once than they may together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import partial

from calc.figures.limits import Limit
from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.planned_day import PlannedPacksEntries
from calc.inputs.refusals import Refused
from calc.inputs.rows import each_numbered
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import rate_c_of_current
from calc.rules.charge.charge_outlook import Outlook, outlook_of
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import current_limits
from calc.rules.joined.joined_packs import SoundPack, joint_reading
from calc.rules.joined.packs_in_parallel import parallel_current_limits, parallel_pack
from calc.rules.joined.packs_in_series import series_current_limits, series_pack
from calc.rules.pack.acceptance import problems_of_charger
from calc.rules.plan.joints import balancing_in_series, candidates, wait_side_by_side
from calc.rules.plan.tools import PlanOutput, Tools, joined_places
from calc.rules.supply.battery_floor import at_its_floor

_NOTHING = Span(0.0, 0.0, 0.0)


class Together(Enum):
    """How the packs of one charge are connected."""

    ALONE = "alone"
    PARALLEL = "in parallel"
    SERIES = "in series"


@dataclass(frozen=True, slots=True, kw_only=True)
class PossibleCharge:
    """One charge of a plan: the packs, as places in the list, how they are connected, the current, what sets it, and what it takes.

    `outputs` are those that it is for, from 0 on; None where it may go on any. All of them hang on one `supply`, and their chargers
    have one efficiency.
    """

    packs: tuple[int, ...]
    together: Together
    supply: int
    efficiency_percent: float
    current_a: float
    because: str
    time_min: Span
    energy_wh: Span
    power_w: int
    rate_c: float
    outputs: tuple[int, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _AsOne:
    """Packs that go on together, as the entries of one pack; their limits on a charger, from a supply and at a rate; and what their time grows by."""

    packs: tuple[int, ...]
    together: Together
    entries: PackEntries
    sound: Sequence[SoundPack]
    limits: Callable[[ChargerEntries, SupplyEntries, float], list[Limit]]
    more_min: Span


def possible_charges(packs: Sequence[SoundPack], tools: Tools, *, slower: bool) -> list[PossibleCharge]:
    """Return every charge that a plan may choose from; `slower` adds each at half the rate, for whoever has the time.

    Refuses each pack for which alone no output has a current that can be dialled in. Where several together would be, they are not offered.
    """
    places = [(one.number, place) for place, one in enumerate(packs)]

    def alone(place: int) -> list[PossibleCharge]:
        return _at_its_currents(partial(_alone, place, packs), tools, slower=slower)

    found = [charge for charges in each_numbered(PlannedPacksEntries, "packs", places, alone) for charge in charges]
    for chosen in candidates(packs) if tools.lead or tools.series else ():
        for joined in (_side_by_side, _one_after_the_other):
            try:
                found += _at_its_currents(partial(joined, chosen, packs, tools), tools, slower=slower)
            except Refused:
                continue
    return found


def _alone(place: int, packs: Sequence[SoundPack], charger: ChargerEntries) -> _AsOne:
    one = packs[place]
    if problems := problems_of_charger(charger, one.cells):
        raise Refused(*problems)

    def limits(charger: ChargerEntries, supply: SupplyEntries, rate_c: float) -> list[Limit]:
        return current_limits(pack=one.entries, charger=charger, supply=supply, chemistry=one.chemistry, requested_rate_c=rate_c)

    return _AsOne(packs=(place,), together=Together.ALONE, entries=one.entries, sound=(one,), limits=limits, more_min=_NOTHING)


def _side_by_side(chosen: tuple[int, ...], packs: Sequence[SoundPack], tools: Tools, charger: ChargerEntries) -> _AsOne | None:
    sound, lead = [packs[place] for place in chosen], tools.lead
    if lead is None or (wait := wait_side_by_side(sound, charger, lead)) is None:
        return None
    lead_ohm = lead.resistance_ohm

    def limits(charger: ChargerEntries, supply: SupplyEntries, rate_c: float) -> list[Limit]:
        return parallel_current_limits(packs=sound, charger=charger, supply=supply, requested_rate_c=rate_c, lead_ohm=lead_ohm)

    return _AsOne(packs=chosen, together=Together.PARALLEL, entries=parallel_pack(sound), sound=sound, limits=limits, more_min=wait)


def _one_after_the_other(chosen: tuple[int, ...], packs: Sequence[SoundPack], tools: Tools, charger: ChargerEntries) -> _AsOne | None:
    sound = [packs[place] for place in chosen]
    if not tools.series or (balancing := balancing_in_series(sound, charger, series_balance_lead=tools.series_balance_lead)) is None:
        return None

    def limits(charger: ChargerEntries, supply: SupplyEntries, rate_c: float) -> list[Limit]:
        return series_current_limits(packs=sound, charger=charger, supply=supply, requested_rate_c=rate_c)

    return _AsOne(packs=chosen, together=Together.SERIES, entries=series_pack(sound), sound=sound, limits=limits, more_min=balancing)


def _at_its_currents(joined: Callable[[ChargerEntries], _AsOne | None], tools: Tools, *, slower: bool) -> list[PossibleCharge]:
    """The same packs on each kind of output that can charge them; what is the same on all of them may go on any."""
    found: dict[PossibleCharge, list[tuple[int, ...] | None]] = {}
    refused = []
    for output, places in tools.kinds.items():
        try:
            one = joined(output.charger)
            for charge in _on_output(one, tools, output, slower=slower) if one else ():
                found.setdefault(charge, []).append(places)
        except Refused as problems:
            refused.append(problems)
    if refused and not found:
        raise refused[0]
    return [replace(charge, outputs=joined_places(places, len(tools.outputs))) for charge, places in found.items()]


def _on_output(one: _AsOne, tools: Tools, output: PlanOutput, *, slower: bool) -> list[PossibleCharge]:
    """The same packs on one kind of output: at the full current, at what leaves room for another output, and at half the rate."""
    shares, supply = tools.shares(output), at_its_floor(tools.supplies[output.supply])
    ways = [(share, tools.requested_rate_c) for share in shares]
    if slower:
        ways.append((shares[-1], tools.requested_rate_c / 2))
    found: list[PossibleCharge] = []
    for number, (share, rate_c) in enumerate(ways):
        charger = output.with_power(share.power_w)
        try:
            current_a, binding = charge_setting_a(
                pack=one.entries, current_step_a=charger.current_step_a, limits=one.limits(charger, supply, rate_c)
            )
        except Refused:
            # What cannot be charged at its full current is refused; a slower one is only left out.
            if number == 0:
                raise
            continue
        if any(charge.current_a == current_a for charge in found):
            continue
        found.append(_charge(one, tools, output, current_a, share.set_by(binding)))
    return found


def _charge(one: _AsOne, tools: Tools, output: PlanOutput, current_a: float, because: str) -> PossibleCharge:
    chemistry = one.sound[0].chemistry
    reading = one.sound[0].reading if one.together is Together.ALONE else joint_reading(one.sound, one.entries.resting_v[0])
    outlook = outlook_of(
        pack=one.entries,
        balance_current_a=output.charger.balance_current_a,
        chemistry=chemistry,
        reading=reading,
        current_a=current_a,
        warmest_degc=min(pack.entries.warmest_degc for pack in one.sound),
    )
    return PossibleCharge(
        packs=one.packs,
        together=one.together,
        supply=output.supply,
        efficiency_percent=output.charger.efficiency_percent,
        current_a=current_a,
        because=because,
        time_min=_whole_min(one, outlook),
        energy_wh=outlook.energy_in_wh,
        power_w=tools.whole_w(current_a * one.entries.cells * chemistry.full_cell_v.value, output.supply),
        rate_c=rate_c_of_current(one.entries.effective_capacity_mah, current_a),
        outputs=None,
    )


def _whole_min(one: _AsOne, outlook: Outlook) -> Span:
    """From the start until the cells are level: in series the balancer levels all of them, else each pack's own."""
    charged = outlook.charge_min if one.together is Together.SERIES else outlook.whole_min
    return charged.plus(one.more_min)
