"""Conversions, each against a value that is known without a formula."""

from __future__ import annotations

import pytest

from calc.figures import units


@pytest.mark.parametrize(
    "conversion, value, expected",
    [
        (units.base_from_milli, 3850, 3.85),
        (units.ah_from_mah, 2650, 2.65),
        (units.mah_from_ah, 5.0, 5000),
        (units.ohm_from_mohm, 5, 0.005),
        (units.min_from_h, 1.5, 90),
        (units.h_from_min, 90, 1.5),
        (units.fraction_from_percent, 85, 0.85),
        (units.percent_from_fraction, 0.85, 85),
    ],
)
def test_a_conversion_moves_the_point_or_the_hour(conversion: object, value: float, expected: float) -> None:
    assert conversion(value) == pytest.approx(expected, rel=1e-12)


# Freezing and boiling water, the one temperature at which both scales agree, and the trade's stop.
@pytest.mark.parametrize("degc, degf", [(0, 32), (100, 212), (-40, -40), (49, 120.2), (40, 104)])
def test_degrees_convert_both_ways(degc: float, degf: float) -> None:
    assert units.degf_from_degc(degc) == pytest.approx(degf)
    assert units.degc_from_degf(degf) == pytest.approx(degc)
