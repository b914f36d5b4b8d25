"""The storage band and the charge to stop at, in the pilot's words."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import CELL_VOLTS, MILLIAMPERE_HOURS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.units import mah_from_ah
from calc.rules.storage.storage_moves import Count


def band_words(chemistry: Chemistry) -> str:
    """Return the storage band in words.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> band_words(CHEMISTRIES["lipo"]).replace("\\u00a0", " ")
    '3.80 to 3.84 V for each cell'
    """
    low, high = (Figure(end.value, CELL_VOLTS) for end in (chemistry.storage_low_cell_v, chemistry.storage_high_cell_v))
    return f"{low.number} to {high} for each cell"


def count_to_stop_at(count: Count, capacity_step_mah: float) -> Figure | str:
    """Return the charge at which to stop, rounded down to the charger's step, or in words that it is less than a step."""
    dial_mah = MILLIAMPERE_HOURS.to_step(capacity_step_mah)
    count_mah = down_to_step(mah_from_ah(count.charge_ah), capacity_step_mah)
    return Figure(count_mah, dial_mah, "down") if count_mah else f"less than {Figure(capacity_step_mah, dial_mah)}"
