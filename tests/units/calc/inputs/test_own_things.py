"""What is kept of a pilot's own pack, charger and supply: what the calculators ask, and never a reading."""

from __future__ import annotations

import pytest

from calc.inputs.entries import is_asked
from calc.inputs.equipment import CHEMISTRY_CHOICES, DischargingChargerEntries, PackEntries
from calc.inputs.fields import entries_of
from calc.inputs.own_things import SHORT_KINDS, OwnThing, own_charger, own_pack, own_supply
from calc.inputs.supply import SupplyEntries

THINGS = [own_pack(), own_charger(), own_supply()]


@pytest.mark.parametrize("thing", THINGS, ids=lambda thing: thing.key)
def test_no_reading_is_kept(thing: OwnThing) -> None:
    assert [name for name, entry in thing.entries.items() if entry.measured] == []


@pytest.mark.parametrize(("thing", "asked"), list(zip(THINGS, (PackEntries, DischargingChargerEntries, SupplyEntries), strict=True)))
def test_each_thing_that_a_calculator_asks_of_it_is_kept_or_is_a_reading(thing: OwnThing, asked: type) -> None:
    kept = {name.removeprefix("outputs_1_") for name in thing.entries}
    assert entries_of(asked).keys() - kept == set(thing.readings)


def test_what_is_dated_is_never_on_the_label() -> None:
    pack = own_pack()
    assert [name for name in pack.dated if pack.entries[name].on_label] == []
    assert "measured_capacity_mah" in pack.dated
    assert "cell_resistance_mohm" in pack.dated


def test_the_kind_of_a_pack_is_never_assumed() -> None:
    assert own_pack().entries["chemistry"].starts_as == ""


def test_cells_on_a_plug_are_asked_where_there_are_two_and_start_as_nothing() -> None:
    entries = own_pack().entries
    assert not is_asked(entries["first_plug_cells"], entries, {})
    assert is_asked(entries["first_plug_cells"], entries, {"balance_plugs": "2"})
    assert (entries["first_plug_cells"].starts_as, entries["first_plug_cells"].optional) == ("", False)


def test_each_output_of_a_charger_has_its_own_current_and_power_and_only_the_first_must_be_entered() -> None:
    rows = {name: entry.group.row for name, entry in own_charger().entries.items() if entry.group.row}
    assert [(name, row.number, row.optional) for name, row in rows.items() if row and name.endswith("_w")] == [
        ("outputs_1_charger_power_w", 1, False),
        ("outputs_2_charger_power_w", 2, True),
        ("outputs_3_charger_power_w", 3, True),
        ("outputs_4_charger_power_w", 4, True),
    ]


def test_every_kind_that_can_be_chosen_has_a_short_name_of_its_own() -> None:
    assert [key for key in CHEMISTRY_CHOICES if key not in SHORT_KINDS] == []
    assert len(set(SHORT_KINDS.values())) == len(SHORT_KINDS)
