"""The voltages of one cell of each kind, as tables: against what papers and handbooks print."""

from __future__ import annotations

import pytest

from calc.figures.showing import Table
from calc.presenting.cell_voltages import nickel_table, one_cell_table


def _volts(table: Table) -> dict[str, str]:
    return {row.heading: str(row.cells[0]).replace("\N{NO-BREAK SPACE}", " ") for row in table.rows}


@pytest.mark.parametrize(
    ("kind", "floor", "full"),
    [
        ("lipo", "3.00 V", "4.20 V"),  # Maleki 2014: 3.0 to 4.2 V
        ("lihv", "3.00 V", "4.35 V"),  # Maleki 2014: 3.0 to 4.35 V
        ("liion", "2.50 V", "4.20 V"),  # Chen 2020: 2.5 to 4.2 V
        ("life", "2.50 V", "3.65 V"),  # the tests of a cell's data sheet: charged to 3.65 V, discharged to 2.5 V
    ],
)
def test_a_kind_has_the_window_of_its_source(kind: str, floor: str, full: str) -> None:
    volts = _volts(one_cell_table(kind))
    assert (volts["Never below"], volts["Full"]) == (floor, full)


def test_the_storage_band_is_shown_with_both_ends() -> None:
    # Common practice, no source.
    assert _volts(one_cell_table("lipo"))["Storage"] == "3.80 to 3.84 V"


def test_a_nickel_cell_has_no_full_voltage() -> None:
    # Wikipedia: 1.2 V nominal, 1.4 V and almost 1.5 V when full, 1.0 V when empty.
    assert _volts(nickel_table()) == {"Nominal": "1.20 V", "On charge": "1.40 to 1.50 V", "Cutoff": "1.00 V"}


@pytest.mark.parametrize("table", [one_cell_table("life"), nickel_table()], ids=lambda table: table.caption)
def test_each_voltage_says_what_it_is_for_and_where_it_comes_from(table: Table) -> None:
    assert all(len(row.cells) == 3 and all(row.cells) for row in table.rows)
