"""What to expect on the way to the storage voltage or to a cutoff: current, charge, energy, minutes, and what the terminals show.

A discharge is dialled in by its current and then held by the charger's power, which is often far lower. The lowest cell ends a
way down and the highest a way up, since cells in series all move by the same charge. A way to storage ends by counted charge:
what the terminals show meanwhile is not what the pack rests at.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.limits import Limit
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, h_from_min
from calc.inputs.equipment import PackEntries
from calc.physics.cell.cells import Cell, state_at, voltage_and_slope
from calc.physics.cell.courses import Moment
from calc.physics.cell.discharging import Discharge, Storage, discharge, storage
from calc.physics.cell.unequal_cells import lowest_over_mean, resting_after_v, share_within_bound
from calc.rules.charge.charge_outlook import pack_cell_resistance_ohm
from calc.rules.pack.readings import Reading


@dataclass(frozen=True, slots=True)
class Dial:
    """The current to dial in, A, the limit that set it among all, and the power in W that then holds it, if one does."""

    current_a: float
    binding: Limit
    limits: tuple[Limit, ...]
    power: Limit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """The charge after which a way to storage is stopped, and what the cells then show and rest at.

    `is_short` where the count ends before the middle of the band, so that no cell can pass its end on any curve. The cells rest
    at `rests_cell_v` most likely, in their order; `shows_cell_v` is the cell that ends the way, under current.
    """

    charge_ah: float
    is_short: bool
    rests_cell_v: tuple[float, ...]
    shows_cell_v: Span
    shows_pack_v: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """The way to the goal. `current_a` is what flows with that dial: least, on average, most.

    `stop_cell_v` is what no cell may show beyond, under current: it ends the way whatever the count says. `rests_cell_v` is where
    the cell that shows it rests afterwards. Charge, energy and minutes are those of the whole way to the goal.
    """

    goes_up: bool
    dial: Dial
    current_a: Span
    charge_ah: Span
    energy_wh: Span
    time_min: Span
    stop_cell_v: float
    rests_cell_v: Span
    count: Count | None

    @property
    def is_held_by_power(self) -> bool:
        """Whether the charger's power lets less flow than the dial says. One part in two hundred is not worth a word."""
        return self.dial.power is not None and self.current_a.least < 0.995 * self.dial.current_a


def to_storage(pack: PackEntries, reading: Reading, band_cell_v: tuple[float, float], dial: Dial, *, goes_up: bool) -> Move:
    """Return the way to the storage band, up or down, by counted charge; the count may be 0 where a cell may be at its bound already.

    Q = the lower of Q_likely to the middle of the band, and what takes no cell past its far end on any curve
    E between Q_least x n x V_lowest and Q_most x n x V_highest        V between the reading and what shows at the end
    """
    target_v, bound_v = (band_cell_v[0] + band_cell_v[1]) / 2, band_cell_v[1 if goes_up else 0]
    ends_v = reading.highest_cell_v if goes_up else reading.lowest_cell_v
    capacity_ah = ah_from_mah(pack.effective_capacity_mah)
    way = storage(
        pack.chemistry,
        resting_cell_v=ends_v,
        target_cell_v=max(target_v, ends_v) if goes_up else min(target_v, ends_v),
        capacity_ah=capacity_ah,
        current_a=dial.current_a,
        resistance_ohm_ah=pack_cell_resistance_ohm(pack).times(capacity_ah),
        power_w_per_cell=_power_w_per_cell(pack, dial),
        cell_count=int(pack.cells),
        mean_cell_v=reading.mean_cell_v,
    )
    likely = way.likely
    moved_ah, energy_wh = (
        (likely.capacity_out_ah, likely.energy_out_wh) if isinstance(likely, Discharge) else (likely.capacity_in_ah, likely.energy_in_wh)
    )
    shown = _shown_at(target_v, way.lost_cell_v, goes_up=goes_up)
    volts = (*reading.cell_v, target_v, shown.least, shown.most)
    return Move(
        goes_up=goes_up,
        dial=dial,
        current_a=_current_span(likely.trace, moved_ah),
        charge_ah=way.capacity_ah,
        energy_wh=Span(way.capacity_ah.least * min(volts) * pack.cells, energy_wh, way.capacity_ah.most * max(volts) * pack.cells),
        time_min=way.time_min,
        stop_cell_v=bound_v,
        rests_cell_v=_rest_of(bound_v, way.lost_cell_v, ends_v, goes_up=goes_up),
        count=_count(pack, reading, bound_v, way),
    )


def _count(pack: PackEntries, reading: Reading, bound_v: float, way: Storage) -> Count:
    goes_up, capacity_ah = way.charges, ah_from_mah(pack.effective_capacity_mah)
    within = share_within_bound(pack.chemistry, reading.cell_v, bound_v, goes_up=goes_up)
    share = min(way.capacity_ah.likely / capacity_ah, within)
    rests_v = resting_after_v(pack.chemistry, reading.cell_v, share if goes_up else -share)
    ends_v = max(rests_v) if goes_up else min(rests_v)
    mean_v = fsum(rests_v) / len(rests_v)
    return Count(
        charge_ah=share * capacity_ah,
        is_short=within < way.capacity_ah.likely / capacity_ah,
        rests_cell_v=rests_v,
        shows_cell_v=_shown_at(ends_v, way.lost_cell_v, goes_up=goes_up),
        shows_pack_v=_shown_at(mean_v, way.lost_cell_v, goes_up=goes_up).times(pack.cells),
    )


def _shown_at(rests_v: float, lost: Span, *, goes_up: bool) -> Span:
    """What the terminals of a cell show while the current flows, at the moment that it would rest at a voltage: never less than nothing."""
    if goes_up:
        return Span(rests_v + lost.least, rests_v + lost.likely, rests_v + lost.most)
    return Span(*(max(rests_v - lost_v, 0.0) for lost_v in (lost.most, lost.likely, lost.least)))


def _rest_of(shown_v: float, lost: Span, now_v: float, *, goes_up: bool) -> Span:
    """Where a cell rests that is stopped as soon as it shows a voltage; where it is now, if it shows it at once."""
    rests = _shown_at(shown_v, lost, goes_up=not goes_up)
    keep = max if goes_up else min
    return Span(keep(rests.least, now_v), keep(rests.likely, now_v), keep(rests.most, now_v))


def to_cutoff(pack: PackEntries, reading: Reading, cutoff_cell_v: float, dial: Dial) -> Move:
    """Return the way down until the lowest cell shows the cutoff under load.

    The bounds are runs on every curve of the chemistry: a reading a little low with the most resistance, and a little high
    with the least. Where the charger's power binds, the other cells stand higher than the lowest and less current flows: the
    quickest run counts them as low as it, the slowest as high as they come.
    """
    table, capacity_ah = CHEMISTRIES[pack.chemistry].resting, ah_from_mah(pack.effective_capacity_mah)
    resistance, off_v = pack_cell_resistance_ohm(pack).times(capacity_ah), table.reading_error_v.value

    power_w_per_cell = _power_w_per_cell(pack, dial)

    def run(curve: tuple[float, ...], resting_v: float, resistance_ohm_ah: float, lowest_share: float) -> Discharge:
        return discharge(
            Cell(curve=curve, capacity_ah=capacity_ah, resistance_ohm_ah=resistance_ohm_ah),
            start_state=min(max(state_at(curve, resting_v), 0.0), 1.0),
            current_a=dial.current_a,
            cutoff_cell_v=cutoff_cell_v,
            power_w_per_cell=None if power_w_per_cell is None else power_w_per_cell * lowest_share,
            cell_count=int(pack.cells),
        )

    def slow_share(curve: tuple[float, ...]) -> float:
        return lowest_over_mean(curve, reading.cell_v, cutoff_cell_v)

    likely = run(table.likely.cell_v, reading.lowest_cell_v, resistance.likely, reading.lowest_cell_v / reading.mean_cell_v)
    runs = [(likely, table.likely.cell_v)] + [
        (run(curve.cell_v, reading.lowest_cell_v + off, ohm_ah, share), curve.cell_v)
        for curve in table.curves
        for off, ohm_ah, share in ((-off_v, resistance.most, 1.0), (off_v, resistance.least, slow_share(curve.cell_v)))
    ]
    return Move(
        goes_up=False,
        dial=dial,
        current_a=_current_span(likely.trace, likely.capacity_out_ah),
        charge_ah=_span_of([done.capacity_out_ah for done, _ in runs]),
        energy_wh=_span_of([done.energy_out_wh for done, _ in runs]),
        time_min=_span_of([done.time_min for done, _ in runs]),
        stop_cell_v=cutoff_cell_v,
        rests_cell_v=_span_of([voltage_and_slope(curve, done.end_state)[0] for done, curve in runs]),
        count=None,
    )


def _power_w_per_cell(pack: PackEntries, dial: Dial) -> float | None:
    return None if dial.power is None else dial.power.ceiling / pack.cells


def _span_of(likely_first: list[float]) -> Span:
    return Span(min(likely_first), likely_first[0], max(likely_first))


def _current_span(trace: tuple[Moment, ...], moved_ah: float) -> Span:
    """The lowest, the mean and the highest current of a run. A run that is over at once has its first current only."""
    currents = [moment.current_a for moment in trace]
    least, most = min(currents), max(currents)
    hours = h_from_min(trace[-1].time_min)
    mean = moved_ah / hours if hours else currents[0]
    # A mean of one and the same current may be off in its last bit.
    return Span(least, min(max(mean, least), most), most)
