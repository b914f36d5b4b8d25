"""A day as it was planned, and what its cards ask of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import fsum

from calc.figures.spans import Span
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.plan.battery import Battery
from calc.rules.plan.begun import Begun
from calc.rules.plan.charges import PossibleCharge
from calc.rules.plan.day import Plan, Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedDay:
    """The day: its packs, those among them that wait for a charge, the charges to choose from, the plan, and two plans with more to hand.

    `waiting` are places in `sound`; the packs of a charge are places in `waiting`. `begun` is what is on or done already, and `begun_ah`
    what the battery has given for it at most; `outputs` are those that the plan has, from 0 on. `with_battery` is the plan with a second battery
    like the first, `with_output` with one output more; None where that is not asked.
    """

    sound: tuple[SoundPack, ...]
    waiting: tuple[int, ...]
    begun: Begun
    begun_ah: float
    outputs: tuple[int, ...]
    charges: tuple[PossibleCharge, ...]
    battery: Battery | None
    efficiency_percent: float
    wanted_min: tuple[int | None, ...]
    plan: Plan
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

    def unread(self) -> str:
        """The waiting packs of which not every cell was read."""
        return ", ".join(self.sound[place].title for place in self.waiting if not self.sound[place].reading.each_cell)

    def on_two_ports(self, port_cells: float) -> str:
        """The waiting packs that one balance port cannot take."""
        return ", ".join(self.sound[place].title for place in self.waiting if self.sound[place].cells > port_cells)

    def full(self) -> str:
        """The packs that are full already."""
        seen = {*self.waiting, *self.begun.packs}
        return ", ".join(one.title for place, one in enumerate(self.sound) if place not in seen)

    def taken_ah(self) -> Span:
        """What the plan takes from the battery from now on, Ah."""
        return Span(*(self.taken_until_ah(None, of) for of in (lambda span: span.least, lambda span: span.likely, lambda span: span.most)))

    def taken_until_ah(self, time_min: float | None, of: Callable[[Span], float]) -> float:
        """What the plan has taken from the battery by a minute of the likely course, or in all, Ah: evenly over each charge."""
        assert self.battery is not None, "a mains supply does not run down"
        taken = []
        for turn in self.plan.turns:
            done = 1.0 if time_min is None else (time_min - turn.starts_min) / (turn.ends_min - turn.starts_min)
            energy_wh = of(self.charge_of(turn).energy_wh)
            taken.append(min(max(done, 0.0), 1.0) * self.battery.taken_ah(energy_wh, self.efficiency_percent))
        return fsum(taken)

    def _left_out_of(self, plan: Plan) -> tuple[int, ...]:
        charged = {place for turn in plan.turns for place in self.charge_of(turn).packs}
        return tuple(place for place in range(len(self.waiting)) if place not in charged)
