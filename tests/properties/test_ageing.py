"""What holds of every log: what was planted in it is found, and a worse line never makes a pack look better."""

from __future__ import annotations

from math import inf

from hypothesis import example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.figures.showing import Range
from calc.inputs.refusals import Refusal
from calc.rules.ageing.remaining_life import remaining_life

_PACK = {"chemistry": "lipo", "cells": "1", "capacity_mah": "5000"}


@st.composite
def _falling(draw: st.DrawFn) -> tuple[float, list[tuple[float, float]]]:
    """Points of a line that falls by so much for each charge, with an even scatter and slips in fewer than a tenth of them."""
    slope = draw(st.floats(-20, -2))
    count = draw(st.integers(12, 30))
    places = sorted(draw(st.lists(st.integers(0, 100), min_size=count, max_size=count, unique=True)))
    scatter = draw(st.lists(st.floats(-20, 20), min_size=count, max_size=count))
    slips = draw(st.sets(st.integers(0, count - 1), max_size=count // 12))
    return slope, [(float(place), 5000 + slope * place + scatter[at] + (1500 if at in slips else 0)) for at, place in enumerate(places)]


@given(_falling())
def test_a_planted_fall_is_found_in_spite_of_scatter_and_slips(planted: tuple[float, list[tuple[float, float]]]) -> None:
    slope, points = planted
    found = remaining_life(points, now=points[-1][0], ends_at=0.8)
    span = points[-1][0] - points[0][0]
    # Scatter of 20 either way over the length of the log, and a third more for what the slips shift.
    assert abs(found.trend.line.slope - slope) <= 4 * 40 / span + 0.35 * abs(slope)


@given(st.lists(st.integers(4100, 5400), min_size=1, max_size=12), st.integers(0, 20))
def test_every_log_is_answered_with_ends_in_their_order(capacities: list[int], charges: int) -> None:
    entries = _PACK | {
        f"lines_{number}_{name}": text
        for number, mah in enumerate(capacities, 1)
        for name, text in {
            "day": f"2024-{number:02}-11",
            "kind": "check",
            "charges": str(charges),
            "measured_capacity_mah": str(mah),
        }.items()
    }
    found = answer("ageing", entries)
    assert not isinstance(found, Refusal)
    assert (found.held is None) == (found.by_a_study is not None)
    for shown in (found.held, found.charges_left, found.months_left):
        if isinstance(shown, Range):
            assert 0 <= shown.least.value <= shown.likely.value <= shown.most.value < inf


@given(st.lists(st.integers(4200, 5000), min_size=5, max_size=10), st.integers(0, 9), st.integers(1, 400))
@example([4200, 4200, 4200, 4201, 4202, 4202], 0, 1)
@example([5000, 4950, 4900, 4850, 4800, 4750], 5, 400)
def test_less_capacity_in_a_line_never_takes_a_pack_off_its_end(capacities: list[int], place: int, less: int) -> None:
    lower = [mah - less if at >= min(place, len(capacities) - 1) and at else mah for at, mah in enumerate(capacities)]

    def remaining(values: list[int]):
        return remaining_life([(10.0 * at, float(mah)) for at, mah in enumerate(values)], now=10.0 * (len(values) - 1), ends_at=0.8)

    # Above the whole of its first capacity a pack is on no way to an end: there a lower first line alone raises what is held of it.
    assert min(remaining(lower).share.likely, 1) <= min(remaining(capacities).share.likely, 1) + 1e-9
