"""Packs that are joined, whatever they are: their order changes no figure, and no current passes what a label or a contact allows.

The currents are held against the whole network, node by node, in `joined_network`; nothing of calc's physics is used for it.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import PartialAnswer, answer
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.showing import Range, Setting, parts_of
from calc.inputs.equipment import ChargerEntries, LabelledPack
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from calc.inputs.supply import SupplyEntries
from tests.properties.joined_network import STRANDS, Board, currents_a, lead_ohm, least_cell_ohm
from tests.properties.own_condition import FLOOR_CELL_V, FULL_CELL_V
from tests.properties.typed_entries import Entries, numbers
from tests.properties.typed_entries import packs as packs_of_any_kind
from tests.units.calc.joined_charge import REST

CHARGER = REST | {"charger_cells": "16", "port_cells": "16", "balance_ports": "4", "balance_plugs_into": "series"}
TWINS = [
    {
        "chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "resting_v": "3.80 3.80 3.80 3.80", "pack_degc": "20",
        "label_charge_rate_c": "1", "cell_resistance_mohm": "5",
    }
] * 2  # fmt: skip
# Two packs of one sum whose cells are out of line the other way round: 25 A through a contact, and none through the main leads.
CROSSED = [TWINS[0] | {"resting_v": "3.83 3.83 3.80 3.80"}, TWINS[0] | {"resting_v": "3.80 3.80 3.83 3.83"}]

# Common practice, no source: what a contact is made for, how far cells of a place and of a healthy pack may rest apart, and a half.
CONTACT_A, PLACE_V, SPREAD_V, HALF = 3, 0.10, 0.03, 2
# A tenth less is a pack of its own in series (common practice, no source).
OF_ONE_SIZE = st.floats(0.91, 1)


_SHARES = st.floats(0.5, 1)


# Few are joined more often than many, which take longer.
_HOW_MANY = (2, 2, 3, 3, 4, 4, 5, 6, 8)


@st.composite
def alike(draw: st.DrawFn, capacities: st.SearchStrategy[float] = _SHARES, *, in_series: bool = False) -> list[Entries]:
    """Two to eight packs of one kind and cell count; else unlike: in size, age, warmth, make, and in each of their cells.

    `capacities` are shares of the largest that there may be; `in_series` no more cells together than anybody may touch.
    """
    key, cells = draw(st.sampled_from(sorted(CHEMISTRIES))), draw(st.integers(1, 6))
    most_packs = CHEMISTRIES[key].most_cells // cells if in_series else max(_HOW_MANY)
    base_mah = draw(st.integers(200, 10_000))
    low_v = CHEMISTRIES[key].end_of_flight_resting_cell_v.value
    base_v = low_v + draw(st.floats(0.1, 0.9)) * (FULL_CELL_V[key] - 0.15 - low_v)
    apart_v, uneven_v = draw(st.sampled_from((0, 0.01, 0.05))), draw(st.sampled_from((0, 0.015, 0.015, 0.06)))
    base_degc = draw(st.integers(5, 34))
    return [
        {
            "chemistry": key,
            "cells": str(cells),
            "capacity_mah": f"{max(20, base_mah * draw(st.just(1.0) | capacities)):.1f}",
            "resting_v": " ".join(
                f"{mean_v + draw(st.floats(-uneven_v, uneven_v)):.3f}" for mean_v in [base_v + apart_v * draw(st.floats(0, 1))] * cells
            ),
            "pack_degc": str(base_degc + draw(st.integers(0, 10))),
            "label_charge_rate_c": draw(st.sampled_from(("1", "2", "0.5")) | numbers(0.1, 10)),
        }
        | draw(
            st.fixed_dictionaries(
                {}, optional={"cell_resistance_mohm": numbers(0.5, 60, 1), "label_discharge_rate_c": numbers(1, 80), "aged": st.floats(0.85, 1)}
            )
        )
        for _ in range(draw(st.sampled_from([count for count in _HOW_MANY if count <= most_packs])))
    ]  # fmt: skip


def typed(packs: list[Entries]) -> Entries:
    """The entries of these packs; a pack that has aged was measured."""
    found = CHARGER.copy()
    for number, pack in enumerate(packs, 1):
        found |= {f"packs_{number}_{name}": text for name, text in pack.items() if name != "aged"}
        if aged := pack.get("aged"):
            found[f"packs_{number}_measured_capacity_mah"] = f"{max(20, float(pack['capacity_mah']) * aged):.1f}"
    return found


def effective_ah(pack: Entries) -> float:
    label_mah = float(pack["capacity_mah"])
    return min(label_mah, max(20, round(label_mah * pack.get("aged", 1), 1))) / 1000


def answered(key: str, packs: list[Entries]) -> Any:
    found = answer(key, typed(packs))
    assume(not isinstance(found, Refusal))
    return found


def figures(found: Any) -> dict[str, list[str]]:
    """Every setting's and forecast's figures as they are shown, but the name of a pack; what set them may name another pack."""
    return {
        part.key: [str(one.figure) if isinstance(one, Setting) else f"{one.least} {one.likely} {one.most}" for one in part.values]
        for part in parts_of(found)
        if isinstance(part.values[0], (Setting, Range)) and part.key != "join"
    }


def cell_v(pack: Entries) -> list[float]:
    return [float(text) for text in pack["resting_v"].split()]


def board(packs: list[Entries], *, main: bool, plugs: bool) -> Board:
    """These packs on the board of the entries, each cell with the lowest resistance that it may have, and each wire.

    The main leads beside plugs have the most that they may: so most is left to the plugs.
    """
    cell_ohm = [least_cell_ohm(float(one["cell_resistance_mohm"]), float(one["pack_degc"])) for one in packs]
    main_ohm = lead_ohm(float(CHARGER["join_length_m"]), float(CHARGER["join_area_mm2"].removesuffix(" mm²"))) * (STRANDS if plugs else 1)
    return Board([cell_v(one) for one in packs], cell_ohm, main_ohm=main_ohm if main else None, plugs=plugs)


def test_the_network_of_the_textbook_has_the_currents_that_the_textbook_finds() -> None:
    # Kuphaldt: 28 V behind 4 Ω, 2 Ω, and 7 V behind 1 Ω side by side. From memory: 5 A, 4 A and 1 A.
    assert currents_a([("0", "joint", 4, 28.0), ("0", "joint", 2, 0.0), ("0", "joint", 1, 7.0)]) == pytest.approx([5, -4, -1])


@given(alike(), st.data())
@example(TWINS, None)
def test_the_order_of_packs_side_by_side_changes_no_figure(packs: list[Entries], data: st.DataObject | None) -> None:
    turned = packs[::-1] if data is None else data.draw(st.permutations(packs))
    assert figures(answered("packs_in_parallel", packs)) == figures(answered("packs_in_parallel", turned))


@given(alike(OF_ONE_SIZE, in_series=True))
def test_the_order_of_packs_in_series_changes_no_figure(packs: list[Entries]) -> None:
    assert figures(answered("packs_in_series", packs)) == figures(answered("packs_in_series", packs[::-1]))


@given(alike(OF_ONE_SIZE, in_series=True))
@example(TWINS)
def test_no_pack_in_series_is_charged_faster_than_its_label_and_the_cold_allow(packs: list[Entries]) -> None:
    setting = answered("packs_in_series", packs).joint_current
    assume(setting is not None)
    current_a = float(setting.figure.number)
    assert current_a <= min(map(own_ceiling_a, packs)) + 1e-8
    full_v = sum(int(pack["cells"]) for pack in packs) * FULL_CELL_V[packs[0]["chemistry"]]
    assert current_a * full_v <= float(REST["charger_power_w"]) + 1e-6


@given(alike())
@example(TWINS)
def test_no_pack_side_by_side_is_charged_faster_than_its_label_and_the_cold_allow(packs: list[Entries]) -> None:
    setting = answered("packs_in_parallel", packs).joint_current
    assume(setting is not None)
    current_a = float(setting.figure.number)
    all_ah = sum(map(effective_ah, packs))
    # Each takes its share by what it holds; the smallest and the coldest are among them.
    for pack in packs:
        assert current_a * effective_ah(pack) / all_ah <= own_ceiling_a(pack) + 1e-8
    assert current_a * int(packs[0]["cells"]) * FULL_CELL_V[packs[0]["chemistry"]] <= float(REST["charger_power_w"]) + 1e-6


@given(alike())
@example(CROSSED)
@example([TWINS[0], TWINS[0] | {"resting_v": "3.81 3.80 3.79 3.80"}])
def test_the_currents_of_joining_are_those_of_the_whole_network(packs: list[Entries]) -> None:
    packs = [{"cell_resistance_mohm": "5"} | one for one in packs]
    found = answered("packs_in_parallel", packs)
    main = board(packs, main=True, plugs=False)
    assert found.joining_current.most.value == pytest.approx(max(0.0, *(-a for a in main.through("cell"))), rel=1e-3, abs=1e-4)
    first = board(packs, main=False, plugs=True)
    assert found.by_the_balance_plugs.most.value == pytest.approx(max(map(abs, first.through("wire"))), rel=1e-3, abs=1e-4)
    # Either at once or after the wait, whichever is more.
    both = board(packs, main=True, plugs=True)
    assert found.through_a_contact.most.value >= max(map(abs, both.through("wire"))) * 0.999 - 1e-4


@given(alike())
@example(TWINS)
@example(CROSSED)
@example([TWINS[0], TWINS[0] | {"resting_v": "3.805 3.805 3.805 3.805"}])
def test_packs_that_may_be_joined_drive_no_current_above_a_label_or_a_contact(packs: list[Entries]) -> None:
    packs = [{"cell_resistance_mohm": "5"} | one for one in packs]
    found = answered("packs_in_parallel", packs)
    assume(found.join.figure.startswith("Yes"))
    assert max(map(abs, board(packs, main=True, plugs=True).through("wire"))) <= CONTACT_A * 1.001
    main = board(packs, main=True, plugs=False)
    for number, pack in enumerate(packs):
        into_a = -main.through("cell", number)[0]
        assert into_a <= own_ceiling_a(pack) * 1.001 + 1e-6
        gives_c = float(pack.get("label_discharge_rate_c") or pack["label_charge_rate_c"])
        assert -into_a <= gives_c * effective_ah(pack) * 1.001 + 1e-6
        assert max(cell_v(pack)) - min(cell_v(pack)) <= SPREAD_V + 1e-6
    for place in zip(*map(cell_v, packs), strict=True):
        assert max(place) - min(place) <= PLACE_V + 1e-6
    assert max(map(effective_ah, packs)) <= HALF * min(map(effective_ah, packs)) + 1e-9


BEST_OHM_AH = {key: one.resistance_class_ohm_ah.least.value for key, one in CHEMISTRIES.items()}
# 0.08 V a cell between packs of 1C: some that have this label have a fiftieth of the resistance that it promises at most.
MODEST_LABELS = [
    {
        "chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "resting_v": resting_v, "pack_degc": "25", "label_charge_rate_c": "1",
        "label_discharge_rate_c": "5",
    }
    for resting_v in ("3.80 3.80 3.80", "3.88 3.88 3.88")
]  # fmt: skip


@given(alike())
@example(MODEST_LABELS)
@example([one | {"label_discharge_rate_c": "1"} for one in MODEST_LABELS])
def test_a_discharge_rate_on_a_label_never_makes_joining_look_safer(packs: list[Entries]) -> None:
    with_rates = answered("packs_in_parallel", packs)
    without = answer(
        "packs_in_parallel", typed([{name: text for name, text in one.items() if name != "label_discharge_rate_c"} for one in packs])
    )
    assert not isinstance(without, Refusal)
    assert with_rates.largest_difference.figure.value <= without.largest_difference.figure.value + 1e-9
    if len(packs) == 2:
        assert with_rates.joining_current.most.value >= without.joining_current.most.value * (1 - 1e-9)
    # Of several packs one that resists less may spare another; up to the best of their kind a rate changes nothing at all.
    if all(0.2 / float(one.get("label_discharge_rate_c", 0.5)) >= BEST_OHM_AH[one["chemistry"]] for one in packs):
        for current in ("joining_current", "through_a_contact", "by_the_balance_plugs"):
            most_a = [getattr(found, current).most.value for found in (with_rates, without)]
            assert most_a[0] == pytest.approx(most_a[1], rel=1e-9, abs=1e-9)
        # What a cell may give is known by the rate alone, and without it as little as it may take.
        if not without.join.may and "out of a cell" not in without.join.set_by:
            assert not with_rates.join.may


@given(alike(), st.data())
@example(TWINS, None)
def test_no_pack_is_joined_whose_cells_were_not_all_read(packs: list[Entries], data: st.DataObject | None) -> None:
    assume(int(packs[0]["cells"]) > 1)
    number = 0 if data is None else data.draw(st.integers(0, len(packs) - 1))
    whole = [*packs]
    whole[number] = whole[number] | {"resting_v": f"{sum(cell_v(whole[number])):.3f}"}
    found = answered("packs_in_parallel", whole)
    assert found.join.figure.startswith("Not yet") and found.joint_current is None


@given(alike(st.floats(0.02, 0.49)))
def test_packs_of_less_than_half_the_size_are_never_charged_side_by_side(packs: list[Entries]) -> None:
    assume(max(map(effective_ah, packs)) > HALF * min(map(effective_ah, packs)) * 1.001)
    assert isinstance(answer("packs_in_parallel", typed(packs)), Refusal)


@given(alike())
@example([TWINS[0], TWINS[0] | {"resting_v": "4.10 4.10 4.10 4.10"}])
def test_packs_that_must_not_be_joined_yet_get_nothing_to_dial_in(packs: list[Entries]) -> None:
    for key in ("packs_in_series", "packs_in_parallel"):
        found = answer(key, typed(packs))
        if not isinstance(found, Refusal) and found.join.figure.startswith("Not yet"):
            assert found.joint_current is found.capacity_cutout is found.time_cutout is None
            assert found.level_first is not None


def own_ceiling_a(pack: Entries) -> float:
    """What a pack may be charged with: its label, and up to 10 °C half of it or of 1C (JEITA and BAJ 2007)."""
    rate_c = float(pack["label_charge_rate_c"])
    return effective_ah(pack) * (min(0.5, rate_c / 2) if float(pack["pack_degc"]) <= 10 else rate_c)


_NUMBERS = range(1, max(_HOW_MANY) + 1)


def parts_of_the_form(entries: Entries) -> dict[str, set[str]]:
    """What is entered one after the other, by name: the charger, the supply, what was read of each pack, and what was measured.

    The measured capacities come at once: a pack measured alone is compared with the labels of the others, is refused beside
    them where it has aged, and may stand beside them again once they prove to have aged as far.
    """
    asked = entries_of(LabelledPack)
    measured = {f"packs_{number}_measured_capacity_mah" for number in _NUMBERS}
    readings = {number: {f"packs_{number}_{name}" for name, entry in asked.items() if not entry.on_label} - measured for number in _NUMBERS}
    named = {"charger": set(entries_of(ChargerEntries)), "supply": set(entries_of(SupplyEntries)), "measured": measured}
    return {name: part & entries.keys() for name, part in (named | {f"pack {number}": part for number, part in readings.items()}).items()}


@given(
    st.sampled_from(("packs_in_series", "packs_in_parallel")), alike(OF_ONE_SIZE, in_series=True), st.permutations(range(len(_NUMBERS) + 3))
)
@example("packs_in_series", TWINS, [3, 4, 0, 1, 2])
@example("packs_in_parallel", TWINS, [3, 4, 0, 1, 2])
@example("packs_in_parallel", [TWINS[0] | {"pack_degc": "9"}, TWINS[1] | {"cell_resistance_mohm": "1"}], [3, 0, 1, 4, 2])
def test_one_more_reading_charger_or_supply_never_makes_an_answer_about_several_packs_bolder(
    key: str, packs: list[Entries], order: list[int]
) -> None:
    entries = typed(packs)
    parts_by_name = parts_of_the_form(entries)
    parts = list(parts_by_name.values())
    before = {"joint_current": float("inf"), "full_voltage": float("inf")}
    known = {name: text for name, text in entries.items() if not any(name in part for part in parts)}
    for place in order:
        found = answer(key, known)
        if isinstance(found, Refusal):
            whole = answer(key, entries)
            assert isinstance(whole, Refusal) or whole.joint_current is None  # packs to bring level first have nothing to dial in either
            return
        if entries.keys() - known.keys() <= parts_by_name["measured"]:  # by their labels then, which is whole
            shown = found
        else:
            assert isinstance(found, PartialAnswer) and not found.may_start
            shown = found.known
        for name, most in before.items():
            if setting := getattr(shown, name):
                assert setting.figure.value <= most + 1e-6
                before[name] = setting.figure.value
        known |= {name: entries[name] for name in parts[place]}
        if known == entries:
            break
    whole = answer(key, entries)
    assert not isinstance(whole, PartialAnswer)
    if not isinstance(whole, Refusal) and whole.joint_current:
        assert whole.joint_current.figure.value <= before["joint_current"] + 1e-6
        assert whole.full_voltage.figure.value <= before["full_voltage"] + 1e-6


@st.composite
def _parted(draw: st.DrawFn) -> tuple[Entries, Entries]:
    """One pack of two to ten cells, each read, and the same cells told as two packs in series."""
    pack = draw(packs_of_any_kind().filter(lambda one: 1 < int(one["cells"]) <= 10))
    low_v, high_v = FLOOR_CELL_V[pack["chemistry"]] + 0.01, FULL_CELL_V[pack["chemistry"]]
    lowest_v = draw(st.floats(low_v, high_v - 0.05))
    cells = [f"{lowest_v + draw(st.sampled_from((0, 0.005, 0.012, 0.03, 0.044))):.3f}" for _ in range(int(pack["cells"]))]
    rate = {"requested_rate_c": pack.pop("requested_rate_c")}
    for each in ("cell_resistances_mohm", "alike_packs", "first_plug_cells"):
        pack.pop(each, None)
    place = draw(st.integers(1, len(cells) - 1))
    parts = [pack | {"cells": str(len(part)), "resting_v": " ".join(part)} for part in (cells[:place], cells[place:])]
    joint = CHARGER | rate | {f"packs_{number}_{name}": text for number, part in enumerate(parts, 1) for name, text in part.items()}
    return CHARGER | rate | pack | {"resting_v": " ".join(cells)}, joint


# The cells of one pack, 44 mV apart, and all of those above in the second.
_ONE_APART = CHARGER | TWINS[0] | {"requested_rate_c": "1", "resting_v": "3.80 3.80 3.844 3.844", "measured_capacity_mah": "5200"}
_TWO_APART = CHARGER | {"requested_rate_c": "1"} | {
    f"packs_{number}_{name}": text
    for number, resting_v in ((1, "3.80 3.80"), (2, "3.844 3.844"))
    for name, text in (TWINS[0] | {"cells": "2", "resting_v": resting_v, "measured_capacity_mah": "5200"}).items()
}  # fmt: skip


@given(_parted())
@example((_ONE_APART, _TWO_APART))
def test_cells_one_after_the_other_have_the_same_settings_however_they_are_told_as_packs(told: tuple[Entries, Entries]) -> None:
    one, joint = answer("charge_settings", told[0]), answer("packs_in_series", told[1])
    assume(not isinstance(one, Refusal) and not isinstance(joint, Refusal) and joint.joint_current is not None)
    for alone, together in (
        (one.charge_current, joint.joint_current),
        (one.capacity_setting, joint.capacity_setting),
        (one.full_voltage, joint.full_voltage),
        (one.capacity_cutout, joint.capacity_cutout),
        (one.time_cutout, joint.time_cutout),
        (one.temperature_stop, joint.temperature_stop),
    ):
        assert str(alone.figure) == str(together.figure)
    assert joint.charge_time.most.value == pytest.approx(one.charge_time.most.value)
    assert joint.charge_put_in.most.value == pytest.approx(one.charge_put_in.most.value)


@given(_parted())
def test_what_forbids_a_pack_forbids_its_cells_as_two_in_series(told: tuple[Entries, Entries]) -> None:
    if isinstance(answer("charge_settings", told[0]), Refusal):
        joint = answer("packs_in_series", told[1])
        assert isinstance(joint, Refusal) or not joint.join.may
