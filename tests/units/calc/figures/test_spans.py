"""Spans add and multiply end by end."""

from __future__ import annotations

from calc.figures.spans import Span


def test_a_span_of_ampere_hours_becomes_one_of_minutes_by_a_factor() -> None:
    assert Span(1.0, 2.0, 4.0).times(60) == Span(60.0, 120.0, 240.0)


def test_minutes_one_after_the_other_add_end_by_end() -> None:
    assert Span(50, 60, 75).plus(Span(0, 10, 20)) == Span(50, 70, 95)
