"""The steps against the formulas, where a slow part that is next to nothing makes both see the same cell."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.facts.resting_voltages import RESTING_TABLES
from calc.physics.cells import Cell, voltage_and_slope
from calc.physics.charge_terms import ChargeTerms
from calc.physics.charging import charge
from calc.physics.charging_in_steps import charge_in_steps

_LIPO = RESTING_TABLES["lipo"].likely.cell_v
_LIFE = RESTING_TABLES["life"].likely.cell_v
_NEXT_TO_NOTHING = 1e-12


def _terms(cell: Cell, full_v: float = 4.2, power: float | None = None) -> ChargeTerms:
    power_v = full_v if power is None else min(full_v, power)
    return ChargeTerms(cell=cell, rate_c=1.0, power=power, power_v=power_v, full_v=full_v, taper_c=0.05, target=float("inf"))


@pytest.mark.parametrize("start_state", [0.0, 0.37, 0.9])
@pytest.mark.parametrize("power", [None, 0.5, 3.0, 3.9])
@pytest.mark.parametrize("resistance", [0.005, 0.03, 0.2, 0.5])
def test_steps_and_formulas_agree_on_minutes_energy_and_heat(resistance: float, power: float | None, start_state: float) -> None:
    given = {
        "start_state": start_state,
        "full_cell_v": 4.2,
        "current_a": 1.0,
        "taper_rate_c": 0.05,
        "power_w_per_cell": power,
    }
    formula = charge(Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=resistance), **given)
    slow = Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=resistance, slow_ohm_ah=_NEXT_TO_NOTHING)
    steps = charge(slow, **given)
    # Second-order steps: what they miss is in the long last ones.
    assert steps.constant_current_min == pytest.approx(formula.constant_current_min, abs=0.0005 * formula.time_min)
    assert steps.constant_power_min == pytest.approx(formula.constant_power_min, abs=0.0005 * formula.time_min)
    assert steps.constant_voltage_min == pytest.approx(formula.constant_voltage_min, abs=0.0005 * formula.time_min)
    assert steps.energy_in_wh == pytest.approx(formula.energy_in_wh, rel=0.001)
    assert steps.heat_wh == pytest.approx(formula.heat_wh, rel=0.005)


def test_halving_the_step_moves_the_time_little() -> None:
    cell = Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=0.107, slow_ohm_ah=0.064, slow_time_min=5.35)
    coarse, fine = (charge_in_steps(_terms(cell), 0.0, steps)[1][-1] for steps in (120, 240))
    assert coarse == pytest.approx(fine, rel=0.0015)


@pytest.mark.parametrize("power", [None, 2.6])
def test_the_terminals_show_the_resting_voltage_and_the_losses_at_every_moment(power: float | None) -> None:
    # From 21 % a step at constant voltage passes a bend of this curve: one round of Newton's method is not enough there.
    cell = Cell(curve=_LIFE, capacity_ah=1.0, resistance_ohm_ah=0.5, slow_ohm_ah=0.1)
    for now in charge_in_steps(_terms(cell, 3.65, power), 0.21)[0]:
        resting_v = voltage_and_slope(_LIFE, now.state)[0]
        assert now.cell_v == pytest.approx(resting_v + now.rate_c * 0.5 + now.slow_v, abs=1e-6)


_SLOW_LINE = Cell(curve=(3.6, 4.2), capacity_ah=1.0, resistance_ohm_ah=0.05, slow_ohm_ah=0.05, slow_time_min=5.0)


def test_a_step_at_constant_current_is_a_hundred_and_twentieth_of_the_capacity_whatever_the_current() -> None:
    terms = ChargeTerms(cell=_SLOW_LINE, rate_c=2.0, power=None, power_v=4.2, full_v=4.2, taper_c=0.05, target=float("inf"))
    first, second, *_ = charge_in_steps(terms, 0.0)[0]
    assert second.state - first.state == pytest.approx(1 / 120)


def test_a_step_at_constant_voltage_is_a_thirtieth_of_the_time_in_which_the_current_falls_to_a_third() -> None:
    # 0.05 and 0.05 ohm Ah on a line of 0.6 V: a sixth of an hour.
    run, ends = charge_in_steps(_terms(_SLOW_LINE), 0.5)
    held_h = [now.time_h for now in run if now.time_h >= ends[2]]
    assert held_h[1] - held_h[0] == pytest.approx(1 / 6 / 30)


@pytest.mark.parametrize("power", [None, 3.0])
def test_a_charge_that_is_where_it_should_stop_adds_nothing(power: float | None) -> None:
    stopped = replace(_terms(_SLOW_LINE, power=power), target=0.5)
    assert len(charge_in_steps(stopped, 0.5)[0]) == 1
    tapered = replace(_terms(_SLOW_LINE), taper_c=_terms(_SLOW_LINE).start(0.97).rate_c)
    assert len(charge_in_steps(tapered, 0.97)[0]) == 1


def test_a_slow_part_that_has_settled_is_one_resistance_more() -> None:
    # It settles within a second: from the first step on the cell has 0.10 ohm Ah.
    given = {"start_state": 0.1, "full_cell_v": 4.2, "current_a": 2.0, "taper_rate_c": 0.05, "power_w_per_cell": 7.8}
    one = charge(Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=0.10), **given)
    two = charge(Cell(curve=_LIPO, capacity_ah=1.0, resistance_ohm_ah=0.05, slow_ohm_ah=0.05, slow_time_min=0.01), **given)
    for name in ("constant_current_min", "constant_power_min", "constant_voltage_min", "energy_in_wh"):
        assert getattr(two, name) == pytest.approx(getattr(one, name), rel=0.02)
