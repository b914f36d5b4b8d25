"""A day on the outputs: what is on when as a timeline, the level of the battery below it, and when the last is ready."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from calc.figures.followed import Bar, BatteryLevel, Hour, Timeline
from calc.figures.quantities import CHARGES, PERCENT, Figure
from calc.figures.showing import Setting
from calc.figures.spans import Span
from calc.figures.units import min_from_h
from calc.inputs.refusals import within_sentence
from calc.presenting.day_clock import DayClock
from calc.presenting.picture import even_times, panel_of
from calc.rules.plan.begun import Begun, OnOutput
from calc.rules.plan.day import Turn
from calc.rules.plan.supplies import PlanSupply

# Hours that fit beside each other on a phone.
_HOURS_MOST = 5
_STEPS_H = (0.25, 0.5, 1, 2, 3, 4, 6, 12)


def numbers_of(titles: Sequence[str]) -> str:
    """Return what stands on a bar for packs that go on together.

    >>> numbers_of(["Pack 3", "Pack 4"])
    'Pack 3, 4'
    """
    word, _, first = titles[0].rpartition(" ")
    return ", ".join([f"{word} {first}".strip(), *(title.rpartition(" ")[2] for title in titles[1:])])


def last_ready_shown(begun: Begun, turns: Sequence[Turn], clock: DayClock, because: str) -> Setting | None:
    """Return when the last of what is on and of these turns is ready; None where nothing is on and nothing is put on."""
    if not turns and not begun.on:
        return None
    return Setting(
        figure=f"about {clock.at(begun.last_ready_min(turns))}",
        also=f"{clock.at(begun.last_ready_at_latest_min(turns))} at the latest",
        set_by=f"{because}; the later hour is the slowest course of them all",
    )


def running_bars(on: Sequence[OnOutput], outputs: Sequence[int]) -> list[Bar]:
    """Return a bar for each of `outputs` that still has something on it; the packs are places in the list of the form."""
    return [
        Bar(
            words=numbers_of([f"Pack {place + 1}" for place in one.packs]),
            also="on already",
            lane=outputs.index(one.output),
            put_on_min=0,
            starts_min=0,
            ends_min=one.ends_min,
            latest_min=one.ends_at_latest_min,
            is_on=True,
        )
        for one in on
        if one.ends_at_latest_min > 0
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayBattery:
    """A battery over the day: what it is called, its floor, and what is left in it at a minute, likely, least and most."""

    name: str
    floor_percent: float
    left_percent: Callable[[float], tuple[float, float, float]]


def _battery_name(supply: PlanSupply, supplies: Sequence[PlanSupply]) -> str:
    """Return what a battery is called: where there are two supplies, by the output that hangs on it."""
    return "Battery" if len(supplies) == 1 else f"Battery of output {supply.number + 1}"


def day_batteries(
    on: Sequence[PlanSupply], supplies: Sequence[PlanSupply], left_percent: Callable[[PlanSupply, float, Callable[[Span], float]], float]
) -> list[DayBattery]:
    """Return the batteries `on` which the day hangs, of all its `supplies`.

    `left_percent` gives what is left in one at a minute, if each charge takes what is picked from its span.
    """

    def left(supply: PlanSupply) -> Callable[[float], tuple[float, float, float]]:
        # The most that a charge may take leaves the least.
        return lambda time_min: (
            left_percent(supply, time_min, lambda span: span.likely),
            left_percent(supply, time_min, lambda span: span.most),
            left_percent(supply, time_min, lambda span: span.least),
        )

    return [
        DayBattery(name=_battery_name(one, supplies), floor_percent=one.battery.floor_percent, left_percent=left(one))
        for one in on
        if one.battery
    ]


def timeline_of(bars: Sequence[Bar], clock: DayClock, outputs: Sequence[int], batteries: Sequence[DayBattery] = ()) -> Timeline | None:
    """Return the timeline of these bars, whose lanes are places in `outputs`, and the level of each battery that feeds any."""
    if not bars:
        return None
    last_min = max(bar.latest_min for bar in bars)
    lanes = tuple(f"Output {output + 1}" for output in outputs)
    counted = ", ".join(
        f"{lane.lower()} has {Figure(sum(bar.lane == place for bar in bars), CHARGES)}"
        for place, lane in enumerate(lanes)
        if any(bar.lane == place for bar in bars)
    )
    told = f"{counted[:1].upper()}{counted[1:]}; the last is ready {_about(clock, max(bar.ends_min for bar in bars))}."
    levels = []
    for battery in batteries:
        times = even_times(last_min)
        lines = [list(line) for line in zip(*(battery.left_percent(time_min) for time_min in times), strict=True)]
        floor = Figure(battery.floor_percent, PERCENT)
        levels.append(BatteryLevel(panel=panel_of(battery.name, PERCENT, 0.0, 100.0, lines), floor=floor))
        first, last = Figure(lines[0][0], PERCENT), Figure(lines[0][-1], PERCENT)
        told += f" The {within_sentence(battery.name)} falls from {first} to {last}; its floor is {floor}."
    return Timeline(
        caption="The outputs over the day",
        told=told,
        lanes=lanes,
        bars=tuple(bars),
        hours=_hours(clock, last_min),
        last_min=last_min,
        levels=tuple(levels),
    )


def _about(clock: DayClock, time_min: float) -> str:
    return f"about {clock.at(time_min)}"


def _hours(clock: DayClock, last_min: int) -> tuple[Hour, ...]:
    """Even hours of the day, or of the time since the start."""
    start_min = round(clock.start_min or 0)
    step_min = next((round(min_from_h(step)) for step in _STEPS_H if last_min / min_from_h(step) < _HOURS_MOST), round(min_from_h(24)))
    first_min = -start_min % step_min
    return tuple(Hour(at_min=at_min, words=clock.hour(at_min)) for at_min in range(first_min, last_min + 1, step_min))
