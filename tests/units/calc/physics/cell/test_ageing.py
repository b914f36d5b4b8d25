"""How fast a pack ages while it lies there, compared."""

import pytest

from calc.physics.cell.ageing import ageing_compared


def test_a_cell_ages_as_fast_as_itself() -> None:
    assert ageing_compared(3.8, 25, with_cell_v=3.8, with_degc=25) == 1.0


def test_voltage_and_heat_multiply() -> None:
    by_voltage = ageing_compared(4.1, 20, with_cell_v=3.8, with_degc=20)
    by_heat = ageing_compared(3.8, 40, with_cell_v=3.8, with_degc=20)
    assert ageing_compared(4.1, 40, with_cell_v=3.8, with_degc=20) == pytest.approx(by_voltage * by_heat)


def test_beyond_the_cells_of_the_paper_nothing_is_stretched() -> None:
    assert ageing_compared(4.35, 20, with_cell_v=3.8, with_degc=20) == ageing_compared(4.16, 20, with_cell_v=3.8, with_degc=20)
    assert ageing_compared(3.0, 20, with_cell_v=3.8, with_degc=20) == ageing_compared(3.33, 20, with_cell_v=3.8, with_degc=20)
