"""On outputs of any kinds, and of one supply or two, the search finds what trying every order on every output finds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from hypothesis import event, given
from hypothesis import strategies as st

from calc.rules.plan.day import Bench, Feed, Lot, Running, Worth
from calc.rules.plan.search import best_plan

_MINUTES = st.integers(1, 40)
# On an output: the end of what is on it by each of the two courses, and its power.
_On = tuple[int, int, int]
_FREE: _On = (0, 0, 0)


@st.composite
def days(draw: st.DrawFn) -> tuple[Bench, list[Lot]]:
    """Two or three packs on three outputs, or up to four on two, each lot for some of the outputs or for any."""
    outputs = draw(st.sampled_from((2, 2, 3)))
    packs = draw(st.integers(2, 4 if outputs == 2 else 3))
    some = st.sets(st.sampled_from(range(outputs)), min_size=1).map(lambda found: tuple(sorted(found)))
    lots = [
        Lot(
            packs=joined,
            put_on_min=draw(st.sampled_from((0, 3, 5))) * len(joined),
            likely_min=likely_min,
            most_min=likely_min + draw(st.integers(0, 20)),
            power_w=draw(st.sampled_from((10, 30, 50))),
            battery_mah=draw(st.integers(1, 9)),
            cost=draw(st.sampled_from((0, 0, 2, 5))),
            outputs=draw(st.none() | some),
        )
        for joined in _lots_of(packs, draw(st.booleans()), draw(st.booleans()))
        for likely_min in [draw(_MINUTES)]
    ]
    taken = draw(st.sets(st.sampled_from(range(outputs)), max_size=2))
    feeds = draw(
        st.lists(
            st.builds(Feed, power_w=st.sampled_from((None, 60)), battery_mah=st.sampled_from((None, None, 12))), min_size=1, max_size=2
        )
    )
    bench = Bench(
        outputs=outputs,
        feeds=tuple(feeds),
        hangs_on=tuple(draw(st.sampled_from(range(len(feeds)))) for _ in range(outputs)),
        wanted_min=tuple(draw(st.sampled_from((None, None, 45))) for _ in range(packs)),
        running=tuple(Running(output=output, ends_min=draw(_MINUTES), ends_at_latest_min=50, power_w=30) for output in taken),
        one_at_a_time=draw(st.sampled_from((False, False, True))),
    )
    return bench, lots


def _lots_of(packs: int, has_joint: bool, has_more: bool) -> list[tuple[int, ...]]:
    alone = [(place,) for place in range(packs)]
    return [*alone, *(alone[:2] if has_more else ()), *([(0, 1)] if has_joint else ())]


def _every_plan(bench: Bench, lots: Sequence[Lot]) -> Iterator[Worth]:
    """The worth of each order of some of the lots on any outputs that they may go on, if nothing comes too late and the battery holds."""
    on_now = {one.output: (one.ends_min, one.ends_at_latest_min, one.power_w) for one in bench.running}
    first = [on_now.get(output, _FREE) for output in range(bench.outputs)]
    yield from _every_plan_from(bench, lots, first, (0, 0), frozenset(), ((0,) * len(bench.feeds), 0), 0)


def _every_plan_from(
    bench: Bench,
    lots: Sequence[Lot],
    on: list[_On],
    hands: tuple[int, int],
    charged: frozenset[int],
    taken: tuple[tuple[int, ...], int],
    end_min: int,
) -> Iterator[Worth]:
    used_mah, cost = taken
    yield Worth(len(bench.wanted_min) - len(charged), cost, end_min)
    for lot, output in product(lots, range(bench.outputs)):
        supply = bench.hangs_on[output]
        more_mah = tuple(mah + lot.battery_mah * (number == supply) for number, mah in enumerate(used_mah))
        if charged & set(lot.packs) or (lot.outputs is not None and output not in lot.outputs):
            continue
        if (holds_mah := bench.feeds[supply].battery_mah) is not None and more_mah[supply] > holds_mah:
            continue
        starts = tuple(_start_min(bench, lot, on, output, hands, course) for course in (0, 1))
        ends = (starts[0] + lot.likely_min, starts[1] + lot.most_min, lot.power_w)
        if any((by := bench.wanted_min[place]) is not None and ends[1] > by for place in lot.packs):
            continue
        after = [ends if place == output else one for place, one in enumerate(on)]
        last_min = max(end_min, ends[0], *(one.ends_min for one in bench.running))
        yield from _every_plan_from(bench, lots, after, starts, charged | set(lot.packs), (more_mah, cost + lot.cost), last_min)


def _start_min(bench: Bench, lot: Lot, on: list[_On], output: int, hands: tuple[int, int], course: int) -> int:
    """As soon as the output and the hands are free, all outputs where one charge goes on at a time, and what else runs on its supply leaves enough power."""
    waits_for = on if bench.one_at_a_time else [on[output]]
    at_min = max(hands[course], *(one[course] for one in waits_for)) + lot.put_on_min
    power_w = bench.feeds[bench.hangs_on[output]].power_w
    beside = [one for place, one in enumerate(on) if place != output and bench.hangs_on[place] == bench.hangs_on[output]]
    while power_w is not None:
        running = [one for one in beside if one[course] > at_min]
        if lot.power_w + sum(one[2] for one in running) <= power_w:
            break
        at_min = min(one[course] for one in running)
    return at_min


@given(days())
def test_no_order_on_any_outputs_is_better_than_the_plan(day: tuple[Bench, list[Lot]]) -> None:
    bench, lots = day
    event(
        f"{bench.outputs} outputs of {len(set(bench.hangs_on))} supplies, {len({tuple(lot.may_go_on(output) for lot in lots) for output in range(bench.outputs)})} kinds"
    )
    plan = best_plan(bench, lots)
    assert plan.is_proven
    assert plan.worth == min(_every_plan(bench, lots))
