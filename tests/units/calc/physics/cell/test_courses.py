"""Reading a course between its moments."""

from __future__ import annotations

import pytest

from calc.physics.cell.courses import Moment, minutes_to, moment_at

_COURSE = (Moment(0.0, 2.0, 3.8, 0.5), Moment(10.0, 2.0, 4.0, 0.7), Moment(30.0, 1.0, 4.0, 0.9))


def test_between_two_moments_everything_is_on_a_straight_line() -> None:
    assert moment_at(_COURSE, 20.0) == Moment(20.0, 1.5, 4.0, 0.8)


def test_at_the_last_minute_the_current_still_flows() -> None:
    assert moment_at(_COURSE, 30.0).current_a == 1.0


def test_after_the_end_no_current_flows_and_the_state_stays() -> None:
    assert moment_at(_COURSE, 40.0) == Moment(40.0, 0.0, 4.0, 0.9)


def test_a_state_that_is_reached_before_the_start_takes_no_time() -> None:
    assert minutes_to(_COURSE, 0.4) == 0.0


def test_a_state_past_the_end_is_never_reached() -> None:
    assert minutes_to(_COURSE, 0.95) is None


def test_a_state_within_is_reached_on_its_straight_line() -> None:
    assert minutes_to(_COURSE, 0.8) == pytest.approx(20.0)
