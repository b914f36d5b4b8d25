"""A day as it was planned, and what its cards ask of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries
from calc.rules.charge.own_plugs import needs_two_ports
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.plan.begun import Begun
from calc.rules.plan.charges import PossibleCharge
from calc.rules.plan.day import Plan, Turn
from calc.rules.plan.supplies import IntoPacks, PlanSupply, share_a_supply


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedDay:
    """The day: its packs, those among them that wait for a charge, the charges to choose from, the plan, and two plans with more to hand.

    `waited_for` has for each turn of the plan the other output that must be ready before.

    `waiting` are places in `sound`; the packs of a charge are places in `waiting`. `begun` is what is on or done already; `outputs` are those
    that the plan has, from 0 on, `chargers` what each is of, and `supplies` what feeds them. `with_battery` is the plan with a second battery like each, `with_output` with
    one output more, like the first of those; None where that is not asked.
    """

    sound: tuple[SoundPack, ...]
    waiting: tuple[int, ...]
    begun: Begun
    outputs: tuple[int, ...]
    chargers: tuple[ChargerEntries, ...]
    outputs_differ: bool
    one_at_a_time: bool
    charges: tuple[PossibleCharge, ...]
    supplies: tuple[PlanSupply, ...]
    wanted_min: tuple[int | None, ...]
    plan: Plan
    waited_for: tuple[int | None, ...]
    with_battery: Plan | None
    with_output: Plan | None

    def charge_of(self, turn: Turn) -> PossibleCharge:
        """The charge of a turn."""
        return self.charges[turn.lot]

    def title(self, place: int) -> str:
        """What a waiting pack is called on the form."""
        return self.sound[self.waiting[place]].title

    @property
    def packs_differ(self) -> bool:
        """Whether two of those that wait need different settings on the charger."""
        return len({(self.sound[place].entries.chemistry, self.sound[place].cells) for place in self.waiting}) > 1

    @property
    def left_out(self) -> tuple[int, ...]:
        """The waiting packs that no turn charges."""
        return self._left_out_of(self.plan)

    def out_with_battery(self) -> tuple[int, ...]:
        """The waiting packs that are left out even with a second battery."""
        return self.left_out if self.with_battery is None else self._left_out_of(self.with_battery)

    @property
    def shares(self) -> bool:
        """Whether two charges may draw on one supply at once, and each then has but a part of it."""
        return share_a_supply(self.supplies, one_at_a_time=self.one_at_a_time)

    def on_two_ports(self) -> list[str]:
        """The packs with more cells than one balance port of their charger takes; the first charger counts for one that no turn charges."""
        charger_of = {place: self.chargers[turn.output] for turn in self.plan.turns for place in self.charge_of(turn).packs}
        return [
            self.title(number)
            for number, place in enumerate(self.waiting)
            if needs_two_ports(self.sound[place].cells, charger_of.get(number, self.chargers[0]))
        ]

    def unread(self) -> str:
        """The waiting packs of which not every cell was read."""
        return ", ".join(self.sound[place].title for place in self.waiting if not self.sound[place].reading.each_cell)

    def full(self) -> str:
        """The packs that are full already."""
        seen = {*self.waiting, *self.begun.packs}
        return ", ".join(one.title for place, one in enumerate(self.sound) if place not in seen)

    @property
    def on_batteries(self) -> tuple[PlanSupply, ...]:
        """The supplies that run down."""
        return tuple(supply for supply in self.supplies if supply.battery is not None)

    @property
    def is_at_the_floor(self) -> bool:
        """Whether every supply is a battery that rests at its floor already, or below it."""
        return all(supply.battery is not None and supply.battery.usable_ah == 0 for supply in self.supplies)

    def left_percent(self, supply: PlanSupply, time_min: float | None, of: Callable[[Span], float]) -> float:
        """What is left in a supply's battery by a minute of the likely course, or in the end, %: each charge takes its share of it evenly."""
        into_packs = []
        for turn in self.plan.turns:
            if self.outputs[turn.output] in supply.outputs:
                done = 1.0 if time_min is None else (time_min - turn.starts_min) / (turn.ends_min - turn.starts_min)
                charge = self.charge_of(turn)
                into_packs.append(IntoPacks(min(max(done, 0.0), 1.0) * of(charge.energy_wh), charge.efficiency_percent))
        return supply.left_percent(into_packs)

    def _left_out_of(self, plan: Plan) -> tuple[int, ...]:
        charged = {place for turn in plan.turns for place in self.charge_of(turn).packs}
        return tuple(place for place in range(len(self.waiting)) if place not in charged)
