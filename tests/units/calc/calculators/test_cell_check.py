"""The cell check: one verdict, the rule behind it, and no state of charge that a voltage does not tell."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answering import answer, standing_of
from calc.inputs.refusals import Refusal
from tests.units.calc import sound_charge

ENTRIES = {
    "look": "sound", "chemistry": "lipo", "cells": "3", "resting_v": "3.85 3.86 3.84", "pack_degc": "20", "read_when": "rested",
}  # fmt: skip


def checked(**changes: str) -> Any:
    found = answer("cell_check", ENTRIES | changes)
    assert not isinstance(found, Refusal), found
    return found


def _headings(**changes: str) -> list[str]:
    return [row.heading for row in checked(**changes).rules.rows]


def test_a_sound_pack_is_fit_to_fly_and_the_reason_is_said() -> None:
    verdict = checked().verdict
    assert (verdict.figure, verdict.set_by) == ("Fit to fly", "nothing wrong was found")


def test_a_swollen_pack_is_done_and_nothing_else_is_asked() -> None:
    swollen = answer("cell_check", {"look": "swollen"})
    assert swollen.verdict.figure == "Take it out of use"
    assert swollen.cautions[0].go_to == "pack-in-trouble#swollen-pack"
    assert swollen.pack_state is swollen.cell_by_cell is None


def test_a_look_that_is_not_given_is_asked_for() -> None:
    assert "look" in {problem.field for problem in answer("cell_check", {"resting_v": "3.85"}).problems}


def test_every_rule_that_speaks_is_listed_the_gravest_first() -> None:
    headings = _headings(look="watched", resting_v="3.85 2.95 3.40", cell_resistances_mohm="5 9 5")
    assert headings == ["Take it out of use", *["Charge it slowly, and watch"] * 3, "Charge it before it flies"]


def test_the_pasted_list_of_a_checker_is_read() -> None:
    assert checked(resting_v="C1: 3850mV C2: 3860mV C3: 3710mV").spread.figure.number == "0.150"


def test_the_weakest_cell_tells_what_is_in_the_pack() -> None:
    # At 3.80 V the likely curve holds 52 %, and all curves with the meter's error 38 to 65 %.
    state = checked(resting_v="3.80 3.90 3.85").pack_state
    assert [figure.number for figure in (state.least, state.likely, state.most)] == ["38", "52", "65"]


@pytest.mark.parametrize("read_when", ["flown", "loaded"])
def test_a_voltage_that_has_not_rested_is_no_state_of_charge(read_when: str) -> None:
    found = checked(read_when=read_when)
    assert found.pack_state is found.spread is found.behind is None
    assert {cell for row in found.cell_by_cell.rows for cell in row.cells[1:]} == {"not known"}


def test_a_cell_below_its_floor_has_no_state_and_the_others_keep_theirs() -> None:
    rows = checked(resting_v="3.80 2.90 3.80").cell_by_cell.rows
    assert rows[1].cells[1] == "not known"
    assert rows[0].cells[1].number == "52"


def test_the_spread_stands_in_its_band() -> None:
    bands = checked(resting_v="3.85 3.90 3.85").bands
    assert [row.heading.replace("\N{NO-BREAK SPACE}", " ") for row in bands.rows if row.marked] == ["over 0.03 V, up to 0.10 V"]


def test_a_pack_that_was_read_as_a_whole_shows_every_count_that_fits() -> None:
    counts = checked(cells="6", resting_v="25.2").counts
    assert [row.heading.split()[0] for row in counts.rows] == ["6", "7", "8"]
    assert [row.marked for row in counts.rows] == [True, False, False]


def test_cells_that_were_read_one_by_one_need_no_count() -> None:
    assert checked().counts is None


def test_a_pack_that_is_charged_slowly_is_charged_with_half_of_1c() -> None:
    setting = checked(resting_v="3.85 3.86 3.71").charge_at_most
    assert (setting.figure.number, setting.figure.sign) == ("0.50", "C")
    assert "0.5C to 1C by the age of the pack" in setting.set_by


def test_a_pack_that_is_done_gets_no_charge() -> None:
    assert checked(resting_v="3.85 2.95 3.86").charge_at_most is None


def test_a_nickel_pack_is_sent_to_its_own_mode() -> None:
    assert answer("cell_check", ENTRIES | {"chemistry": "nimh"}).problems[0].field == "chemistry"


@pytest.mark.parametrize(
    ("changes", "passed"),
    [
        ({}, True),
        ({"resting_v": "3.85 3.86 3.71"}, True),
        ({"resting_v": "11.4"}, False),
        ({"read_when": "loaded"}, False),
        ({"pack_degc": "-5"}, False),
        ({"resting_v": "3.85 3.86 2.10"}, False),
    ],
    ids=["sound", "to be charged slowly", "cells not read", "under load", "too cold", "a cell below its floor"],
)
def test_a_pack_is_passed_only_where_every_cell_was_read_and_it_may_be_charged(changes: dict[str, str], passed: bool) -> None:
    assert standing_of(checked(**changes)).passed is passed


def test_a_cell_below_its_floor_takes_the_pack_out_of_use_here_and_where_it_is_to_be_charged() -> None:
    here = standing_of(answer("cell_check", ENTRIES | {"resting_v": "3.85 3.86 2.10"}))
    there = standing_of(answer("charge_settings", sound_charge.ENTRIES | {"resting_v": "3.85 3.86 2.10"}))
    assert all(one.taken_out.startswith("Cell 3 rests at 2.100\u00a0V, below its floor") for one in (here, there))


def test_a_pack_that_is_only_cold_or_incomplete_is_not_taken_out_of_use() -> None:
    assert standing_of(checked(pack_degc="-5")).taken_out == standing_of(answer("cell_check", {})).taken_out == ""


def test_a_swollen_pack_is_taken_out_of_use() -> None:
    assert standing_of(answer("cell_check", {"look": "swollen"})).taken_out.startswith("It has swollen")
