"""A lump that is heated from within: against the closed form, and in the order in which things get warm."""

import pytest

from calc.physics.pack.pack_heat import Body, body_of, warming

PACK = Body(heat_capacity_j_per_k=500, cooling_w_per_k=0.3)


def course(heat_w=8.0, start_degc=20.0, air_degc=20.0, time_min=10.0, body=PACK):
    return warming((body,), start_degc=start_degc, air_degc=air_degc, time_min=time_min, heat_w=lambda _: heat_w)


def test_a_pack_with_no_heat_in_it_stays_as_warm_as_the_air() -> None:
    assert course(heat_w=0) == pytest.approx((20,) * 41)


def test_a_warm_pack_with_no_heat_in_it_cools_to_a_third_in_one_time_constant() -> None:
    # 500 J/K over 0.3 W/K is 1667 s, and 1/e is 0.368.
    assert course(heat_w=0, start_degc=30, time_min=500 / 0.3 / 60)[-1] == pytest.approx(20 + 10 * 0.3679, abs=0.001)


def test_heat_that_falls_as_the_pack_warms_settles_where_heat_and_cooling_balance() -> None:
    # 9 W less a tenth of the rise is 0.3 of the rise at 22.5 K.
    settled = warming((PACK,), start_degc=20, air_degc=20, time_min=1000, heat_w=lambda degc: 9 - 0.1 * (degc - 20))
    assert settled[-1] == pytest.approx(42.5, abs=0.001)


def test_the_forecast_ends_where_the_cell_breaks_down_and_the_pack_stays_there() -> None:
    assert course(heat_w=500)[-1] == 80
    assert max(course(heat_w=500)) == 80


def test_a_cube_s_worth_of_pack_has_the_surface_of_a_brick() -> None:
    # 2 kg are a litre: a hundredth of a square metre on a side, and 7.3 of these.
    assert body_of(mass_kg=2, specific_heat_j_per_kg_k=1000, heat_transfer_w_per_m2_k=10).cooling_w_per_k == pytest.approx(0.73)
