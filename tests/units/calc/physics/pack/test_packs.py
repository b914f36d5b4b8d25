"""Currents, watt-hours, and the cell counts that a voltage fits."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.pack.packs import cell_counts_that_fit, current_at_rate_a, fits_cell_count, rate_c_of_current, watt_hours


@pytest.mark.parametrize("capacity_mah, rate_c, current_a", [(2650, 1, 2.65), (5000, 2, 10.0), (350, 0.5, 0.175)])
def test_a_rate_is_a_multiple_of_the_capacity_in_an_hour(capacity_mah: float, rate_c: float, current_a: float) -> None:
    assert current_at_rate_a(capacity_mah, rate_c) == pytest.approx(current_a)
    assert rate_c_of_current(capacity_mah, current_a) == pytest.approx(rate_c)


@pytest.mark.parametrize("capacity_mah, current_a, rate_c", [(2650, 2.7, 1.02), (350, 0.4, 1.14)])
def test_a_capacity_that_was_rounded_up_gives_more_than_1c(capacity_mah: float, current_a: float, rate_c: float) -> None:
    assert round(rate_c_of_current(capacity_mah, current_a), 2) == rate_c


def test_watt_hours_are_ampere_hours_times_nominal_volts() -> None:
    assert watt_hours(capacity_mah=2000, cells=5, nominal_cell_v=3.7) == pytest.approx(37.0)


@pytest.mark.parametrize(
    "key, pack_v, counts",
    [
        # 25.2 V: six full cells, seven at 3.60 V, eight at 3.15 V.
        ("lipo", 25.2, [6, 7, 8]),
        ("lipo", 11.1, [3]),
        ("lipo", 12.6, [3, 4]),
        ("lipo", 4.2, [1]),
        ("lipo", 3.0, [1]),
        ("lipo", 6.0, [2]),
        ("lipo", 2.9, []),
        ("lipo", 5.0, []),
        ("lipo", 60.0, []),
        ("lipo", 0.0, []),
        # A cell that may rest at 4.35 V or at 2.5 V fits more counts.
        ("lihv", 26.1, [6, 7, 8]),
        ("liion", 25.2, [6, 7, 8, 9, 10]),
        ("life", 25.2, [7, 8, 9, 10]),
        ("lipo", 42.0, [10, 11, 12, 13, 14]),
    ],
)
def test_a_voltage_fits_every_count_whose_cells_lie_between_floor_and_full(key: str, pack_v: float, counts: list[int]) -> None:
    assert cell_counts_that_fit(CHEMISTRIES[key], pack_v) == counts


def test_no_pack_has_more_than_sixteen_cells() -> None:
    assert cell_counts_that_fit(CHEMISTRIES["life"], 55.0)[-1] == 16


@pytest.mark.parametrize(
    ("key", "pack_v", "cells"),
    [
        ("lipo", 12.66, 3),
        ("lipo", 16.88, 4),
        ("lipo", 21.1, 5),
        ("lipo", 42.2, 10),
        ("life", 25.69, 7),
        ("life", 18.35, 5),
        ("life", 51.38, 14),
    ],
)
def test_so_many_cells_fit_up_to_the_last_hundredth_that_a_meter_may_be_off(key: str, pack_v: float, cells: int) -> None:
    # 5 x 4.22 is 21.10, though 21.1 / 5 comes out a hair above 4.22.
    assert fits_cell_count(CHEMISTRIES[key], pack_v, cells)


@pytest.mark.parametrize("pack_v, fits", [(12.65, True), (12.67, False)])
def test_a_meter_may_be_off_by_two_hundredths_of_a_volt_a_cell(pack_v: float, fits: bool) -> None:
    # 3 x 4.22 is 12.66.
    assert fits_cell_count(CHEMISTRIES["lipo"], pack_v, 3) is fits


def test_no_error_of_the_meter_is_granted_at_the_floor() -> None:
    assert not fits_cell_count(CHEMISTRIES["lipo"], 8.99, 3)
