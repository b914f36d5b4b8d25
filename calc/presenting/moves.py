"""The way to storage or to a cutoff, in the pilot's words."""

from __future__ import annotations

from math import fsum

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import AMPERES, CELL_VOLTS, MILLIAMPERE_HOURS, PACK_VOLTS, WATTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Range, Setting
from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.inputs.equipment import PackEntries
from calc.presenting.clock import in_hours
from calc.presenting.ranges import ends_of, minutes_range, range_of
from calc.presenting.source_lines import source_line
from calc.rules.charge.charge_outlook import wide_because
from calc.rules.storage.storage_moves import Count, Move

# From here on a time in minutes alone is no help in planning an evening.
_LONG_MIN = 90


def band_words(chemistry: Chemistry) -> str:
    """Return the storage band in words.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> band_words(CHEMISTRIES["lipo"]).replace("\\u00a0", " ")
    '3.80 to 3.85 V for each cell'
    """
    low, high = (Figure(end.value, CELL_VOLTS) for end in (chemistry.storage_low_cell_v, chemistry.storage_high_cell_v))
    return f"{low.number} to {high} for each cell"


def move_minutes(pack: PackEntries, move: Move) -> Range:
    """Return how long the way takes, with hours beside the minutes where it is long."""
    because = wide_because(pack)
    if move.is_held_by_power:
        because += "; the current changes while the voltage does"
    long = f"That is {in_hours(move.time_min.least)} to {in_hours(move.time_min.most)}." if move.time_min.most > _LONG_MIN else ""
    return minutes_range(move.time_min, because, long)


def real_current(move: Move) -> Range | None:
    """Return what really flows where the charger's power lets less through than the dial says; None where the dial holds."""
    if not move.is_held_by_power:
        return None
    return range_of(
        move.current_a,
        AMPERES.to_step(0.01),
        "the voltage changes on the way, and the power stays",
        f"Set by {move.dial.power.because}, {Figure(move.dial.power.ceiling, WATTS.to_step(0.1))}, whatever the dial says.",
    )


def count_to_stop_at(count: Count, capacity_step_mah: float) -> Figure | str:
    """Return the charge at which to stop, rounded down to the charger's step, or in words that it is less than a step."""
    dial_mah = MILLIAMPERE_HOURS.to_step(capacity_step_mah)
    count_mah = down_to_step(mah_from_ah(count.charge_ah), capacity_step_mah)
    return Figure(count_mah, dial_mah, "down") if count_mah else f"less than {Figure(capacity_step_mah, dial_mah)}"


def cell_range(span: Span, because: str, note: str = "") -> Range:
    """Return volts of a cell, by their ends."""
    return ends_of(span, CELL_VOLTS, because, note)


def stop_count(move: Move, capacity_step_mah: float, *, each_cell: bool) -> Setting:
    """Return the charge at which to stop a way to storage, with what set it."""
    which, end = ("highest", "above") if move.goes_up else ("lowest", "below")
    if move.count.is_short:
        set_by = (
            f"the {which} cell: so much takes it no further than {Figure(move.stop_cell_v, CELL_VOLTS)} on any curve that it may "
            "follow, rounded down to the charger's step"
        )
    else:
        set_by = f"the most likely charge that brings the {which} cell to the middle of the band, rounded down to the charger's step"
    note = "Then unplug it, let it rest for half an hour, and read every cell again."
    if not each_cell:
        note = f"It holds until every cell has been read: a cell that hides in the sum may end {end} the band. {note}"
    return Setting(figure=count_to_stop_at(move.count, capacity_step_mah), set_by=set_by, note=note)


def cell_stop(move: Move) -> Setting:
    """Return the voltage of one cell that ends a way to storage whatever the count says."""
    which, end, shows = ("highest", "upper", "more") if move.goes_up else ("lowest", "lower", "less")
    dial = "Watch the cells on its display" if move.goes_up else "Set it as the discharge cutoff of one cell, or watch the cells"
    return Setting(
        figure=Figure(move.stop_cell_v, CELL_VOLTS),
        set_by=f"the {end} end of the storage band, for the {which} cell: under current it shows {shows} than it rests at",
        note=f"{dial}, and stop as soon as one shows it, whatever the count. If that comes at once, lower the current.",
    )


def rest_after_count(move: Move, chemistry: Chemistry, cells: float) -> Setting:
    """Return where the cell that ends a way to storage most likely rests afterwards, and the whole pack beside it."""
    rests_v = move.count.rests_cell_v
    which = "highest" if move.goes_up else "lowest"
    set_by = f"the {which} cell, on the most likely curve"
    if not move.count.is_short:
        set_by += f", at the middle of the storage band, {source_line(chemistry.storage_low_cell_v)}"
    return Setting(
        figure=Figure(max(rests_v) if move.goes_up else min(rests_v), CELL_VOLTS.to_step(0.001)),
        also=Figure(fsum(rests_v) / len(rests_v) * cells, PACK_VOLTS),
        set_by=set_by,
        note=f"Anything from {band_words(chemistry)} will do. Outside it: enter the new reading here.",
    )


def left_apart_sentence(move: Move) -> str:
    """Return how far the cells of an uneven pack stay apart after the count."""
    low, high = min(move.count.rests_cell_v), max(move.count.rests_cell_v)
    return (
        f"The cells stay apart: most likely they then rest from {Figure(low, CELL_VOLTS)} to {Figure(high, CELL_VOLTS)}. No charge and no "
        "discharge evens that out: it is for the balancer."
    )
