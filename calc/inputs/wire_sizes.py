"""Whether a bare number in a field of mm² may be a gauge.

14 mm² carries more than twice what gauge 14 may. So a whole number that is a gauge is asked about, unless it can only be a
cross-section: one that is sold, where no lead of that gauge is.
"""

from __future__ import annotations

from calc.facts.copper import STANDARD_AREAS_MM2, THINNEST_GAUGE_SOLD

_MOST_GAUGE = 40


def may_be_gauge(digits: str) -> bool:
    """Return whether a number without a unit, and without a decimal mark, may mean a gauge as well as a cross-section.

    >>> [digits for digits in ("0.75", "1", "2.5", "4", "4.0", "10", "14", "16", "25", "50") if may_be_gauge(digits)]
    ['4', '10', '14', '16']
    """
    if not digits.isdecimal() or int(digits) > _MOST_GAUGE:
        return False
    number = int(digits)
    is_sold_by_gauge = number % 2 == 0 and number <= THINNEST_GAUGE_SOLD.value
    return is_sold_by_gauge or not any(area.value == number for area in STANDARD_AREAS_MM2)
