"""A line through few and scattered measurements: it is found, slips do not turn it, and its ends are as honest as they say."""

from __future__ import annotations

from math import inf
from random import Random

import pytest

from calc.physics.pack.trends import Line, most_left_out, trend_through

FALLS = Line(level=5000, slope=-15)


def scattered(line: Line, count: int, seed: int) -> list[tuple[float, float]]:
    """Points of a line with a scatter of 1 %, and one in ten with a slip of up to a fifth."""
    chance = Random(seed)

    def value(place: int) -> float:
        slip = chance.choice((-1, 1)) * chance.uniform(100, 1000) if chance.random() < 0.1 else 0
        return line.at(place) + chance.gauss(0, 50) + slip

    return [(float(place), value(place)) for place in sorted(chance.sample(range(100), count))]


def test_a_line_is_found_as_it_is() -> None:
    trend = trend_through([(place, FALLS.at(place)) for place in range(0, 60, 10)])
    assert trend.line == Line(5000.0, -15.0)
    assert trend.span_of(lambda line: line.reaches(0.8, 0)) == pytest.approx((200 / 3,) * 3)


def test_one_slip_of_the_pen_does_not_turn_it() -> None:
    given = [(float(place), FALLS.at(place)) for place in range(0, 90, 10)]
    given[4] = (40.0, 440.0)  # a nought was left out
    assert trend_through(given).line == Line(5000.0, -15.0)


def test_four_points_are_too_few_and_five_are_enough() -> None:
    given = scattered(FALLS, 5, seed=1)
    assert trend_through(given[:4]) is None
    assert trend_through(given) is not None


def test_what_is_measured_twice_at_one_place_counts_once() -> None:
    assert trend_through([(place, value) for place, value in scattered(FALLS, 4, seed=1) for _ in range(3)]) is None


def test_a_level_line_never_gets_there() -> None:
    assert Line(5000, 0).reaches(0.8, 0) == inf
    assert Line(5000, 5).reaches(0.8, 0) == inf
    assert Line(5, 0.1).reaches(2.0, 0) == pytest.approx(50)


@pytest.mark.parametrize("count", [5, 6, 7, 10, 20])
@pytest.mark.parametrize("line", [FALLS, Line(5000, -2), Line(5000, -60)], ids=["falls", "hardly", "steeply"])
def test_the_true_line_lies_between_the_ends_nine_times_in_ten(count: int, line: Line) -> None:
    """Of 300 sets at least 255: at exactly 90 % fewer would come up once in two hundred times."""
    hits = {"share": 0, "end": 0}
    for seed in range(300):
        given = scattered(line, count, seed)
        trend, first, last = trend_through(given), given[0][0], given[-1][0]
        for name, act in (("share", lambda one: one.share_at(last, first)), ("end", lambda one: one.reaches(0.8, first))):  # noqa: B023
            least, _, most = trend.span_of(act)
            hits[name] += least - 1e-9 <= act(line) <= most + 1e-9
    assert min(hits.values()) >= 255, hits


def test_more_points_make_the_ends_narrower() -> None:
    def width(count: int) -> float:
        found = [trend_through(scattered(FALLS, count, seed)).slopes for seed in range(40)]
        return sorted(high - low for low, high in found)[20]

    assert width(30) < width(12) / 2 < width(6)


def test_as_many_are_left_out_as_miss_no_oftener_than_is_allowed_and_none_where_all_do() -> None:
    # Two tails of a quarter are a half.
    assert most_left_out([0.25, 0.75, 1.0], 0.5) == 0
    assert most_left_out([0.25, 0.75, 1.0], 0.4) is None
