"""A fuse between its load and its wire."""

from __future__ import annotations

import pytest

from calc.physics.fuses import fuse_carries_a, fuse_for, largest_fuse_for_wire


def test_a_fuse_carries_four_fifths_of_its_rating_hour_after_hour() -> None:
    # 125 % of 20 A is 25 A.
    assert fuse_carries_a(25) == pytest.approx(20)


def test_the_fuse_is_the_smallest_that_carries_the_load() -> None:
    assert fuse_for(current_a=8, wire_a=80).rating_a.value == 10


def test_a_fuse_above_what_the_wire_may_carry_is_none() -> None:
    assert fuse_for(current_a=17, wire_a=20) is None


def test_the_largest_fuse_for_a_wire_is_not_above_it() -> None:
    assert largest_fuse_for_wire(24.9).rating_a.value == 20
    assert largest_fuse_for_wire(0.9) is None
