"""A battery over the day: how far it goes, and which of its two ends comes first."""

from itertools import pairwise

import pytest

from calc.answering import answer
from calc.inputs.refusals import Refusal

A_DAY = {
    "chemistry": "lipo",
    "cells": "4",
    "capacity_mah": "5000",
    "resting_v": "14.8",
    "pack_degc": "25",
    "label_charge_rate_c": "1",
    "requested_rate_c": "1",
    "cell_resistance_mohm": "4",
    "charger_current_a": "10",
    "charger_power_w": "250",
    "charger_cells": "8",
    "balance_ports": "2",
    "port_cells": "6",
    "current_step_a": "0.1",
    "capacity_step_mah": "100",
    "charger_input_least_v": "10",
    "efficiency_percent": "85",
    "supply_kind": "battery",
    "battery_kind": "flooded",
    "battery_ah": "70",
    "battery_resting_v": "12.65",
    "lead_length_m": "1",
    "lead_area_mm2": "4 mm²",
    "planned_charges": "1",
}


def day(**changes: str):
    return answer("supply_day", A_DAY | changes)


def test_a_mains_supply_is_refused_because_it_does_not_run_down() -> None:
    refused = day(supply_kind="mains", supply_v="13.8", supply_current_a="20")
    assert isinstance(refused, Refusal)
    assert refused.problems[0].field == "supply_kind"


def test_a_charger_that_stops_first_is_named_as_what_ends_the_count_and_the_settings_count_alike() -> None:
    """With 12 V of lowest input the charger stops while the battery still has more than its floor."""
    entries = {"charger_input_least_v": "12", "lead_length_m": "3", "planned_charges": "20"}
    found = day(**entries)
    assert found.floor_reached.figure == "not on this day"
    assert "lowest input" in found.whole_charges.set_by
    by_settings = answer("charge_settings", A_DAY | entries).supply_charges
    assert "lowest input" in by_settings.set_by
    assert 0 <= found.whole_charges.figure.value - by_settings.figure.value <= 1


@pytest.mark.parametrize("battery_ah", ["45", "60", "75", "90", "105", "120"])
def test_the_settings_promise_no_charge_that_the_day_does_not_have(battery_ah: str) -> None:
    # As the battery sinks to its floor each charge takes more ampere-hours than the first.
    small = {
        "chemistry": "lihv",
        "cells": "3",
        "capacity_mah": "2200",
        "resting_v": "3.70 3.70 3.70",
        "pack_degc": "20",
        "cell_resistance_mohm": "",
    }
    half_full = {"battery_kind": "agm", "battery_ah": battery_ah, "battery_resting_v": "12.55", "lead_length_m": "1.5"}
    entries = small | half_full | {"planned_charges": "12"}
    promised = answer("charge_settings", A_DAY | entries).supply_charges.figure.value
    assert 0 < promised <= day(**entries).whole_charges.figure.value


def test_a_battery_at_its_floor_has_no_whole_charge_above_it() -> None:
    assert day(battery_resting_v="12.24").whole_charges.figure.number == "0"


@pytest.mark.parametrize("battery_ah", ["64", "76", "84", "88", "96"])
def test_the_promise_holds_for_the_charges_that_take_most_and_not_for_the_likely_ones(battery_ah: str) -> None:
    promised = int(day(battery_ah=battery_ah, planned_charges="12").whole_charges.figure.number)
    kept, one_more = (day(battery_ah=battery_ah, planned_charges=str(promised + more)).charge_left for more in (0, 1))
    # At the floor of half, the likely charges would leave enough for one more; those that take most would not.
    assert kept.least.value >= 50 > one_more.least.value
    assert one_more.most.value >= 50


def test_more_charges_leave_less() -> None:
    left = [day(planned_charges=str(charges)).charge_left.least.value for charges in (1, 2, 3)]
    assert left == sorted(left, reverse=True)
    assert len(set(left)) == 3


def test_a_plan_past_the_floor_says_in_which_charge_and_warns() -> None:
    far = day(planned_charges="10")
    assert " into charge " in far.floor_reached.figure
    assert far.cautions[0].grave


@pytest.mark.parametrize(
    ("supply_kind", "rests_v"), [("battery", "12.24"), ("battery", "12.00"), ("vehicle", "12.45"), ("vehicle", "12.30")]
)
def test_a_battery_that_rests_at_its_floor_charges_nothing_and_is_not_said_to_come_there(supply_kind: str, rests_v: str) -> None:
    found = day(supply_kind=supply_kind, battery_resting_v=rests_v, planned_charges="4")
    assert (found.whole_charges.figure.value, found.floor_reached.figure) == (0, "before charge 1")
    assert found.floor_reached.set_by.endswith(": the battery rests there already, or below it")
    [grave] = [one.sentence for one in found.cautions if one.grave]
    assert grave.startswith("The battery is at its floor already, or below it: ")


def test_a_floor_that_comes_with_the_first_step_of_a_charge_is_told_before_its_first_minute() -> None:
    # A thousandth of a volt above half lasts for less than a minute.
    found = day(battery_resting_v="12.241", battery_ah="20", planned_charges="1")
    assert found.floor_reached.figure == "at the start of charge 1"


def test_a_plan_above_the_floor_warns_of_none() -> None:
    assert day().floor_reached.figure == "not on this day"
    assert not any(caution.grave for caution in day().cautions)


def test_the_floor_comes_before_the_charger_stops_by_itself() -> None:
    far = day(planned_charges="20")
    assert int(far.floor_reached.figure.split()[-1]) <= int(far.charger_stops.figure.split()[-1])


def test_a_charger_that_needs_more_volts_stops_sooner() -> None:
    early = day(planned_charges="20", charger_input_least_v="12.1").charger_stops.figure
    late = day(planned_charges="20").charger_stops.figure
    assert int(early.split()[-1]) < int(late.split()[-1])


def test_each_charge_begins_where_the_one_before_it_ended() -> None:
    rows = day(planned_charges="3").charge_by_charge.rows
    for before, after in pairwise(rows):
        assert after.cells[0].value == before.cells[1].value


def test_the_rest_voltage_afterwards_fits_the_charge_left() -> None:
    half = day(battery_resting_v="12.24", cells="1", resting_v="4.19", capacity_mah="500")
    assert half.rest_afterwards.most.value == pytest.approx(12.24, abs=0.01)


def test_each_charge_is_marked_where_it_ends_also_on_a_day_that_ends_in_the_middle_of_one() -> None:
    alone = day().picture.marks[0].at.value
    far = day(planned_charges="20")
    assert " into charge " in far.charger_stops.figure
    assert [mark.at.value for mark in far.picture.marks] == pytest.approx(
        [alone * number for number in range(1, len(far.picture.marks) + 1)]
    )


def test_a_vehicle_keeps_what_it_needs_to_start_its_engine() -> None:
    # 12.45 V is 75 %, the floor of a vehicle; a battery that starts nothing may go on to 50 %.
    assert day(supply_kind="vehicle", battery_resting_v="12.45").whole_charges.figure.number == "0"
    assert int(day(battery_resting_v="12.45").whole_charges.figure.number) > 0


def test_a_plan_that_leaves_a_vehicle_unable_to_start_says_so() -> None:
    far = day(supply_kind="vehicle", planned_charges="10")
    [grave] = [one.sentence for one in far.cautions if one.grave]
    assert "may not start the engine" in grave


def test_a_full_pack_takes_nothing_and_the_picture_of_its_day_still_has_a_length() -> None:
    found = day(resting_v="16.88")
    assert found.picture.times[-1].value > found.picture.times[0].value


def test_a_charger_that_stops_at_once_has_no_picture_and_no_table_and_says_when_it_stops() -> None:
    # 12.8 V are more than a rested battery keeps: behind this lead the charger gets less than the 12 V that it wants.
    found = day(
        battery_resting_v="12.8", battery_ah="7", charger_input_least_v="12", charger_power_w="50", efficiency_percent="70", lead_length_m="10",
        lead_area_mm2="12 AWG", connector_mohm="50", current_step_a="0.05", planned_charges="4",
    )  # fmt: skip
    assert found.picture is None and found.charge_by_charge is None
    assert found.charger_stops.figure == "2\u00a0min into charge 1"
    assert found.whole_charges.figure.value == 0
