"""Packs that are joined, whatever they are: their order changes no figure, and no current passes what a label allows."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.asking.refusals import Refusal
from calc.figures.showing import Range, Setting, parts_of
from tests.properties.own_ceilings import FULL_CELL_V
from tests.properties.typed_entries import CHEMISTRIES, Entries, numbers
from tests.units.calc.joined_charge import REST

CELL_V = {"lipo": 3.80, "lihv": 3.80, "liion": 3.60, "life": 3.20}
CHARGER = REST | {"charger_cells": "14", "port_cells": "14", "balance_ports": "4", "balance_plugs_into": "series"}
TWINS = [{"chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "resting_v": "15.20", "pack_degc": "20", "label_charge_rate_c": "1"}] * 2

# A tenth less is a pack of its own (common practice, no source).
OF_ONE_SIZE = st.floats(0.91, 1)


@st.composite
def alike(draw: st.DrawFn, capacities: st.SearchStrategy[float] = st.floats(0.1, 1)) -> list[Entries]:
    """Two to four packs of one kind and cell count, near each other in voltage, and else of any make.

    `capacities` are shares of the largest that there may be.
    """
    chemistry, cells = draw(st.sampled_from(CHEMISTRIES)), draw(st.integers(1, 4))
    base_mah = draw(st.integers(200, 10_000))
    apart_cell_v = draw(st.sampled_from((0, 0.02, 0.2)))
    return [
        {
            "chemistry": chemistry,
            "cells": str(cells),
            "capacity_mah": f"{base_mah * draw(st.just(1.0) | capacities):.1f}",
            "resting_v": draw(numbers(cells * CELL_V[chemistry], cells * (CELL_V[chemistry] + apart_cell_v))),
            "pack_degc": draw(st.sampled_from(("20", "10", "25"))),
            "label_charge_rate_c": draw(st.sampled_from(("1", "2", "0.5")) | numbers(0.1, 10)),
        }
        | draw(st.fixed_dictionaries({}, optional={"cell_resistance_mohm": numbers(1, 60), "label_discharge_rate_c": numbers(1, 80)}))
        for _ in range(draw(st.integers(2, 4)))
    ]


def typed(packs: list[Entries]) -> Entries:
    return CHARGER | {f"packs_{number}_{name}": text for number, pack in enumerate(packs, 1) for name, text in pack.items()}


def answered(key: str, packs: list[Entries]) -> Any:
    found = answer(key, typed(packs))
    assume(not isinstance(found, Refusal))
    return found


def figures(found: Any) -> dict[str, list[str]]:
    """Every setting's and forecast's figures as they are shown; what set them may name another pack."""
    return {
        part.key: [
            str(one.figure) if isinstance(one, Setting) else f"{one.least} {one.likely} {one.most}" for one in part.values
        ]
        for part in parts_of(found)
        if isinstance(part.values[0], (Setting, Range))
    }


@given(alike(), st.data())
@example(TWINS, None)
def test_the_order_of_packs_side_by_side_changes_no_figure(packs: list[Entries], data: st.DataObject | None) -> None:
    turned = packs[::-1] if data is None else data.draw(st.permutations(packs))
    assert figures(answered("packs_in_parallel", packs)) == figures(answered("packs_in_parallel", turned))


@given(alike(OF_ONE_SIZE))
def test_the_order_of_packs_in_series_changes_no_figure(packs: list[Entries]) -> None:
    assert figures(answered("packs_in_series", packs)) == figures(answered("packs_in_series", packs[::-1]))


@given(alike(OF_ONE_SIZE))
@example(TWINS)
def test_no_pack_in_series_is_charged_faster_than_its_label_and_the_cold_allow(packs: list[Entries]) -> None:
    setting = answered("packs_in_series", packs).joint_current
    assume(setting is not None)
    for pack in packs:
        assert Decimal(setting.figure.number) <= Decimal(f"{own_ceiling_a(pack):.9f}")
    full_v = sum(int(pack["cells"]) for pack in packs) * FULL_CELL_V[packs[0]["chemistry"]]
    assert float(setting.figure.number) * full_v <= float(REST["charger_power_w"]) + 1e-6


@given(alike())
@example(TWINS)
def test_no_pack_side_by_side_is_charged_faster_than_its_label_and_the_cold_allow(packs: list[Entries]) -> None:
    setting = answered("packs_in_parallel", packs).joint_current
    assume(setting is not None)
    all_mah = sum(float(pack["capacity_mah"]) for pack in packs)
    for pack in packs:
        share_a = float(setting.figure.number) * float(pack["capacity_mah"]) / all_mah
        assert share_a <= own_ceiling_a(pack) + 1e-8


@given(alike())
@example([TWINS[0], TWINS[0] | {"resting_v": "15.22"}])
def test_packs_that_may_be_joined_drive_no_current_above_a_label(packs: list[Entries]) -> None:
    found = answered("packs_in_parallel", packs)
    assume(found.join.figure.startswith("Yes"))
    assert found.joining_current.most.value <= max(map(own_ceiling_a, packs)) + 1e-8
    assert found.difference.figure.value <= 0.1 * int(packs[0]["cells"]) + 1e-8  # common practice, no source


@given(alike())
@example([TWINS[0], TWINS[0] | {"resting_v": "16.40"}])
def test_packs_that_must_not_be_joined_yet_get_nothing_to_dial_in(packs: list[Entries]) -> None:
    for key in ("packs_in_series", "packs_in_parallel"):
        found = answer(key, typed(packs))
        if not isinstance(found, Refusal) and found.join.figure.startswith("Not yet"):
            assert found.joint_current is found.capacity_cutout is found.time_cutout is None
            assert found.level_first is not None


def own_ceiling_a(pack: Entries) -> float:
    """What a pack may be charged with: its label, and up to 10 °C half of it or of 1C (JEITA and BAJ 2007)."""
    capacity_ah, rate_c = float(pack["capacity_mah"]) / 1000, float(pack["label_charge_rate_c"])
    return capacity_ah * (min(0.5, rate_c / 2) if float(pack["pack_degc"]) <= 10 else rate_c)
