"""What is said of the supply beside the numbers."""

from __future__ import annotations

import pytest

from calc.presenting.supply_load import cautions_of_supply
from tests.units.calc.sound_charge import BATTERY, VEHICLE, given


def test_a_battery_is_kept_away_from_sparks() -> None:
    sentences = [caution.sentence for caution in cautions_of_supply(given(**BATTERY), 3.5)]
    assert any("no sparks or flames near it" in sentence for sentence in sentences)


def test_a_battery_at_its_floor_is_a_grave_caution() -> None:
    cautions = cautions_of_supply(given(**BATTERY | {"battery_resting_v": "12.24"}), 3.5)
    assert any(one.grave and "below it, it wears out fast" in one.sentence for one in cautions)


def test_a_vehicle_at_three_quarters_may_not_start_again() -> None:
    cautions = cautions_of_supply(given(**VEHICLE | {"battery_resting_v": "12.45"}), 3.5)
    assert any(one.grave and "it may not start the engine" in one.sentence for one in cautions)


def test_a_vehicle_s_engine_is_not_started_with_the_charger_on_it() -> None:
    sentences = [caution.sentence for caution in cautions_of_supply(given(**VEHICLE), 3.5)]
    assert any("before you start the engine" in sentence for sentence in sentences)


@pytest.mark.parametrize(("fuse_a", "grave"), [("20", False), ("25", True)])
def test_a_fuse_above_what_the_wire_may_carry_is_a_grave_caution(fuse_a: str, grave: bool) -> None:
    # 2.5 mm² counts as gauge 14, which may carry 20 A.
    cautions = cautions_of_supply(given(lead_area_mm2="2.5", lead_fuse_a=fuse_a), 3.5)
    assert [one.grave for one in cautions if "does not protect this lead" in one.sentence] == [True] * grave


@pytest.mark.parametrize("peak_current_a, cautions", [(11.2, 0), (11.3, 1)])
def test_a_lead_that_loses_more_than_3_percent_is_said_to(peak_current_a: float, cautions: int) -> None:
    # 2 m of 2.5 mm² on 12 V lose 3 % at 11.25 A.
    supply = given(supply_v="12", lead_length_m="2", lead_area_mm2="2.5")
    found = cautions_of_supply(supply, peak_current_a)
    assert len(found) == cautions
    assert all("shorten it, or use a thicker one" in one.sentence for one in found)
