"""What a charge takes from its supply, and what is said of the supply beside it."""

from __future__ import annotations

import pytest

from calc.figures.quantities import AMPERE_HOURS
from calc.figures.spans import Span
from calc.presenting.supply_load import cautions_of_supply, charges_left, takings_of
from calc.rules.supply.supply_demand import Demand
from tests.units.calc.sound_charge import BATTERY, VEHICLE, given


def _one_charge_of(used_ah: float, peak_current_a: float) -> Demand:
    return Demand(
        start_current_a=1,
        mean_current_a=2,
        peak_current_a=peak_current_a,
        used_ah=Span(used_ah, used_ah, used_ah),
        used_wh=Span(24, 36, 48),
        ampere_hours=AMPERE_HOURS,
    )


def test_each_current_has_its_unit_and_what_set_it() -> None:
    takings = takings_of(given(), _one_charge_of(4, peak_current_a=3.5))
    figures = {name: str(takings[name].figure) for name in ("supply_at_start", "supply_mean", "supply_at_peak")}
    assert figures == {
        "supply_at_start": "1.0\N{NO-BREAK SPACE}A",
        "supply_mean": "2.0\N{NO-BREAK SPACE}A",
        "supply_at_peak": "3.5\N{NO-BREAK SPACE}A",
    }
    assert all(takings[name].set_by for name in figures)


def test_what_is_taken_is_a_range_that_says_why() -> None:
    takings = takings_of(given(), _one_charge_of(4, peak_current_a=3.5))
    assert str(takings["supply_energy"].least) == "24.0\N{NO-BREAK SPACE}Wh"
    assert str(takings["supply_energy"].most) == "48.0\N{NO-BREAK SPACE}Wh"
    assert takings["supply_used"].because


def test_a_full_battery_holds_as_many_charges_as_fit_above_its_floor() -> None:
    # At its twenty-hour current of 3.5 A a full 70 Ah battery gives 35 Ah down to half: 8 charges of 4 Ah and no ninth.
    charges = charges_left(given(**BATTERY), _one_charge_of(4, peak_current_a=3.5))
    assert charges.figure.number == "8"
    assert "50\N{NO-BREAK SPACE}%" in charges.set_by
    assert "100\N{NO-BREAK SPACE}% charged" in charges.note


def test_a_battery_at_its_floor_holds_no_charge() -> None:
    charges = charges_left(given(**BATTERY | {"battery_resting_v": "12.24"}), _one_charge_of(4, peak_current_a=3.5))
    assert charges.figure.number == "0"


def test_one_charge_is_counted_in_the_singular() -> None:
    charges = charges_left(given(**BATTERY), _one_charge_of(30, peak_current_a=3.5))
    assert str(charges.figure) == "1\N{NO-BREAK SPACE}charge"


def test_a_mains_supply_has_no_number_of_charges() -> None:
    assert charges_left(given(), _one_charge_of(4, peak_current_a=3.5)) is None


def test_a_full_pack_that_takes_nothing_is_not_counted() -> None:
    assert charges_left(given(**BATTERY), _one_charge_of(0, peak_current_a=3.5)) is None


def test_a_battery_is_kept_away_from_sparks() -> None:
    sentences = [sentence for sentence, _ in cautions_of_supply(given(**BATTERY), 3.5)]
    assert any("no sparks or flames near it" in sentence for sentence in sentences)


def test_a_battery_at_its_floor_is_a_grave_caution() -> None:
    cautions = cautions_of_supply(given(**BATTERY | {"battery_resting_v": "12.24"}), 3.5)
    assert any(grave and "below it, it wears out fast" in sentence for sentence, grave in cautions)


def test_a_vehicle_at_three_quarters_may_not_start_again() -> None:
    cautions = cautions_of_supply(given(**VEHICLE | {"battery_resting_v": "12.45"}), 3.5)
    assert any(grave and "it may not start the engine" in sentence for sentence, grave in cautions)


def test_a_vehicle_s_engine_is_not_started_with_the_charger_on_it() -> None:
    sentences = [sentence for sentence, _ in cautions_of_supply(given(**VEHICLE), 3.5)]
    assert any("before you start the engine" in sentence for sentence in sentences)


def test_a_full_vehicle_s_battery_holds_as_many_charges_as_leave_three_quarters() -> None:
    # A quarter of 70 Ah is 17.5 Ah: 4 charges of 4 Ah and no fifth.
    charges = charges_left(given(**VEHICLE), _one_charge_of(4, peak_current_a=3.5))
    assert charges.figure.number == "4"
    assert charges.set_by.startswith("what the vehicle needs to start, 75")


@pytest.mark.parametrize(("fuse_a", "grave"), [("20", False), ("25", True)])
def test_a_fuse_above_what_the_wire_may_carry_is_a_grave_caution(fuse_a: str, grave: bool) -> None:
    # 2.5 mm² counts as gauge 14, which may carry 20 A.
    cautions = cautions_of_supply(given(lead_area_mm2="2.5", lead_fuse_a=fuse_a), 3.5)
    assert [grave for sentence, grave in cautions if "does not protect this lead" in sentence] == [True] * grave


@pytest.mark.parametrize("peak_current_a, cautions", [(11.2, 0), (11.3, 1)])
def test_a_lead_that_loses_more_than_3_percent_is_said_to(peak_current_a: float, cautions: int) -> None:
    # 2 m of 2.5 mm² on 12 V lose 3 % at 11.25 A.
    supply = given(supply_v="12", lead_length_m="2", lead_area_mm2="2.5")
    found = cautions_of_supply(supply, peak_current_a)
    assert len(found) == cautions
    assert all("shorten it, or use a thicker one" in sentence for sentence, _ in found)
