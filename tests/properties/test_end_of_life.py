"""A load never gets more than half of its rating, a pack is never emptied hard, and a harmed pack never at all."""

from __future__ import annotations

from typing import Any

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.calculators.end_of_life import Inputs
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from tests.properties.own_ceilings import FULL_CELL_V
from tests.properties.typed_entries import Entries, charges, numbers

PACK = {
    "look": "sound", "chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "resting_v": "15.4", "pack_degc": "20",
    "load_kind": "resistor", "emptying_rate_c": "0.2",
}  # fmt: skip
HARMED = [look for look in entries_of(Inputs)["look"].options if look not in ("sound", "watched")]


def emptied(entries: Entries) -> Any:
    found = answer("end_of_life", entries)
    # A pack that was crashed or shorted once is judged, and gets no load.
    assume(not isinstance(found, Refusal) and found.time_to_empty is not None)
    return found


def holds_ah(entries: Entries) -> float:
    return min(float(entries["capacity_mah"]), float(entries.get("measured_capacity_mah", "60000"))) / 1000


@given(charges())
@example(PACK)
@example(PACK | {"emptying_rate_c": "1"})
@example(PACK | {"resistor_ohm": "3.4", "resistor_w": "170"})
def test_a_resistor_carries_half_of_its_rating_and_the_pack_gives_1c_at_most(entries: Entries) -> None:
    found = emptied(entries)
    assume(found.resistor is not None)
    full_v, ohm = int(entries["cells"]) * FULL_CELL_V[entries["chemistry"]], found.resistor.figure.value
    assert full_v / ohm <= holds_ah(entries) * (1 + 1e-9)
    assert full_v**2 / ohm <= found.resistor_rating.figure.value / 2 + 1e-6


@given(charges(), st.sampled_from(HARMED))
@example(PACK, "swollen")
def test_a_harmed_pack_is_never_given_a_load(entries: Entries, look: str) -> None:
    assert isinstance(answer("end_of_life", entries | {"look": look}), Refusal)


@given(charges())
@example(PACK)
def test_a_pack_that_was_crashed_or_shorted_once_is_never_given_a_load(entries: Entries) -> None:
    found = answer("end_of_life", entries | {"look": "watched"})
    assume(not isinstance(found, Refusal))
    assert found.resistor is found.lamps is found.current_at_start is None


@given(charges(), numbers(0.02, 1), st.floats(0.1, 1))
@example(PACK, "1.00", 0.5)
def test_a_gentler_rate_never_takes_less_time(entries: Entries, rate_c: str, share: float) -> None:
    own = {name: text for name, text in entries.items() if not name.startswith("resistor_")} | {"load_kind": "resistor"}
    gentler_c = max(0.02, float(rate_c) * share)
    fast, slow = (emptied(own | {"emptying_rate_c": rate}).time_to_empty for rate in (rate_c, f"{gentler_c:.4f}"))
    assert slow.least.value >= fast.least.value - 1e-6
    assert slow.most.value >= fast.most.value - 1e-6


@given(charges(), st.integers(0, 2))
@example(PACK, 1)
def test_a_pack_with_less_in_it_is_never_emptied_later(entries: Entries, lower: int) -> None:
    pack_v = sum(float(cell) for cell in entries["resting_v"].split())
    cells = int(entries["cells"])
    highest, lowest = (emptied(entries | {"resting_v": f"{volts:.2f}"}) for volts in (pack_v, pack_v - 0.01 * cells * lower))
    assert lowest.time_to_empty.most.value <= highest.time_to_empty.most.value + 1e-6
