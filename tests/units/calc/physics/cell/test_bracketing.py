"""A crossing is found to the width asked for, in few questions where it is smooth, and never in many more than halving."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, exp, log2

import pytest

from calc.physics.cell.bracketing import root_bracket


class _Counted:
    def __init__(self, past_by: Callable[[float], float]) -> None:
        self._past_by = past_by
        self.questions = 0

    def __call__(self, place: float) -> float:
        self.questions += 1
        return self._past_by(place)


_SMOOTH = {
    "a line": (lambda place: place - 0.3, 0.0, 1.0),
    "a power": (lambda place: place**9 - 0.001, 0.0, 1.0),
    "an exponential": (lambda place: exp(place) - 5, -5.0, 10.0),
}
_ROUGH = {
    "a step": (lambda place: -1.0 if place < 1 / 3 else 1.0, 0.0, 1.0),
    "a flat crossing": (lambda place: place**3, -1.0, 2.0),
    "a plateau": (lambda place: min(exp(place) - 5, 1e-6), -5.0, 10.0),
}
_WIDTH = 1e-9


@pytest.mark.parametrize("name", _SMOOTH | _ROUGH)
def test_the_crossing_lies_between_the_two_places(name: str) -> None:
    past_by, before, past = (_SMOOTH | _ROUGH)[name]
    low, high = root_bracket(past_by, before, past, _WIDTH)
    assert past_by(low) < 0 <= past_by(high)
    assert high - low <= _WIDTH


@pytest.mark.parametrize("name", _SMOOTH)
def test_a_smooth_quantity_takes_half_of_the_questions_of_halving(name: str) -> None:
    past_by, before, past = _SMOOTH[name]
    counted = _Counted(past_by)
    root_bracket(counted, before, past, _WIDTH)
    assert counted.questions <= ceil(log2((past - before) / _WIDTH)) / 2


@pytest.mark.parametrize("name", _ROUGH)
def test_a_rough_quantity_takes_few_more_than_halving(name: str) -> None:
    past_by, before, past = _ROUGH[name]
    counted = _Counted(past_by)
    root_bracket(counted, before, past, _WIDTH)
    # The two ends, and the turns to spare.
    assert counted.questions <= ceil(log2((past - before) / _WIDTH)) + 6


def test_a_quantity_that_is_past_0_at_once_is_left_there() -> None:
    assert root_bracket(lambda _: 0.0, 2.0, 3.0, _WIDTH) == (2.0, 2.0)


def test_it_ends_where_no_number_lies_between_the_places() -> None:
    def past_by(place: float) -> float:
        return place - 60

    low, high = root_bracket(past_by, 0.0, 60 + 3e-10, 1e-300)
    assert past_by(low) < 0 <= past_by(high)
    assert high - low < 1e-13
