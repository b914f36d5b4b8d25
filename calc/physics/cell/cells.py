"""A cell as the forecasts see it: a resting curve, a capacity and a resistance, and what a resting voltage says of it.

Everything is scaled by the capacity: a rate of 1 C fills the cell in an hour whatever its size, and a resistance in ohm
ampere-hours is the voltage that 1 C costs. An aged cell is the same cell with its measured capacity.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, fsum

from calc.facts.cell_parameters import LEAD_RISE_V
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of a pack. `curve` holds resting voltages, V, evenly spaced from empty to full.

    While it charges, its terminals show the state of charge at the surface of its grains, which is ahead of that of the whole
    by `lead_h` times the rate: 0.1 h are 10 % of the capacity at 1 C.
    """

    curve: tuple[float, ...]
    capacity_ah: float
    resistance_ohm_ah: float
    lead_h: float = 0.0


def cell_on_charge(chemistry_key: str, curve: tuple[float, ...], *, capacity_ah: float, resistance_ohm_ah: float) -> Cell:
    """Return a cell as it charges: part of what a whole charge shows as resistance is the lead of its surface.

        r = (1 - x) R,    k = x R / u        R and r in ohm Ah, R above 0, k in h, x the share, u in V per unit of state

    Source: the profile in a grain that takes up charge evenly is a parabola, whose surface leads its mean by a part of the
    current; the lead share of `CHEMISTRIES` and `LEAD_RISE_V`.

    >>> cell = cell_on_charge("liion", (3.6, 4.2), capacity_ah=3.0, resistance_ohm_ah=0.2)
    >>> round(cell.resistance_ohm_ah, 3), round(cell.lead_h, 3)
    (0.06, 0.175)
    """
    share = CHEMISTRIES[chemistry_key].lead_share.value
    return Cell(
        curve=curve,
        capacity_ah=capacity_ah,
        resistance_ohm_ah=resistance_ohm_ah * (1 - share),
        lead_h=resistance_ohm_ah * share / LEAD_RISE_V.value,
    )


def voltage_and_slope(curve: tuple[float, ...], state: float) -> tuple[float, float]:
    """Return the resting voltage at a state of charge, V, and how steeply it rises there, V per unit of state.

    Straight lines join the points of the curve, which are evenly spaced from state 0 to 1; past its ends the last line goes on.

    Source: linear interpolation.

    >>> voltage_and_slope((3.0, 3.5, 4.25), 0.75)
    (3.875, 1.5)
    """
    pieces = len(curve) - 1
    place = state * pieces
    index = int(place)
    if index < 0:
        index = 0
    elif index >= pieces:
        index = pieces - 1
    low = curve[index]
    rise = curve[index + 1] - low
    return low + rise * (place - index), rise * pieces


def state_at(curve: tuple[float, ...], cell_v: float) -> float:
    """Return the state of charge, a fraction, at which a cell rests at a voltage: the inverse of `voltage_and_slope`.

    The curve must rise. Past its ends the last line goes on, so the state may be below 0 or above 1.

    Source: linear interpolation.

    >>> state_at((3.0, 3.5, 4.25), 3.875)
    0.75
    """
    pieces = len(curve) - 1
    index = min(max(bisect_right(curve, cell_v) - 1, 0), pieces - 1)
    return (index + (cell_v - curve[index]) / (curve[index + 1] - curve[index])) / pieces


def stored_wh_per_ah(curve: tuple[float, ...], from_state: float, to_state: float) -> float:
    """Return the energy, Wh per Ah of capacity, that a cell takes up from one state of charge to a higher one.

        E = integral of U ds        U in V, s a fraction: the area under the resting curve, exact on its straight lines

    Source: circuit theory.

    >>> round(stored_wh_per_ah((3.0, 3.5, 4.5), 0.25, 0.75), 6)
    1.78125
    """
    pieces = len(curve) - 1
    inner = range(floor(from_state * pieces) + 1, ceil(to_state * pieces))
    states = [from_state, *(node / pieces for node in inner), to_state]
    voltages = [voltage_and_slope(curve, state)[0] for state in states]
    return fsum(
        (left_v + right_v) / 2 * (right - left)
        for (left, right), (left_v, right_v) in zip(pairwise(states), pairwise(voltages), strict=True)
    )


def resting_cell_v(chemistry_key: str, state: float) -> float:
    """Return the voltage at which a cell of this chemistry most likely rests at a state of charge from 0 to 1, a fraction.

    Source: the likely curve of the chemistry in `CHEMISTRIES`.

    >>> round(resting_cell_v("lipo", 0.8), 3)
    3.994
    """
    return voltage_and_slope(CHEMISTRIES[chemistry_key].resting.likely.cell_v, state)[0]


def edge_curves(chemistry_key: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the lowest and the highest curve that a cell of this chemistry may follow, V, point by point.

    Source: all curves of the chemistry in `CHEMISTRIES`.

    >>> low, high = edge_curves("lipo")
    >>> low[20], high[20]
    (3.6846, 3.8266)
    """
    points = list(zip(*(curve.cell_v for curve in CHEMISTRIES[chemistry_key].resting.curves), strict=True))
    return tuple(min(point) for point in points), tuple(max(point) for point in points)


def _within_limits(chemistry_key: str, resting_cell_v: float) -> None:
    """Raise ValueError for a resting voltage that no sound cell of this chemistry has: such a pack is refused before."""
    chemistry = CHEMISTRIES[chemistry_key]
    if not chemistry.never_below_cell_v.value <= resting_cell_v <= chemistry.upper_limit_cell_v.value:
        raise ValueError(f"{resting_cell_v} V is no resting voltage of a sound {chemistry_key} cell")


def state_of_charge(chemistry_key: str, resting_cell_v: float) -> Span:
    """Return how full a rested cell is, fractions from 0 to 1, as the band that its voltage alone allows.

        least = lowest state at U - e, most = highest state at U + e, over all curves of the chemistry
        U in V, half an hour or more after the last load, e the reading error in V

    Raises:
        ValueError: a voltage below the chemistry's floor, or above its upper limit.

    Source: `CHEMISTRIES`; the reading error is common practice.

    >>> state = state_of_charge("lipo", 3.80)
    >>> f"{state.least:.2f} {state.likely:.2f} {state.most:.2f}"
    '0.38 0.52 0.65'
    """
    _within_limits(chemistry_key, resting_cell_v)
    table = CHEMISTRIES[chemistry_key].resting
    error_v = table.reading_error_v.value
    least = min(state_at(curve.cell_v, resting_cell_v - error_v) for curve in table.curves)
    most = max(state_at(curve.cell_v, resting_cell_v + error_v) for curve in table.curves)
    return Span(*(min(max(state, 0.0), 1.0) for state in (least, state_at(table.likely.cell_v, resting_cell_v), most)))


def share_between(chemistry_key: str, from_cell_v: float, to_cell_v: float) -> Span:
    """Return the share of the capacity, a fraction, that brings a rested cell from one resting voltage to another.

        share = |s(U_to) - s(U_from)|       on each curve of the chemistry, with U_from e higher and lower
        U in V, e the reading error in V

    Start and target lie on one curve, so this band is narrower than the difference of two separate ones. It is never below 0, and
    its least is 0 where the cell may be there already.

    Raises:
        ValueError: a voltage below the chemistry's floor, or above its upper limit.

    Source: `CHEMISTRIES`; the reading error is common practice.

    >>> share = share_between("lipo", 4.20, 3.82)
    >>> f"{share.least:.2f} {share.likely:.2f} {share.most:.2f}"
    '0.33 0.43 0.52'
    """
    _within_limits(chemistry_key, from_cell_v)
    _within_limits(chemistry_key, to_cell_v)
    table = CHEMISTRIES[chemistry_key].resting
    sign = 1.0 if to_cell_v >= from_cell_v else -1.0
    error_v = table.reading_error_v.value

    def share(curve: tuple[float, ...], start_v: float) -> float:
        start, end = (min(max(state_at(curve, cell_v), 0.0), 1.0) for cell_v in (start_v, to_cell_v))
        return max(sign * (end - start), 0.0)

    shares = [share(curve.cell_v, from_cell_v + off_v) for curve in table.curves for off_v in (-error_v, 0.0, error_v)]
    return Span(min(shares), share(table.likely.cell_v, from_cell_v), max(shares))
