"""Which lead will do: thick enough for the loss, for the current, and for a fuse that protects it."""

from __future__ import annotations

import pytest

from calc.physics.supply.lead_sizing import carries, thinnest_area_mm2
from calc.physics.supply.leads import lead_resistance_ohm

SIZES = (0.5, 1.5, 2.5, 4.0, 6.0, 10.0)


def thinnest(length_m: float = 1.0, current_a: float = 10, most_drop_v: float = 1.0, connector_ohm: float = 0) -> float | None:
    return thinnest_area_mm2(SIZES, length_m=length_m, current_a=current_a, most_drop_v=most_drop_v, connector_ohm=connector_ohm)


def test_on_a_long_lead_the_loss_binds() -> None:
    # 10 m there and back at 10 A: 4 V / A mm² over the area; 4 mm² lose 1.0 V exactly at 1.16 x 0.3448 x 10 / 4.
    assert thinnest(length_m=10, most_drop_v=1.0) == 4.0
    assert thinnest(length_m=10, most_drop_v=0.99) == 6.0


def test_on_a_short_lead_the_current_binds() -> None:
    # 10 A want a fuse of 15 A, which 1.5 mm² may carry.
    assert thinnest(length_m=0.1) == 1.5


def test_connectors_take_their_share_of_what_may_be_lost() -> None:
    # 10 A through 90 mΩ leave 0.1 V for a lead of 1 m, which then has 4 mm²: 0.4 V x mm² over the area.
    assert thinnest(connector_ohm=0.09) == 4.0


def test_connectors_that_lose_it_all_leave_no_lead() -> None:
    assert thinnest(connector_ohm=0.2) is None


@pytest.mark.parametrize(("area_mm2", "most_a"), [(2.5, 16), (4.0, 20), (6.0, 32), (16.0, 64)])
def test_a_lead_carries_four_fifths_of_the_largest_fuse_that_protects_it(area_mm2: float, most_a: float) -> None:
    # 20, 25 and 40 A are fuses; 80 A is more than the largest blade fuse and counts as it stands.
    assert carries(area_mm2, most_a)
    assert not carries(area_mm2, most_a + 0.1)


def test_a_lead_that_loses_exactly_what_may_be_lost_will_do() -> None:
    lost_v = 10 * lead_resistance_ohm(1.0, 2.5)
    assert thinnest(most_drop_v=lost_v) == 2.5
    assert thinnest(most_drop_v=lost_v * 0.999) == 4.0
