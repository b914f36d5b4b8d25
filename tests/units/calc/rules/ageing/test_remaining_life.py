"""How far a pack still has to go, on lines that can be drawn with a ruler."""

from __future__ import annotations

from math import inf

import pytest

from calc.rules.ageing.remaining_life import RemainingLife, remaining_life


def _life(slope: float, *, level: float = 5000.0, begins: float = 0.0, now: float = 60.0, ends_at: float = 0.8) -> RemainingLife:
    points = [(begins + place, level + slope * place) for place in range(0, 60, 10)]
    found = remaining_life(points, now=begins + now, ends_at=ends_at)
    assert found is not None
    return found


def test_a_pack_that_loses_ten_milliampere_hours_a_charge_ends_after_a_hundred_wherever_its_log_begins() -> None:
    # Four fifths of 5000 are 4000 mAh: 100 charges, 60 of which are over.
    for begins in (0.0, 35.0):
        found = _life(-10, begins=begins)
        assert found.left.likely == pytest.approx(40)
        assert found.share.likely == pytest.approx(0.88)
        assert (found.promised, found.is_sure, found.comes, found.is_cut) == (60, True, True, False)


def test_no_line_is_believed_beyond_twice_of_what_was_seen() -> None:
    # Seen for 60 charges, it may be followed for 120: at 5000 mAh until 1000 less are reached after 180, or later.
    assert _life(-1000 / 180).left.likely == pytest.approx(120)
    late = _life(-1000 / 181)
    assert (late.left.likely, late.comes, late.is_cut) == (inf, False, True)
    # The least is never more than was seen.
    assert late.left.least == late.promised == 60


def test_a_pack_that_is_at_its_end_has_nothing_left() -> None:
    found = _life(-20)
    assert (found.left.least, found.left.likely) == (0, 0)


def test_a_pack_that_holds_as_much_as_ever_or_gains_is_not_sure_to_end() -> None:
    for slope in (0.0, 4.0):
        found = _life(slope)
        assert (found.left.likely, found.is_sure) == (inf, False)
    assert _life(-0.5).is_sure


def test_a_resistance_that_doubles_is_sure_where_every_line_rises() -> None:
    # 10 mΩ and a tenth more each charge: 20 mΩ after 100.
    rising = _life(0.1, level=10.0, ends_at=2)
    assert (rising.left.likely, rising.is_sure) == (pytest.approx(40), True)
    for slope in (0.0, -0.05):
        assert not _life(slope, level=10.0, ends_at=2).is_sure
    assert _life(0.004, level=10.0, ends_at=2).is_sure


def test_a_line_that_has_nothing_at_its_beginning_tells_nothing() -> None:
    assert remaining_life([(place, 1e-9) for place in range(0, 60, 10)], now=60, ends_at=0.8) is not None
    assert remaining_life([(place, 0.0) for place in range(0, 60, 10)], now=60, ends_at=0.8) is None


def test_how_far_a_capacity_is_from_a_value_goes_by_the_likely_line_and_as_far_as_that_is_believed() -> None:
    found = _life(-10)
    # At 60 charges it holds 4400 mAh.
    assert found.left_to(4000) == pytest.approx(40)
    assert found.left_to(4400) == found.left_to(4500) == 0
    # 120 more are believed, which are 1200 mAh.
    assert found.left_to(3200) == pytest.approx(120)
    assert found.left_to(3190) == inf
    assert _life(4.0).left_to(4000) == inf
