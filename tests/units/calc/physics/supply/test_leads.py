"""What a lead loses and what it may carry. The published values stand in tests/published."""

from __future__ import annotations

import pytest

from calc.facts.copper import ALLOWED_CURRENT_A
from calc.physics.supply.leads import (
    allowed_current_a,
    largest_drop_v,
    lead_resistance_ohm,
    lead_span_ohm,
    solid_wire_ohm_per_m,
    warm_resistance_ohm,
)


def test_a_metre_of_a_square_millimetre_has_17_milliohms() -> None:
    assert solid_wire_ohm_per_m(1) == pytest.approx(0.01724, abs=0.00001)


def test_a_lead_counts_there_and_back() -> None:
    # 2 x 1.5 m x 17.24 mΩ / 2.5, and 16 % for flexible strands: 20.7 mΩ and 3.3 mΩ more.
    assert lead_resistance_ohm(length_m=1.5, area_mm2=2.5) == pytest.approx(0.0240, abs=0.00005)


def test_a_lead_has_at_least_what_plain_copper_has_and_at_most_what_strands_have() -> None:
    # 2 x 1.5 m x 17.24 mΩ / 2.5 is 20.7 mΩ, and 24.0 with the 16 %.
    found = lead_span_ohm(length_m=1.5, area_mm2=2.5)
    assert (found.least, found.likely, found.most) == pytest.approx((0.0207, 0.0240, 0.0240), abs=0.00005)


def test_twice_the_length_or_half_the_area_is_twice_the_resistance() -> None:
    one = lead_resistance_ohm(length_m=1, area_mm2=2)
    assert lead_resistance_ohm(length_m=2, area_mm2=2) == pytest.approx(2 * one)
    assert lead_resistance_ohm(length_m=1, area_mm2=1) == pytest.approx(2 * one)


@pytest.mark.parametrize("area_mm2, amperes", [(1.0, 10), (1.5, 15), (2.5, 20), (4.0, 25), (6.0, 40), (10.0, 55), (16.0, 80), (70.0, 80)])
def test_a_metric_lead_gets_the_row_of_the_next_thinner_gauge(area_mm2: float, amperes: float) -> None:
    assert allowed_current_a(area_mm2) == amperes


@pytest.mark.parametrize("label_mm2, amperes", [(0.82, 10), (1.3, 15), (3.3, 25)])
def test_a_gauge_whose_area_was_rounded_on_the_label_keeps_its_row(label_mm2: float, amperes: float) -> None:
    assert allowed_current_a(label_mm2) == amperes


@pytest.mark.parametrize("row", range(len(ALLOWED_CURRENT_A)))
def test_a_hundredth_less_than_a_row_is_the_same_wire_and_more_less_is_not(row: int) -> None:
    area_mm2, amperes = ALLOWED_CURRENT_A[row]
    assert allowed_current_a(area_mm2 * 0.99) == amperes.value
    assert allowed_current_a(area_mm2 * 0.98) < amperes.value


@pytest.mark.parametrize("area_mm2, amperes", [(0.5, 6), (0.25, 3), (0.75, 9)])
def test_a_lead_thinner_than_the_table_gets_amperes_by_its_area(area_mm2: float, amperes: float) -> None:
    assert allowed_current_a(area_mm2) == pytest.approx(amperes)


@pytest.mark.parametrize("supply_v, drop_v", [(12.0, 1.2), (13.8, 1.38), (24.0, 2.4)])
def test_a_lead_may_lose_a_tenth_of_the_voltage(supply_v: float, drop_v: float) -> None:
    assert largest_drop_v(supply_v) == pytest.approx(drop_v)


def test_a_warm_wire_resists_more_by_0_4_percent_for_each_degree() -> None:
    assert warm_resistance_ohm(1.0, 20) == 1
    assert warm_resistance_ohm(1.0, 30) == pytest.approx(1.0393)
