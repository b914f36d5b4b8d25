"""The sizes of gauges, by their definition. The published values stand in tests/published."""

from __future__ import annotations

import pytest

from calc.figures.gauges import area_mm2_of_gauge, diameter_mm_of_gauge


def test_gauge_36_is_five_thousandths_of_an_inch() -> None:
    assert diameter_mm_of_gauge(36) == pytest.approx(0.005 * 25.4)


def test_39_gauges_down_a_wire_is_92_times_as_thin() -> None:
    assert diameter_mm_of_gauge(0) / diameter_mm_of_gauge(39) == pytest.approx(92)


def test_the_area_is_that_of_a_round_wire() -> None:
    # Pi over four times the square.
    assert area_mm2_of_gauge(12) == pytest.approx(0.785398 * diameter_mm_of_gauge(12) ** 2, rel=1e-6)


# 0.4600 inch is the diameter of gauge 4/0 by definition (ASTM B258, from memory): 11.684 mm.
def test_the_thickest_gauge_is_as_thick_as_it_is_defined() -> None:
    assert diameter_mm_of_gauge(-3) == pytest.approx(0.4600 * 25.4, rel=1e-9)


@pytest.mark.parametrize("gauge", [-4, -3.1, 40.1, 41, 1e9])
def test_a_gauge_that_no_lead_at_a_field_has_is_refused(gauge: float) -> None:
    with pytest.raises(ValueError, match="outside -3 to 40"):
        area_mm2_of_gauge(gauge)


@pytest.mark.parametrize("gauge", [-3, 40])
def test_the_last_gauges_are_accepted(gauge: float) -> None:
    assert area_mm2_of_gauge(gauge) > 0
