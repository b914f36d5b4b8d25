"""A fuse between its load and its wire."""

from __future__ import annotations

import pytest

from calc.physics.supply.fuses import fuse_carries_a, fuse_for, fuse_in_lead_a, largest_fuse_for_wire


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


def test_a_fuse_of_exactly_what_the_wire_may_carry_is_the_one_that_is_counted() -> None:
    # No blade fuse has 22 A: without it the lead would be counted with 20 A.
    assert [fuse_in_lead_a(wire_a=22, fitted_a=fitted_a) for fitted_a in (None, 22, 23)] == [20, 22, 20]
    assert fuse_in_lead_a(wire_a=0.5, fitted_a=None) == 0


def test_a_fuse_may_be_exactly_what_the_load_needs_and_what_the_wire_bears() -> None:
    # 20 A of load need 25 A, and a wire of 25 A bears it.
    assert fuse_for(current_a=20, wire_a=25).rating_a.value == 25
