"""A fuse between its load and its wire."""

from __future__ import annotations

import pytest

from calc.physics.fuses import fuse_carries_a


def test_a_fuse_carries_four_fifths_of_its_rating_hour_after_hour() -> None:
    # 125 % of 20 A is 25 A.
    assert fuse_carries_a(25) == pytest.approx(20)
