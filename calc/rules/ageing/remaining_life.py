"""How far a pack is on its way to an end of its life, and how far it still has to go, by the trend of its own lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from calc.facts.ageing import CYCLE_DEPTH, STORED_DEGC, TREND_FOLLOWED_TIMES, TREND_PROMISED_TIMES
from calc.facts.chemistries import Chemistry
from calc.figures.spans import Span
from calc.physics.cell.ageing import calendar_loss, cycle_loss
from calc.physics.pack.trends import Line, Trend, trend_through


@dataclass(frozen=True, slots=True, kw_only=True)
class RemainingLife:
    """Where a pack stands, as a share of what its line has at the first point, and what is left until the share at which it ends.

    What is left counts in the unit of the points' places. Beyond twice of what was seen no line is believed: there an end of `left` is infinite.
    The least of it is never more than `promised`, as much as was seen: packs fall faster as they age. `is_sure` where every line goes that way.
    """

    trend: Trend
    share: Span
    left: Span
    promised: float
    is_sure: bool
    now: float

    def left_to(self, value: float) -> float:
        """Return how far on the likely line has fallen to a value, in the unit of the places; 0 where it is there, infinity where it never gets
        there, or so late that no line is believed.
        """
        line = self.trend.line
        if line.at(self.now) <= value:
            return 0.0
        left = (value - line.at(self.now)) / line.slope if line.slope < 0 else inf
        return left if left <= TREND_FOLLOWED_TIMES.value / TREND_PROMISED_TIMES.value * self.promised else inf

    @property
    def comes(self) -> bool:
        """Whether the end lies within what a line is believed for."""
        return self.left.likely < inf

    @property
    def is_cut(self) -> bool:
        """Whether it is `promised`, and no line, that says how much is left at least."""
        return self.left.least >= self.promised


def remaining_life(points: Sequence[tuple[float, float]], *, now: float, ends_at: float) -> RemainingLife | None:
    """Return what remains of the life of a pack, by its capacity or its resistance at each place; None where that tells nothing.

    Args:
        points: the place, in charges or days from the first line, and the value, above 0.
        now: the place of the last line.
        ends_at: the share of the first at which it ends: 0.8, or 2.

    Source: `trend_through`.

    >>> falls = [(place, 5000 - 10 * place) for place in range(0, 60, 10)]
    >>> f"{remaining_life(falls, now=60, ends_at=0.8).left.likely:.1f}"
    '40.0'
    """
    trend = trend_through(points)
    if trend is None:
        return None
    first = min(place for place, _ in points)
    if min(line.at(first) for line in (trend.line, *trend.edges)) <= 0:
        return None  # scattered so widely that a line has nothing at its beginning
    seen = now - first
    followed, promised = TREND_FOLLOWED_TIMES.value * seen, TREND_PROMISED_TIMES.value * seen

    def left(line: Line) -> float:
        going = line.reaches(ends_at, first) - now
        return going if going <= followed else inf

    # A line that falls steeply has nothing left at the last place: no pack has less.
    share = Span(*trend.span_of(lambda line: max(line.share_at(now, first), 0.0)))
    least, likely, most = trend.span_of(lambda line: max(left(line), 0.0))
    slopes_end = max(trend.slopes) if ends_at < 1 else -min(trend.slopes)
    return RemainingLife(
        trend=trend, share=share, left=Span(min(least, promised), likely, most), promised=promised, is_sure=slopes_end < 0, now=now
    )


def share_by_a_study(chemistry: Chemistry, *, charges: float, days: float) -> Span:
    """Return the share of its capacity, a fraction, that the cell of a study would still hold after so many charges and days.

        1 - s_calendar - s_cycle        the least for a warm one that was stored full and flown to the end, the most for a cool one at storage

    Source: `calendar_loss`, `cycle_loss`.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> found = share_by_a_study(CHEMISTRIES["lipo"], charges=60, days=730)
    >>> f"{found.least:.2f} {found.likely:.2f} {found.most:.2f}"
    '0.81 0.91 0.95'
    """
    stored_v, full_v = chemistry.storage_high_cell_v.value, chemistry.full_cell_v.value
    ways = (
        (full_v, STORED_DEGC.most.value, CYCLE_DEPTH.most.value),
        (stored_v, STORED_DEGC.likely.value, CYCLE_DEPTH.likely.value),
        (stored_v, STORED_DEGC.least.value, CYCLE_DEPTH.least.value),
    )
    return Span(*(max(1 - calendar_loss(cell_v, degc, days) - cycle_loss(charges, depth), 0.0) for cell_v, degc, depth in ways))
