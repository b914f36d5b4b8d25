"""The slopes of 200 random sets of points are those that a library of statistics draws, with intervals as wide. `rerun_trends` runs it again."""

from __future__ import annotations

import csv
from itertools import combinations

import pytest

from calc.physics.pack.trends import kendall_tails, most_left_out, trend_through
from tests.published.trends.points import FROZEN, SETS, points

with FROZEN.open(encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))


def test_every_set_is_there() -> None:
    assert [int(row["set"]) for row in ROWS] == list(range(SETS))


def test_each_slope_is_the_library_s() -> None:
    found = [trend_through(points(int(row["set"]))).line.slope for row in ROWS]
    assert found == pytest.approx([float(row["slope"]) for row in ROWS], rel=1e-8)


def test_the_chance_that_all_slopes_lie_on_one_side_is_the_library_s() -> None:
    """Two tails; the library says them for as many points as each set has."""
    found = [2 * kendall_tails(len(points(int(row["set"]))))[0] for row in ROWS]
    assert found == pytest.approx([float(row["all_below"]) for row in ROWS], rel=1e-5)


def test_the_interval_of_a_slope_ends_within_two_ranks_of_the_library_s() -> None:
    """The library counts ranks by a bell curve, and this by Kendall's own distribution."""
    for row in ROWS:
        given = points(int(row["set"]))
        slopes = sorted((b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(given, 2))
        off = most_left_out(kendall_tails(len(given)), 0.05)
        assert off is not None
        theirs = min(range(len(slopes)), key=lambda place: abs(slopes[place] - float(row["low"])))
        assert abs(theirs - off) <= 2, f"set {row['set']}: {off} are left out, and the library leaves out {theirs}"
        assert float(row["high"]) == pytest.approx(slopes[-1 - theirs], rel=1e-6, abs=abs(slopes[-theirs] - slopes[-2 - theirs]) * 2 + 1e-9)
