"""What the forecast of a charge does not know well."""

from __future__ import annotations

from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Row, Table

_KNOWN_LIMITS = (
    (
        "In the cold",
        worded("the resistance rises steeply. Below {} the forecast is least sure, and its range is wide.", Figure(10, DEGREES_CELSIUS)),
    ),
    ("Round cells and old packs", "the last part of their charge is long, and differs most from pack to pack. Plan by the upper end."),
    ("High-voltage cells", "no table of their resting voltage above 4.1 V is published: there their charge is not known well."),
    (
        "Iron phosphate",
        "its voltage hardly changes between a third and nearly full, so a voltage cannot tell its charge: count what goes in.",
    ),
)


def known_limits() -> Table:
    """Return each case with what to think of."""
    return Table(
        caption="What the forecast does not know well",
        columns=("Case", "What to think of"),
        rows=tuple(Row(heading=case, cells=(words,)) for case, words in _KNOWN_LIMITS),
    )
