"""Packs that are to be joined and of which not all is known: what their labels allow, what forbids it, and what is not counted yet."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answering import PartialAnswer, answer
from calc.figures.quantities import Figure
from calc.figures.showing import parts_of
from calc.inputs.equipment import ChargerEntries
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from calc.inputs.supply import SupplyEntries
from tests.units.calc.joined_charge import entries, joined, resting

SERIES, PARALLEL = "packs_in_series", "packs_in_parallel"
KEYS = (SERIES, PARALLEL)
UNREAD = {"resting_v": "", "pack_degc": ""}
CHARGER, SUPPLY = entries_of(ChargerEntries).keys(), entries_of(SupplyEntries).keys()


def so_far(key: str, *packs: dict[str, str], without: Any = (), **changes: str) -> PartialAnswer:
    typed = entries(*(packs or (UNREAD, UNREAD)), **changes)
    found = answer(key, {name: text for name, text in typed.items() if name not in without})
    assert isinstance(found, PartialAnswer), found
    return found


def refused(key: str, *packs: dict[str, str], **changes: str) -> list[str]:
    found = answer(key, entries(*packs, **changes))
    assert isinstance(found, Refusal)
    return [problem.field for problem in found.problems]


@pytest.mark.parametrize("key", KEYS)
def test_packs_that_nobody_has_read_go_together_by_their_labels_and_start_nothing(key: str) -> None:
    found = so_far(key)
    assert (found.known.join.figure, found.known.join.may, found.may_start) == ("Yes, by their labels", None, False)
    assert "every cell of each is read first" in found.known.join.set_by
    assert "Pack 1 and Pack 2" in found.not_counted
    assert not {"capacity_cutout", "time_cutout", "temperature_stop"} & {part.key for part in parts_of(found.known)}


def test_two_balance_plugs_are_drawn_and_held_against_each_other_before_the_charger_is_known() -> None:
    plugs = so_far(PARALLEL, *[UNREAD | {"first_plug_cells": "3"}] * 2, without=CHARGER).known.wiring.packs[1].plugs
    assert [plug.cells for plug in plugs] == [(1, 2, 3), (4,)]
    for first, second, words in (("3", "2", "short circuit"), ("3", "", "short circuit"), ("3", "4", "fewer cells than the pack has")):
        typed = entries(UNREAD | {"first_plug_cells": first}, UNREAD | {"first_plug_cells": second})
        found = answer(PARALLEL, {name: text for name, text in typed.items() if name not in CHARGER})
        assert isinstance(found, Refusal)
        assert [(problem.field, words in problem.sentence) for problem in found.problems] == [("packs_2_first_plug_cells", True)]


def test_in_series_the_cells_add_up_and_side_by_side_the_capacities() -> None:
    shown = [
        [str(figure) for figure in (known.cells.figure, known.joint_current.figure, known.capacity_setting.figure)]
        for known in (so_far(key).known for key in KEYS)
    ]
    assert shown == [["8\u00a0cells", "5.0\u00a0A", "5000\u00a0mAh"], ["4\u00a0cells", "10.0\u00a0A", "10000\u00a0mAh"]]


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize(
    ("second", "field"),
    [
        ({"chemistry": "life"}, "packs_2_chemistry"),
        ({"chemistry": "unknown"}, "packs_2_chemistry"),
        ({"look": "swollen"}, "packs_2_look"),
        ({"resting_v": "3.8 3.8 3.8 2.4"}, "packs_2_resting_v"),
        ({"pack_degc": "-1"}, "packs_2_pack_degc"),
    ],
)
def test_what_forbids_it_is_known_before_everything_is(key: str, second: dict[str, str], field: str) -> None:
    assert field in refused(key, UNREAD, UNREAD | second)


def test_series_refuses_by_label_and_charger_what_it_refuses_of_packs_that_were_read() -> None:
    assert refused(SERIES, UNREAD, UNREAD | {"capacity_mah": "4400"}) == ["packs_2_capacity_mah"]
    assert refused(SERIES, UNREAD, UNREAD, charger_cells="7") == ["charger_cells"]
    assert refused(SERIES, UNREAD, UNREAD, balance_ports="1") == ["port_cells"]
    assert refused(SERIES, UNREAD, UNREAD, balance_plugs_into="board") == ["balance_plugs_into"]
    assert len(refused(SERIES, UNREAD, UNREAD, UNREAD, UNREAD, charger_cells="16", balance_ports="4")) == 1  # 16 cells of 4.20 V


def test_parallel_refuses_by_label_and_charger_what_it_refuses_of_packs_that_were_read() -> None:
    assert refused(PARALLEL, UNREAD, UNREAD | {"cells": "3"}) == ["packs_2_cells"]
    assert refused(PARALLEL, UNREAD, UNREAD | {"capacity_mah": "2400"}) == ["packs_2_capacity_mah"]
    assert refused(PARALLEL, UNREAD, UNREAD, charger_cells="3") == ["packs_1_cells"]
    assert refused(PARALLEL, UNREAD, UNREAD, main_leads_into="series") == ["main_leads_into"]


def test_packs_of_unlike_warmth_are_refused_though_their_voltages_are_not_known() -> None:
    warm = {"resting_v": "", "pack_degc": "36"}
    assert refused(SERIES, {"resting_v": "", "pack_degc": "25"}, warm) == ["packs_2_pack_degc"]


@pytest.mark.parametrize("key", KEYS)
def test_a_pack_that_was_read_counts_as_such_though_the_other_was_not(key: str) -> None:
    cold = so_far(key, {"pack_degc": "4"}, UNREAD).known.joint_current
    assert cold.figure.value == so_far(key).known.joint_current.figure.value / 2
    assert "cold" in cold.set_by


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("known", [{"look": "watched"}, {"cell_resistances_mohm": "5 5 5 8"}, {"pack_degc": "4"}, {"air_degc": "4"}])
def test_what_slows_a_pack_counts_though_not_all_of_it_has_been_read(key: str, known: dict[str, str]) -> None:
    assert so_far(key, UNREAD | known, UNREAD).known.joint_current.figure.value == so_far(key).known.joint_current.figure.value / 2


@pytest.mark.parametrize("key", KEYS)
def test_of_what_is_read_on_packs_that_alone_is_not_counted_which_is_missing(key: str) -> None:
    named = "Not counted yet: the voltages of Pack 1 and Pack 2 and the temperature of Pack 2."
    assert so_far(key, {"resting_v": ""}, UNREAD).not_counted.startswith(named)


@pytest.mark.parametrize("key", KEYS)
def test_what_is_missing_is_named_and_without_a_charger_the_current_is_the_most_that_it_may_be(key: str) -> None:
    unread, read = so_far(key, without=CHARGER | SUPPLY), so_far(key, {}, {}, without=SUPPLY)
    assert unread.basis == "By the labels"
    assert "your charger and your supply with its lead" in unread.not_counted
    assert "at most" in next(part.title for part in parts_of(unread.known) if part.key == "joint_current")
    assert read.basis == "By the labels, your readings and your charger"
    assert "voltages" not in read.not_counted and "your supply" in read.not_counted


def test_the_ports_are_drawn_once_the_charger_is_known() -> None:
    assert so_far(SERIES, without=CHARGER | SUPPLY).known.wiring is None
    assert [row.cells[0] for row in so_far(SERIES).known.ports.rows] == ["port 1", "port 2"]


@pytest.mark.parametrize("key", KEYS)
def test_packs_that_were_read_are_judged_though_the_supply_is_missing(key: str) -> None:
    assert so_far(key, {}, {}, without=SUPPLY).known.join == joined(key).join
    apart = so_far(key, resting(3.75), resting(3.90), without=SUPPLY).known
    assert apart.join == joined(key, resting(3.75), resting(3.90)).join
    assert apart.joint_current is None and apart.level_first is not None


@pytest.mark.parametrize("key", KEYS)
def test_without_the_whole_label_of_each_there_is_nothing_to_go_by(key: str) -> None:
    assert refused(key, UNREAD, UNREAD | {"capacity_mah": ""}) == ["packs_2_capacity_mah"]


@pytest.mark.parametrize("key", KEYS)
def test_packs_alike_need_one_label(key: str) -> None:
    first = {name: text for name, text in entries(UNREAD).items() if not name.startswith("packs_2_")}
    found = answer(key, first | {"alike_packs": "2"})
    assert isinstance(found, PartialAnswer)
    assert isinstance(found.known.joint_current.figure, Figure)
