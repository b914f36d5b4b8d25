"""The hours of a plan as they are read."""

from __future__ import annotations

import pytest

from calc.presenting.day_clock import DayClock


@pytest.mark.parametrize(
    ("time_min", "shown"),
    [(0, "8:00"), (16 * 60, "0:00"), (24 * 60 - 1, "7:59"), (24 * 60, "8:00, 1 day later"), (52 * 60 + 2, "12:02, 2 days later")],
)
def test_an_hour_that_comes_a_second_time_says_how_many_days_later(time_min: float, shown: str) -> None:
    assert DayClock(480).at(time_min).replace("\u00a0", " ") == shown


def test_the_axis_of_a_picture_shows_the_hour_alone() -> None:
    assert DayClock(480).hour(24 * 60) == "8:00"
    assert DayClock(None).hour(90).replace("\u00a0", " ") == "1 h 30 min"
