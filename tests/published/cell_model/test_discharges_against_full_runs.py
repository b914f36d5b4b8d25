"""Discharges and storage against full electrochemical runs of published parameter sets."""

from __future__ import annotations

import pytest

from calc.physics.cell.cells import state_at
from calc.physics.cell.discharging import Discharge, discharge
from tests.published.cell_model.reference import (
    FINE_RESTING,
    SETS,
    TOLERANCE,
    Run,
    assert_within,
    curve_of,
    percent_off,
    plain_cell,
    runs_of,
)
from tests.published.cell_model.scores import fitted_ohm_ah

_NOT_IRON_PHOSPHATE = ("Ai2020", "Marquis2019", "Ramadass2004", "Ecker2015", "Chen2020", "Mohtat2020", "NCA_Kim2011")


def _discharge(run: Run) -> Discharge:
    return discharge(
        plain_cell(run, fitted_ohm_ah(run)), start_state=run.start_state, current_a=run.current_a, cutoff_cell_v=run.until_cell_v
    )


def _assert_within(run: Run, kind: str) -> None:
    ours = _discharge(run)
    off = {"time_percent": (ours.time_min / run.time_min - 1) * 100, "energy_percent": (ours.energy_out_wh / run.energy_wh - 1) * 100}
    assert_within(run, off, {name: TOLERANCE[f"{kind}_{name}"] for name in off})


@pytest.mark.parametrize("run", [run for run in runs_of("discharge", *_NOT_IRON_PHOSPHATE) if run.until_cell_v == 3.0], ids=str)
def test_a_discharge_to_3_v_holds_up_to_1c(run: Run) -> None:
    _assert_within(run, "discharge")


@pytest.mark.parametrize("run", runs_of("discharge", "Ai2020_thin", highest_rate_c=20.0), ids=str)
def test_a_high_rate_pack_discharges_as_the_full_run_does(run: Run) -> None:
    _assert_within(run, "thin_discharge")


@pytest.mark.parametrize("set_name", [name for name in SETS if name != "Prada2013" and "resting" not in SETS[name]])
@pytest.mark.parametrize("from_v, to_v", [(4.1, 3.82), (4.1, 3.85), (3.5, 3.82), (3.5, 3.85)])
def test_the_charge_to_count_for_storage_is_that_of_the_resting_table(set_name: str, from_v: float, to_v: float) -> None:
    fine, coarse = FINE_RESTING[set_name], curve_of(set_name)
    theirs = state_at(fine, to_v) - state_at(fine, from_v)
    ours = state_at(coarse, to_v) - state_at(coarse, from_v)
    assert percent_off(ours, theirs) < TOLERANCE["storage_share_percent"]


@pytest.mark.parametrize("run", [run for run in runs_of("storage_discharge") if run.set_name not in ("Prada2013", "Ecker2015")], ids=str)
def test_the_terminals_show_the_storage_voltage_long_before_the_cell_rests_there(run: Run) -> None:
    ours = _discharge(run)
    # A hold at the storage voltage ends where the curve is flat; the way to it is what we forecast.
    assert_within(run, {"state_points": (ours.end_state - run.state_at_limit) * 100}, {"state_points": TOLERANCE["storage_state_points"]})
    assert ours.end_state > state_at(curve_of(run.set_name), run.until_cell_v)
