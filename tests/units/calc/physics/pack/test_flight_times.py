"""What flights take, and what a pack gives, on numbers that can be followed by hand."""

from __future__ import annotations

import pytest

from calc.physics.pack.flight_times import PlannedBy, consumption_of, share_in_the_cold, usable_mah


def test_the_spread_is_the_standard_deviation() -> None:
    # 2, 4, 4, 4, 5, 5, 7, 9: mean 5, squares sum to 32, over 7.
    consumption = consumption_of([2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0])
    assert consumption.mean == 5.0
    assert consumption.spread == pytest.approx((32 / 7) ** 0.5)


@pytest.mark.parametrize(
    "each, planned_by",
    [
        ([200.0], PlannedBy.ONE_FLIGHT),
        ([200.0, 200.0], PlannedBy.LEAST_MARGIN),
        ([190.0, 210.0], PlannedBy.SPREAD),
        ([200.0] * 9 + [300.0], PlannedBy.HIGHEST),
        # The mean is 1800, and 1890 is five hundredths more: both say the same, and the margin is named first.
        ([1790.0] * 9 + [1890.0], PlannedBy.LEAST_MARGIN),
    ],
)
def test_what_sets_the_planned_draw_is_named(each: list[float], planned_by: PlannedBy) -> None:
    assert consumption_of(each).planned_by is planned_by


def test_ten_flights_are_reckoned_with_nine_degrees_of_freedom() -> None:
    # Five at 190 and five at 210: the spread is the root of 1000 / 9, which is 10.541; 1.833 x 10.541 x the root of 1.1 is 20.265.
    assert consumption_of([190.0, 210.0] * 5).margin == pytest.approx(20.265, abs=0.001)


@pytest.mark.parametrize("degc, share", [(40, 1.0), (20, 1.0), (0, 0.65), (-20, 0.30)])
def test_the_cold_takes_its_share_on_a_straight_line(degc: float, share: float) -> None:
    assert share_in_the_cold(degc) == pytest.approx(share)


def test_the_reserve_is_of_what_the_pack_gives_today() -> None:
    assert usable_mah(held_mah=1000, degc=0, reserve_percent=20) == pytest.approx(1000 * 0.65 * 0.8)
