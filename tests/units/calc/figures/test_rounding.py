"""A ceiling is rounded down to the dial's step and a capacity setting up, and neither loses a step to binary fractions."""

from __future__ import annotations

import pytest

from calc.figures.rounding import down_to_step, up_to_step

# Tenths up to 20 A: `value // 0.1` loses a step for more than half of them.
_TENTHS = [float(f"{tenths // 10}.{tenths % 10}") for tenths in range(201)]


@pytest.mark.parametrize(
    "value, step, setting",
    [(2.65, 0.1, 2.6), (2.69, 0.1, 2.6), (0.09, 0.1, 0.0), (5.04, 0.25, 5.0), (5.99, 1, 5.0), (0.789, 0.05, 0.75), (0, 0.1, 0.0)],
)
def test_a_ceiling_goes_down(value: float, step: float, setting: float) -> None:
    assert down_to_step(value, step) == setting


@pytest.mark.parametrize(
    "value, step, setting",
    [(2650, 100, 2700), (350, 100, 400), (2601, 100, 2700), (2650, 50, 2650), (2650, 1, 2650), (20, 100, 100), (121, 10, 130)],
)
def test_a_capacity_goes_up(value: float, step: float, setting: float) -> None:
    assert up_to_step(value, step) == setting


@pytest.mark.parametrize("rounded", [down_to_step, up_to_step])
def test_a_value_on_a_step_stays_on_it(rounded: object) -> None:
    assert [rounded(value, 0.1) for value in _TENTHS] == _TENTHS


@pytest.mark.parametrize("rounded", [down_to_step, up_to_step])
def test_a_sum_that_misses_its_step_by_binary_noise_counts_as_on_it(rounded: object) -> None:
    assert rounded(0.1 + 0.2, 0.1) == 0.3
    assert rounded(0.8 - 0.1, 0.1) == 0.7


def test_more_than_noise_below_a_step_is_below_it() -> None:
    assert down_to_step(2.9999, 0.1) == 2.9
    assert up_to_step(2700.001, 100) == 2800
