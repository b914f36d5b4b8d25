"""What a plan has to charge with: outputs, alike or not, of one charger or of two, what they share, their supplies, and the leads that join packs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil, fsum

from calc.figures.limits import Limit
from calc.inputs.equipment import ChargerEntries
from calc.inputs.planned_day import OutputsEntries
from calc.inputs.supply import SupplyEntries
from calc.rules.charge.charging_limits import CHARGER_POWER, power_limits
from calc.rules.plan.joints import JoiningLead
from calc.rules.supply.battery_floor import at_its_floor

ALL_POWER = "the power of all outputs together"
_SHARED_POWER = "half of the power of all outputs together"
_SHARED_SUPPLY = "half of what the supply and its lead can give"
_LEFT_POWER = "what the other output leaves of the power of all outputs together"
_LEFT_SUPPLY = "what the other output leaves of what the supply and its lead can give"
_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class PlanOutput:
    """One output: the charger as it is on this output, and the place of what feeds it among the supplies."""

    charger: ChargerEntries
    supply: int = 0

    @property
    def power_w(self) -> float:
        """The most that it puts into packs, W."""
        return self.charger.charger_power_w

    def with_power(self, power_w: float) -> ChargerEntries:
        """The charger where this output has so much power."""
        return replace(self.charger, charger_power_w=power_w)


def outputs_of(first: ChargerEntries, second: ChargerEntries, entered: OutputsEntries) -> tuple[PlanOutput, ...]:
    """Return the outputs as they were entered, by the charger as each of two is of it."""
    both = (PlanOutput(first), PlanOutput(second, supply=1 if entered.has_second_supply else 0))
    return both[: int(entered.charger_outputs)]


def joined_places(kinds: Iterable[tuple[int, ...] | None], outputs: int) -> tuple[int, ...] | None:
    """Return the outputs of several kinds together, by place; None where these are all that there are."""
    places = sorted(place for of_kind in kinds for place in of_kind or range(outputs))
    return None if len(places) == outputs else tuple(places)


@dataclass(frozen=True, slots=True)
class PowerShare:
    """The most that one charge may take, W, and what sets that; `is_capped` where it is less than the charger has on one output."""

    power_w: float
    because: str
    is_capped: bool

    def set_by(self, binding: Limit) -> str:
        """Return what sets a current, in words, by the limit that binds."""
        return self.because if self.is_capped and binding.because == CHARGER_POWER else binding.because


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """What is there to charge with: the outputs, each with its charger.

    `supplies` are what the outputs hang on, each on one. `all_outputs_w` is None where the outputs share no power; `lead` where nothing is
    joined in parallel. At most so many charges go `at_once` as are watched, or are on already.
    """

    supplies: tuple[SupplyEntries, ...]
    outputs: tuple[PlanOutput, ...]
    all_outputs_w: float | None
    requested_rate_c: float
    at_once: int
    lead: JoiningLead | None = None
    series: bool = False
    series_balance_lead: bool = False

    def on(self, places: Iterable[int]) -> Tools:
        """Return the same with these of the outputs alone."""
        return replace(self, outputs=tuple(self.outputs[place] for place in places))

    def of_supply(self, supply: int) -> tuple[PlanOutput, ...]:
        """The outputs that hang on a supply."""
        return tuple(output for output in self.outputs if output.supply == supply)

    def weakest_on(self, supply: int) -> ChargerEntries:
        """A charger on a supply that asks as much of it as any there: with the lowest efficiency, and the highest of the lowest inputs."""
        chargers = [output.charger for output in self.of_supply(supply)]
        return replace(
            chargers[0],
            efficiency_percent=min(one.efficiency_percent for one in chargers),
            charger_input_least_v=max(one.charger_input_least_v for one in chargers),
        )

    def own_w(self, supply: int) -> float:
        """The most that the outputs of a supply put into packs at once."""
        each_w = self._most_at_once(output.power_w for output in self.of_supply(supply))
        return each_w if self.all_outputs_w is None else min(each_w, self.all_outputs_w)

    def _most_at_once(self, powers_w: Iterable[float]) -> float:
        return fsum(sorted(powers_w, reverse=True)[: self.at_once])

    @property
    def kinds(self) -> dict[PlanOutput, tuple[int, ...] | None]:
        """The outputs that differ, each with the places of all that are like it; None where all are alike."""
        found: dict[PlanOutput, tuple[int, ...] | None] = {
            output: tuple(place for place, one in enumerate(self.outputs) if one == output) for output in self.outputs
        }
        return found if len(found) > 1 else dict.fromkeys(found)

    def together_w(self, supply: int) -> int:
        """The most that goes from a supply into packs at once, in whole watts: by its outputs, or by itself at its floor.

        Where that is less than one it is one: each charge counts as a whole watt at least, so that one goes on at a time.
        """
        if not self.of_supply(supply):
            return 1
        limits = power_limits(charger=self.weakest_on(supply), supply=at_its_floor(self.supplies[supply]))
        supply_w = min(limit.ceiling for limit in limits[1:])
        return max(int(min(supply_w, self.own_w(supply)) + _HAIR), 1)

    def shares(self, output: PlanOutput) -> list[PowerShare]:
        """Return what one charge on an output may take of that: all of it, and what leaves room for one on another of its supply, of each kind."""
        own_w = self.own_w(output.supply)
        found = [PowerShare(min(output.power_w, own_w), ALL_POWER, is_capped=own_w < output.power_w)]
        if self.at_once == 1:
            return found
        others = list(self.of_supply(output.supply))
        others.remove(output)
        return found + [self._share_beside(output, other) for other in dict.fromkeys(others)]

    def _share_beside(self, output: PlanOutput, other: PlanOutput) -> PowerShare:
        """Half of all, or more where the other one cannot take the other half."""
        together_w = self.together_w(output.supply)
        half_w, left_w = together_w // 2, together_w - ceil(other.power_w - _HAIR)
        is_own = together_w == int(self.own_w(output.supply) + _HAIR)
        if left_w > half_w:
            share_w, because = left_w, _LEFT_POWER if is_own else _LEFT_SUPPLY
        else:
            share_w, because = half_w, _SHARED_POWER if is_own else _SHARED_SUPPLY
        return PowerShare(min(output.power_w, share_w), because, is_capped=share_w < output.power_w)

    def at_once_w(self, supply: int, charges: Iterable[tuple[int, tuple[int, ...] | None]]) -> int:
        """Return the most that goes from a supply into packs at once, W, by the power of each charge there is and the outputs that it may go on."""
        listed = list(charges)
        places = [place for place, output in enumerate(self.outputs) if output.supply == supply]
        most_w = (max((power_w for power_w, on in listed if on is None or place in on), default=0) for place in places)
        return min(self.together_w(supply), int(self._most_at_once(most_w)))

    def whole_w(self, power_w: float, supply: int) -> int:
        """Return the power of one charge in whole watts, rounded up; one that takes all that its supply has leaves none for another."""
        return min(ceil(power_w - _HAIR), self.together_w(supply))
