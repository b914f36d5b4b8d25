"""How far packs are apart in charge, with one meter for all of them."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.physics.cell.cells import state_at
from calc.rules.joined.imbalance import imbalance_ah
from calc.rules.joined.joined_packs import sound_packs

LIPO = CHEMISTRIES["lipo"].resting


def _apart(*packs: tuple[float, float]) -> Span:
    entries = [
        PackEntries(chemistry="lipo", cells=1, capacity_mah=capacity_mah, resting_v=(cell_v,), pack_degc=20, label_charge_rate_c=1)
        for capacity_mah, cell_v in packs
    ]
    return imbalance_ah(sound_packs(JoinedPackEntries(packs=tuple(entries), requested_rate_c=1)))


def test_the_error_of_the_meter_counts_once_half_at_each_cell() -> None:
    error_v = LIPO.reading_error_v.value
    found = [
        5 * (state_at(curve.cell_v, 3.9 - off_v / 2) - state_at(curve.cell_v, 3.75 + off_v / 2))
        for curve in LIPO.curves for off_v in (-error_v, 0.0, error_v)
    ]  # fmt: skip
    apart = _apart((5000, 3.75), (5000, 3.90))
    likely = 5 * (state_at(LIPO.likely.cell_v, 3.9) - state_at(LIPO.likely.cell_v, 3.75))
    assert (apart.least, apart.likely, apart.most) == pytest.approx((min(found), likely, max(found)))


def test_cells_that_read_alike_may_be_apart_by_a_twentieth_of_the_largest_pack() -> None:
    apart = _apart((5000, 4.15), (5000, 4.15))
    assert (apart.least, apart.likely, apart.most) == pytest.approx((0, 0, 0.25))


def test_packs_that_read_alike_but_hold_unlike_lack_unlike() -> None:
    lacks = 1 - state_at(LIPO.likely.cell_v, 3.8)
    assert _apart((5000, 3.80), (4000, 3.80)).likely == pytest.approx(lacks * 1)


def test_a_cell_that_reads_above_full_is_full_and_no_more() -> None:
    assert _apart((5000, 4.20), (5000, 4.22)).likely == pytest.approx(0, abs=1e-9)


def test_of_three_packs_the_emptiest_and_the_fullest_count() -> None:
    assert _apart((5000, 3.80), (5000, 3.90), (5000, 3.75)).likely == pytest.approx(_apart((5000, 3.75), (5000, 3.90)).likely)
