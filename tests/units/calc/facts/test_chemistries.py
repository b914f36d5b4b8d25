"""Each chemistry's voltages stand in the order in which a pack meets them, and the strict one is used."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE, Chemistry

_BY_KEY = pytest.mark.parametrize("chemistry", CHEMISTRIES.values(), ids=CHEMISTRIES)


@_BY_KEY
def test_a_cell_goes_from_the_upper_limit_down_to_its_floor(chemistry: Chemistry) -> None:
    falling = [
        chemistry.upper_limit_cell_v,
        chemistry.full_cell_v,
        chemistry.storage_high_cell_v,
        chemistry.storage_low_cell_v,
        chemistry.end_of_flight_resting_cell_v,
        chemistry.end_of_flight_load_cell_v,
        chemistry.careful_cutoff_cell_v,
        chemistry.maker_cutoff_cell_v,
    ]
    assert all(higher.value > lower.value for higher, lower in pairwise(falling))


@_BY_KEY
def test_a_cell_is_never_taken_below_the_maker_s_own_cutoff(chemistry: Chemistry) -> None:
    assert chemistry.never_below_cell_v.value == chemistry.maker_cutoff_cell_v.value


@_BY_KEY
def test_the_careful_cutoff_leaves_at_least_a_fifth_of_a_volt(chemistry: Chemistry) -> None:
    assert chemistry.careful_cutoff_cell_v.value - chemistry.maker_cutoff_cell_v.value > 0.19


@_BY_KEY
def test_the_mode_names_the_full_voltage(chemistry: Chemistry) -> None:
    assert f"{chemistry.full_cell_v.value:.2f} V" in chemistry.name
    assert f"{chemistry.full_cell_v.value:.2f} V per cell" in chemistry.charger_mode


@_BY_KEY
def test_the_degrees_rise_from_too_cold_to_danger(chemistry: Chemistry) -> None:
    window = chemistry.temperatures
    assert (
        window.charge_least_degc.value
        < window.charge_slow_below_degc.value
        < window.charge_most_degc.value
        < window.discharge_most_degc.value
    )


@pytest.mark.parametrize("key, full_v", [("lipo", 4.20), ("lihv", 4.35), ("liion", 4.20), ("life", 3.65)])
def test_a_cell_is_full_where_its_label_says(key: str, full_v: float) -> None:
    assert CHEMISTRIES[key].full_cell_v.value == full_v


def test_a_lithium_polymer_cell_has_the_maker_s_3_0_v_and_the_careful_3_2_v() -> None:
    assert CHEMISTRIES["lipo"].maker_cutoff_cell_v.value == 3.0
    assert CHEMISTRIES["lipo"].careful_cutoff_cell_v.value == 3.2


def test_no_chemistry_is_charged_in_another_one_s_mode() -> None:
    assert len({chemistry.charger_mode for chemistry in CHEMISTRIES.values()}) == len(CHEMISTRIES)


def test_a_nickel_cell_on_charge_reads_far_below_any_lithium_cell() -> None:
    nickel = NICKEL_METAL_HYDRIDE
    assert nickel.cutoff_cell_v.value < nickel.nominal_cell_v.value < nickel.on_charge_high_cell_v.value < 2.0
