"""What is asked about a pack, a charger and a supply."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.entries import read
from calc.inputs.equipment import CHEMISTRY_CHOICES, ChargerEntries, DischargingChargerEntries, PackEntries
from calc.inputs.fields import Entry, Kind, entries_of
from calc.inputs.refusals import Refused
from calc.inputs.supply import BATTERY_CHOICES, SupplyEntries
from tests.units.calc.sound_charge import BATTERY, CHARGER, MAINS, PACK, VEHICLE

_ASKED = {name: entry for inputs in (PackEntries, ChargerEntries, SupplyEntries) for name, entry in entries_of(inputs).items()}
_NUMBERS = [(name, entry) for name, entry in _ASKED.items() if entry.kind is not Kind.CHOICE]


@pytest.mark.parametrize("name, entry", _NUMBERS, ids=[name for name, _ in _NUMBERS])
def test_an_entry_s_name_ends_in_its_unit(name: str, entry: Entry) -> None:
    assert name.rsplit("_", maxsplit=1)[-1] == entry.quantity.suffix


@pytest.mark.parametrize("entry", [entry for _, entry in _NUMBERS], ids=[name for name, _ in _NUMBERS])
def test_an_entry_has_bounds_and_a_label(entry: Entry) -> None:
    assert entry.least < entry.most
    assert entry.label[0].isupper()


@pytest.mark.parametrize("key", ["lipo", "lihv", "liion", "life", "nimh", "unknown"])
def test_a_pilot_finds_every_pack_in_the_list_even_one_that_is_refused(key: str) -> None:
    assert CHEMISTRY_CHOICES[key]


def test_both_kinds_of_battery_can_be_chosen() -> None:
    assert set(BATTERY_CHOICES) == {"flooded", "agm"}


def test_what_a_meter_shows_is_not_brought_back_the_next_day() -> None:
    measured = {name for name, entry in _ASKED.items() if entry.measured}
    assert measured == {
        "look",
        "read_when",
        "cell_resistances_mohm",
        "resting_v",
        "pack_degc",
        "pack_warmth",
        "air_degc",
        "battery_resting_v",
    }


def test_a_pack_needs_its_label_a_voltmeter_and_a_thermometer() -> None:
    with pytest.raises(Refused) as refused:
        read(PackEntries, {})
    missing = [problem.field for problem in refused.value.problems if problem.missing]
    assert missing == ["chemistry", "cells", "capacity_mah", "label_charge_rate_c", "resting_v", "pack_degc"]


def test_a_charger_may_do_without_balance_and_discharge_figures() -> None:
    charger = read(DischargingChargerEntries, CHARGER)
    assert charger.balance_current_a is charger.discharge_current_a is charger.discharge_power_w is None


def test_a_battery_is_not_asked_for_an_output() -> None:
    supply = read(SupplyEntries, BATTERY)
    assert supply.battery_resting_v == 12.65
    assert supply.supply_v is None


def test_a_vehicle_s_battery_is_asked_for_what_a_battery_is() -> None:
    vehicle, battery = read(SupplyEntries, VEHICLE), read(SupplyEntries, BATTERY)
    assert vehicle == replace(battery, supply_kind="vehicle")


@pytest.mark.parametrize(("entries", "runs_down"), [(BATTERY, True), (VEHICLE, True), (MAINS, False)])
def test_a_battery_runs_down_and_a_mains_supply_does_not(entries: dict[str, str], runs_down: bool) -> None:
    assert read(SupplyEntries, entries).is_lead_acid == runs_down


def test_a_mains_supply_is_not_asked_for_a_resting_voltage() -> None:
    supply = read(SupplyEntries, MAINS)
    assert supply.supply_v == 13.8
    assert supply.battery_resting_v is None


@pytest.mark.parametrize("name", ["cells", "charger_cells", "port_cells"])
def test_a_form_takes_as_many_cells_of_the_lowest_full_voltage_as_stay_below_60_volts(name: str) -> None:
    lowest_full_v = min(chemistry.full_cell_v.value for chemistry in CHEMISTRIES.values())
    assert _ASKED[name].most * lowest_full_v <= 60 < (_ASKED[name].most + 1) * lowest_full_v


def test_a_pack_of_the_form_is_read_whole() -> None:
    pack = read(PackEntries, PACK)
    assert (pack.cells, pack.capacity_mah, pack.resting_v, pack.air_degc) == (3, 2650, (3.8, 3.8, 3.8), None)


def test_the_field_of_the_charge_rate_tells_it_from_the_large_number_on_the_label() -> None:
    # The rate for flight is twenty to a hundred times as high, and stands where a newcomer looks first.
    hint = _ASKED["label_charge_rate_c"].hint
    assert "the large C number is for flight" in hint and "if the label shows none" in hint
