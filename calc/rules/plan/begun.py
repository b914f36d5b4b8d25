"""A day that has begun: what is on an output stays there, and what is done has taken its share of the battery."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from math import fsum

from calc.figures.quantities import HOURS, Figure
from calc.figures.units import h_from_min, mah_from_ah, min_from_h
from calc.inputs.planned_day import BEGUN, DONE, DONE_ON_SECOND, ON_FIRST, ON_SECOND, BegunDayEntries, BegunPackEntries
from calc.inputs.refusals import Problem
from calc.rules.plan.day import Bench, Feed, Running, Turn
from calc.rules.plan.supplies import IntoPacks, PlanSupply
from calc.rules.plan.tools import PlanOutput, Tools

OUTPUTS = (ON_FIRST, ON_SECOND)
_DONE = (DONE, DONE_ON_SECOND)
# An hour that lies further back than this is one of tomorrow: the followed plan on the phone reads its hours so too.
_PAST_H = 6
_WHOLE_DAY_MIN = round(min_from_h(24))
# So an hour can be as far ahead as the day has more than that.
OUT_OF_THE_PLAN = (
    f"A plan reaches {Figure(h_from_min(_WHOLE_DAY_MIN) - _PAST_H, HOURS.to_step(1))} from the hour at which you begin, and this "
    "hour is not within them: enter another, or begin at another hour."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnOutput:
    """What is on an output: the packs as places in the list, and when it is ready, in minutes from now."""

    output: int
    packs: tuple[int, ...]
    ends_min: int
    ends_at_latest_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """The day so far: what is on, and the packs that are done on each output."""

    on: tuple[OnOutput, ...]
    done: tuple[tuple[int, ...], ...]

    @property
    def packs(self) -> frozenset[int]:
        """Those that are on and those that are done, as places in the list."""
        return frozenset(self.output_of)

    @property
    def output_of(self) -> dict[int, int]:
        """The output that each of these packs is on, or was, by its place in the list."""
        done = {place: output for output, places in enumerate(self.done) for place in places}
        return done | {place: one.output for one in self.on for place in one.packs}

    def last_ready_min(self, turns: Sequence[Turn]) -> int:
        """When the last of what is on and of these turns is ready, most likely."""
        return max((*(turn.ends_min for turn in turns), *(one.ends_min for one in self.on)), default=0)

    def last_ready_at_latest_min(self, turns: Sequence[Turn]) -> int:
        """The same on the slowest course."""
        return max((*(turn.ends_at_latest_min for turn in turns), *(one.ends_at_latest_min for one in self.on)), default=0)

    def running(self, outputs: Sequence[int], power_w: Callable[[int], int], most_w: Sequence[int]) -> tuple[Running, ...]:
        """What is on, as places in `outputs`, with the power of its packs together, as each takes it alone, but no more than `most_w` of its output."""
        return tuple(
            Running(
                output=outputs.index(one.output),
                ends_min=one.ends_min,
                ends_at_latest_min=one.ends_at_latest_min,
                power_w=min(sum(power_w(place) for place in one.packs), most_w[outputs.index(one.output)]),
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
            ready_min = min_from_start(ready, start_clock)
            # Counted from when it is ready: from now it can be so far ahead that it would count as past.
            latest_min = ready_min + max(0, min_from_start(latest, ready))
            on.append(OnOutput(output=output, packs=places, ends_min=max(0, ready_min), ends_at_latest_min=max(0, latest_min)))
    done = tuple(tuple(place for place, one in enumerate(packs) if one.stands == stands) for stands in _DONE)
    return Begun(on=tuple(on), done=done)


def output_of(begun: Begun, place: int, outputs: Sequence[PlanOutput]) -> PlanOutput:
    """Return the output that a pack is on, or was: of one that is there no more, the last."""
    return outputs[min(begun.output_of[place], len(outputs) - 1)]


def begun_by_supply(begun: Begun, tools: Tools, energies_wh: Iterable[tuple[int, float]]) -> list[list[IntoPacks]]:
    """Return for each supply what has gone from it into the packs that are on or done, or will.

    `energies_wh` has the places of these packs in the list, each with the most that it may take; the outputs are all that were entered.
    """
    found: list[list[IntoPacks]] = [[] for _ in tools.supplies]
    for place, energy_wh in energies_wh:
        output = output_of(begun, place, tools.outputs)
        found[output.supply].append(IntoPacks(energy_wh, output.charger.efficiency_percent))
    return found


def min_from_start(clock: float, start_clock: float | None) -> int:
    """Return the minutes from the start to an hour, over midnight too; below 0 for one of the last hours, at most as many as count as past.

    Without an hour of the start, hours are counted from it already.

    >>> min_from_start(60, 22 * 60 + 30), min_from_start(510, 540), min_from_start(1260, 480), min_from_start(1380, None)
    (150, -30, 780, 1380)
    """
    if start_clock is None:
        return round(clock)
    ahead_min = round(clock - start_clock) % _WHOLE_DAY_MIN
    ago_min = _WHOLE_DAY_MIN - ahead_min
    return -ago_min if ago_min <= min_from_h(_PAST_H) else ahead_min


def problems_of_begun(day: BegunDayEntries, packs: Sequence[BegunPackEntries], start_clock: float | None, outputs: int) -> list[Problem]:
    """Return what is missing of a day that has begun, and what cannot be."""
    if day.day_begun != BEGUN:
        return []
    found = []
    if start_clock is None:
        found.append(Problem("start_clock", "Enter the hour from which the plan goes on.", missing=True))
    for number, (stands, done) in enumerate(zip(OUTPUTS, _DONE, strict=True), 1):
        if not any(one.stands == stands for one in packs):
            # What was on may have been done before its hour.
            if number <= outputs and not any(one.stands == done for one in packs):
                found += _problems_of_hours_alone(day, number, start_clock)
            continue
        if number > outputs:
            found.append(
                Problem("charger_outputs", f"A pack is on output {number}: choose as many outputs here, or correct where that pack stands.")
            )
        ready, latest = _hours(day, number - 1)
        if ready is None:
            found.append(Problem(f"output_{number}_ready_clock", f"Enter when output {number} is ready.", missing=True))
        if latest is None:
            found.append(Problem(f"output_{number}_latest_clock", f"Enter when output {number} is ready at the latest.", missing=True))
    return found


def _problems_of_hours_alone(day: BegunDayEntries, number: int, start_clock: float | None) -> list[Problem]:
    """An output that is taken until an hour by no pack of the list: the plan would put one on it at once."""
    hours = zip(("ready", "latest"), _hours(day, number - 1), strict=True)
    ahead = [which for which, hour in hours if hour is not None and min_from_start(hour, start_clock) > 0]
    if not ahead:
        return []
    sentence = f"No pack of the list is on output {number}: choose where each pack stands, enter the one that is on it, or empty its hours."
    return [Problem(f"output_{number}_{ahead[0]}_clock", sentence)]


def bench_of(
    begun: Begun,
    tools: Tools,
    outputs: Sequence[int],
    *,
    watched: int,
    supplies: Sequence[PlanSupply],
    wanted_min: tuple[int | None, ...],
    powers_w: Iterable[tuple[int, int]],
    alone_w: Callable[[int], int],
) -> Bench:
    """Return what all charges of a plan share, beside what is on already. `watched` is how many charge at once, at most.

    `powers_w` has all that may be on, each with its supply; `alone_w` is what a pack takes alone, by its place in the list.
    """
    listed = list(powers_w)
    return Bench(
        outputs=len(outputs),
        feeds=tuple(_feed(tools, one, [power_w for power_w, supply in listed if supply == one.number]) for one in supplies),
        wanted_min=wanted_min,
        running=begun.running(outputs, alone_w, [min(int(output.power_w), tools.together_w(output.supply)) for output in tools.outputs]),
        hangs_on=tuple(output.supply for output in tools.outputs),
        one_at_a_time=watched < len(outputs),
    )


def _feed(tools: Tools, supply: PlanSupply, powers_w: Sequence[int]) -> Feed:
    most = min(len(supply.outputs), tools.at_once)
    at_once_w, together_w = fsum(sorted(powers_w, reverse=True)[:most]), tools.together_w(supply.number)
    battery = supply.battery
    return Feed(
        power_w=together_w if at_once_w > together_w else None,
        battery_mah=None if battery is None else int(mah_from_ah(max(0.0, battery.usable_ah - supply.begun_ah))),
    )


def outputs_in_use(begun: Begun, outputs: Sequence[Hashable], watched: int) -> tuple[int, ...]:
    """Return the outputs that the plan may have: all where as many charges are watched, else those that have something on, and one of each other kind.

    >>> on = Begun(on=(OnOutput(output=1, packs=(0,), ends_min=5, ends_at_latest_min=5),), done=())
    >>> outputs_in_use(on, ["alike", "alike"], 1), outputs_in_use(on, ["strong", "weak"], 1), outputs_in_use(NOT_BEGUN, ["alike", "alike"], 1)
    ((1,), (0, 1), (0,))
    """
    if watched >= len(outputs):
        return tuple(range(len(outputs)))
    found = [one.output for one in begun.on]
    for output, kind in enumerate(outputs):
        if kind not in [outputs[other] for other in found]:
            found.append(output)
    return tuple(sorted(found))


def _hours(day: BegunDayEntries, output: int) -> tuple[float | None, float | None]:
    return (day.output_1_ready_clock, day.output_1_latest_clock) if output == 0 else (day.output_2_ready_clock, day.output_2_latest_clock)
