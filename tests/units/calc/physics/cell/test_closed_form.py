"""The whole charge by formula against the charge that ships, which is built from its moments: they share no line of integration."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.cell.cells import Cell
from calc.physics.cell.charging import charge
from tests.units.calc.physics.cell.closed_form import closed_form_minutes


@pytest.mark.parametrize("start_state", [0.0, 0.37, 0.9])
@pytest.mark.parametrize("power_w_per_ah", [None, 0.5, 3.0, 7.0])
@pytest.mark.parametrize("rate_c", [0.2, 1.0, 5.0])
@pytest.mark.parametrize("resistance", [0.005, 0.03, 0.2, 0.5])
@pytest.mark.parametrize("key", sorted(CHEMISTRIES))
def test_the_charge_agrees_with_the_formula_phase_by_phase(
    key: str, resistance: float, rate_c: float, power_w_per_ah: float | None, start_state: float
) -> None:
    curve = CHEMISTRIES[key].resting.likely.cell_v
    formula = closed_form_minutes(
        curve,
        start_state=start_state,
        full_cell_v=CHEMISTRIES[key].full_cell_v.value,
        rate_c=rate_c,
        resistance_ohm_ah=resistance,
        taper_rate_c=0.05,
        power_w_per_ah=power_w_per_ah,
    )
    built = charge(
        Cell(curve=curve, capacity_ah=1.0, resistance_ohm_ah=resistance),
        start_state=start_state,
        full_cell_v=CHEMISTRIES[key].full_cell_v.value,
        current_a=rate_c,
        taper_rate_c=0.05,
        power_w_per_cell=power_w_per_ah,
    )
    # Both are exact at constant current and voltage; at constant power, where much voltage is lost, 0.2 per mille is left.
    assert built.constant_current_min == pytest.approx(formula.constant_current_min, rel=1e-9, abs=1e-9)
    assert built.constant_power_min == pytest.approx(formula.constant_power_min, rel=5e-4, abs=1e-9)
    assert built.constant_voltage_min == pytest.approx(formula.constant_voltage_min, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("taper_rate_c, tail_min", [(0.1, 23.03), (0.05, 29.96)])
def test_the_formula_is_exact_on_the_textbook_line(taper_rate_c: float, tail_min: float) -> None:
    minutes = closed_form_minutes(
        (3.6, 3.9, 4.2), start_state=0.2, full_cell_v=4.2, rate_c=1.0, resistance_ohm_ah=0.1, taper_rate_c=taper_rate_c
    )
    assert minutes.constant_current_min == pytest.approx(38.0)
    assert minutes.constant_voltage_min == pytest.approx(tail_min, rel=0.001)
