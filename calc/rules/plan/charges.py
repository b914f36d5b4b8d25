"""What may go on an output: each pack alone, or several together, at the current that the limits allow, and at slower ones.

Each charge is one that the page for it would allow: the packs judged, joined by the rules of joining, the current by every limit.
A battery counts as it rests at its floor, and the outputs never take more at once than they may together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from math import ceil

from calc.figures.limits import Limit
from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.refusals import Refused
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import rate_c_of_current
from calc.rules.charge.charge_outlook import Outlook, outlook_of
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import CHARGER_POWER, current_limits, power_limits
from calc.rules.joined.joined_packs import SoundPack, joint_reading
from calc.rules.joined.packs_in_parallel import parallel_current_limits, parallel_pack
from calc.rules.joined.packs_in_series import series_current_limits, series_pack
from calc.rules.plan.battery import at_its_floor
from calc.rules.plan.joints import JoiningLead, balancing_in_series, candidates, wait_side_by_side

SHARED_POWER = "half of the power of all outputs together"
SHARED_SUPPLY = "half of what the supply and its lead can give"
ALL_POWER = "the power of all outputs together"
_NOTHING = Span(0.0, 0.0, 0.0)
_HAIR = 1e-6


class Together(Enum):
    """How the packs of one charge are connected."""

    ALONE = "alone"
    PARALLEL = "in parallel"
    SERIES = "in series"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """What is there to charge with. `all_outputs_w` is None where the outputs share no power; `lead` where nothing is joined in parallel."""

    charger: ChargerEntries
    supply: SupplyEntries
    outputs: int
    all_outputs_w: float | None
    requested_rate_c: float
    lead: JoiningLead | None = None
    series: bool = False
    series_balance_lead: bool = False

    @property
    def own_w(self) -> float:
        """The most that the charger puts into packs at once."""
        each_w = self.charger.charger_power_w * self.outputs
        return each_w if self.all_outputs_w is None else min(each_w, self.all_outputs_w)

    @property
    def together_w(self) -> int:
        """The most that goes into packs at once, in whole watts: by the charger, or by the supply at its floor.

        Where that is less than one it is one: each charge counts as a whole watt at least, so that one goes on at a time.
        """
        supply_w = min(limit.ceiling for limit in power_limits(charger=self.charger, supply=at_its_floor(self.supply))[1:])
        return max(int(min(supply_w, self.own_w) + _HAIR), 1)

    def whole_w(self, power_w: float) -> int:
        """Return the power of one charge in whole watts, rounded up; one that takes all there is leaves none for another."""
        return min(ceil(power_w - _HAIR), self.together_w)


@dataclass(frozen=True, slots=True, kw_only=True)
class PossibleCharge:
    """One charge of a plan: the packs, as places in the list, how they are connected, the current, what sets it, and what it takes."""

    packs: tuple[int, ...]
    together: Together
    current_a: float
    because: str
    time_min: Span
    energy_wh: Span
    power_w: int
    rate_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _AsOne:
    """Packs that go on together, as the entries of one pack; their limits on a charger and at a rate; and what their time grows by."""

    packs: tuple[int, ...]
    together: Together
    entries: PackEntries
    sound: Sequence[SoundPack]
    limits: Callable[[ChargerEntries, float], list[Limit]]
    more_min: Span


def possible_charges(packs: Sequence[SoundPack], tools: Tools, *, slower: bool) -> list[PossibleCharge]:
    """Return every charge that a plan may choose from; `slower` adds each at half the rate, for whoever has the time.

    Refuses a pack alone for which no current can be dialled in. Where several together would be, they are not offered.
    """
    found = [charge for place in range(len(packs)) for charge in _at_its_currents(_alone(place, packs, tools), tools, slower=slower)]
    for chosen in candidates(packs) if tools.lead or tools.series else ():
        for joint in _joints(chosen, packs, tools):
            try:
                found += _at_its_currents(joint, tools, slower=slower)
            except Refused:
                continue
    return found


def _alone(place: int, packs: Sequence[SoundPack], tools: Tools) -> _AsOne:
    one = packs[place]

    def limits(charger: ChargerEntries, rate_c: float) -> list[Limit]:
        return current_limits(
            pack=one.entries, charger=charger, supply=at_its_floor(tools.supply), chemistry=one.chemistry, requested_rate_c=rate_c
        )

    return _AsOne(packs=(place,), together=Together.ALONE, entries=one.entries, sound=(one,), limits=limits, more_min=_NOTHING)


def _joints(chosen: tuple[int, ...], packs: Sequence[SoundPack], tools: Tools) -> list[_AsOne]:
    """The same packs side by side, and one after the other: whichever is allowed."""
    sound, supply = [packs[place] for place in chosen], at_its_floor(tools.supply)
    found = []
    if (lead := tools.lead) and (wait := wait_side_by_side(sound, tools.charger, lead)):
        lead_ohm = lead.resistance_ohm

        def beside(charger: ChargerEntries, rate_c: float) -> list[Limit]:
            return parallel_current_limits(packs=sound, charger=charger, supply=supply, requested_rate_c=rate_c, lead_ohm=lead_ohm)

        found.append(
            _AsOne(packs=chosen, together=Together.PARALLEL, entries=parallel_pack(sound), sound=sound, limits=beside, more_min=wait)
        )
    if tools.series and (balancing := balancing_in_series(sound, tools.charger, series_balance_lead=tools.series_balance_lead)):

        def after(charger: ChargerEntries, rate_c: float) -> list[Limit]:
            return series_current_limits(packs=sound, charger=charger, supply=supply, requested_rate_c=rate_c)

        found.append(
            _AsOne(packs=chosen, together=Together.SERIES, entries=series_pack(sound), sound=sound, limits=after, more_min=balancing)
        )
    return found


def _at_its_currents(one: _AsOne, tools: Tools, *, slower: bool) -> list[PossibleCharge]:
    """The same packs at the full current, at what leaves room for a second output, and at half the rate."""
    together_w = tools.together_w
    whole = replace(tools.charger, charger_power_w=min(tools.charger.charger_power_w, tools.own_w))
    half = replace(tools.charger, charger_power_w=min(tools.charger.charger_power_w, together_w // 2))
    shared = SHARED_POWER if together_w == int(tools.own_w + _HAIR) else SHARED_SUPPLY
    ways = [(whole, tools.requested_rate_c, ALL_POWER)]
    if tools.outputs > 1:
        ways.append((half, tools.requested_rate_c, shared))
    if slower:
        ways.append((whole if tools.outputs == 1 else half, tools.requested_rate_c / 2, shared))
    found: list[PossibleCharge] = []
    for number, (charger, rate_c, power_words) in enumerate(ways):
        try:
            current_a, binding = charge_setting_a(
                pack=one.entries, current_step_a=charger.current_step_a, limits=one.limits(charger, rate_c)
            )
        except Refused:
            # What cannot be charged at its full current is refused; a slower one is only left out.
            if number == 0:
                raise
            continue
        if any(charge.current_a == current_a for charge in found):
            continue
        is_capped = charger.charger_power_w < tools.charger.charger_power_w
        because = power_words if binding.because == CHARGER_POWER and is_capped else binding.because
        found.append(_charge(one, tools, current_a, because))
    return found


def _charge(one: _AsOne, tools: Tools, current_a: float, because: str) -> PossibleCharge:
    chemistry = one.sound[0].chemistry
    reading = one.sound[0].reading if one.together is Together.ALONE else joint_reading(one.sound, one.entries.resting_v[0])
    outlook = outlook_of(
        pack=one.entries,
        balance_current_a=tools.charger.balance_current_a,
        chemistry=chemistry,
        reading=reading,
        current_a=current_a,
        warmest_degc=min(pack.entries.warmest_degc for pack in one.sound),
    )
    return PossibleCharge(
        packs=one.packs,
        together=one.together,
        current_a=current_a,
        because=because,
        time_min=_whole_min(one, outlook),
        energy_wh=outlook.energy_in_wh,
        power_w=tools.whole_w(current_a * one.entries.cells * chemistry.full_cell_v.value),
        rate_c=rate_c_of_current(one.entries.effective_capacity_mah, current_a),
    )


def _whole_min(one: _AsOne, outlook: Outlook) -> Span:
    """From the start until the cells are level: in series the balancer levels all of them, else each pack's own."""
    charged = outlook.charge_min if one.together is Together.SERIES else outlook.whole_min
    return charged.plus(one.more_min)
