"""Resting curves: rising, of 41 points, each with a source that the sources page prints."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.resting_voltages import RestingCurve
from calc.facts.sources import SOURCES

_CURVES = [(f"{key}-{place}", curve) for key, one in CHEMISTRIES.items() for place, curve in enumerate(one.resting.curves)]


@pytest.mark.parametrize("curve", [curve for _, curve in _CURVES], ids=[name for name, _ in _CURVES])
def test_a_curve_has_41_points_that_rise_and_a_source(curve: RestingCurve) -> None:
    assert len(curve.cell_v) == 41
    assert all(later > earlier for earlier, later in pairwise(curve.cell_v))
    assert curve.source in SOURCES


def test_a_high_voltage_cell_is_full_at_4_35_volts_and_says_that_it_is_not_known() -> None:
    table = CHEMISTRIES["lihv"].resting
    assert all(curve.cell_v[-1] == pytest.approx(4.35) for curve in table.curves)
    assert all("not known above 4.1 V" in curve.where for curve in table.curves)


def test_a_high_voltage_cell_at_4_volts_is_less_full_than_the_other() -> None:
    high, common = CHEMISTRIES["lihv"].resting.likely.cell_v, CHEMISTRIES["lipo"].resting.likely.cell_v
    assert high[32] > common[32]
