"""Wire gauges: how one is written, and the size of a solid wire by its gauge. The numbers are cited in `facts.copper`."""

from __future__ import annotations

import re
from math import log, sqrt

GAUGE_36_DIAMETER_MM = 0.127
GAUGE_RATIO = 92
GAUGES_BETWEEN = 39
_QUARTER_PI = 0.7853981633974483

_SIGN = r"(?:awg|ga(?:uge|ge)?|no|nr|#|\N{NUMERO SIGN})[.:]?"
# 1/0, 2/0 and so on are gauges thicker than 1; 00 is another way to write 2/0.
_NUMBER = r"(?P<number>[1-4]/0|0{2,4}|\d{1,2})"
_BEFORE = re.compile(rf"{_SIGN}\s*(?:{_SIGN}\s*)?{_NUMBER}(?:\s*{_SIGN})?", re.IGNORECASE)
_AFTER = re.compile(rf"{_NUMBER}\s*-?\s*{_SIGN}", re.IGNORECASE)
_THICK = re.compile(r"(?P<number>[1-4]/0|0{2,4})")


def gauge_of(text: str) -> float | None:
    """Return the gauge number that a text names, in whatever order number and sign stand; None for a bare number too.

        1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3

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


def diameter_mm_of_gauge(gauge: float) -> float:
    """Return the diameter of a solid wire, mm, by its gauge number from -3 to 40; -3 is written 4/0, and 0 is 1/0.

        d = 0.127 x 92^((36 - n) / 39)        d in mm, n the gauge number

    Raises:
        ValueError: a gauge outside -3 to 40, which no lead at a field has.

    Source: ASTM B258.

    >>> round(diameter_mm_of_gauge(12), 3)
    2.053
    """
    if not 36 - GAUGES_BETWEEN <= gauge <= 40:
        raise ValueError(f"gauge {gauge} is outside -3 to 40")
    ratio: float = GAUGE_RATIO ** ((36 - gauge) / GAUGES_BETWEEN)
    return GAUGE_36_DIAMETER_MM * ratio


def area_mm2_of_gauge(gauge: float) -> float:
    """Return the cross-section of a solid wire, mm², by its gauge number from -3 to 40: A = pi/4 d^2.

    Raises:
        ValueError: a gauge outside -3 to 40, as `diameter_mm_of_gauge` does.

    Source: ASTM B258.

    >>> round(area_mm2_of_gauge(12), 3)
    3.309
    """
    return _QUARTER_PI * diameter_mm_of_gauge(gauge) ** 2


def gauge_of_area_mm2(area_mm2: float) -> float:
    """Return the gauge number of a solid wire by its cross-section, mm², between the whole gauges too; the thicker the wire, the lower.

        n = 36 - 39 ln(d / 0.127) / ln 92,    d = (4 A / pi)^(1/2)        d in mm, A in mm²

    Raises:
        ValueError: a cross-section outside gauge 0 to 40; thicker ones are written in another way.

    Source: ASTM B258.

    >>> round(gauge_of_area_mm2(3.309), 2)
    12.0
    """
    steps = log(sqrt(area_mm2 / _QUARTER_PI) / GAUGE_36_DIAMETER_MM) / log(GAUGE_RATIO) * GAUGES_BETWEEN
    gauge = 36 - steps
    if not -1e-9 <= gauge <= 40:
        raise ValueError(f"{area_mm2} mm² is outside gauge 0 to 40")
    return gauge
