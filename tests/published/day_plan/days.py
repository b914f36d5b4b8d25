"""Random days and evenings for the plan, each from its number alone: five to eight packs on one or two outputs, in whole minutes.

A third of the days may join packs, a third have outputs that share their power, a third a battery that is not enough for all. In each
third some packs are wanted by an hour, and some days count a cost before the minutes.

On an evening some packs are charged and the others discharged, which takes nothing from the supply; all must be done by one hour, which
is seldom enough for all, and a pack costs the minutes by which it is quicker than the slowest. On a third of them something is on already.

On a day of two outputs that differ one of them is weaker: what takes more than it has goes on the other one, or more slowly on it, and now
and then a lot is for one output alone. On a quarter of them something is on already.

On a day of two supplies each has outputs of its own, and gives another charge for the same packs. On half of them both are batteries, on a
quarter one is; on a quarter two outputs share the power of the first supply. Mostly a battery is not enough for all that would go there.

On a day of one charge at a time it is one of these two kinds, and nothing is put on before all that was on has ended.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

from calc.rules.plan.day import Bench, Feed, Lot, Running

DAYS = 300
KINDS = ("joining", "shared power", "battery")
EVENINGS = 150
EVENING_KINDS = ("on already", "shared power", "battery")
UNLIKE_DAYS = 80
UNLIKE_KINDS = ("joining", "shared power", "battery", "on already")
SUPPLIED_DAYS = 80
SUPPLIED_KINDS = ("two batteries", "battery beside mains", "shared power", "on already")
SINGLE_DAYS = 80


def day(number: int) -> tuple[Bench, list[Lot]]:
    """The bench and the lots of a day, from 0 on."""
    drawn = Random(number)
    kind = KINDS[number % len(KINDS)]
    packs = 5 + number // len(KINDS) % 4
    counts_cost, has_hours = drawn.random() < 0.3, drawn.random() < 0.4
    all_w = drawn.randrange(120, 320, 10) if kind == "shared power" else None
    alone = [_alone(drawn, place, counts_cost) for place in range(packs)]
    lots = list(alone)
    for lot in alone:
        if all_w and lot.power_w > all_w // 2:
            lots.append(_slower(drawn, lot, all_w // 2))
        elif counts_cost:
            lots.append(_slower(drawn, lot, lot.power_w // 2))
    if kind == "joining":
        lots += _joints(drawn, alone)
    battery_mah = None
    if kind == "battery":
        battery_mah = int(sum(lot.battery_mah for lot in alone) * drawn.uniform(0.4, 0.9))
    bench = Bench(
        outputs=1 if drawn.random() < 0.15 else 2,
        feeds=(Feed(power_w=all_w, battery_mah=battery_mah),),
        wanted_min=tuple(drawn.randrange(50, 320) if has_hours and drawn.random() < 0.5 else None for _ in range(packs)),
    )
    return bench, lots


def unlike_day(number: int) -> tuple[Bench, list[Lot]]:
    """The bench and the lots of a day on two outputs that differ, from 0 on."""
    drawn = Random(2000 + number)
    kind = UNLIKE_KINDS[number % len(UNLIKE_KINDS)]
    packs = 5 + number // len(UNLIKE_KINDS) % 4
    counts_cost, has_hours = drawn.random() < 0.3, drawn.random() < 0.4
    strong, weak_w = drawn.randrange(2), drawn.randrange(30, 90, 5)
    all_w = drawn.randrange(120, 240, 10) if kind == "shared power" or (kind == "on already" and drawn.random() < 0.5) else None
    alone = [_alone(drawn, place, counts_cost) for place in range(packs)]
    whole = [*alone, *(_joints(drawn, alone) if kind == "joining" else ())]
    lots = [way for lot in whole for way in _by_output(drawn, lot, strong, weak_w)]
    if all_w:
        lots += [replace(_slower(drawn, lot, all_w - weak_w), outputs=(strong,)) for lot in alone if lot.power_w > all_w - weak_w]
    elif counts_cost:
        lots += [_slower(drawn, lot, lot.power_w // 2) for lot in alone if lot.power_w // 2 <= weak_w]
    taken = drawn.sample(range(2), drawn.randrange(1, 3)) if kind == "on already" else ()
    bench = Bench(
        outputs=2,
        feeds=(_feed(drawn, all_w, alone, (0.4, 0.9) if kind == "battery" else None),),
        wanted_min=tuple(drawn.randrange(50, 320) if has_hours and drawn.random() < 0.5 else None for _ in range(packs)),
        running=tuple(_on_already(drawn, output) for output in sorted(taken)),
    )
    return bench, lots


def _feed(drawn: Random, power_w: int | None, lots: list[Lot], share: tuple[float, float] | None) -> Feed:
    """A supply whose battery, if it has one, is enough for some share of these lots."""
    return Feed(power_w=power_w, battery_mah=int(sum(lot.battery_mah for lot in lots) * drawn.uniform(*share)) if share else None)


def supplied_day(number: int) -> tuple[Bench, list[Lot]]:
    """The bench and the lots of a day on two supplies, from 0 on."""
    drawn = Random(3000 + number)
    kind = SUPPLIED_KINDS[number % len(SUPPLIED_KINDS)]
    packs = 5 + number // len(SUPPLIED_KINDS) % 4
    counts_cost, has_hours = drawn.random() < 0.3, drawn.random() < 0.4
    hangs_on = (0, 0, 1) if kind == "shared power" else (0, 1)
    all_w = drawn.randrange(100, 200, 10) if kind == "shared power" else None
    alone = [_alone(drawn, place, counts_cost) for place in range(packs)]
    whole = [*alone, *(_joints(drawn, alone) if drawn.random() < 0.3 else ())]
    lots = [on_one for lot in whole for on_one in _by_supply(drawn, lot, hangs_on)]
    if all_w:
        lots += [replace(_slower(drawn, lot, all_w // 2), outputs=(0, 1)) for lot in alone if lot.power_w > all_w // 2]
    taken = drawn.sample(range(2), drawn.randrange(1, 3)) if kind == "on already" else ()
    # What each battery may give, of what all packs together take: some day it is enough for all that go there.
    first = _feed(drawn, all_w, alone, None if kind == "shared power" else (0.15, 0.6))
    second = _feed(drawn, None, alone, None if kind == "battery beside mains" else (0.1, 0.5))
    bench = Bench(
        outputs=len(hangs_on),
        feeds=(first, second),
        wanted_min=tuple(drawn.randrange(50, 320) if has_hours and drawn.random() < 0.5 else None for _ in range(packs)),
        running=tuple(_on_already(drawn, output) for output in sorted(taken)),
        hangs_on=hangs_on,
    )
    return bench, lots


def single_day(number: int) -> tuple[Bench, list[Lot]]:
    """The bench and the lots of a day on which one charge goes on at a time, from 0 on: of two supplies, or of outputs that differ."""
    bench, lots = supplied_day(number // 2) if number % 2 else unlike_day(number // 2)
    return replace(bench, one_at_a_time=True), lots


def _by_supply(drawn: Random, lot: Lot, hangs_on: tuple[int, ...]) -> list[Lot]:
    """The same packs on the outputs of either supply, of which each gives another charge for it, or on those of one alone."""
    on_first = replace(lot, outputs=tuple(output for output, feed in enumerate(hangs_on) if feed == 0))
    other_mah = int(lot.battery_mah * drawn.uniform(0.8, 1.25))
    slower = _slower(drawn, lot, drawn.randrange(25, 100)) if drawn.random() < 0.5 else lot
    on_second = replace(slower, battery_mah=other_mah, outputs=tuple(output for output, feed in enumerate(hangs_on) if feed == 1))
    return [[on_first, on_second], [on_first], [on_second]][drawn.choice((0, 0, 0, 0, 0, 1, 2))]


def _by_output(drawn: Random, lot: Lot, strong: int, weak_w: int) -> list[Lot]:
    """The same packs on either output, or on the stronger one and more slowly on the other."""
    if lot.power_w <= weak_w:
        return [lot if drawn.random() < 0.8 else replace(lot, outputs=(drawn.randrange(2),))]
    slower = replace(_slower(drawn, lot, weak_w), outputs=(1 - strong,))
    return [replace(lot, outputs=(strong,)), *([slower] if drawn.random() < 0.85 else ())]


def evening(number: int) -> tuple[Bench, list[Lot]]:
    """The bench and the lots of an evening, from 0 on."""
    drawn = Random(1000 + number)
    kind = EVENING_KINDS[number % len(EVENING_KINDS)]
    packs = 5 + number // len(EVENING_KINDS) % 4
    all_w = drawn.randrange(60, 200, 10) if kind != "battery" else None
    ways = [_way_home(drawn, place) for place in range(packs)]
    lots = list(ways)
    if all_w:
        lots += [_slower(drawn, way, all_w // 2) for way in ways if way.power_w > all_w // 2]
    slowest_min = max(way.likely_min for way in ways)
    cost = {way.packs: slowest_min - way.likely_min for way in ways}
    outputs = 1 if drawn.random() < 0.25 else 2
    until_min = int(sum(way.likely_min + way.put_on_min for way in ways) / outputs * drawn.uniform(0.5, 1.1))
    running = ()
    if kind == "on already":
        taken = drawn.sample(range(outputs), drawn.randrange(1, outputs + 1))
        running = tuple(_on_already(drawn, output) for output in sorted(taken))
    bench = Bench(
        outputs=outputs,
        feeds=(_feed(drawn, all_w, ways, (0.3, 0.9) if kind == "battery" else None),),
        wanted_min=(None if running and drawn.random() < 0.3 else until_min,) * packs,
        running=running,
    )
    return bench, [replace(lot, cost=cost[lot.packs]) for lot in lots]


def _way_home(drawn: Random, place: int) -> Lot:
    is_charged = drawn.random() < 0.5
    likely_min = drawn.randrange(5, 40) if is_charged else drawn.randrange(15, 150)
    return Lot(
        packs=(place,),
        put_on_min=3,
        likely_min=likely_min,
        most_min=likely_min + drawn.randrange(2, 50),
        power_w=drawn.randrange(30, 120) if is_charged else 0,
        battery_mah=drawn.randrange(300, 3000) if is_charged else 0,
        cost=0,
    )


def _on_already(drawn: Random, output: int) -> Running:
    ends_min = drawn.randrange(0, 60)
    return Running(
        output=output, ends_min=ends_min, ends_at_latest_min=ends_min + drawn.randrange(0, 40), power_w=drawn.randrange(0, 120, 20)
    )


def _alone(drawn: Random, place: int, counts_cost: bool) -> Lot:
    likely_min = drawn.randrange(12, 95)
    return Lot(
        packs=(place,),
        put_on_min=drawn.choice((2, 3, 3, 5)),
        likely_min=likely_min,
        most_min=likely_min + drawn.randrange(3, 45),
        power_w=drawn.randrange(30, 120),
        battery_mah=drawn.randrange(300, 7000),
        cost=drawn.randrange(50, 210) if counts_cost else 0,
    )


def _slower(drawn: Random, lot: Lot, power_w: int) -> Lot:
    likely_min = lot.likely_min * lot.power_w // power_w + 1
    return Lot(
        packs=lot.packs,
        put_on_min=lot.put_on_min,
        likely_min=likely_min,
        most_min=likely_min + drawn.randrange(3, 45),
        power_w=power_w,
        battery_mah=lot.battery_mah - drawn.randrange(0, 100),
        cost=lot.cost * power_w // lot.power_w,
    )


def _joints(drawn: Random, alone: list[Lot]) -> list[Lot]:
    found = []
    for count in (2, 3, 4):
        for first in range(len(alone) - count + 1):
            if drawn.random() < 0.35:
                chosen = alone[first : first + count]
                likely_min = max(lot.likely_min for lot in chosen) + drawn.randrange(0, 40)
                found.append(
                    Lot(
                        packs=tuple(range(first, first + count)),
                        put_on_min=sum(lot.put_on_min for lot in chosen),
                        likely_min=likely_min,
                        most_min=likely_min + drawn.randrange(5, 60),
                        power_w=sum(lot.power_w for lot in chosen),
                        battery_mah=sum(lot.battery_mah for lot in chosen),
                        cost=sum(lot.cost for lot in chosen) + drawn.randrange(0, 30),
                    )
                )
    return found
