"""Charges against full electrochemical runs of published parameter sets: time, how it splits, and energy."""

from __future__ import annotations

import pytest

from calc.facts.cell_parameters import CHARGE_OVER_READING
from calc.physics.charging import Charge, charge
from calc.physics.closed_form import closed_form_minutes
from tests.published.cell_model.reference import (
    SETS,
    TOLERANCE,
    Run,
    curve_of,
    percent_off,
    percent_outside,
    plain_cell,
    runs_of,
    slow_cell,
)

_TRUSTED = ("Ai2020", "Marquis2019", "Ramadass2004", "Mohtat2020", "NCA_Kim2011")
_WARNED = ("Ecker2015", "Chen2020", "Prada2013")


def _charge(run: Run, cell: object) -> Charge:
    return charge(
        cell,
        start_state=run.start_state,
        full_cell_v=run.until_cell_v,
        current_a=run.current_a,
        taper_rate_c=run.taper_rate_c,
    )


def _split_points_off(ours: Charge, run: Run) -> float:
    return abs(ours.constant_current_min / ours.time_min - run.constant_current_min / run.time_min) * 100


@pytest.mark.parametrize("run", runs_of("charge", *_TRUSTED), ids=str)
def test_one_resistance_holds_up_to_1c(run: Run) -> None:
    ours = _charge(run, plain_cell(run, SETS[run.set_name]["resistance_ohm_ah"]))
    assert percent_off(ours.time_min, run.time_min) < TOLERANCE["charge_time_percent"]
    assert _split_points_off(ours, run) < TOLERANCE["charge_split_points"]
    assert percent_off(ours.energy_in_wh, run.energy_wh) < TOLERANCE["charge_energy_percent"]


@pytest.mark.parametrize("run", runs_of("charge", *_TRUSTED, highest_rate_c=2.0), ids=str)
def test_a_slow_part_beside_it_holds_up_to_2c(run: Run) -> None:
    ours = _charge(run, slow_cell(run))
    assert percent_off(ours.time_min, run.time_min) < TOLERANCE["charge_time_percent"]
    assert _split_points_off(ours, run) < TOLERANCE["charge_split_points"]
    assert percent_off(ours.energy_in_wh, run.energy_wh) < TOLERANCE["charge_slow_energy_percent"]


@pytest.mark.parametrize("run", runs_of("charge", "Ai2020_thin", highest_rate_c=5.0), ids=str)
def test_a_high_rate_pack_holds_up_to_5c(run: Run) -> None:
    ours = _charge(run, plain_cell(run, SETS[run.set_name]["resistance_ohm_ah"]))
    assert percent_off(ours.time_min, run.time_min) < TOLERANCE["thin_time_percent"]
    assert _split_points_off(ours, run) < TOLERANCE["thin_split_points"]
    assert percent_off(ours.energy_in_wh, run.energy_wh) < TOLERANCE["thin_energy_percent"]


@pytest.mark.parametrize("run", runs_of("charge", *_WARNED), ids=str)
def test_cells_that_the_model_serves_badly_stay_within_their_known_limits(run: Run) -> None:
    ours = _charge(run, plain_cell(run, SETS[run.set_name]["resistance_ohm_ah"]))
    assert percent_off(ours.time_min, run.time_min) < TOLERANCE["warned_time_percent"]
    assert _split_points_off(ours, run) < TOLERANCE["warned_split_points"]


@pytest.mark.parametrize("run", runs_of("charge", degc=10.0, highest_rate_c=1.0), ids=str)
def test_a_cold_charge_holds_with_its_resistance_scaled(run: Run) -> None:
    fitted = SETS[run.set_name]
    ours = _charge(run, plain_cell(run, fitted["resistance_ohm_ah"] * fitted["factor_at_10_degc"]))
    assert percent_off(ours.time_min, run.time_min) < TOLERANCE["cold_time_percent"]


@pytest.mark.parametrize("run", runs_of("charge", degc=40.0, highest_rate_c=1.0), ids=str)
def test_a_warm_charge_holds_with_its_resistance_scaled(run: Run) -> None:
    fitted = SETS[run.set_name]
    ours = _charge(run, plain_cell(run, fitted["resistance_ohm_ah"] * fitted["factor_at_40_degc"]))
    assert percent_off(ours.time_min, run.time_min) < TOLERANCE["warm_time_percent"]


@pytest.mark.parametrize("run", runs_of("charge"), ids=str)
def test_the_band_from_a_pulse_alone_holds_the_time_with_nothing_fitted(run: Run) -> None:
    least, most = (
        closed_form_minutes(
            curve_of(run.set_name),
            start_state=run.start_state,
            full_cell_v=run.until_cell_v,
            rate_c=run.rate_c,
            resistance_ohm_ah=SETS[run.set_name]["pulse_ohm_ah"] * factor,
            taper_rate_c=run.taper_rate_c,
        ).time_min
        for factor in (CHARGE_OVER_READING.least.value, CHARGE_OVER_READING.most.value)
    )
    assert percent_outside(least, most, run.time_min) < TOLERANCE["unfitted_time_percent"]
