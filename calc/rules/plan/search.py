"""The best plan of the day: which lot goes on which output next, by branch and bound.

One pair of hands puts the lots on one after the other, so a plan is an order. It is grown turn by turn; of two beginnings that
charge the same packs, the one that is nowhere better is dropped, and so is one whose bound is no better than a plan that is
known. A beginning that is put off for want of room counts in the bound of the answer. Nodes are counted and no clock is read: a
phone and a build find the same plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from calc.rules.plan.bounds import Bounds, Output
from calc.rules.plan.day import Bench, Lot, Plan, Turn, Worth

# How many beginnings with equally many packs are followed up: few at first, to have a plan to measure the others by, then more until
# it is proven. Up to eight packs the last is as good as all; from there on it is kept as short as a phone wants it.
_WHOLE_UP_TO = 8
_KEPT_WHOLE = (8, 60, 500, 6000)
_KEPT = (8, 160)


class _Way(NamedTuple):
    """A turn, and those before it."""

    before: _Way | None
    lot: int
    output: int


class _Begun(NamedTuple):
    """The beginning of a plan: when each output is free, the hands, what was used, and the turns, the last one first."""

    outputs: tuple[Output, ...]
    hands_min: int
    hands_at_latest_min: int
    used_mah: int
    cost: int
    way: _Way | None


def best_plan(bench: Bench, lots: Sequence[Lot], kept: int | None = None) -> Plan:
    """Return the best plan, or a good one with the bound of all others. `kept` is how many beginnings of a length are followed up.

    Best is: fewest packs left out, then the least cost, then the earliest end by the likely course. Whatever is wanted by an hour is
    ready by then at the latest, or left out; the battery keeps its floor if each charge takes the most that it may.
    """
    search = _Search(bench, lots)
    widths = _KEPT_WHOLE if len(bench.wanted_min) <= _WHOLE_UP_TO else _KEPT
    for width in (kept,) if kept else widths:
        bound = min(search.run(width), search.best)
        if bound == search.best:
            break
    return Plan(turns=search.turns(), worth=search.best, bound=bound)


class _Search:
    """One day's search: the best beginning so far is a plan that leaves the rest out."""

    def __init__(self, asked: Bench, lots: Sequence[Lot]) -> None:
        bench = asked
        needed_mah = sum(max((lot.battery_mah for lot in lots if place in lot.packs), default=0) for place in range(len(bench.wanted_min)))
        if bench.battery_mah is not None and needed_mah <= bench.battery_mah:
            bench = replace(bench, battery_mah=None)
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
        free = _free_at_first(bench)
        outputs = tuple(sorted((*free.get(number, (0, 0, 0)), number) for number in range(bench.outputs)))
        self._start = _Begun(outputs, 0, 0, 0, 0, None)
        self._best_way: _Way | None = None
        self.best = Worth(len(bench.wanted_min), 0, 0)

    def run(self, kept: int) -> Worth:
        """Search with so many beginnings of each length; return the bound of all that was put off, or the best plan's worth."""
        bound = self.best if self._best_way else Worth(len(self._bench.wanted_min) + 1, 0, 0)
        layers: list[dict[int, list[tuple[Worth, _Begun]]]] = [{} for _ in range(len(self._bench.wanted_min) + 1)]
        layers[0][0] = [(Worth(0, 0, 0), self._start)]
        for layer in layers:
            waiting = [(worth, charged, begun) for charged, found in layer.items() for worth, begun in found if worth < self.best]
            if len(waiting) > kept:
                waiting.sort(key=lambda one: (one[0], one[1], one[2][:5]))
                bound = min(bound, waiting[kept][0])
                del waiting[kept:]
            for _, charged, begun in waiting:
                self._go_on(layers, charged, begun)
        return bound

    def _go_on(self, layers: list[dict[int, list[tuple[Worth, _Begun]]]], charged: int, begun: _Begun) -> None:
        for number, lot in enumerate(self._searched):
            bits = self._bits[number]
            if charged & bits or (self._first[number] & ~charged):
                continue
            now_charged = charged | bits
            layer = layers[now_charged.bit_count()]
            for output in _worth_trying(begun.outputs):
                if (after := self._put_on(begun, number, lot, output)) is None:
                    continue
                worth = self._bounds.worth(now_charged, *after[:5])
                if worth >= self.best:
                    continue
                if _added_to(layer.setdefault(now_charged, []), worth, after):
                    self._note(now_charged, after)

    def _put_on(self, begun: _Begun, number: int, lot: Lot, output: int) -> _Begun | None:
        """The beginning with one lot more on an output, or None where the battery or the hour forbids it."""
        bench = self._bench
        used_mah = begun.used_mah + lot.battery_mah
        if bench.battery_mah is not None and used_mah > bench.battery_mah:
            return None
        free_min, free_at_latest_min, _, named = begun.outputs[output]
        others = begun.outputs[:output] + begun.outputs[output + 1 :]
        # No output counts as free before the hands are: see below.
        starts_min = free_min + lot.put_on_min
        at_latest_min = free_at_latest_min + lot.put_on_min
        if bench.power_w is not None:
            starts_min = _once_power_is_free(starts_min, [(one[0], one[2]) for one in others], lot.power_w, bench.power_w)
            at_latest_min = _once_power_is_free(at_latest_min, [(one[1], one[2]) for one in others], lot.power_w, bench.power_w)
        ends_at_latest_min = at_latest_min + lot.most_min
        for place in lot.packs:
            by_min = bench.wanted_min[place]
            if by_min is not None and ends_at_latest_min > by_min:
                return None
        power_w = lot.power_w if bench.power_w is not None else 0
        outputs = [(starts_min + lot.likely_min, ends_at_latest_min, power_w, named)]
        for one in others:
            if one[0] <= starts_min and one[1] <= at_latest_min:
                # It stands empty until the hands come to it.
                outputs.append((starts_min, at_latest_min, 0, one[3]))
            else:
                outputs.append((max(one[0], starts_min), max(one[1], at_latest_min), one[2], one[3]))
        outputs.sort()
        return _Begun(tuple(outputs), starts_min, at_latest_min, used_mah, begun.cost + lot.cost, _Way(begun.way, number, named))

    def _note(self, charged: int, begun: _Begun) -> None:
        worth = Worth(len(self._bench.wanted_min) - charged.bit_count(), begun.cost, max(one[0] for one in begun.outputs))
        if worth < self.best:
            self.best, self._best_way = worth, begun.way

    def turns(self) -> tuple[Turn, ...]:
        """The turns of the best plan, with the latest course of each lot as it is."""
        order: list[tuple[int, int]] = []
        way = self._best_way
        while way:
            order.append((way.lot, way.output))
            way = way.before
        return timed(self._asked, self._lots, order[::-1])


def timed(bench: Bench, lots: Sequence[Lot], order: Sequence[tuple[int, int]]) -> tuple[Turn, ...]:
    """Return when each lot of an order charges: each as soon as its output, the hands and the power are free, on either course.

    >>> lot = Lot(packs=(0,), put_on_min=3, likely_min=60, most_min=70, power_w=0, battery_mah=0, cost=0)
    >>> bench = Bench(outputs=1, power_w=None, battery_mah=None, wanted_min=(None,))
    >>> timed(bench, [lot], [(0, 0)])[0].ends_at_latest_min
    73
    """
    free = _free_at_first(bench)
    hands = (0, 0)
    turns: list[Turn] = []
    for number, output in order:
        lot = lots[number]
        starts = []
        for course in (0, 1):
            at = max(free.get(output, (0, 0, 0))[course], hands[course]) + lot.put_on_min
            if bench.power_w is not None:
                running = [(one[course], one[2]) for named, one in free.items() if named != output]
                at = _once_power_is_free(at, running, lot.power_w, bench.power_w)
            starts.append(at)
        hands = (starts[0], starts[1])
        free[output] = (starts[0] + lot.likely_min, starts[1] + lot.most_min, lot.power_w)
        turns.append(
            Turn(
                lot=number,
                output=output,
                starts_min=starts[0],
                ends_min=starts[0] + lot.likely_min,
                ends_at_latest_min=starts[1] + lot.most_min,
            )
        )
    return tuple(turns)


def _free_at_first(bench: Bench) -> dict[int, tuple[int, int, int]]:
    """When each output that has something on it is free, most likely and at the latest, and the power that it takes until then."""
    return {one.output: (one.ends_min, one.ends_at_latest_min, one.power_w if bench.power_w is not None else 0) for one in bench.running}


def _once_power_is_free(at_min: int, running: list[tuple[int, int]], power_w: int, all_w: int) -> int:
    """When a lot can start: once the lots that run, each with its end and its power, leave it enough."""
    for end_min, _ in sorted(running):
        if power_w + sum(their_w for until_min, their_w in running if until_min > at_min) <= all_w:
            break
        at_min = max(at_min, end_min)
    return at_min


def _worth_trying(outputs: tuple[Output, ...]) -> list[int]:
    """The outputs that differ: one that is free later on both courses could change places with the first."""
    if len(outputs) == 1:
        return [0]
    found = [0]
    for place in range(1, len(outputs)):
        if outputs[place][1] < min(outputs[other][1] for other in found):
            found.append(place)
    return found


def _added_to(found: list[tuple[Worth, _Begun]], worth: Worth, new: _Begun) -> bool:
    """Add a beginning unless another is nowhere worse; drop those that are nowhere better."""
    for _, old in found:
        if _is_nowhere_worse(old, new):
            return False
    found[:] = [(other, old) for other, old in found if not _is_nowhere_worse(new, old)]
    found.append((worth, new))
    return True


def _is_nowhere_worse(one: _Begun, other: _Begun) -> bool:
    if one[1] > other[1] or one[2] > other[2] or one[3] > other[3] or one[4] > other[4]:
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
