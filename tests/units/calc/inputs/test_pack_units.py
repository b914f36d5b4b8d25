"""A rate typed in amperes, a current in C, a capacity in watt-hours: read by the pack's own label, or sent back."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from calc.figures.quantities import MILLIAMPERE_HOURS, PACK_AMPERES, RATE
from calc.inputs.entries import read
from calc.inputs.equipment import PackEntries
from calc.inputs.fields import Group, number
from calc.inputs.refusals import Refused
from calc.inputs.rows import several

_GROUP = Group("pack", "This pack")


@dataclass(frozen=True, kw_only=True)
class _Inputs(PackEntries):
    dialled_a: float | None = number("Current on the dial", PACK_AMPERES, group=_GROUP, least=0.01, most=60, optional=True)


@dataclass(frozen=True, kw_only=True)
class _Alone:
    rate_c: float = number("Rate", RATE, group=_GROUP, least=0.1, most=20)
    capacity_mah: float | None = number("Capacity", MILLIAMPERE_HOURS, group=_GROUP, least=20, most=60_000, optional=True)


@dataclass(frozen=True, kw_only=True)
class _Rows:
    packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=1, most=3)


# Three cells of 3.7 V: 27.75 Wh are 2.5 Ah.
_PACK = {
    "chemistry": "lipo", "cells": "3", "capacity_mah": "2500", "resting_v": "11.4", "pack_degc": "20", "label_charge_rate_c": "1",
}  # fmt: skip


def _read(**changes: str) -> _Inputs:
    return read(_Inputs, _PACK | changes)


def _sentences(inputs: type, entries: dict[str, str]) -> dict[str, str]:
    with pytest.raises(Refused) as refused:
        read(inputs, entries)
    return {problem.field: problem.sentence for problem in refused.value.problems}


@pytest.mark.parametrize("text", ["5 A", "5A", "5,0 amps"])
def test_a_rate_in_amperes_is_that_current_over_the_capacity(text: str) -> None:
    assert _read(label_charge_rate_c=text).label_charge_rate_c == pytest.approx(2)


def test_a_current_in_c_is_that_rate_times_the_capacity() -> None:
    assert _read(dialled_a="2C").dialled_a == pytest.approx(5)


def test_the_amperes_on_the_label_of_an_aged_pack_are_a_rate_of_its_label() -> None:
    assert _read(label_charge_rate_c="5 A", measured_capacity_mah="2000").label_charge_rate_c == pytest.approx(2)


def test_an_aged_pack_counts_c_from_what_it_still_holds() -> None:
    assert _read(dialled_a="2C", measured_capacity_mah="2000").dialled_a == pytest.approx(4)


@pytest.mark.parametrize("text", ["27.75 Wh", "27,75wh"])
def test_a_capacity_in_watt_hours_is_read_by_the_nominal_voltage(text: str) -> None:
    assert _read(capacity_mah=text).capacity_mah == pytest.approx(2500)


def test_a_rate_in_amperes_beside_a_capacity_in_watt_hours_is_read_too() -> None:
    assert _read(capacity_mah="27.75 Wh", label_charge_rate_c="5 A").label_charge_rate_c == pytest.approx(2)


def test_each_row_counts_from_its_own_pack() -> None:
    rows = {f"packs_{row}_{name}": text for row in (1, 2) for name, text in _PACK.items()}
    packs = read(
        _Rows, rows | {"packs_2_capacity_mah": "5000", "packs_1_label_charge_rate_c": "5 A", "packs_2_label_charge_rate_c": "5 A"}
    ).packs
    assert [pack.label_charge_rate_c for pack in packs] == pytest.approx([2, 1])


def test_a_rate_in_amperes_without_the_capacity_says_what_it_needs() -> None:
    said = _sentences(_Inputs, _PACK | {"label_charge_rate_c": "5 A", "capacity_mah": ""})
    assert (
        said["label_charge_rate_c"] == "Charge rate on the label in A needs the capacity on the label: enter that too, or the number in C."
    )


def test_watt_hours_of_an_unknown_chemistry_say_what_they_need() -> None:
    said = _sentences(_Inputs, _PACK | {"capacity_mah": "27.75 Wh", "chemistry": "unknown"})
    assert "needs the chemistry and the cells" in said["capacity_mah"]


def test_where_a_page_asks_no_cells_watt_hours_are_sent_back() -> None:
    said = _sentences(_Alone, {"rate_c": "1", "capacity_mah": "27.75 Wh"})
    assert said["capacity_mah"] == "Capacity in Wh cannot be told on this page: enter the number in mAh."


def test_a_small_capacity_with_its_unit_is_held_to_the_bounds_and_not_asked_about() -> None:
    assert "looks like" not in _sentences(_Inputs, _PACK | {"capacity_mah": "0.002 Ah"})["capacity_mah"]


def test_a_converted_rate_is_held_to_its_bounds() -> None:
    assert "must be from" in _sentences(_Inputs, _PACK | {"label_charge_rate_c": "100 A"})["label_charge_rate_c"]
