"""A straight line through few and scattered measurements, and how far it can be trusted, without a word on how they scatter.

The line is Theil's and Sen's: its slope is the middle of the slopes between any two points, so that a slip of the pen or two do
not turn it. The lines that cannot be ruled out are counted, not estimated: how many slopes between two points lie below the true one
goes by Kendall's distribution, and how many points lie below the true line goes by coin tosses.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from math import comb, inf

from calc.facts.ageing import TREND_MISSES_PERCENT
from calc.figures.units import fraction_from_percent


@dataclass(frozen=True, slots=True)
class Line:
    """y = level + slope x; y in the unit of what was measured, x in that of its places."""

    level: float
    slope: float

    def at(self, x: float) -> float:
        """Return what the line has at x, in the unit of what was measured.

        Source: its equation.

        >>> Line(level=5.0, slope=-0.5).at(4)
        3.0
        """
        return self.level + self.slope * x

    def share_at(self, x: float, first_x: float) -> float:
        """Return what it has at x, as a fraction of what it has at the first point.

        Source: its equation.

        >>> Line(level=5.0, slope=-0.5).share_at(4, first_x=2)
        0.75
        """
        return self.at(x) / self.at(first_x)

    def reaches(self, share: float, first_x: float) -> float:
        """Return the x from the first point on at which it has that share, a fraction, of what it has there; infinity where it goes another way.

        Source: its equation.

        >>> Line(level=5.0, slope=-0.5).reaches(0.75, first_x=2)
        4.0
        """
        if self.slope == 0:
            return inf
        # level + slope x = share (level + slope first)
        x = ((share - 1) * self.level + share * self.slope * first_x) / self.slope
        return x if x >= first_x else inf


@dataclass(frozen=True, slots=True)
class Trend:
    """The line through the points, and every line that marks the edge of those that cannot be ruled out."""

    line: Line
    edges: tuple[Line, ...]
    slopes: tuple[float, float]

    def span_of(self, act: Callable[[Line], float]) -> tuple[float, float, float]:
        """Return the least, the likely and the most of what follows from a line, in its own unit.

        Source: `trend_through`.

        >>> Trend(Line(5.0, 1.0), (Line(4.0, 1.0), Line(7.0, 1.0)), (1.0, 1.0)).span_of(lambda line: line.at(0))
        (4.0, 5.0, 7.0)
        """
        found = [act(one) for one in (self.line, *self.edges)]
        return min(found), found[0], max(found)


def trend_through(points: Sequence[tuple[float, float]]) -> Trend | None:
    """Return the trend of points (x, y) in any unit, or None where they are too few to tell.

        slope = median of (y_j - y_i) / (x_j - x_i),   level = median of (y_i - slope x_i)

    The true line lies among `edges` at least as often as `TREND_MISSES_PERCENT` leaves, if each point is as likely above it as
    below and all scatter alike. What was measured at one x counts as its middle.

    Source: Theil (1950) and Sen (1968) for the slope and its interval by Kendall's distribution; the sign test for the level; the two are
    added up by Bonferroni's inequality.

    >>> trend_through([(0, 100), (10, 98), (20, 96), (30, 60), (40, 92)]).line
    Line(level=100.0, slope=-0.2)
    """
    apart = [(x, median(y for other, y in points if other == x)) for x in sorted({x for x, _ in points})]
    ranks = _ranks(len(apart))
    if ranks is None:
        return None
    off_slopes, off_level = ranks
    slopes = sorted((b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(apart, 2))

    def levels(slope: float) -> list[float]:
        return sorted(y - slope * x for x, y in apart)

    kept = slopes[off_slopes : len(slopes) - off_slopes]
    edges = []
    for slope in dict.fromkeys(kept):
        found = levels(slope)
        edges += [Line(found[off_level], slope), Line(found[-1 - off_level], slope)]
    middle = median(slopes)
    return Trend(Line(median(levels(middle)), middle), tuple(edges), (kept[0], kept[-1]))


def median(values: Iterable[float]) -> float:
    """Return the middle of values, in their unit: of an even number the mean of the two in the middle.

    Python's own comes with 70 kB of modules that nothing else here wants, to each phone.

    Source: its definition.

    >>> median([3, 1, 2, 10])
    2.5
    """
    inner = sorted(values)
    half = len(inner) // 2
    return inner[half] if len(inner) % 2 else (inner[half - 1] + inner[half]) / 2


@cache
def _ranks(count: int) -> tuple[int, int] | None:
    """How many slopes, and how many points, may be left out at each end so that both misses together stay within what is allowed."""
    allowed = fraction_from_percent(TREND_MISSES_PERCENT.value)
    off_level = most_left_out(coin_tails(count), allowed / 2)
    off_level = 0 if off_level is None else off_level
    missed = 2 * coin_tails(count)[off_level]
    off_slopes = most_left_out(kendall_tails(count), allowed - missed)
    return None if count < 2 or missed > allowed or off_slopes is None else (off_slopes, off_level)


def most_left_out(tails: Sequence[float], allowed: float) -> int | None:
    """Return the most that may be left out at each end, or None where even nothing left out misses too often.

    `tails` are the chances, fractions, that no more than 0, 1, 2 and so on lie below.

    Source: two tails alike.

    >>> most_left_out([0.01, 0.03, 0.2], 0.1)
    1
    """
    found = [count for count, tail in enumerate(tails) if 2 * tail <= allowed]
    return found[-1] if found else None


def coin_tails(count: int) -> list[float]:
    """Return the chances, fractions, that of so many points no more than 0, 1, 2 and so on lie below the line.

        P(k) = sum over i to k of (n over i) / 2^n

    Source: the binomial distribution.

    >>> coin_tails(2)
    [0.25, 0.75, 1.0]
    """
    found, below = [], 0
    for k in range(count + 1):
        below += comb(count, k)
        found.append(below / 2**count)
    return found


@cache
def kendall_tails(count: int) -> tuple[float, ...]:
    """Return the chances, fractions, that of the slopes between so many points no more than 0, 1, 2 and so on lie below the true slope.

    Each order of the points about the true line is as likely as any other: the slopes below are its inversions.

    Source: Kendall (1938), by the usual recursion over the number of points.

    >>> [round(tail, 4) for tail in kendall_tails(3)]
    [0.1667, 0.5, 0.8333, 1.0]
    """
    orders = [1]
    for size in range(2, count + 1):
        longer = [0] * (len(orders) + size - 1)
        for inversions, ways in enumerate(orders):
            for more in range(size):
                longer[inversions + more] += ways
        orders = longer
    all_orders, below, found = 0, 0, []
    for ways in orders:
        all_orders += ways
    for ways in orders:
        below += ways
        found.append(below / all_orders)
    return tuple(found)
