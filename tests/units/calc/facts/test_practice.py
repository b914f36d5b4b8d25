"""What the trade does, with the numbers that a pilot would look for."""

from __future__ import annotations

import pytest

from calc.facts import practice
from calc.figures.units import degf_from_degc


def test_a_charge_at_1c_is_stopped_after_two_hours() -> None:
    assert practice.TIME_CUTOUT_MIN.value == 120


def test_a_charge_is_stopped_at_120_degrees_fahrenheit() -> None:
    assert round(degf_from_degc(practice.TEMPERATURE_STOP_MOST_DEGC.value)) == 120


def test_a_tenth_more_than_the_pack_holds_is_too_much() -> None:
    assert practice.CAPACITY_CUTOUT_MARGIN.value == 1.10


def test_the_air_is_held_to_the_stricter_of_40_celsius_and_105_fahrenheit() -> None:
    assert practice.AIR_MOST_DEGC.value == 40
    assert degf_from_degc(practice.AIR_MOST_DEGC.value) < 105


def test_a_cold_pack_gets_half() -> None:
    assert practice.COLD_RATE_C.value == practice.COLD_SHARE.value == 0.5


def test_a_meter_s_error_is_smaller_than_the_spread_that_is_watched() -> None:
    assert practice.READING_TOLERANCE_CELL_V.value < practice.SPREAD_TO_WATCH_CELL_V.value


@pytest.mark.parametrize("rate_c, flagged", [(1.02, False), (1.14, True)])
def test_2650_set_to_2700_passes_and_350_set_to_400_is_flagged(rate_c: float, flagged: bool) -> None:
    assert (rate_c > practice.FLAGGED_RATE_C.value) is flagged
