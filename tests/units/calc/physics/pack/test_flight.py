"""What a flight does to a pack, on numbers that can be followed by hand, and the rate that it can stand."""

from __future__ import annotations

import pytest

from calc.facts.pack_heat import SPECIFIC_HEAT_J_PER_KG_K
from calc.physics.pack.flight import flight, highest_rate_c
from calc.physics.pack.flight_packs import FlightPack, flight_pack


def _pack(**changes: object) -> FlightPack:
    """Six cells of 5 Ah that were read at 3 mΩ, and count 3, 6 or 12 mΩ at 25 °C."""
    known = {
        "cells": 6, "capacity_mah": 5000, "effective_capacity_mah": 5000, "cell_resistance_mohm": 3, "label_discharge_rate_c": None, "mass_kg": 0.7,
        "start_degc": 25, "air_degc": 25,
    }  # fmt: skip
    return flight_pack("lipo", **(known | changes))


@pytest.mark.parametrize("air_degc", [10, 25, 40])
@pytest.mark.parametrize("mohm", [1, 3, 10])
def test_at_the_rate_that_it_stands_a_pack_lands_at_the_limit(mohm: float, air_degc: float) -> None:
    pack = _pack(cell_resistance_mohm=mohm, air_degc=air_degc, start_degc=15)
    rate = highest_rate_c(pack, limit_degc=60, left_share=0.2)
    for rate_c, end in ((rate.least, "most"), (rate.likely, "likely"), (rate.most, "least")):
        current_a = rate_c * 5
        # A fifth is left: four fifths of an hour at 1C.
        landed = flight(pack, highest_current_a=current_a, mean_current_a=current_a, time_min=48 / rate_c).end_degc
        # The search takes twenty steps, and the flight forty.
        assert getattr(landed, end) == pytest.approx(60, abs=1.0)


def test_a_pack_that_hardly_warms_stands_the_fastest_rate_that_is_looked_at() -> None:
    assert highest_rate_c(_pack(cell_resistance_mohm=0.1), limit_degc=79, left_share=0.9).most == 400


def test_the_volts_lost_are_the_current_times_each_resistance() -> None:
    done = flight(_pack(), highest_current_a=50, mean_current_a=25, time_min=5)
    assert (done.sag_cell_v.least, done.sag_cell_v.likely, done.sag_cell_v.most) == pytest.approx((0.15, 0.30, 0.60))
    # Six cells at 50 A.
    assert (done.peak_heat_w.least, done.peak_heat_w.likely, done.peak_heat_w.most) == pytest.approx((45, 90, 180))
    # A full cell rests at 4.2 V or nearly, on every curve.
    assert done.start_cell_v.likely == pytest.approx(4.2 - 0.30, abs=0.02)
    assert done.start_cell_v.least == pytest.approx(4.2 - 0.60, abs=0.05)
    assert done.start_cell_v.most == pytest.approx(4.2 - 0.15, abs=0.05)


def test_the_share_that_is_used_is_the_mean_current_times_the_time() -> None:
    # 25 A for six minutes are 2.5 Ah of 5, and of a pack that holds 4 Ah five eighths.
    assert flight(_pack(), highest_current_a=50, mean_current_a=25, time_min=6).used_share == pytest.approx(0.5)
    assert flight(_pack(effective_capacity_mah=4000), highest_current_a=50, mean_current_a=25, time_min=6).used_share == pytest.approx(
        0.625
    )


def test_a_flight_longer_than_the_pack_lasts_ends_on_an_empty_cell() -> None:
    long = flight(_pack(), highest_current_a=25, mean_current_a=25, time_min=30).end_cell_v
    last = flight(_pack(), highest_current_a=25, mean_current_a=25, time_min=12).end_cell_v
    # After twelve minutes nothing is left; what is warmer then loses fewer volts.
    assert long.likely == pytest.approx(last.likely, abs=0.05)
    assert last.likely < 3.5


def test_the_heat_lies_between_that_of_an_even_draw_and_that_of_full_throttle_or_none() -> None:
    # 25 A even: 6 cells x 625 A² x 3 mΩ are 11.25 W. 25 A as 50 A half of the time: 1250 A² x 12 mΩ x 6 are 90 W.
    # A pack that warms resists less, so both are upper ends for it.
    done = flight(_pack(), highest_current_a=50, mean_current_a=25, time_min=2)
    assert 0.9 * 11.25 < done.mean_heat_w.least < 11.25
    assert 0.7 * 90 < done.mean_heat_w.most < 90
    # Half way between the squares, 937.5 A², through 6 mΩ.
    assert 0.85 * 33.75 < done.mean_heat_w.likely < 33.75


def test_a_pack_that_was_not_weighed_has_the_mass_of_its_watt_hours() -> None:
    # 6 x 3.7 V x 5 Ah are 111 Wh.
    pack = _pack(mass_kg=None)
    assert pack.mass_kg.least < pack.mass_kg.likely < pack.mass_kg.most
    assert 111 / pack.mass_kg.least == pytest.approx(200)
    assert _pack().mass_kg.least == _pack().mass_kg.likely == _pack().mass_kg.most == 0.7


def test_every_course_begins_where_the_pack_begins_and_the_warmer_pack_ends_warmer() -> None:
    done = flight(_pack(start_degc=20), highest_current_a=50, mean_current_a=25, time_min=6)
    assert [course[0] for course in done.courses_degc] == [20, 20, 20]
    assert 20 < done.end_degc.least < done.end_degc.likely < done.end_degc.most


def test_the_lightest_pack_with_the_most_heat_and_no_wind_keeps_nearly_all_of_it() -> None:
    # 90 W for two minutes are at most 10.8 kJ; 0.7 kg at 830 J/(kg K) take 581 J for each kelvin: 18.6 K, less what it resists less.
    done = flight(_pack(), highest_current_a=50, mean_current_a=25, time_min=2)
    assert 25 + 13 < done.end_degc.most < 25 + 18.6


def test_the_coolest_landing_is_looked_for_among_five_masses_half_way_apart() -> None:
    # The ends, the likely mass, and between two of them the root of both.
    pack = _pack(mass_kg=None)
    holds_least = SPECIFIC_HEAT_J_PER_KG_K.least.value
    light, likely, heavy = pack.mass_kg.least, pack.mass_kg.likely, pack.mass_kg.most
    masses_kg = [body.heat_capacity_j_per_k / holds_least for body in pack.coolest.bodies[1:]]
    assert masses_kg == pytest.approx([light, (light * likely) ** 0.5, likely, (likely * heavy) ** 0.5, heavy])
    # And the heaviest, that holds most, comes first.
    assert pack.coolest.bodies[0].heat_capacity_j_per_k == pytest.approx(heavy * SPECIFIC_HEAT_J_PER_KG_K.most.value)


def test_a_pack_in_warmer_air_lands_coolest_heavy_and_warmest_light() -> None:
    pack = _pack(mass_kg=None, start_degc=10, air_degc=30)
    least, most = SPECIFIC_HEAT_J_PER_KG_K.least.value, SPECIFIC_HEAT_J_PER_KG_K.most.value
    assert [body.heat_capacity_j_per_k for body in pack.coolest.bodies] == pytest.approx([pack.mass_kg.most * most] * 2)
    assert [body.heat_capacity_j_per_k for body in pack.warmest.bodies] == pytest.approx([pack.mass_kg.least * least] * 3)
    # From still air to wind: each loses more for a kelvin than the one before.
    for bodies in (pack.coolest.bodies, pack.warmest.bodies):
        losses = [body.cooling_w_per_k for body in bodies]
        assert losses == sorted(losses) and len(set(losses)) == len(losses)
