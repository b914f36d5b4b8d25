"""Where a charge begins: at the set current, at the power, or held at the full voltage."""

from __future__ import annotations

from math import inf

import pytest

from calc.physics.cell.cells import Cell
from calc.physics.cell.charge_terms import ChargeTerms

_STRAIGHT = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)


def _terms(power: float | None = None) -> ChargeTerms:
    return ChargeTerms(cell=_STRAIGHT, rate_c=1.0, power=power, power_v=4.2, full_v=4.2, taper_c=0.1, target=inf)


def test_an_empty_cell_begins_at_the_set_current() -> None:
    now = _terms().start(0.2)
    assert (now.rate_c, now.cell_v) == (1.0, pytest.approx(3.82))


def test_little_power_begins_below_the_set_current() -> None:
    now = _terms(power=2.0).start(0.2)
    assert now.rate_c < 1.0
    assert now.rate_c * now.cell_v == pytest.approx(2.0)


def test_a_cell_near_full_begins_at_the_full_voltage() -> None:
    now = _terms().start(0.95)
    assert (now.rate_c, now.cell_v) == (pytest.approx(0.3), 4.2)


def test_a_cell_above_full_takes_nothing_and_shows_its_own_voltage() -> None:
    now = _terms().start(1.1)
    assert (now.rate_c, now.cell_v) == (0.0, pytest.approx(4.26))
