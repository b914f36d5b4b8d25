"""Cells in series that are not alike: every one gives and takes the same charge, and the first at its bound ends the way.

Which curve a cell follows is not known, and its reading may be a little off. So a promise about a cell is made on every curve
of its chemistry, with the reading off to the worse side.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.cell.cells import state_at, voltage_and_slope

# Places on a way at which the cells are looked at.
_PLACES = 40


def share_within_bound(chemistry_key: str, cell_v: Sequence[float], bound_v: float, *, goes_up: bool) -> float:
    """Return the largest share of the capacity, a fraction, with which no cell can pass its bound, whichever curve the cells follow.

        up:    min of s(U_bound) - s(U_k + e)        down:  min of s(U_k - e) - s(U_bound)
        over all cells k and all curves s of the chemistry; U in V, e the reading error in V

    No cell may rest above the bound after a charge, or below it after a discharge. The share is 0 where one may be at its bound already.

    Source: one current flows through cells in series; `CHEMISTRIES`, and its reading error.

    >>> share_within_bound("lipo", (4.2, 4.2, 3.8), 3.8, goes_up=False)
    0.0
    >>> round(share_within_bound("lipo", (4.2, 4.2, 4.2), 3.8, goes_up=False), 2)
    0.35
    """
    table = CHEMISTRIES[chemistry_key].resting
    sign = 1.0 if goes_up else -1.0
    off_v = sign * table.reading_error_v.value
    shares = [sign * (_state(curve.cell_v, bound_v) - _state(curve.cell_v, one_v + off_v)) for curve in table.curves for one_v in cell_v]
    return max(0.0, min(shares))


def resting_after_v(chemistry_key: str, cell_v: Sequence[float], share: float) -> tuple[float, ...]:
    """Return where each of several cells in series most likely rests, V, once all have taken in one share, or given it if it is below 0.

        U_k = U(s(U_k) + ds)        U in V, s and ds fractions of the capacity

    Source: the likely curve of the chemistry.

    >>> [round(v, 2) for v in resting_after_v("lipo", (4.2, 4.1), -0.4)]
    [3.84, 3.8]
    """
    curve = CHEMISTRIES[chemistry_key].resting.likely.cell_v
    return tuple(voltage_and_slope(curve, _state(curve, one_v) + share)[0] for one_v in cell_v)


def lowest_over_mean(curve: tuple[float, ...], cell_v: Sequence[float], end_v: float) -> float:
    """Return how low the lowest of several cells in series gets beside their mean while a discharge takes it to its end, a fraction.

        min of U(s_min - q) / mean of U(s_k - q)        over the charge q that was given, from none to the end; U in V

    Source: one current flows through cells in series.

    >>> round(lowest_over_mean((3.0, 4.0), (3.8, 3.8), 3.2), 9)
    1.0
    """
    states = [_state(curve, one_v) for one_v in cell_v]
    lowest = min(states)
    given_share = max(lowest - _state(curve, end_v), 0.0)
    ratios = []
    for place in range(_PLACES + 1):
        moved = given_share * place / _PLACES
        now_v = [voltage_and_slope(curve, state - moved)[0] for state in states]
        ratios.append(min(now_v) / (fsum(now_v) / len(now_v)))
    return min(*ratios, 1.0)


def _state(curve: tuple[float, ...], cell_v: float) -> float:
    return min(max(state_at(curve, cell_v), 0.0), 1.0)
