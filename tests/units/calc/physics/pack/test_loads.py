"""Loads: the value that is made, the watts that it must stand, how hot it gets, and lamps that glow less."""

from __future__ import annotations

import pytest

from calc.facts.loads import E12
from calc.physics.pack.loads import (
    lamp_current_a,
    lamps_in_series,
    preferred_ohm,
    rating_w,
    resistance_of_two_loads_mohm,
    resistor_temperature_degc,
)


@pytest.mark.parametrize(
    "asked_ohm, made_ohm",
    [(0.5, 0.56), (0.82, 0.82), (0.83, 1.0), (1.0, 1.0), (8.2, 8.2), (8.21, 10.0), (16.8, 18.0), (100.0, 100.0), (4700.1, 5600.0)],
)
def test_the_next_value_that_is_made_is_never_below_what_is_asked(asked_ohm: float, made_ohm: float) -> None:
    assert preferred_ohm(asked_ohm) == made_ohm


def test_a_value_that_is_made_is_its_own() -> None:
    for value in E12.values:
        assert preferred_ohm(value * 10) == pytest.approx(value * 10, abs=1e-9)


def test_twelve_volts_over_one_ampere_are_twelve_ohms_and_no_step_more() -> None:
    assert preferred_ohm(12.6 / 1.05) == 12.0


@pytest.mark.parametrize("power_w, rated_w", [(10.0, 20.0), (10.1, 21.0), (0.2, 1.0)])
def test_a_resistor_carries_half_of_its_rating_at_most(power_w: float, rated_w: float) -> None:
    assert rating_w(power_w) == rated_w


def test_at_full_load_the_surface_is_as_hot_as_the_specification_says() -> None:
    span = resistor_temperature_degc(25, power_w=20, rating_w=20)
    assert (span.least, span.likely, span.most) == (275, 350, 350)


def test_hotter_air_makes_a_hotter_load_degree_by_degree() -> None:
    cool, warm = (resistor_temperature_degc(air_degc, power_w=10, rating_w=20) for air_degc in (10, 30))
    assert warm.least - cool.least == pytest.approx(20)


def test_a_lamp_at_a_quarter_of_its_voltage_draws_nearly_half_of_its_current() -> None:
    # 0.25^0.5 is 0.5, and 0.55 is a little more than 0.5.
    assert 0.45 < lamp_current_a(3.0, lamps=1, lamp_v=12.0, lamp_w=12.0) < 0.5


def test_lamps_in_a_row_share_the_voltage() -> None:
    assert lamp_current_a(24.0, lamps=2, lamp_v=12.0, lamp_w=24.0) == pytest.approx(2.0)


@pytest.mark.parametrize("full_v, lamps", [(4.2, 1), (12.0, 1), (12.6, 2), (25.2, 3), (58.8, 5)])
def test_no_lamp_gets_more_than_its_own_voltage(full_v: float, lamps: int) -> None:
    assert lamps_in_series(full_v, 12.0) == lamps


def test_a_voltage_that_does_not_fall_means_no_resistance() -> None:
    assert resistance_of_two_loads_mohm(first_v=3.9, first_a=1.0, second_v=3.9, second_a=5.0) == 0.0
