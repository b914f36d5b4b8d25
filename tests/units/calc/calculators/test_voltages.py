"""The tables to read: every chemistry, every cell count, and a unit in every cell."""

from __future__ import annotations

import pytest

from calc import answering
from calc.calculators.voltages import Answer
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import PACK_VOLTS, Figure
from calc.figures.showing import Row, Table
from calc.inputs.refusals import Refusal


def _answer(chemistry: str = "lipo", cells: str = "3") -> Answer:
    return answering.answer("voltages", {"chemistry": chemistry, "cells": cells})


def _text(cell: Figure | str) -> str:
    return str(cell).replace("\N{NO-BREAK SPACE}", " ")


def _row(table: Table, heading: str) -> Row:
    return next(row for row in table.rows if row.heading.replace("\N{NO-BREAK SPACE}", " ") == heading)


@pytest.mark.parametrize(
    "name, cell, pack",
    [
        ("Full", "4.20 V", "25.20 V"),
        ("Nominal", "3.70 V", "22.20 V"),
        ("Storage", "3.80 to 3.84 V", "22.80 to 23.04 V"),
        ("Land, at rest", "3.70 V", "22.20 V"),
        ("Land, under load", "3.50 V", "21.00 V"),
        ("Cutoff, careful", "3.20 V", "19.20 V"),
        ("Cutoff, the maker's", "3.00 V", "18.00 V"),
        ("Never below", "3.00 V", "18.00 V"),
    ],
)
def test_a_pack_of_six_lithium_polymer_cells(name: str, cell: str, pack: str) -> None:
    row = _row(_answer(cells="6").this_pack, name)
    assert [_text(one) for one in row.cells[:2]] == [cell, pack]


@pytest.mark.parametrize("key, full_v", [("lipo", "12.60 V"), ("lihv", "13.05 V"), ("liion", "12.60 V"), ("life", "10.95 V")])
def test_three_cells_of_each_chemistry_are_full_at_their_own_voltage(key: str, full_v: str) -> None:
    assert _text(_row(_answer(key).this_pack, "Full").cells[1]) == full_v


def test_every_voltage_of_the_pack_names_its_source() -> None:
    assert all(row.cells[-1] for row in _answer().this_pack.rows)


def test_a_fact_of_the_trade_is_called_so() -> None:
    assert "common practice, no source" in _row(_answer("life").this_pack, "Cutoff, careful").cells[-1]


def test_the_chemistry_that_was_asked_for_comes_first() -> None:
    captions = [table.caption for table in _answer("life").every_count]
    assert captions[0].startswith("Lithium iron phosphate")
    assert len(set(captions)) == len(CHEMISTRIES)


# 14 x 4.20 V are 58.8 V, 13 x 4.35 V are 56.55 V and 16 x 3.65 V are 58.4 V; one cell more is above 60 V.
@pytest.mark.parametrize(("chemistry", "most"), [("lipo", 14), ("lihv", 13), ("liion", 14), ("life", 16)])
def test_each_table_runs_from_one_cell_to_the_last_that_anybody_may_touch(chemistry: str, most: int) -> None:
    table = _answer(chemistry).every_count[0]
    assert table.columns[0] == "Cells"
    assert [row.heading for row in table.rows] == [str(cells) for cells in range(1, most + 1)]
    assert "above 60 V" in _text(table.notes[-1])


def test_more_cells_than_anybody_may_touch_have_no_table() -> None:
    refusal = answering.answer("voltages", {"chemistry": "lihv", "cells": "14"})
    assert isinstance(refusal, Refusal)
    assert [problem.field for problem in refusal.problems] == ["cells"]


def test_only_the_pack_s_own_row_is_marked() -> None:
    marked = [_text(row.heading) for table in _answer(cells="6").every_count for row in table.rows if row.marked]
    assert marked == ["6"]


def test_fourteen_cells_are_fourteen_times_one() -> None:
    row = _answer().every_count[0].rows[13]
    assert _text(row.cells[0]) == "58.80 V"


def test_every_table_has_as_many_cells_as_columns() -> None:
    answer = _answer()
    for table in (answer.this_pack, *answer.every_count, *answer.other_batteries, answer.degrees):
        assert {len(row.cells) + 1 for row in table.rows} == {len(table.columns)}


def test_every_voltage_has_its_unit_at_the_head_of_its_column() -> None:
    for table in _answer().every_count:
        assert table.unit == PACK_VOLTS
        assert all(isinstance(cell, str) or cell.quantity == table.unit for row in table.rows for cell in row.cells)


def test_the_storage_band_of_three_cells_is_three_times_that_of_one() -> None:
    assert _answer().every_count[0].rows[2].cells[1] == "11.40\N{EN DASH}11.52"


def test_what_has_no_column_stands_below_for_one_cell() -> None:
    note = _text(_answer().every_count[0].notes[0])
    assert note.endswith("The other voltages of one cell: nominal, 3.70 V; land, under load, 3.50 V; cutoff, the maker's, 3.00 V.")


def test_a_nickel_cell_has_no_full_voltage_and_never_a_lithium_mode() -> None:
    nickel = _answer().other_batteries[0]
    assert [row.heading for row in nickel.rows] == ["Nominal", "On charge", "Cutoff"]
    assert "never a lithium mode" in _row(nickel, "On charge").cells[1]


def test_a_half_full_battery_of_either_kind() -> None:
    row = _row(_answer().other_batteries[1], "50 % charged, at rest")
    assert [_text(cell) for cell in row.cells] == ["12.24 V", "12.40 V"]


def test_the_battery_s_rows_fall_from_full() -> None:
    headings = [_text(row.heading) for row in _answer().other_batteries[1].rows]
    assert headings[:2] == ["100 % charged, at rest", "75 % charged, at rest"]


@pytest.mark.parametrize(
    "degc, degf, words",
    [
        ("0 °C", "32 °F", "pack: no charging from here down"),
        ("0 °C", "32 °F", "air: no charging below"),
        ("10 °C", "50 °F", "pack, or the air around it: half the current from here down"),
        ("40 °C", "104 °F", "air: no charging above"),
        ("45 °C", "113 °F", "pack: no charging from here on, the charger's stop"),
        ("49 °C", "120 °F", "no charger's stop above"),
        ("60 °C", "140 °F", "get away"),
        ("20 °C", "68 °F", ""),
        ("-10 °C", "14 °F", ""),
    ],
)
def test_degrees_are_told_with_what_they_mean(degc: str, degf: str, words: str) -> None:
    fahrenheit, meaning = _row(_answer().degrees, degc).cells
    assert _text(fahrenheit) == degf
    assert words in meaning


@pytest.mark.parametrize("cells", ["0", "15", "2.5", ""])
def test_a_count_that_no_pack_has_is_refused(cells: str) -> None:
    (problem,) = answering.answer("voltages", {"chemistry": "lipo", "cells": cells}).problems
    assert problem.field == "cells"
