"""A plan that is followed as its lines say, by a day that goes otherwise: no supply ever gives more than it has."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st

from calc.rules.plan.day import Bench, Feed, Lot, Running
from calc.rules.plan.timing import timed, waited_for

_MINUTES = st.integers(0, 200)
_POWERS_W = st.integers(1, 100)
# Puts on, likely and most, then its output and how long it really takes.
_CHARGES = st.lists(
    st.tuples(st.integers(0, 10), st.integers(1, 90), st.integers(0, 60), _POWERS_W, st.integers(0, 1), _MINUTES), min_size=1, max_size=6
)
_ON_ALREADY = st.none() | st.tuples(st.integers(0, 1), _POWERS_W, _MINUTES)


def most_at_once_w(bench: Bench, charged: list[tuple[int, int, int, int]]) -> list[float]:
    """The most that each supply gives at once, by when each charge begins and ends, its power and its output."""
    return [
        max(
            sum(w for start, end, w, output in charged if start <= at < end and bench.feed_of(output) == feed)
            for at, *_ in charged
        )
        for feed in range(len(bench.feeds))
    ]  # fmt: skip


@given(_CHARGES, st.integers(100, 200), st.booleans(), st.booleans(), _ON_ALREADY)
@example([(3, 60, 10, 63, 0, 90), (3, 30, 10, 16, 1, 20), (3, 60, 10, 63, 1, 60)], 100, False, False, None)
def test_however_long_each_charge_takes_no_supply_gives_more_than_it_has(
    charges: list[tuple[int, int, int, int, int, int]],
    all_w: int,
    own_supply: bool,
    one_at_a_time: bool,
    on_already: tuple[int, int, int] | None,
) -> None:
    lots = [
        Lot(packs=(place,), put_on_min=put_on, likely_min=likely, most_min=likely + more, power_w=power_w, battery_mah=0, cost=0)
        for place, (put_on, likely, more, power_w, _, _) in enumerate(charges)
    ]
    running, charged, free_min = (), [], {0: 0, 1: 0}
    if on_already:
        output, power_w, ends_min = on_already
        running = (Running(output=output, ends_min=30, ends_at_latest_min=60, power_w=power_w),)
        charged, free_min = [(0, ends_min, power_w, output)], free_min | {output: ends_min}
    bench = Bench(
        outputs=2,
        feeds=(Feed(power_w=all_w, battery_mah=None),) * (1 + own_supply),
        wanted_min=(None,) * len(lots),
        running=running,
        hangs_on=(0, 1) if own_supply else (),
        one_at_a_time=one_at_a_time,
    )
    turns = timed(bench, lots, [(place, output) for place, (*_, output, _) in enumerate(charges)])
    hands_min = 0
    for turn, other in zip(turns, waited_for(bench, lots, turns), strict=True):
        lot = lots[turn.lot]
        starts_min = max(free_min[turn.output], hands_min) + lot.put_on_min
        hands_min = starts_min if other is None else max(starts_min, free_min[other])
        free_min[turn.output] = hands_min + charges[turn.lot][-1]
        charged.append((hands_min, free_min[turn.output], lot.power_w, turn.output))
    assert max(most_at_once_w(bench, charged)) <= all_w
