"""What no plan can be better than, from the state of a day that has begun: how many packs can still be charged, at what cost, until when."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate
from math import inf
from typing import NamedTuple

from calc.rules.plan.day import Bench, Lot, Worth

# A pack's share of a lot of up to four packs, or of eight, is a whole number of these parts.
_PARTS = 24

# An output: when it is free, most likely and at the latest, the power that it takes until then, and its number.
Output = tuple[int, int, int, int]


class _Needed(NamedTuple):
    """What packs take: of the battery that is their only supply, for each of these; of any; and of the time until each hour. See `_summed`."""

    of_feeds: list[list[int]]
    of_all: list[int]
    early: list[list[int]]


class Bounds:
    """The bounds of one day. What a pack takes at least is its share of the lot in which it takes least."""

    def __init__(self, bench: Bench, lots: Sequence[Lot]) -> None:
        self._bench = bench
        self._packs = len(bench.wanted_min)
        self._put_on_min = min((lot.put_on_min for lot in lots), default=0)
        self._hours_min = sorted({by for by in bench.wanted_min if by is not None})
        with_pack = [[lot for lot in lots if place in lot.packs] for place in range(self._packs)]
        self._has_lot = [bool(found) for found in with_pack]

        def least(place: int, amounts: Sequence[int]) -> int:
            return min(amounts, default=0) if self._has_lot[place] else 0

        def share(amount: int, lot: Lot) -> int:
            return _PARTS * amount // len(lot.packs)

        self._whole_min = [least(place, [lot.taken_min for lot in found]) for place, found in enumerate(with_pack)]
        at_latest = [least(place, [lot.put_on_min + lot.most_min for lot in found]) for place, found in enumerate(with_pack)]
        # The latest at which a pack can still be put on for its hour.
        self._begin_by_min = [
            inf if by is None else by - at_latest_min for by, at_latest_min in zip(bench.wanted_min, at_latest, strict=True)
        ]
        self._work = [least(place, [share(lot.taken_min, lot) for lot in found]) for place, found in enumerate(with_pack)]
        self._slow_work = [
            least(place, [share(lot.put_on_min + lot.most_min, lot) for lot in found]) for place, found in enumerate(with_pack)
        ]
        self._battery = [least(place, [share(lot.battery_mah, lot) for lot in found]) for place, found in enumerate(with_pack)]
        # The supply of a pack that has no other.
        feeds = [frozenset[int]().union(*map(bench.feeds_of, found)) for found in with_pack]
        self._only_feed = [min(found) if len(found) == 1 else None for found in feeds]
        self._runs_down = any(feed.battery_mah is not None for feed in bench.feeds)
        powers_w = [feed.power_w for feed in bench.feeds]
        self._all_w = None if None in powers_w else sum(power_w for power_w in powers_w if power_w is not None)
        self._cost = [least(place, [share(lot.cost, lot) for lot in found]) for place, found in enumerate(with_pack)]
        self._energy = [least(place, [share(lot.power_w * lot.likely_min, lot) for lot in found]) for place, found in enumerate(with_pack)]
        self._known_left: dict[int, tuple[int, ...]] = {}
        self._known_needed: dict[tuple[int, ...], _Needed] = {}
        self._known: dict[tuple[int, int], tuple[int, int, int, int]] = {}

    def worth(
        self, charged: int, outputs: Sequence[Output], hands_min: int, hands_at_latest_min: int, used_mah: Sequence[int], cost: int
    ) -> Worth:
        """Return what no plan can be better than that goes on from here. `charged` has a bit for each pack."""
        if self._bench.one_at_a_time:
            outputs = outputs[:1]  # all are free at once, and one of them counts: no two are used at a time
        can = self._can(charged, outputs, hands_at_latest_min, used_mah)
        work, longest_min, more_cost, energy = self._rest(charged, can)
        free_min = [output[0] for output in outputs]
        end_min = max(free_min) if charged else 0
        if can:
            # One pair of hands: two outputs that stand empty do not begin at once.
            first, *others = sorted(free_min)
            waits_min = 0
            if others and others[0] < first + self._put_on_min and first == hands_min:
                waits_min = first + self._put_on_min - others[0]
            all_free = sum(free_min) + waits_min
            end_min = max(end_min, first + longest_min, -(-(_PARTS * all_free + work) // (_PARTS * len(free_min))))
            if self._all_w is not None:
                energy += _PARTS * sum(output[2] * (output[0] - hands_min) for output in outputs)
                end_min = max(end_min, hands_min - (-energy // (_PARTS * self._all_w)))
        left_out = self._packs - charged.bit_count() - can
        return Worth(left_out, cost + -(-more_cost // _PARTS), end_min)

    def _can(self, charged: int, outputs: Sequence[Output], hands_at_latest_min: int, used_mah: Sequence[int]) -> int:
        """How many packs more can be charged at most."""
        can = self._left(charged)
        if self._hours_min:
            earliest_min = max(min(output[1] for output in outputs), hands_at_latest_min)
            can = tuple(place for place in can if earliest_min <= self._begin_by_min[place])
        needed = self._needed(can)
        most = self._can_by_battery(needed, used_mah) if self._runs_down else len(can)
        if self._hours_min:
            free_min = [max(output[1], hands_at_latest_min) for output in outputs]
            for hour_min, early in zip(self._hours_min, needed.early, strict=True):
                room_min = sum([hour_min - free for free in free_min if free < hour_min])
                most = min(most, len(can) - len(early) + bisect_right(early, _PARTS * room_min))
        return most

    def _can_by_battery(self, needed: _Needed, used_mah: Sequence[int]) -> int:
        """How many of these packs the batteries can charge at most: each of them those that have no other supply, and all of them together."""
        most, rooms = len(needed.of_all), []
        for feed, used, of_feed in zip(self._bench.feeds, used_mah, needed.of_feeds, strict=True):
            if feed.battery_mah is not None:
                rooms.append(feed.battery_mah - used)
                most -= len(of_feed) - bisect_right(of_feed, _PARTS * rooms[-1])
        if 1 < len(rooms) == len(needed.of_feeds):
            most = min(most, bisect_right(needed.of_all, _PARTS * sum(rooms)))
        return most

    def _needed(self, can: tuple[int, ...]) -> _Needed:
        if (found := self._known_needed.get(can)) is None:
            wanted = [(place, by) for place in can if (by := self._bench.wanted_min[place]) is not None]
            found = self._known_needed[can] = _Needed(
                of_feeds=[
                    _summed(self._battery[place] for place in can if self._only_feed[place] == feed)
                    for feed in range(len(self._bench.feeds))
                ],
                of_all=_summed(self._battery[place] for place in can),
                early=[_summed(self._slow_work[place] for place, by in wanted if by <= hour_min) for hour_min in self._hours_min],
            )
        return found

    def _left(self, charged: int) -> tuple[int, ...]:
        """The packs that some lot has and that are not charged yet."""
        if (found := self._known_left.get(charged)) is None:
            found = tuple(place for place in range(self._packs) if not charged >> place & 1 and self._has_lot[place])
            self._known_left[charged] = found
        return found

    def _rest(self, charged: int, can: int) -> tuple[int, int, int, int]:
        """What `can` more packs take at least: work in parts of minutes, minutes of the longest, and cost and watt-minutes in parts."""
        key = (charged, can)
        if (found := self._known.get(key)) is None:
            left = self._left(charged)

            def least_of(amounts: Sequence[int]) -> list[int]:
                return sorted(amounts[place] for place in left)[:can]

            found = (
                sum(least_of(self._work)),
                max(least_of(self._whole_min), default=0),
                sum(least_of(self._cost)),
                sum(least_of(self._energy)),
            )
            self._known[key] = found
        return found


def _summed(amounts: Iterable[int]) -> list[int]:
    """The least of these amounts, the two least together, and so on: as many fit into a room as there are sums up to it."""
    return list(accumulate(sorted(amounts)))
