"""Spans add and multiply end by end."""

from __future__ import annotations

from math import inf, nan

import pytest

from calc.figures.spans import Span


def test_a_span_of_ampere_hours_becomes_one_of_minutes_by_a_factor() -> None:
    assert Span(1.0, 2.0, 4.0).times(60) == Span(60.0, 120.0, 240.0)


def test_minutes_one_after_the_other_add_end_by_end() -> None:
    assert Span(50, 60, 75).plus(Span(0, 10, 20)) == Span(50, 70, 95)


@pytest.mark.parametrize("ends", [(29.0, 25.0, 22.0), (45.0, 44.0, 65.0), (1.0, 3.0, 2.0), (nan, 1.0, 2.0), (0.0, nan, 2.0)])
def test_no_range_can_be_made_the_wrong_way_round(ends: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="from its least to its most"):
        Span(*ends)


@pytest.mark.parametrize("ends", [(0.1 + 0.2, 0.3, 0.3), (60.0, 60.0, 60.0 - 1e-12), (0.0, 0.0, inf)])
def test_what_rounding_does_to_equal_ends_is_let_through(ends: tuple[float, float, float]) -> None:
    assert Span(*ends).likely == ends[1]


@pytest.mark.parametrize("ends", [(0.1 + 0.2, 0.3, 0.3), (60.0, 60.0, 60.0 - 1e-12)])
def test_what_rounding_has_turned_round_is_put_in_order(ends: tuple[float, float, float]) -> None:
    span = Span(*ends)
    assert span.least <= span.likely <= span.most
