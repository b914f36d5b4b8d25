"""Watt-hours at exactly the bounds: a pack or a label on a bound is within it."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.rules.pack.transport import is_small_on_the_road, label_disagrees, rated_wh

# Four round cells of 5 Ah: 72 Wh at 3.6 V and 74 Wh at 3.7 V, and labels round by half a watt-hour.
PACK = {"capacity_mah": 5000, "cells": 4, "chemistry": CHEMISTRIES["liion"]}


@pytest.mark.parametrize(("label_wh", "disagrees"), [(71.49, True), (71.5, False), (74.5, False), (74.51, True)])
def test_a_label_may_be_off_by_what_it_rounds_and_no_more(label_wh: float, disagrees: bool) -> None:
    assert label_disagrees(**PACK, label_wh=label_wh) is disagrees


@pytest.mark.parametrize(("label_wh", "counted_wh"), [(71.49, 74.0), (71.5, 71.5)])
def test_a_label_counts_unless_its_watt_hours_are_too_few(label_wh: float, counted_wh: float) -> None:
    assert rated_wh(**PACK, label_wh=label_wh) == counted_wh


def test_a_hundred_watt_hours_of_cells_of_twenty_are_small_on_the_road() -> None:
    assert is_small_on_the_road(100.0, cells=5)
    assert not is_small_on_the_road(100.01, cells=6)
    assert not is_small_on_the_road(80.04, cells=4)
