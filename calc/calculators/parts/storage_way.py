"""The way of one pack to storage or to a cutoff: what flows, how long, how much, and when to stop."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import AMPERES, CELL_VOLTS, MILLIAMPERE_HOURS, PACK_VOLTS, WATT_HOURS, WATTS, Figure
from calc.figures.showing import Range, Setting
from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.presenting.clock import in_hours
from calc.presenting.currents import current_setting
from calc.presenting.ranges import ends_of, minutes_range, range_of
from calc.presenting.source_lines import source_line
from calc.presenting.stops import temperature_stop
from calc.presenting.storage_words import band_words, count_to_stop_at, makers_own_limit
from calc.rules.charge.charge_outlook import STATE_UNSURE, wide_because
from calc.rules.storage.storage_moves import Count, Dial, Move
from calc.rules.storage.storing import Goal, StoragePlan, cutoff_of

# From here on a time in minutes alone is no help in planning an evening.
_LONG_MIN = 90
_WHOLE_WAY = "The whole way to the middle of the band, like the minutes and the energy. It takes a second count, after a new reading."


@dataclass(frozen=True, slots=True, kw_only=True)
class WayShown:
    """What flows, how long and how much; all of it None where the pack stays as it is, and all but the current where it is balanced first."""

    current: Setting | None = None
    real_current: Range | None = None
    time: Range | None = None
    charge_moved: Range | None = None
    energy_moved: Range | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StopsShown:
    """When to stop: by the count on the way to storage, by what the weakest cell shows on the way to a cutoff, by the warmth where it is balanced."""

    stop_after: Setting | None = None
    cutoff: Setting | None = None
    stop_cell: Setting | None = None
    temperature_stop: Setting | None = None
    cell_shows: Range | None = None
    pack_shows: Range | None = None
    rests_at: Setting | None = None
    rests_afterwards: Range | None = None
    stopped_by_voltage: Range | None = None


def way_shown(plan: StoragePlan, *, pack: PackEntries, charger: ChargerEntries) -> WayShown:
    """Return what flows on the way of a plan."""
    move = plan.move
    if move is None:
        return WayShown(current=_current(plan.balance, pack, charger) if plan.balance else None)
    into = "into the pack, its heat included" if move.goes_up else "which the charger turns into heat: give it air"
    whole_way = _WHOLE_WAY if move.count and move.count.is_short else ""
    return WayShown(
        current=_current(move.dial, pack, charger),
        real_current=_real_current(move),
        time=_move_minutes(pack, move),
        charge_moved=range_of(move.charge_ah.times(mah_from_ah(1)), MILLIAMPERE_HOURS, STATE_UNSURE, whole_way),
        energy_moved=range_of(move.energy_wh, WATT_HOURS, f"the same, {into}"),
    )


def _current(dial: Dial, pack: PackEntries, charger: ChargerEntries) -> Setting:
    return current_setting(
        pack=pack, current_step_a=charger.current_step_a, current_a=dial.current_a, binding=dial.binding, limits=dial.limits
    )


def stops_shown(plan: StoragePlan, goal: Goal, *, pack: PackEntries, charger: ChargerEntries) -> StopsShown:
    """Return when to stop on the way of a plan."""
    move, chemistry = plan.move, plan.chemistry
    if move is None:
        return StopsShown(temperature_stop=temperature_stop(chemistry) if plan.is_charged else None)
    count = move.count
    if count is None:
        cutoff = cutoff_of(goal, chemistry)
        return StopsShown(
            cutoff=Setting(
                figure=Figure(cutoff.value, CELL_VOLTS),
                also=Figure(pack.cells * cutoff.value, PACK_VOLTS),
                set_by=source_line(cutoff),
                note="Under load, by the lowest cell. If the charger watches the whole pack only, watch the cells yourself."
                + (f" {makers_own_limit(chemistry)}" if goal is Goal.CAREFUL_CUTOFF else ""),
            ),
            rests_afterwards=_cell_range(move.rests_cell_v, "the resistance, and which curve the cell follows"),
        )
    width = "the resistance is not known well"
    which, shows = ("highest", "more") if move.goes_up else ("lowest", "less")
    under_current = f"The {which} cell. While the current flows it shows {shows} than it rests at."
    return StopsShown(
        stop_after=_stop_count(move, count, charger.capacity_step_mah, each_cell=plan.reading.each_cell),
        stop_cell=_cell_stop(move),
        temperature_stop=temperature_stop(chemistry) if move.goes_up else None,
        cell_shows=_cell_range(count.shows_cell_v, width, under_current),
        pack_shows=ends_of(count.shows_pack_v, PACK_VOLTS, width),
        rests_at=_rest_after_count(move, count, chemistry, pack.cells),
        stopped_by_voltage=_cell_range(move.rests_cell_v, width, "Many chargers stop by what they see on the terminals, and so too early."),
    )


def _move_minutes(pack: PackEntries, move: Move) -> Range:
    """Return how long the way takes, with hours beside the minutes where it is long."""
    because = wide_because(pack)
    if move.is_held_by_power:
        because += "; the current changes while the voltage does"
    long = f"That is {in_hours(move.time_min.least)} to {in_hours(move.time_min.most)}." if move.time_min.most > _LONG_MIN else ""
    return minutes_range(move.time_min, because, long)


def _real_current(move: Move) -> Range | None:
    """Return what really flows where the charger's power lets less through than the dial says; None where the dial holds."""
    power = move.dial.power
    if power is None or not move.is_held_by_power:
        return None
    return range_of(
        move.current_a,
        AMPERES.to_step(0.01),
        "the voltage changes on the way, and the power stays",
        f"Set by {power.because}, {Figure(power.ceiling, WATTS.to_step(0.1))}, whatever current you set.",
    )


def _cell_range(span: Span, because: str, note: str = "") -> Range:
    """Return volts of a cell, by their ends."""
    return ends_of(span, CELL_VOLTS, because, note)


def _stop_count(move: Move, count: Count, capacity_step_mah: float, *, each_cell: bool) -> Setting:
    """Return the charge at which to stop a way to storage, with what set it."""
    which, end = ("highest", "above") if move.goes_up else ("lowest", "below")
    if count.is_short:
        set_by = (
            f"the charge that takes the {which} cell no further than {Figure(move.stop_cell_v, CELL_VOLTS)}, whichever curve it follows, "
            "rounded down to the charger's step"
        )
    else:
        set_by = f"the most likely charge that brings the {which} cell to the middle of the band, rounded down to the charger's step"
    note = "Then unplug it, let it rest for half an hour, and read every cell again."
    if not each_cell:
        note = f"It holds until every cell has been read: a weak cell, which does not show in the sum, may end {end} the band. {note}"
    return Setting(figure=count_to_stop_at(count, capacity_step_mah), set_by=set_by, note=note)


def _cell_stop(move: Move) -> Setting:
    """Return the voltage of one cell that ends a way to storage whatever the count says."""
    which, end, shows = ("highest", "upper", "more") if move.goes_up else ("lowest", "lower", "less")
    dial = "Watch the cells on its display" if move.goes_up else "Set it as the discharge cutoff of one cell, or watch the cells"
    return Setting(
        figure=Figure(move.stop_cell_v, CELL_VOLTS),
        set_by=f"the {end} end of the storage band, for the {which} cell: under current it shows {shows} than it rests at",
        note=f"{dial}, and stop as soon as one shows it, whatever the count. If that comes at once, lower the current.",
    )


def _rest_after_count(move: Move, count: Count, chemistry: Chemistry, cells: float) -> Setting:
    """Return where the cell that ends a way to storage most likely rests afterwards, and the whole pack beside it."""
    rests_v = count.rests_cell_v
    which = "highest" if move.goes_up else "lowest"
    set_by = f"the {which} cell, on the most likely curve"
    if not count.is_short:
        set_by += f", at the middle of the storage band, {source_line(chemistry.storage_low_cell_v)}"
    return Setting(
        figure=Figure(max(rests_v) if move.goes_up else min(rests_v), CELL_VOLTS.to_step(0.001)),
        also=Figure(fsum(rests_v) / len(rests_v) * cells, PACK_VOLTS),
        set_by=set_by,
        note=f"Any reading from {band_words(chemistry)} will do. If it lies outside, enter the new reading here.",
    )


def left_apart_sentence(count: Count) -> str:
    """Return how far the cells of an uneven pack stay apart after the count."""
    low, high = min(count.rests_cell_v), max(count.rests_cell_v)
    return (
        f"The cells stay apart: most likely they then rest from {Figure(low, CELL_VOLTS)} to {Figure(high, CELL_VOLTS)}. Only the "
        "balancer evens that out."
    )
