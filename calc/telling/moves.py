"""The way to storage or to a cutoff, in the pilot's words."""

from __future__ import annotations

from calc.asking.equipment import PackEntries
from calc.facts.chemistries import Chemistry
from calc.figures.quantities import AMPERES, CELL_VOLTS, MILLIAMPERE_HOURS, PACK_VOLTS, WATTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Range
from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.physics.charge_outlook import wide_because
from calc.physics.storage_moves import Move
from calc.telling.clock import in_hours
from calc.telling.ranges import ends_of, minutes_range, range_of

# From here on a time in minutes alone is no help in planning an evening.
_LONG_MIN = 90


def band_words(chemistry: Chemistry) -> str:
    """Return the storage band in words.

    Args:
        chemistry: the pack's facts.

    Returns:
        Its two ends, with their unit.

    Source: `facts.chemistries`.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> band_words(CHEMISTRIES["lipo"]).replace("\\u00a0", " ")
    '3.80 to 3.85 V for each cell'
    """
    low, high = (Figure(end.value, CELL_VOLTS) for end in (chemistry.storage_low_cell_v, chemistry.storage_high_cell_v))
    return f"{low.number} to {high} for each cell"


def move_minutes(pack: PackEntries, move: Move) -> Range:
    """Return how long the way takes, with hours beside the minutes where it is long.

    Args:
        pack: the pack's entries.
        move: the way.

    Returns:
        The range.

    Source: `physics.storage_moves`.

    >>> move_minutes.__name__
    'move_minutes'
    """
    because = wide_because(pack)
    if move.is_held_by_power:
        because += "; the current changes while the voltage does"
    long = f"That is {in_hours(move.time_min.least)} to {in_hours(move.time_min.most)}." if move.time_min.most > _LONG_MIN else ""
    return minutes_range(move.time_min, because, long)


def real_current(move: Move) -> Range | None:
    """Return what really flows where the charger's power lets less through than the dial says, or nothing.

    Args:
        move: the way.

    Returns:
        The range, or nothing where the dial holds.

    Source: `physics.storage_moves`.

    >>> real_current.__name__
    'real_current'
    """
    if not move.is_held_by_power:
        return None
    return range_of(
        move.current_a,
        AMPERES.to_step(0.01),
        "the voltage changes on the way, and the power stays",
        f"Set by {move.dial.power.because}, {Figure(move.dial.power.ceiling, WATTS.to_step(0.1))}, whatever the dial says.",
    )


def count_to_stop_at(move: Move, capacity_step_mah: float) -> Figure | str:
    """Return the charge at which to stop: the most likely to move, rounded down to the charger's step.

        Q = step x floor(Q likely / step)

    Args:
        move: the way.
        capacity_step_mah: the charger's smallest step of capacity, mAh.

    Returns:
        mAh, or in words that it is less than a step.

    Source: `physics.storage_moves`.

    >>> count_to_stop_at.__name__
    'count_to_stop_at'
    """
    dial_mah = MILLIAMPERE_HOURS.to_step(capacity_step_mah)
    count_mah = down_to_step(mah_from_ah(move.charge_ah.likely), capacity_step_mah)
    return Figure(count_mah, dial_mah) if count_mah else f"less than {Figure(capacity_step_mah, dial_mah)}"


def cell_range(span: Span, because: str, note: str = "") -> Range:
    """Return volts of a cell, by their ends.

    Args:
        span: V.
        because: what the width comes from.
        note: what else is to be said.

    Returns:
        The range.

    Source: none; no number is involved.

    >>> cell_range(Span(3.7, 3.75, 3.8), "the resistance").least.number
    '3.70'
    """
    return ends_of(span, CELL_VOLTS, because, note)


def pack_range(span: Span, cells: float, because: str) -> Range:
    """Return volts of a cell as volts of the pack, by their ends: U = n x V.

    Args:
        span: V of a cell.
        cells: cells in series.
        because: what the width comes from.

    Returns:
        The range.

    Source: arithmetic.

    >>> pack_range(Span(3.7, 3.75, 3.8), 3, "the resistance").most.number
    '11.40'
    """
    return ends_of(span.times(cells), PACK_VOLTS, because)
