"""Rows: what is asked once is asked of each of several things, and what is said of one names it."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from calc.figures.quantities import AMPERES, CELLS, METRES
from calc.inputs.entries import read
from calc.inputs.fields import Group, choice, entries_of, number
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, in_row, several

_PACK = Group("pack", "This pack")
_MORE = Group("pack-more", "More about this pack, if known", optional=True)
_LEAD = Group("lead", "The lead", kept=True)


@dataclass(frozen=True, kw_only=True)
class _Pack:
    cells: float = number("Cells in series", CELLS, group=_PACK, least=1, most=14, whole=True)
    plug: str = choice("Plug", {"bare": "Bare ends", "fused": "With a fuse"}, group=_PACK, starts_as="bare")
    fuse_a: float | None = number("Fuse", AMPERES, group=_PACK, least=1, most=100, only_with=("plug", ("fused",)))
    spare_a: float | None = number("Spare current", AMPERES, group=_MORE, least=0, most=5, optional=True)


@dataclass(frozen=True, kw_only=True)
class _Inputs:
    lead_m: float = number("Lead", METRES, group=_LEAD, least=0.1, most=30)
    packs: tuple[_Pack, ...] = several(_Pack, "Pack", group_key="packs", least=2, most=4)


_ASKED = entries_of(_Inputs)
_TWO = {"lead_m": "1", "packs_1_cells": "3", "packs_2_cells": "4"}


def _problems(**changes: str) -> list[Problem]:
    with pytest.raises(Refused) as refused:
        read(_Inputs, _TWO | {"packs_1_plug": "bare", "packs_2_plug": "bare"} | changes)
    return list(refused.value.problems)


def _packs(**changes: str) -> tuple[_Pack, ...]:
    starts = {name: entry.starts_as for name, entry in _ASKED.items() if entry.starts_as}
    return read(_Inputs, starts | _TWO | changes).packs


# What is asked


def test_each_row_asks_everything_once_under_its_own_number() -> None:
    assert len(_ASKED) == 1 + 4 * 4
    assert list(_ASKED)[:5] == ["lead_m", "packs_1_cells", "packs_1_plug", "packs_1_fuse_a", "packs_1_spare_a"]
    assert list(_ASKED)[-1] == "packs_4_spare_a"


def test_an_entry_of_a_row_keeps_label_unit_and_bounds() -> None:
    entry = _ASKED["packs_3_cells"]
    assert (entry.label, entry.quantity, entry.least, entry.most, entry.whole) == ("Cells in series", CELLS, 1, 14, True)


def test_the_first_rows_stand_open_and_fold_away_only_what_can_stay_empty() -> None:
    titles = {name: (entry.group.title, entry.group.optional) for name, entry in _ASKED.items()}
    assert titles["packs_2_cells"] == ("Pack 2", False)
    assert titles["packs_2_spare_a"] == ("Pack 2: more about this pack, if known", True)


def test_a_later_row_is_one_fold_with_all_in_it() -> None:
    groups = {entry.group for name, entry in _ASKED.items() if name.startswith("packs_3_")}
    assert [(group.title, group.optional) for group in groups] == [("Pack 3, if there is one", True)]


def test_no_two_rows_share_a_group() -> None:
    keys = {entry.group.key for entry in _ASKED.values()}
    assert len(keys) == 1 + 2 * 2 + 2


def test_a_choice_of_one_row_asks_for_what_belongs_to_it_in_that_row_alone() -> None:
    first, second = _packs(packs_1_plug="fused", packs_1_fuse_a="20", packs_2_fuse_a="30")
    assert (first.fuse_a, second.fuse_a) == (20, None)


# What is read


def test_rows_are_read_in_order_each_as_what_it_asks() -> None:
    assert _packs() == (_Pack(cells=3, plug="bare"), _Pack(cells=4, plug="bare"))


def test_a_later_row_is_read_once_something_in_it_is_typed() -> None:
    assert _packs(packs_3_cells="6")[2] == _Pack(cells=6, plug="bare")


def test_what_the_form_shows_at_first_is_not_typed() -> None:
    assert len(_packs(packs_3_plug="bare", packs_3_cells=" ")) == 2


def test_a_choice_that_is_changed_is_typed() -> None:
    [problem] = _problems(packs_3_plug="fused", packs_3_fuse_a="20")
    assert problem == Problem("packs_3_cells", "Pack 3: enter the cells in series.", missing=True)


def test_a_first_row_that_is_empty_is_asked_for() -> None:
    assert [problem.sentence for problem in _problems(packs_2_cells="", packs_2_plug="")] == [
        "Pack 2: enter the cells in series.",
        "Pack 2: choose the plug.",
    ]


def test_what_is_out_of_bounds_is_said_of_its_row() -> None:
    [problem] = _problems(packs_2_cells="15")
    assert problem == Problem("packs_2_cells", "Pack 2: cells in series must be from 1 to 14\u00a0cells.")


def test_what_stands_in_no_row_is_said_of_none() -> None:
    [problem] = _problems(lead_m="900")
    assert problem.sentence == "Lead must be from 0.1 to 30\u00a0m."


def test_a_row_that_is_left_empty_before_another_is_asked_for_in_one_sentence() -> None:
    [problem] = _problems(packs_4_cells="3", packs_4_plug="bare")
    assert problem == Problem("packs_3_cells", "Pack 3: nothing is entered here. Enter it, or move Pack 4 here.", missing=True)


def test_without_rows_beyond_the_first_nothing_is_missing_in_between() -> None:
    assert len(_packs(packs_3_cells="5", packs_4_cells="5")) == 4


# What a calculator refuses


def _no_single_cell(pack: _Pack) -> float:
    if pack.cells == 1:
        raise Refused(Problem("cells", "One cell makes no pack.", go_to="trouble"), Problem("lead_m", "LiPo leads only."))
    return pack.cells


def test_each_row_gives_its_own_result() -> None:
    assert each_row(read(_Inputs, _TWO | {"packs_1_plug": "bare", "packs_2_plug": "bare"}), "packs", _no_single_cell) == (3, 4)


def test_the_problems_of_all_rows_come_at_once_and_each_names_its_row() -> None:
    given = _Inputs(lead_m=1, packs=tuple(_Pack(cells=cells, plug="bare") for cells in (1, 3, 1)))
    with pytest.raises(Refused) as refused:
        each_row(given, "packs", _no_single_cell)
    assert [problem.field for problem in refused.value.problems] == ["packs_1_cells", "lead_m", "packs_3_cells", "lead_m"]
    assert refused.value.problems[2].sentence == "Pack 3: one cell makes no pack."
    assert refused.value.problems[2].go_to == "trouble"


def test_a_name_that_is_written_with_capitals_keeps_them() -> None:
    assert in_row(_Inputs, "packs", 1, Problem("cells", "LiPo leads only.")).sentence == "Pack 1: LiPo leads only."


def test_a_problem_of_the_whole_row_names_no_entry() -> None:
    assert in_row(_Inputs, "packs", 4, Problem("", "Leave it out.")) == Problem("", "Pack 4: leave it out.")
