"""A wire's size as it is typed: a cross-section in mm², or a gauge in any of the ways in which one is written.

A bare number may be either, and 14 mm² carries more than twice what gauge 14 may. So a whole number that is a gauge is asked
about, unless it can only be a cross-section: one that is sold, where no lead of that gauge is.
"""

from __future__ import annotations

import re

from calc.facts.copper import STANDARD_AREAS_MM2, THINNEST_GAUGE_SOLD

_MOST_GAUGE = 40
_SIGN = r"(?:awg|ga(?:uge|ge)?|no|nr|#|\N{NUMERO SIGN})[.:]?"
# 1/0, 2/0 and so on are gauges thicker than 1; 00 is another way to write 2/0.
_NUMBER = r"(?P<number>[1-4]/0|0{2,4}|\d{1,2})"
_BEFORE = re.compile(rf"{_SIGN}\s*(?:{_SIGN}\s*)?{_NUMBER}(?:\s*{_SIGN})?", re.IGNORECASE)
_AFTER = re.compile(rf"{_NUMBER}\s*-?\s*{_SIGN}", re.IGNORECASE)
_THICK = re.compile(r"(?P<number>[1-4]/0|0{2,4})")


def gauge_of(text: str) -> float | None:
    """Return the gauge number that a text names, in whatever order number and sign stand.

        1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3

    Args:
        text: as typed, without spaces at its ends.

    Returns:
        The gauge number; None for what is no gauge, a bare number among it.

    Source: ASTM B258 for the noughts.

    >>> [gauge_of(text) for text in ("14 AWG", "AWG14", "#14", "14 ga", "2/0", "14", "2.5 mm2")]
    [14.0, 14.0, 14.0, 14.0, -1.0, None, None]
    """
    found = _BEFORE.fullmatch(text) or _AFTER.fullmatch(text) or _THICK.fullmatch(text)
    if found is None:
        return None
    number = found["number"]
    if "/" in number:
        return 1.0 - int(number[0])
    return 1.0 - len(number) if len(number) > 1 and not number.strip("0") else float(number)


def may_be_gauge(digits: str) -> bool:
    """Return whether a number without a unit may mean a gauge as well as a cross-section.

        a whole number from 0 to 40, but for a cross-section that is sold where no lead of that gauge is (1, 25, 35)

    Args:
        digits: the number as typed; a decimal mark makes it a cross-section, as gauges have none.

    Returns:
        True if it must be asked.

    Source: IEC 60228 for the cross-sections; common practice, no source, for the gauges that leads are sold in.

    >>> [digits for digits in ("0.75", "1", "2.5", "4", "4.0", "10", "14", "16", "25", "50") if may_be_gauge(digits)]
    ['4', '10', '14', '16']
    """
    if not digits.isdecimal() or int(digits) > _MOST_GAUGE:
        return False
    number = int(digits)
    is_sold_by_gauge = number % 2 == 0 and number <= THINNEST_GAUGE_SOLD.value
    return is_sold_by_gauge or not any(area.value == number for area in STANDARD_AREAS_MM2)
