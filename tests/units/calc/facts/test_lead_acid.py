"""The 12 V battery's rows rise, and a sealed one reads higher than a flooded one at the same charge."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.facts.lead_acid import CUTOFF_V, FLOOR_PERCENT, LEAD_ACID, NOMINAL_V, VEHICLE_FLOOR_PERCENT


@pytest.mark.parametrize("key", LEAD_ACID)
def test_the_rest_voltage_rises_from_empty_to_full(key: str) -> None:
    rows = LEAD_ACID[key].rest_v
    assert [percent for percent, _ in rows] == [0, 25, 50, 75, 100]
    assert all(lower.value < higher.value for (_, lower), (_, higher) in pairwise(rows))


def test_a_sealed_battery_reads_higher_at_the_same_charge() -> None:
    pairs = zip(LEAD_ACID["flooded"].rest_v, LEAD_ACID["agm"].rest_v, strict=True)
    assert all(sealed.value > flooded.value for (_, flooded), (_, sealed) in pairs)


def test_six_cells_make_12_v_and_are_empty_at_10_5_v() -> None:
    assert NOMINAL_V.value == 6 * 2.0
    assert CUTOFF_V.value == 6 * 1.75


def test_half_of_a_battery_is_left_for_its_own_sake_and_three_quarters_to_start_an_engine() -> None:
    assert (FLOOR_PERCENT.value, VEHICLE_FLOOR_PERCENT.value) == (50, 75)


@pytest.mark.parametrize("key, least, most", [("flooded", 1.2, 1.3), ("agm", 1.05, 1.15)])
def test_peukert_s_exponent_is_the_careful_end_of_what_texts_give(key: str, least: float, most: float) -> None:
    assert least < LEAD_ACID[key].peukert_exponent.value <= most
