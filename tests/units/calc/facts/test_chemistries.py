"""Each chemistry's voltages stand in the order in which a pack meets them, and the strict one is used."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE, Chemistry

# What burns if it slips, and what every property test reads from the records: full, highest nominal, storage band, careful cutoff,
# floor. Full and floor by Maleki and others 2014, Chen and others 2020 and a cell's data sheet; the rest is common practice, no
# source, but for the storage bands of round cells and of iron phosphate, which are read off their curves.
LIMITS_CELL_V = {
    "lipo": (4.20, 3.70, (3.80, 3.84), 3.20, 3.00),
    "lihv": (4.35, 3.85, (3.80, 3.84), 3.20, 3.00),
    "liion": (4.20, 3.70, (3.67, 3.84), 3.00, 2.50),
    "life": (3.65, 3.30, (3.25, 3.27), 2.80, 2.50),
}

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
    # The unit does not fall onto the next line.
    full = f"{chemistry.full_cell_v.value:.2f}\N{NO-BREAK SPACE}V"
    assert full in chemistry.name and f"{full} per cell" in chemistry.charger_mode


@_BY_KEY
def test_the_degrees_rise_from_too_cold_to_danger(chemistry: Chemistry) -> None:
    window = chemistry.temperatures
    assert (
        window.charge_least_degc.value
        < window.charge_slow_below_degc.value
        < window.charge_most_degc.value
        < window.discharge_most_degc.value
    )


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_the_limits_of_a_chemistry_are_as_they_are_typed_here_a_second_time(key: str) -> None:
    one = CHEMISTRIES[key]
    assert key in LIMITS_CELL_V, (
        f"calc/facts/chemistries.py has {key!r}: type its limits into LIMITS_CELL_V of tests/units/calc/facts/test_chemistries.py"
    )
    assert LIMITS_CELL_V[key] == (
        one.full_cell_v.value,
        one.highest_nominal_cell_v.value,
        (one.storage_low_cell_v.value, one.storage_high_cell_v.value),
        one.careful_cutoff_cell_v.value,
        one.never_below_cell_v.value,
    )


@_BY_KEY
def test_the_storage_band_lies_on_the_likely_curve(chemistry: Chemistry) -> None:
    curve = chemistry.resting.likely.cell_v
    assert curve[0] < chemistry.storage_low_cell_v.value < chemistry.storage_high_cell_v.value < curve[-1]


@_BY_KEY
def test_what_is_not_known_well_goes_from_the_least_to_the_most(chemistry: Chemistry) -> None:
    for estimate in (chemistry.resistance_class_ohm_ah, chemistry.energy_per_mass_wh_per_kg):
        assert 0 < estimate.least.value < estimate.likely.value < estimate.most.value
    assert 0 <= chemistry.lead_share.value < 1


def test_no_chemistry_is_charged_in_another_one_s_mode() -> None:
    assert len({chemistry.charger_mode for chemistry in CHEMISTRIES.values()}) == len(CHEMISTRIES)


def test_a_nickel_cell_on_charge_reads_far_below_any_lithium_cell() -> None:
    nickel = NICKEL_METAL_HYDRIDE
    assert nickel.cutoff_cell_v.value < nickel.nominal_cell_v.value < nickel.on_charge_high_cell_v.value < 2.0
