"""A pack of cells in series: its voltages, its energy, and whether a reading fits its cell count."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.practice import READING_TOLERANCE_CELL_V
from calc.figures.units import ah_from_mah


def current_at_rate_a(capacity_mah: float, rate_c: float) -> float:
    """Return the current that moves `rate_c` times the capacity in one hour.

        I = C x Q        I in A, Q in Ah, C in 1/h

    Source: the definition of the C rate; common practice, no source.

    >>> current_at_rate_a(capacity_mah=2650, rate_c=1)
    2.65
    """
    return rate_c * ah_from_mah(capacity_mah)


def rate_c_of_current(capacity_mah: float, current_a: float) -> float:
    """Return the C rate, 1/h, that a current is for a pack: C = I / Q.

    Source: the definition of the C rate; common practice, no source.

    >>> round(rate_c_of_current(capacity_mah=350, current_a=0.4), 2)
    1.14
    """
    return current_a / ah_from_mah(capacity_mah)


def watt_hours(capacity_mah: float, cells: float, nominal_cell_v: float) -> float:
    """Return the watt-hour rating as transport rules count it.

        E = Q x n x V        E in Wh, Q the rated capacity in Ah, n cells, V the nominal voltage of one

    Source: 49 CFR 171.8.

    >>> round(watt_hours(capacity_mah=2200, cells=3, nominal_cell_v=3.7), 2)
    24.42
    """
    return ah_from_mah(capacity_mah) * cells * nominal_cell_v


# A meter shows two decimals, and 3.80 - 0.02 or 4.35 + 0.02 is off in its last bit: a reading that is on the bound counts as on it.
METER_OFF_V = READING_TOLERANCE_CELL_V.value + 1e-9


def fits_cell_count(chemistry: Chemistry, pack_v: float, cells: int) -> bool:
    """Return whether a pack of so many cells can rest at this voltage, V: no cell below its floor or above full.

        floor <= V / n <= full + meter tolerance

    Source: the chemistry's own limits; the tolerance is common practice, no source.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> [n for n in range(1, 17) if fits_cell_count(CHEMISTRIES["lipo"], 25.2, n)]
    [6, 7, 8]
    """
    cell_v = round(pack_v / cells, 6)  # 21.1 V over five cells are 4.22 V, and not a hair more
    return chemistry.never_below_cell_v.value <= cell_v <= chemistry.full_cell_v.value + METER_OFF_V


def cell_counts_that_fit(chemistry: Chemistry, pack_v: float) -> list[int]:
    """Return every cell count, rising, up to the most that anybody may touch, at which a pack may rest at this voltage, V.

    The likeliest comes first, with its mean cell nearest to full: a reading is taken before a flight more often than after.

        all n with floor <= V / n <= full + meter tolerance

    Source: the chemistry's own limits; the tolerance is common practice, no source.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> cell_counts_that_fit(CHEMISTRIES["lipo"], 11.1)
    [3]
    """
    return [cells for cells in range(1, chemistry.most_cells + 1) if fits_cell_count(chemistry, pack_v, cells)]
