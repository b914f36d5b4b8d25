"""The resting tables against the published parameter sets that they were read from."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.resting_voltages import RestingCurve
from calc.physics.cell.cells import resting_cell_v, state_at, state_of_charge
from tests.published.cell_model.reference import FINE_RESTING, percent_outside

_SETS_OF_SOURCES = {
    "ai-2020": "Ai2020",
    "ramadass-2004": "Ramadass2004",
    "ecker-2015": "Ecker2015",
    "mohtat-2020": "Mohtat2020",
    "kim-2011": "NCA_Kim2011",
    "chen-2020": "Chen2020",
    "prada-2013": "Prada2013",
}
_PUBLISHED_CURVES = [curve for key in ("lipo", "liion", "life") for curve in CHEMISTRIES[key].resting.curves]


@pytest.mark.parametrize("curve", _PUBLISHED_CURVES, ids=lambda curve: curve.source)
def test_each_curve_is_the_published_one_at_41_points(curve: RestingCurve) -> None:
    published = FINE_RESTING[_SETS_OF_SOURCES[curve.source]][::5]
    assert curve.cell_v == pytest.approx(published, abs=0.00006)


@pytest.mark.parametrize("curve", _PUBLISHED_CURVES, ids=lambda curve: curve.source)
def test_straight_lines_between_the_points_stay_near_the_fine_curve_from_5_percent(curve: RestingCurve) -> None:
    fine = FINE_RESTING[_SETS_OF_SOURCES[curve.source]]
    # Below 5 % the curves plunge, and from 97.5 % that of iron phosphate leaps: there the error in state is what counts.
    for place in range(10, 201):
        assert abs(state_at(curve.cell_v, fine[place]) - place / 200) < 0.015


@pytest.mark.parametrize(
    "resting_v, least_percent, most_percent",
    [(3.50, 4.2, 12.7), (3.70, 19.0, 28.9), (3.80, 43.4, 55.7), (3.85, 55.2, 66.2), (4.00, 80.3, 81.5), (4.10, 91.2, 92.1)],
)
def test_the_band_of_a_pouch_pack_holds_what_three_sets_say(resting_v: float, least_percent: float, most_percent: float) -> None:
    band = state_of_charge("lipo", resting_v)
    assert percent_outside(band.least, band.most, least_percent / 100) == 0
    assert percent_outside(band.least, band.most, most_percent / 100) == 0


@pytest.mark.parametrize("state, resting_v", [(0.30, 3.733), (0.50, 3.793), (0.80, 3.994), (0.90, 4.088)])
def test_the_likely_pouch_curve_is_that_of_cobalt_oxide(state: float, resting_v: float) -> None:
    assert resting_cell_v("lipo", state) == pytest.approx(resting_v, abs=0.0006)
