"""The storage band, the charge to stop at and the maker's own limit, in the pilot's words."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import CELL_VOLTS, MILLIAMPERE_HOURS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.units import mah_from_ah
from calc.presenting.cell_voltages import in_a_row
from calc.rules.storage.storage_moves import Count


def band_words(chemistry: Chemistry) -> str:
    """Return the storage band in words.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> band_words(CHEMISTRIES["lipo"]).replace("\\u00a0", " ")
    '3.80 to 3.84 V for each cell'
    """
    return f"{in_a_row((chemistry.storage_low_cell_v, chemistry.storage_high_cell_v), 1, CELL_VOLTS)} for each cell"


def makers_own_limit(chemistry: Chemistry) -> str:
    """Return why a discharge ends above what the maker allows, in a sentence.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> makers_own_limit(CHEMISTRIES["lipo"]).replace("\\u00a0", " ")
    "The maker's own limit is 3.00 V, which leaves the weakest cell no margin."
    """
    return f"The maker's own limit is {Figure(chemistry.maker_cutoff_cell_v.value, CELL_VOLTS)}, which leaves the weakest cell no margin."


def count_to_stop_at(count: Count, capacity_step_mah: float) -> Figure | str:
    """Return the charge at which to stop, rounded down to the charger's step, or in words that it is less than a step."""
    dial_mah = MILLIAMPERE_HOURS.to_step(capacity_step_mah)
    count_mah = down_to_step(mah_from_ah(count.charge_ah), capacity_step_mah)
    return Figure(count_mah, dial_mah, "down") if count_mah else f"less than {Figure(capacity_step_mah, dial_mah)}"
