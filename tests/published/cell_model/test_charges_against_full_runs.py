"""Charges against full electrochemical runs of published parameter sets: time, how it splits, and energy.

The names of the cases say which were held back from every fit. `scores.py` prints the largest errors of both kinds. A run that
is missed by more than is allowed stands in misses.toml.
"""

from __future__ import annotations

import pytest

from calc.facts.cell_parameters import CHARGE_OVER_READING
from calc.facts.chemistries import CHEMISTRIES
from calc.physics.cell.cells import Cell
from tests.published.cell_model.reference import (
    HELD_BACK,
    MISSES,
    RUNS,
    SETS,
    TOLERANCE,
    Run,
    assert_within,
    charged_cell,
    is_held_back,
    percent_outside,
    runs_of,
)
from tests.published.cell_model.scores import (
    THIN,
    TRUSTED,
    WARNED,
    best_fit,
    cell_with_share,
    charged,
    errors_with,
    factor_at,
    fitted_ohm_ah,
    runs_within,
)


def _named(run: Run) -> str:
    return f"{'held back' if is_held_back(run) else 'fitted to'}: {run}"


def _assert_within(run: Run, kind: str, cell: Cell | None = None) -> None:
    time_percent, split_points, energy_percent = errors_with(run, cell or charged_cell(run, fitted_ohm_ah(run)))
    off = {"time_percent": time_percent, "split_points": split_points, "energy_percent": energy_percent}
    allowed = {name: TOLERANCE[f"{kind}_{name}"] for name in off if f"{kind}_{name}" in TOLERANCE}
    assert_within(run, {name: off[name] for name in allowed}, allowed)


def test_a_third_of_the_charges_is_held_back_from_every_set_and_temperature() -> None:
    charges = [run for run in RUNS if run.kind == "charge"]
    courses = {run.course for run in charges}
    assert 0.3 < len(HELD_BACK) / len(courses) < 0.4
    assert {(run.set_name, run.degc) for run in charges if is_held_back(run)} == {(run.set_name, run.degc) for run in charges}
    # The halves of a run that went on to a later cut-off stay together.
    assert all(is_held_back(run) is (run.course in HELD_BACK) for run in charges)


@pytest.mark.parametrize("set_name", SETS)
def test_the_resistance_of_a_set_is_the_fit_to_the_runs_that_were_not_held_back(set_name: str) -> None:
    assert SETS[set_name]["resistance_ohm_ah"] == pytest.approx(best_fit(runs_within(set_name, 25.0))[0], rel=0.02)


def _as_liion(run: Run, resistance_ohm_ah: float) -> Cell:
    return charged_cell(run, resistance_ohm_ah, "liion")


# It was found on one set. Where cobalt oxide or iron phosphate is charged, none at all is best for the set that needs it least.
@pytest.mark.parametrize(
    "set_name, other_shares", [("Chen2020", (0.0, 0.5, 0.6, 0.8, 0.9)), ("Marquis2019", (0.15, 0.3)), ("Prada2013", (0.15, 0.3))]
)
def test_the_share_of_the_lead_is_the_fit_to_the_runs_that_were_not_held_back(set_name: str, other_shares: tuple[float, ...]) -> None:
    runs = runs_within(set_name, 25.0)
    ours = best_fit(runs, cell_with_share(CHEMISTRIES[SETS[set_name]["chemistry"]].lead_share.value))[1]
    assert all(ours < best_fit(runs, cell_with_share(share))[1] for share in other_shares)


@pytest.mark.parametrize("set_name", ["Mohtat2020", "NCA_Kim2011"])
def test_the_resistance_of_two_more_sets_as_lithium_ion_is_the_fit_to_what_was_not_held_back(set_name: str) -> None:
    assert SETS[set_name]["liion_ohm_ah"] == pytest.approx(best_fit(runs_within(set_name, 25.0), _as_liion)[0], rel=0.02)


@pytest.mark.parametrize("run", runs_of("charge", "Mohtat2020", "NCA_Kim2011"), ids=_named)
def test_the_lead_that_was_found_on_one_set_holds_two_others(run: Run) -> None:
    _assert_within(run, "charge", _as_liion(run, SETS[run.set_name]["liion_ohm_ah"]))


@pytest.mark.parametrize("set_name", ["Ai2020", "Marquis2019"])
def test_the_factor_in_the_warmth_is_the_fit_to_the_runs_that_were_not_held_back(set_name: str) -> None:
    used = SETS[set_name]["resistance_ohm_ah"] * factor_at(set_name, 40.0)
    assert used == pytest.approx(best_fit(runs_within(set_name, 40.0))[0], rel=0.02)


def test_every_miss_that_is_written_down_is_of_a_run() -> None:
    assert set(MISSES) <= {str(run) for run in RUNS}


# Above 1C the resistance is not fitted, and one does not do for the two energy-type pouches: misses.toml says by how much.
@pytest.mark.parametrize("run", runs_of("charge", *TRUSTED, highest_rate_c=2.0), ids=_named)
def test_one_resistance_holds_a_charge(run: Run) -> None:
    _assert_within(run, "charge")


@pytest.mark.parametrize("run", runs_of("charge", *THIN, highest_rate_c=5.0), ids=_named)
def test_a_high_rate_pack_holds_up_to_5c(run: Run) -> None:
    _assert_within(run, "thin")


@pytest.mark.parametrize("run", runs_of("charge", *WARNED), ids=_named)
def test_cells_that_the_model_serves_badly_stay_within_their_known_limits(run: Run) -> None:
    _assert_within(run, "warned")


# Nothing is fitted at 10 °C, so none of these is known to the model.
@pytest.mark.parametrize("run", runs_of("charge", degc=10.0, highest_rate_c=1.0), ids=str)
def test_a_cold_charge_holds_with_its_resistance_scaled_by_the_law_that_ships(run: Run) -> None:
    assert abs(errors_with(run, charged_cell(run, fitted_ohm_ah(run)))[0]) < TOLERANCE["cold_time_percent"]


@pytest.mark.parametrize("run", runs_of("charge", degc=40.0, highest_rate_c=1.0), ids=_named)
def test_a_warm_charge_holds_with_its_resistance_scaled(run: Run) -> None:
    assert abs(errors_with(run, charged_cell(run, fitted_ohm_ah(run)))[0]) < TOLERANCE["warm_time_percent"]


@pytest.mark.parametrize("run", runs_of("charge"), ids=str)
def test_the_band_from_a_pulse_alone_holds_the_time_with_nothing_fitted(run: Run) -> None:
    least, most = CHARGE_OVER_READING.least.value, CHARGE_OVER_READING.most.value
    # A charge that ends early may take longest between the two: more resistance also leaves it emptier.
    minutes = [
        charged(run, charged_cell(run, SETS[run.set_name]["pulse_ohm_ah"] * (least + (most - least) * tenth / 10))).time_min
        for tenth in range(11)
    ]
    assert percent_outside(min(minutes), max(minutes), run.time_min) < TOLERANCE["unfitted_time_percent"]
