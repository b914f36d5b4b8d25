"""When each lot of an order charges: as soon as its output, the hands, the power of its supply and whoever watches are free."""

from __future__ import annotations

from collections.abc import Sequence

from calc.rules.plan.day import Bench, Lot, Turn


def timed(bench: Bench, lots: Sequence[Lot], order: Sequence[tuple[int, int]]) -> tuple[Turn, ...]:
    """Return when each lot of an order charges: each as soon as its output, the hands and the power are free, on either course.

    >>> from calc.rules.plan.day import Feed
    >>> lot = Lot(packs=(0,), put_on_min=3, likely_min=60, most_min=70, power_w=0, battery_mah=0, cost=0)
    >>> bench = Bench(outputs=1, feeds=(Feed(power_w=None, battery_mah=None),), wanted_min=(None,))
    >>> timed(bench, [lot], [(0, 0)])[0].ends_at_latest_min
    73
    """
    free = free_at_first(bench)
    hands = (0, 0)
    turns: list[Turn] = []
    for number, output in order:
        lot = lots[number]
        feed = bench.feed_of(output)
        all_w = bench.feeds[feed].power_w
        starts = []
        for course in (0, 1):
            at = max(free[output][course], hands[course]) + lot.put_on_min
            if all_w is not None:
                running = [(one[course], one[2]) for named, one in enumerate(free) if named != output and bench.feed_of(named) == feed]
                at = once_power_is_free(at, running, lot.power_w, all_w)
            starts.append(at)
        hands = (starts[0], starts[1])
        free[output] = (starts[0] + lot.likely_min, starts[1] + lot.most_min, lot.power_w)
        if bench.one_at_a_time:
            free = [(*free[output][:2], 0)] * bench.outputs
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


def free_at_first(bench: Bench) -> list[tuple[int, int, int]]:
    """When each output is free, most likely and at the latest, and the power that it takes until then; where all wait for each other, the last."""
    free = [(0, 0, 0)] * bench.outputs
    for one in bench.running:
        has_enough = bench.feeds[bench.feed_of(one.output)].power_w is None
        free[one.output] = (one.ends_min, one.ends_at_latest_min, 0 if has_enough else one.power_w)
    if bench.one_at_a_time:
        return [(max(one[0] for one in free), max(one[1] for one in free), 0)] * bench.outputs
    return free


def once_power_is_free(at_min: int, running: list[tuple[int, int]], power_w: int, all_w: int) -> int:
    """When a lot can start: once the lots that run, each with its end and its power, leave it enough."""
    for end_min, _ in sorted(running):
        if power_w + sum(their_w for until_min, their_w in running if until_min > at_min) <= all_w:
            break
        at_min = max(at_min, end_min)
    return at_min


def waited_for(bench: Bench, lots: Sequence[Lot], turns: Sequence[Turn]) -> tuple[int | None, ...]:
    """Return for each turn, in the order in which they are put on, the other output that must be ready before it begins, however late that is.

    None where both may charge at once: where more than one is watched, and their supply has the power for both.

    >>> from calc.rules.plan.day import Feed
    >>> lots = [Lot(packs=(place,), put_on_min=3, likely_min=60, most_min=70, power_w=60, battery_mah=0, cost=0) for place in (0, 1)]
    >>> bench = Bench(outputs=2, feeds=(Feed(power_w=100, battery_mah=None),), wanted_min=(None, None))
    >>> waited_for(bench, lots, timed(bench, lots, [(0, 0), (1, 1)]))
    (None, 0)
    """
    on_w = {one.output: one.power_w for one in bench.running}
    found = []
    for turn in turns:
        feed, power_w = bench.feed_of(turn.output), lots[turn.lot].power_w
        all_w = bench.feeds[feed].power_w
        others = [
            output
            for output, their_w in sorted(on_w.items())
            if output != turn.output
            and (bench.one_at_a_time or (all_w is not None and bench.feed_of(output) == feed and power_w + their_w > all_w))
        ]
        found.append(others[0] if others else None)
        if bench.one_at_a_time:
            on_w = {}
        on_w[turn.output] = power_w
    return tuple(found)
