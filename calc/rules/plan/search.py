"""The best plan of the day: which lot goes on which output next, by branch and bound.

One pair of hands puts the lots on one after the other, so a plan is an order. It is grown turn by turn; of two beginnings that
charge the same packs, the one that is nowhere better is dropped, and so is one whose bound is no better than a plan that is
known. Outputs of one supply on which the same lots may go are alike, and only such ones change places. A beginning that is put off for want of room
counts in the bound of the answer. Nodes are counted and no clock is read: a phone and a build find the same plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from operator import gt
from typing import NamedTuple

from calc.rules.plan.bounds import Bounds, Output
from calc.rules.plan.day import Bench, Feed, Lot, Plan, Turn, Worth
from calc.rules.plan.timing import free_at_first, once_power_is_free, timed

# How many beginnings with equally many packs are followed up: few at first, to have a plan to measure the others by, then more until
# it is proven. Up to eight packs the last is as good as all; from there on it is kept as short as a phone wants it.
_WHOLE_UP_TO = 8
_KEPT_WHOLE = (8, 60, 500, 6000)
_KEPT = (8, 160)
_KEPT_INSTEAD = (8, 40)


class _Way(NamedTuple):
    """A turn, and those before it."""

    before: _Way | None
    lot: int
    output: int


class _Beginning(NamedTuple):
    """The beginning of a plan: when each output is free, the hands, what was used of each supply, and the turns, the last one first."""

    outputs: tuple[Output, ...]
    hands_min: int
    hands_at_latest_min: int
    used_mah: tuple[int, ...]
    cost: int
    way: _Way | None


def best_plan(bench: Bench, lots: Sequence[Lot], instead_of: Plan | None = None) -> Plan:
    """Return the best plan, or a good one with the bound of all others.

    Beside a plan that it would be `instead_of`, it is looked for less closely: once it is certain how many packs more it charges, no more
    is asked. Best is: fewest packs left out, then the least cost, then the earliest end by the likely course. Whatever is wanted by an hour is
    ready by then at the latest, or left out; each battery keeps its floor if each charge takes the most that it may.
    """
    search = _Search(bench, lots)
    is_whole = len(bench.wanted_min) <= _WHOLE_UP_TO
    widths: tuple[int, ...] = _KEPT_INSTEAD if instead_of else _KEPT_WHOLE if is_whole else _KEPT
    for width in widths:
        bound = min(search.run(width), search.best)
        if bound == search.best or (instead_of and bound.left_out == search.best.left_out < instead_of.worth.left_out):
            break
    return Plan(turns=search.turns(), worth=search.best, bound=bound)


class _Search:
    """One day's search: the best beginning so far is a plan that leaves the rest out."""

    def __init__(self, asked: Bench, lots: Sequence[Lot]) -> None:
        bench = replace(asked, feeds=tuple(_short_feed(asked, lots, number) for number in range(len(asked.feeds))))
        if not any(bench.wanted_min):
            # Where nothing is wanted by an hour the latest course decides nothing, and need not be told apart.
            self._searched = [replace(lot, most_min=lot.likely_min) for lot in lots]
            bench = replace(bench, running=tuple(replace(one, ends_at_latest_min=one.ends_min) for one in bench.running))
        else:
            self._searched = list(lots)
        self._bench, self._lots, self._asked = bench, lots, asked
        self._bits = [_bits(lot.packs) for lot in lots]
        self._first = _alike_before(bench, self._searched)
        self._bounds = Bounds(bench, self._searched)
        self._kinds = _kinds(bench, lots)
        self._feed_of = [bench.feed_of(output) for output in range(bench.outputs)]
        # Outputs alike stand in the order in which they are free, behind those of another kind.
        self._order = (lambda output: (self._kinds[output[3]], output)) if any(self._kinds) else None
        outputs = sorted(((*free, number) for number, free in enumerate(free_at_first(bench))), key=self._order)
        self._start = _Beginning(tuple(outputs), 0, 0, (0,) * len(bench.feeds), 0, None)
        self._best_way: _Way | None = None
        self.best = Worth(len(bench.wanted_min), 0, 0)

    def run(self, kept: int) -> Worth:
        """Search with so many beginnings of each length; return the bound of all that was put off, or the best plan's worth."""
        bound = self.best if self._best_way else Worth(len(self._bench.wanted_min) + 1, 0, 0)
        # By how many packs are charged, then by which of them, a bit for each.
        layers: list[dict[int, list[tuple[Worth, _Beginning]]]] = [{} for _ in range(len(self._bench.wanted_min) + 1)]
        layers[0][0] = [(Worth(0, 0, 0), self._start)]
        for layer in layers:
            waiting = [(worth, charged, beginning) for charged, found in layer.items() for worth, beginning in found if worth < self.best]
            if len(waiting) > kept:
                waiting.sort(key=lambda one: (one[0], one[1], one[2][:5]))
                bound = min(bound, waiting[kept][0])
                del waiting[kept:]
            for _, charged, beginning in waiting:
                self._go_on(layers, charged, beginning)
        return bound

    def _go_on(self, layers: list[dict[int, list[tuple[Worth, _Beginning]]]], charged: int, beginning: _Beginning) -> None:
        outputs = _worth_trying(beginning.outputs, self._kinds)
        for number, lot in enumerate(self._searched):
            bits = self._bits[number]
            if charged & bits or (self._first[number] & ~charged):
                continue
            now_charged = charged | bits
            layer = layers[now_charged.bit_count()]
            for output in outputs:
                if lot.outputs and beginning.outputs[output][3] not in lot.outputs:
                    continue
                if (after := self._put_on(beginning, number, lot, output)) is None:
                    continue
                worth = self._bounds.worth(now_charged, *after[:5])
                if worth >= self.best:
                    continue
                if _added_to(layer.setdefault(now_charged, []), worth, after):
                    self._note(now_charged, after)

    def _put_on(self, beginning: _Beginning, number: int, lot: Lot, output: int) -> _Beginning | None:
        """The beginning with one lot more on an output, or None where the battery of its supply or the hour forbids it."""
        bench = self._bench
        free_min, free_at_latest_min, _, named = beginning.outputs[output]
        hangs_on = self._feed_of[named]
        feed = bench.feeds[hangs_on]
        used_mah = list(beginning.used_mah)
        used_mah[hangs_on] += lot.battery_mah
        if feed.battery_mah is not None and used_mah[hangs_on] > feed.battery_mah:
            return None
        others = beginning.outputs[:output] + beginning.outputs[output + 1 :]
        # No output counts as free before the hands are: see below.
        starts_min = free_min + lot.put_on_min
        at_latest_min = free_at_latest_min + lot.put_on_min
        if feed.power_w is not None:
            beside = [one for one in others if self._feed_of[one[3]] == hangs_on]
            starts_min = once_power_is_free(starts_min, [(one[0], one[2]) for one in beside], lot.power_w, feed.power_w)
            at_latest_min = once_power_is_free(at_latest_min, [(one[1], one[2]) for one in beside], lot.power_w, feed.power_w)
        ends_at_latest_min = at_latest_min + lot.most_min
        for place in lot.packs:
            by_min = bench.wanted_min[place]
            if by_min is not None and ends_at_latest_min > by_min:
                return None
        power_w = lot.power_w if feed.power_w is not None and not bench.one_at_a_time else 0
        outputs = [(starts_min + lot.likely_min, ends_at_latest_min, power_w, named)]
        for one in others:
            if bench.one_at_a_time:
                outputs.append((*outputs[0][:3], one[3]))
            elif one[0] <= starts_min and one[1] <= at_latest_min:
                # It stands empty until the hands come to it.
                outputs.append((starts_min, at_latest_min, 0, one[3]))
            else:
                outputs.append((max(one[0], starts_min), max(one[1], at_latest_min), one[2], one[3]))
        outputs.sort(key=self._order)
        return _Beginning(
            tuple(outputs), starts_min, at_latest_min, tuple(used_mah), beginning.cost + lot.cost, _Way(beginning.way, number, named)
        )

    def _note(self, charged: int, beginning: _Beginning) -> None:
        worth = Worth(len(self._bench.wanted_min) - charged.bit_count(), beginning.cost, max(one[0] for one in beginning.outputs))
        if worth < self.best:
            self.best, self._best_way = worth, beginning.way

    def turns(self) -> tuple[Turn, ...]:
        """The turns of the best plan, with the latest course of each lot as it is."""
        order: list[tuple[int, int]] = []
        way = self._best_way
        while way:
            order.append((way.lot, way.output))
            way = way.before
        return timed(self._asked, self._lots, order[::-1])


def _short_feed(bench: Bench, lots: Sequence[Lot], number: int) -> Feed:
    """A supply as the search must count it: without a limit of its charge where that is enough for all that may hang on it."""
    feed = bench.feeds[number]
    on_it = [lot for lot in lots if number in bench.feeds_of(lot)]
    needed_mah = sum(max((lot.battery_mah for lot in on_it if place in lot.packs), default=0) for place in range(len(bench.wanted_min)))
    return feed if feed.battery_mah is None or needed_mah > feed.battery_mah else replace(feed, battery_mah=None)


def _kinds(bench: Bench, lots: Sequence[Lot]) -> list[int]:
    """The kind of each output, a number: those of one supply on which the same lots may go are of one."""
    may = [(bench.feed_of(output), [lot.may_go_on(output) for lot in lots]) for output in range(bench.outputs)]
    return [may.index(one) for one in may]


def _worth_trying(outputs: tuple[Output, ...], kinds: Sequence[int]) -> list[int]:
    """The outputs that differ: one that is free later on both courses could change places with the first of its kind."""
    found: list[int] = []
    for place, output in enumerate(outputs):
        alike = [outputs[other][1] for other in found if kinds[outputs[other][3]] == kinds[output[3]]]
        if not alike or output[1] < min(alike):
            found.append(place)
    return found


def _added_to(found: list[tuple[Worth, _Beginning]], worth: Worth, new: _Beginning) -> bool:
    """Add a beginning unless another is nowhere worse; drop those that are nowhere better."""
    for _, old in found:
        if _is_nowhere_worse(old, new):
            return False
    found[:] = [(other, old) for other, old in found if not _is_nowhere_worse(new, old)]
    found.append((worth, new))
    return True


def _is_nowhere_worse(one: _Beginning, other: _Beginning) -> bool:
    # By place and not by name, since nothing else is asked as often: the hands and the cost, the batteries, then each output.
    if one[1] > other[1] or one[2] > other[2] or one[4] > other[4]:
        return False
    if one[3] != other[3] and any(map(gt, one[3], other[3])):
        return False
    for mine, theirs in zip(one[0], other[0], strict=True):
        if mine[0] > theirs[0] or mine[1] > theirs[1] or mine[2] > theirs[2]:
            return False
    return True


def _bits(packs: Sequence[int]) -> int:
    found = 0
    for place in packs:
        found |= 1 << place
    return found


def _alike_before(bench: Bench, lots: Sequence[Lot]) -> list[int]:
    """For each lot, the packs that must be on before it: of packs that can change places, the first goes first."""
    everything = {(lot.packs, replace(lot, packs=())) for lot in lots}
    before = [0] * len(bench.wanted_min)
    for later in range(len(before)):
        for earlier in range(later):
            if bench.wanted_min[earlier] == bench.wanted_min[later] and _can_change_places(everything, earlier, later):
                before[later] |= 1 << earlier
                break
    found = []
    for lot in lots:
        needed = 0
        for place in lot.packs:
            needed |= before[place]
        found.append(needed & ~_bits(lot.packs))
    return found


def _can_change_places(lots: set[tuple[tuple[int, ...], Lot]], one: int, other: int) -> bool:
    changed = {one: other, other: one}
    return all((tuple(sorted(changed.get(place, place) for place in packs)), rest) in lots for packs, rest in lots)
