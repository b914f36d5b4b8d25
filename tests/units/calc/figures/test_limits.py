"""The lowest ceiling binds."""

from __future__ import annotations

from calc.figures.limits import Limit, lowest

_LABEL = Limit(2.65, "the label")
_CHARGER = Limit(5.0, "the charger")


def test_the_lowest_ceiling_binds_wherever_it_stands() -> None:
    assert lowest([_CHARGER, _LABEL]) is lowest([_LABEL, _CHARGER]) is _LABEL


def test_the_first_named_binds_where_two_are_equal() -> None:
    assert lowest([_CHARGER, _LABEL, Limit(2.65, "the rate you asked for")]) is _LABEL


def test_a_single_ceiling_binds() -> None:
    assert lowest([_CHARGER]) is _CHARGER
