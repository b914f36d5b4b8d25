"""How long a pack may be flown: what the flights so far took a minute, what the next one may take, and what the pack can give.

The draw of a flight is the charge put back over its minutes. The next flight is planned for a draw that nineteen flights in
twenty stay below, if flights scatter as those noted did.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import fsum, sqrt

from calc.facts.flying import COLD_DEGC, COLD_LEFT_PERCENT, LEAST_MARGIN_PERCENT, ONE_FLIGHT_MARGIN_PERCENT, WARM_DEGC
from calc.facts.student_t import T_UPPER_95
from calc.figures.units import fraction_from_percent


class PlannedBy(Enum):
    """What the draw to plan for follows from."""

    SPREAD = "spread"
    LEAST_MARGIN = "least margin"
    HIGHEST = "highest"
    ONE_FLIGHT = "one flight"


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumption:
    """What flights take, mAh per minute: the mean, the spread where there are two or more, and the draw to plan for."""

    mean: float
    spread: float | None
    planned: float
    planned_by: PlannedBy

    @property
    def margin(self) -> float:
        """By how much the planned draw lies above the mean, mAh per minute."""
        return self.planned - self.mean


def prediction_margin(spread: float, count: int, t: float) -> float:
    """Return how far above the mean the next one may lie, in the unit of the spread.

        m = t s sqrt(1 + 1/n)        m and s in one unit, s the standard deviation, n the number so far, 2 or more

    `t` is Student's, for one degree of freedom fewer than there are.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, prediction of one further observation.

    >>> round(prediction_margin(spread=10.0, count=4, t=2.353), 2)
    26.31
    """
    return t * spread * sqrt(1 + 1 / count)


def consumption_of(each: Sequence[float]) -> Consumption:
    """Return what flights take a minute, and what to plan the next one for, from the consumption of one to ten, mAh per minute.

        one flight:     d = 1.5 q
        more:           d = the highest of  q + t s sqrt(1 + 1/n),  1.05 q,  and the highest noted
        d, q and s in mAh per minute; q the mean, s the standard deviation

    Source: NIST/SEMATECH e-Handbook of Statistical Methods; the margins of 50 % and 5 % are common practice, no source.

    >>> consumption_of([200.0, 220.0, 240.0, 220.0]).mean
    220.0
    """
    count, mean = len(each), fsum(each) / len(each)
    if count == 1:
        planned = mean * (1 + fraction_from_percent(ONE_FLIGHT_MARGIN_PERCENT.value))
        return Consumption(mean=mean, spread=None, planned=planned, planned_by=PlannedBy.ONE_FLIGHT)
    spread = sqrt(fsum((draw - mean) ** 2 for draw in each) / (count - 1))
    t = dict(T_UPPER_95)[count - 1].value
    candidates = (
        (mean + prediction_margin(spread, count, t), PlannedBy.SPREAD),
        (mean * (1 + fraction_from_percent(LEAST_MARGIN_PERCENT.value)), PlannedBy.LEAST_MARGIN),
        (max(each), PlannedBy.HIGHEST),
    )
    planned, planned_by = max(candidates, key=lambda candidate: candidate[0])
    return Consumption(mean=mean, spread=spread, planned=planned, planned_by=planned_by)


def share_in_the_cold(degc: float) -> float:
    """Return the share of its capacity, a fraction, that a pack is trusted to give at a temperature of its own above -20 °C.

        f = 1 - (1 - 0.30) (20 - T) / (20 - -20) below 20 °C, 1 above        T in °C

    Source: IEC 61960-3 for the least that a cell gives at -20 °C (from memory); the straight line is common practice, no source.

    >>> share_in_the_cold(0)
    0.65
    """
    below_warm = max(WARM_DEGC.value - degc, 0.0) / (WARM_DEGC.value - COLD_DEGC.value)
    return 1 - below_warm * (1 - fraction_from_percent(COLD_LEFT_PERCENT.value))


def usable_mah(held_mah: float, degc: float, reserve_percent: float) -> float:
    """Return the charge that may be flown, mAh: what the pack gives at its own temperature, less the reserve of that.

        q = Q f (1 - R)        q and Q in mAh, f the share in the cold, R the reserve

    Source: `share_in_the_cold`; the reserve is common practice, no source.

    >>> usable_mah(held_mah=2000, degc=25, reserve_percent=20)
    1600.0
    """
    return held_mah * share_in_the_cold(degc) * (1 - fraction_from_percent(reserve_percent))
