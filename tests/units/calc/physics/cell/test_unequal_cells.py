"""Cells in series that are not alike, on a straight curve that can be followed by hand."""

from __future__ import annotations

import pytest

from calc.physics.cell.unequal_cells import lowest_over_mean, resting_after_v

_STRAIGHT = (3.0, 4.0)


def test_the_lowest_cell_is_lowest_beside_the_mean_at_the_end_of_a_discharge() -> None:
    # 0.2 of the capacity takes the lower cell from 3.4 to 3.2 V and the other one from 3.8 to 3.6 V: 3.2 over 3.4.
    assert lowest_over_mean(_STRAIGHT, (3.8, 3.4), 3.2) == pytest.approx(3.2 / 3.4, rel=1e-9)


def test_a_cell_that_is_at_its_end_already_stands_beside_the_others_as_they_are() -> None:
    assert lowest_over_mean(_STRAIGHT, (3.8, 3.2), 3.3) == pytest.approx(3.2 / 3.5, rel=1e-9)


@pytest.mark.parametrize("cell_v", [3.05, 3.5, 3.95])
@pytest.mark.parametrize("cells", [1, 2, 3, 6])
def test_no_cell_is_lowest_by_more_than_all_of_the_mean(cell_v: float, cells: int) -> None:
    # The mean of like numbers may be off in its last bit.
    assert lowest_over_mean(_STRAIGHT, (cell_v,) * cells, cell_v) <= 1
    assert lowest_over_mean(_STRAIGHT, (cell_v,) * cells, 3.0) <= 1


def test_a_cell_that_reads_above_its_curve_gives_from_full_on() -> None:
    assert resting_after_v("lipo", (4.25,), -0.1) == resting_after_v("lipo", (4.20,), -0.1)
