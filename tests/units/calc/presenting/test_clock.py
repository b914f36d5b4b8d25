"""Times as a clock and a timer show them."""

import pytest

from calc.presenting.clock import in_hours, on_a_timer


@pytest.mark.parametrize("time_min, words", [(0, "0 min"), (59.4, "59 min"), (59.6, "1 h 0 min"), (125, "2 h 5 min")])
def test_hours_are_counted_after_rounding(time_min: float, words: str) -> None:
    assert in_hours(time_min).replace("\u00a0", " ") == words


@pytest.mark.parametrize("time_min, words", [(6.5, "6 min 30 s"), (0.5, "0 min 30 s"), (5 + 10 / 60, "5 min 10 s"), (6.9999, "7 min 0 s")])
def test_a_timer_has_seconds_and_no_decimals(time_min: float, words: str) -> None:
    assert on_a_timer(time_min).replace("\u00a0", " ") == words
