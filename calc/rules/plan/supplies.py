"""What feeds the outputs of a plan: each supply with the outputs that hang on it, and what its battery, if it is one, has given and may give."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, fsum
from typing import NamedTuple, Protocol

from calc.figures.units import mah_from_ah
from calc.inputs.planned_day import OutputsEntries
from calc.inputs.refusals import Problem
from calc.inputs.second_supply import of_second_charger
from calc.inputs.supply import SupplyEntries
from calc.rules.pack.acceptance import problems_of_supply
from calc.rules.plan.battery import Battery, battery_of
from calc.rules.plan.tools import Tools


class IntoPacks(NamedTuple):
    """The watt-hours that go into packs, and the efficiency of the charger by which they do."""

    energy_wh: float
    efficiency_percent: float


class Fed(Protocol):
    """A charge that a plan may choose: its power, the supply that it hangs on, if it needs one, and the outputs that it may go on."""

    @property
    def power_w(self) -> int: ...
    @property
    def supply(self) -> int | None: ...
    @property
    def outputs(self) -> tuple[int, ...] | None: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSupply:
    """A supply over the day, by its place among the supplies, and the outputs of the plan that hang on it, from 0 on.

    `battery` is None where nothing is charged from a battery. `begun_ah` is what that has given for what is on or done already, at most.
    """

    number: int
    entries: SupplyEntries
    outputs: tuple[int, ...]
    battery: Battery | None
    begun_ah: float

    def taken_mah(self, into_packs: IntoPacks) -> int:
        """What the battery gives for what goes into packs, rounded up: no plan counts on less than it takes."""
        return 0 if self.battery is None else ceil(mah_from_ah(self.battery.taken_ah(*into_packs)))

    def left_percent(self, into_packs: Iterable[IntoPacks]) -> float:
        """What is left in the battery, %, once so much has gone into packs beside what is on or done already."""
        assert self.battery is not None, "a mains supply does not run down"
        taken_ah = [self.battery.taken_ah(*one) for one in into_packs]
        return self.battery.left_percent(fsum([self.begun_ah, *taken_ah]))


def share_a_supply(supplies: Sequence[PlanSupply], *, one_at_a_time: bool) -> bool:
    """Return whether two charges may draw on one supply at once, and each then has but a part of it."""
    return not one_at_a_time and any(len(supply.outputs) > 1 for supply in supplies)


def problems_of_second_charger(entered: OutputsEntries, tools: Tools) -> list[Problem]:
    """Return what speaks against a second charger on its supply. What a supply that both hang on has wrong by itself is said with the first."""
    if not entered.has_second_charger:
        return []
    first, second = (
        problems_of_supply(supply=tools.supplies[one.supply], charger=one.charger) for one in (tools.outputs[0], tools.outputs[-1])
    )
    return of_second_charger([problem for problem in second if problem not in first], entered)


def plan_supplies(
    tools: Tools, outputs: Sequence[int], *, charges: Sequence[Fed], begun: Sequence[Iterable[IntoPacks]]
) -> tuple[PlanSupply, ...]:
    """Return the supplies of a plan on these `outputs`, which are those of the tools.

    `charges` are all that may be on; `begun` has for each supply what has gone from it into packs already.
    """
    return tuple(
        _plan_supply(tools, number, outputs, [(one.power_w, one.outputs) for one in charges if one.supply == number], begun[number])
        for number in range(len(tools.supplies))
    )


def _plan_supply(
    tools: Tools, number: int, outputs: Sequence[int], powers_w: Iterable[tuple[int, tuple[int, ...] | None]], begun: Iterable[IntoPacks]
) -> PlanSupply:
    entries, at_once_w = tools.supplies[number], tools.at_once_w(number, powers_w)
    battery = None
    if entries.is_lead_acid and at_once_w:
        battery = battery_of(entries, pack_power_w=at_once_w, efficiency_percent=tools.weakest_on(number).efficiency_percent)
    return PlanSupply(
        number=number,
        entries=entries,
        outputs=tuple(output for output, one in zip(outputs, tools.outputs, strict=True) if one.supply == number),
        battery=battery,
        begun_ah=fsum(battery.taken_ah(*one) for one in begun) if battery else 0.0,
    )
