"""A day that has begun: what is on an output stays there, and what is done has taken its share of the battery."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, fsum

from calc.figures.units import mah_from_ah, min_from_h
from calc.inputs.planned_day import BEGUN, DONE, ON_FIRST, ON_SECOND, BegunDayEntries, BegunPackEntries
from calc.inputs.refusals import Problem
from calc.rules.plan.battery import Battery
from calc.rules.plan.charges import Tools
from calc.rules.plan.day import Bench, Running, Turn

OUTPUTS = (ON_FIRST, ON_SECOND)
# An hour that lies further back than this is one of tomorrow.
_PAST_H = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class OnOutput:
    """What is on an output: the packs as places in the list, and when it is ready, in minutes from now."""

    output: int
    packs: tuple[int, ...]
    ends_min: int
    ends_at_latest_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """The day so far: what is on, and the packs that are done."""

    on: tuple[OnOutput, ...]
    done: tuple[int, ...]

    @property
    def packs(self) -> frozenset[int]:
        """Those that are on and those that are done, as places in the list."""
        return frozenset((*self.done, *(place for one in self.on for place in one.packs)))

    def last_ready_min(self, turns: Sequence[Turn]) -> int:
        """When the last of what is on and of these turns is ready, most likely."""
        return max((*(turn.ends_min for turn in turns), *(one.ends_min for one in self.on)), default=0)

    def last_ready_at_latest_min(self, turns: Sequence[Turn]) -> int:
        """The same on the slowest course."""
        return max((*(turn.ends_at_latest_min for turn in turns), *(one.ends_at_latest_min for one in self.on)), default=0)

    def running(self, outputs: Sequence[int], power_w: Callable[[int], int], most_w: int) -> tuple[Running, ...]:
        """What is on, as places in `outputs`, with the power of its packs together, as each takes it alone, but no more than an output has."""
        return tuple(
            Running(
                output=outputs.index(one.output),
                ends_min=one.ends_min,
                ends_at_latest_min=one.ends_at_latest_min,
                power_w=min(sum(power_w(place) for place in one.packs), most_w),
            )
            for one in self.on
        )


NOT_BEGUN = Begun(on=(), done=())


def begun_of(day: BegunDayEntries, packs: Sequence[BegunPackEntries], start_clock: float | None) -> Begun:
    """Return the day so far. What `problems_of_begun` finds is refused before."""
    if day.day_begun != BEGUN or start_clock is None:
        return NOT_BEGUN
    on = []
    for output, stands in enumerate(OUTPUTS):
        places = tuple(place for place, one in enumerate(packs) if one.stands == stands)
        ready, latest = _hours(day, output)
        if places and ready is not None and latest is not None:
            ready_min = _from_now(ready, start_clock)
            on.append(
                OnOutput(output=output, packs=places, ends_min=ready_min, ends_at_latest_min=max(ready_min, _from_now(latest, start_clock)))
            )
    return Begun(on=tuple(on), done=tuple(place for place, one in enumerate(packs) if one.stands == DONE))


def problems_of_begun(day: BegunDayEntries, packs: Sequence[BegunPackEntries], start_clock: float | None, outputs: int) -> list[Problem]:
    """Return what is missing of a day that has begun, and what cannot be."""
    if day.day_begun != BEGUN:
        return []
    found = []
    if start_clock is None:
        found.append(Problem("start_clock", "Enter the hour from which the plan goes on.", missing=True))
    for number, stands in enumerate(OUTPUTS, 1):
        if not any(one.stands == stands for one in packs):
            continue
        if number > outputs:
            found.append(Problem("charger_outputs", f"A pack is on output {number}, so the charger has at least that many outputs."))
        ready, latest = _hours(day, number - 1)
        if ready is None:
            found.append(Problem(f"output_{number}_ready_clock", f"Enter when output {number} is ready.", missing=True))
        if latest is None:
            found.append(Problem(f"output_{number}_latest_clock", f"Enter when output {number} is ready at the latest.", missing=True))
    return found


def bench_of(
    begun: Begun,
    tools: Tools,
    outputs: Sequence[int],
    *,
    battery: Battery | None,
    begun_ah: float,
    wanted_min: tuple[int | None, ...],
    powers_w: Sequence[int],
    alone_w: Callable[[int], int],
) -> Bench:
    """Return what all charges of a plan share, beside what is on already: `begun_ah` is what that has taken from the battery, at most.

    `powers_w` are those of all that may be on, `alone_w` what a pack takes alone, by its place in the list.
    """
    at_once_w = fsum(sorted(powers_w, reverse=True)[: tools.outputs])
    return Bench(
        outputs=tools.outputs,
        power_w=tools.together_w if at_once_w > tools.together_w else None,
        battery_mah=None if battery is None else int(mah_from_ah(max(0.0, battery.usable_ah - begun_ah))),
        wanted_min=wanted_min,
        running=begun.running(outputs, alone_w, min(int(tools.charger.charger_power_w), tools.together_w)),
    )


def on_at_once(begun: Begun, outputs: int, watched: int) -> tuple[int, ...]:
    """Return the outputs that the plan has: those that have something on first, and no more than are watched unless more are on.

    >>> on_at_once(Begun(on=(OnOutput(output=1, packs=(0,), ends_min=5, ends_at_latest_min=5),), done=()), outputs=2, watched=1)
    (1,)
    """
    taken = [one.output for one in begun.on]
    free = [output for output in range(outputs) if output not in taken]
    return tuple(sorted([*taken, *free[: max(0, min(outputs, watched) - len(taken))]]))


def _hours(day: BegunDayEntries, output: int) -> tuple[float | None, float | None]:
    return (day.output_1_ready_clock, day.output_1_latest_clock) if output == 0 else (day.output_2_ready_clock, day.output_2_latest_clock)


def _from_now(clock: float, start_clock: float) -> int:
    """Minutes until an hour; 0 for one that has passed."""
    whole_day_min = round(min_from_h(24))
    until_min = ceil(clock - start_clock) % whole_day_min
    return 0 if until_min > min_from_h(_PAST_H) else until_min
