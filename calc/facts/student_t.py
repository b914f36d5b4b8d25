"""How far above the mean of a few values the next may lie: the upper critical values of Student's t distribution.

One-sided, at 95 %: of twenty such values, nineteen lie no further above the mean than t times the spread of a prediction.
"""

from __future__ import annotations

from calc.facts.cited import Cited, Provenance

_WHERE = "section 1.3.6.7.2, upper critical values, probability 0.05"

# Degrees of freedom, one less than the number of flights, and t.
T_UPPER_95: tuple[tuple[float, Cited], ...] = (
    (1, Cited(6.314, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (2, Cited(2.920, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (3, Cited(2.353, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (4, Cited(2.132, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (5, Cited(2.015, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (6, Cited(1.943, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (7, Cited(1.895, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (8, Cited(1.860, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
    (9, Cited(1.833, "nist-handbook", Provenance.SECOND_HAND, _WHERE)),
)
