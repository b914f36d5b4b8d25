"""Packs one after the other on one charger, on minutes that add up in the head."""

from __future__ import annotations

from calc.figures.spans import Span
from calc.rules.storage.evening import evening_of

SHORT, MIDDLE, LONG = Span(20, 30, 40), Span(50, 60, 70), Span(100, 150, 200)


def test_the_slowest_starts_first_and_each_waits_for_the_one_before_and_for_the_change() -> None:
    evening = evening_of([SHORT, LONG, MIDDLE], time_left_min=1000)
    assert evening.tonight == (1, 2, 0)
    assert evening.starts_min == (Span(0, 0, 0), Span(103, 153, 203), Span(156, 216, 276))
    assert evening.whole_min == Span(176, 246, 316)


def test_a_pack_fits_by_the_most_that_it_may_take() -> None:
    # 70, 3 to change, 40: 113 minutes at most.
    assert evening_of([SHORT, MIDDLE], time_left_min=113).not_tonight == ()
    assert evening_of([SHORT, MIDDLE], time_left_min=112).not_tonight == (0,)


def test_a_pack_that_does_not_fit_makes_room_for_shorter_ones() -> None:
    evening = evening_of([LONG, SHORT, MIDDLE], time_left_min=120)
    assert (evening.tonight, evening.not_tonight) == ((2, 1), (0,))


def test_where_nothing_fits_nothing_is_promised() -> None:
    evening = evening_of([LONG], time_left_min=30)
    assert evening.tonight == evening.starts_min == ()
    assert evening.whole_min == Span(0, 0, 0)
