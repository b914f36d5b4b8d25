"""A value that is only known between two ends, with the most likely one between them."""

from __future__ import annotations

from dataclasses import dataclass

# What rounding alone can do to two ends that are equal: parts of the largest of them, and far below what any meter shows.
_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Span:
    """The least, the most likely and the most, in one unit: least <= likely <= most.

    Ends that lie the wrong way round, or that are no number, raise `ValueError`: they would reach the screen as a range. Those that
    rounding alone has turned round are put in order.
    """

    least: float
    likely: float
    most: float

    def __post_init__(self) -> None:
        if not self.least <= self.likely <= self.most:
            allowed = _NOISE * max(abs(self.least), abs(self.likely), abs(self.most), 1.0)
            if not (self.least <= self.likely + allowed and self.likely <= self.most + allowed):
                raise ValueError(f"a span must run from its least to its most: {self.least!r}, {self.likely!r}, {self.most!r}")
            object.__setattr__(self, "least", min(self.least, self.likely))
            object.__setattr__(self, "most", max(self.most, self.likely))

    def times(self, factor: float) -> Span:
        """Return this span with each end multiplied by a factor of 0 or more.

        >>> Span(1.0, 2.0, 4.0).times(3.0)
        Span(least=3.0, likely=6.0, most=12.0)
        """
        return Span(self.least * factor, self.likely * factor, self.most * factor)

    def lower(self, other: Span) -> Span:
        """Return the lower of two spans in one unit, end by end.

        >>> Span(1.0, 2.0, 4.0).lower(Span(2.0, 2.0, 3.0))
        Span(least=1.0, likely=2.0, most=3.0)
        """
        return Span(min(self.least, other.least), min(self.likely, other.likely), min(self.most, other.most))

    def plus(self, other: Span) -> Span:
        """Return the sum of two spans in one unit, end by end.

        >>> Span(1.0, 2.0, 4.0).plus(Span(1.0, 1.0, 1.0))
        Span(least=2.0, likely=3.0, most=5.0)
        """
        return Span(self.least + other.least, self.likely + other.likely, self.most + other.most)
