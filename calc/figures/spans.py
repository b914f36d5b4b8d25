"""A value that is only known between two ends, with the most likely one between them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """The least, the most likely and the most, in one unit: least <= likely <= most."""

    least: float
    likely: float
    most: float

    def times(self, factor: float) -> Span:
        """Return this span with each end multiplied by a factor.

        Args:
            factor: any unit, 0 or more.

        Returns:
            The span, in the product's unit.

        Source: arithmetic.

        >>> Span(1.0, 2.0, 4.0).times(3.0)
        Span(least=3.0, likely=6.0, most=12.0)
        """
        return Span(self.least * factor, self.likely * factor, self.most * factor)

    def plus(self, other: Span) -> Span:
        """Return the sum of two spans, end by end.

        Args:
            other: a span in the same unit.

        Returns:
            The span of the sum, in the same unit.

        Source: arithmetic.

        >>> Span(1.0, 2.0, 4.0).plus(Span(1.0, 1.0, 1.0))
        Span(least=2.0, likely=3.0, most=5.0)
        """
        return Span(self.least + other.least, self.likely + other.likely, self.most + other.most)
