"""The currents that leads may carry. The published values stand in tests/published."""

from __future__ import annotations

from itertools import pairwise

from calc.facts.copper import ALLOWED_CURRENT_A, GOOD_DROP_PERCENT, LARGEST_DROP_PERCENT, THIN_LEAD_A_PER_MM2


def test_a_thicker_wire_may_carry_more() -> None:
    assert all(thin < thick for (thin, _), (thick, _) in pairwise(ALLOWED_CURRENT_A))
    assert all(less.value < more.value for (_, less), (_, more) in pairwise(ALLOWED_CURRENT_A))


def test_a_wire_below_the_table_gets_no_more_per_area_than_its_thinnest_row() -> None:
    area_mm2, amperes = ALLOWED_CURRENT_A[0]
    assert THIN_LEAD_A_PER_MM2.value <= amperes.value / area_mm2


def test_the_drop_of_a_good_lead_is_below_the_largest_allowed() -> None:
    assert (GOOD_DROP_PERCENT.value, LARGEST_DROP_PERCENT.value) == (3, 10)
