"""What to expect on the way to the storage voltage or to a cutoff: current, charge, energy, minutes, and what the terminals show.

A discharge is dialled in by its current and then held by the charger's power, which is often far lower. A way to storage ends
by counted charge: what the terminals show meanwhile is not what the pack rests at.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.asking.equipment import PackEntries
from calc.facts.resting_voltages import RESTING_TABLES
from calc.figures.limits import Limit
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, h_from_min
from calc.physics.readings import Reading
from calc.physics.cells import Cell, state_at, voltage_and_slope
from calc.physics.charge_outlook import pack_cell_resistance_ohm
from calc.physics.courses import Moment
from calc.physics.discharging import Discharge, discharge, storage


@dataclass(frozen=True, slots=True)
class Dial:
    """The current to dial in, A, the limit that set it among all, and the power in W that then holds it, if one does."""

    current_a: float
    binding: Limit
    limits: tuple[Limit, ...]
    power: Limit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """The way to the goal. `current_a` is what flows with that dial: least, on average, most.

    `rests_cell_v` is where a cell rests afterwards: on the way to storage, if it is stopped as soon as the terminals show
    the wanted voltage; on the way to a cutoff, when the charger has stopped.
    """

    goes_up: bool
    dial: Dial
    current_a: Span
    charge_ah: Span
    energy_wh: Span
    time_min: Span
    shows_cell_v: Span
    rests_cell_v: Span

    @property
    def is_held_by_power(self) -> bool:
        """Whether the charger's power lets less flow than the dial says. One part in two hundred is not worth a word."""
        return self.dial.power is not None and self.current_a.least < 0.995 * self.dial.current_a


def to_storage(pack: PackEntries, reading: Reading, target_cell_v: float, dial: Dial) -> Move:
    """Return the way to the storage voltage, up or down, by counted charge.

        E between Q_least x n x V_lowest and Q_most x n x V_highest        V between the reading and what shows at the end

    Args:
        pack: the pack's entries.
        reading: its voltages.
        target_cell_v: the resting voltage to aim at, V.
        dial: the current, and the power that holds it.

    Returns:
        The way.

    Source: `physics.discharging.storage`.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> from calc.physics.readings import clear_reading
    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2000, resting_v=(12.6,), pack_degc=25, label_charge_rate_c=1)
    >>> limit = Limit(1.0, "the charger")
    >>> way = to_storage(pack, clear_reading(pack, CHEMISTRIES["lipo"]), 3.82, Dial(1.0, limit, (limit,), None))
    >>> way.goes_up, round(way.charge_ah.likely, 2), round(way.time_min.likely)
    (False, 0.87, 52)
    """
    resting_v = reading.mean_cell_v
    way = storage(
        pack.chemistry,
        resting_cell_v=resting_v,
        target_cell_v=target_cell_v,
        capacity_ah=ah_from_mah(pack.held_capacity_mah),
        current_a=dial.current_a,
        resistance_ohm_ah=pack_cell_resistance_ohm(pack).times(ah_from_mah(pack.held_capacity_mah)),
        power_w_per_cell=_power_w_per_cell(pack, dial),
        cell_count=int(pack.cells),
    )
    likely = way.likely
    moved_ah, energy_wh = (
        (likely.capacity_out_ah, likely.energy_out_wh)
        if isinstance(likely, Discharge)
        else (likely.capacity_in_ah, likely.energy_in_wh)
    )
    volts = (resting_v, target_cell_v, way.shows_at_end_cell_v.least, way.shows_at_end_cell_v.most)
    return Move(
        goes_up=way.charges,
        dial=dial,
        current_a=_current_span(likely.trace, moved_ah),
        charge_ah=way.capacity_ah,
        energy_wh=Span(
            way.capacity_ah.least * min(volts) * pack.cells, energy_wh, way.capacity_ah.most * max(volts) * pack.cells
        ),
        time_min=way.time_min,
        shows_cell_v=way.shows_at_end_cell_v,
        rests_cell_v=way.rests_if_stopped_by_voltage_cell_v,
    )


def to_cutoff(pack: PackEntries, reading: Reading, cutoff_cell_v: float, dial: Dial) -> Move:
    """Return the way down until the lowest cell shows the cutoff under load.

    The bounds are runs on every curve of the chemistry: a reading a little low with the most resistance, and a little high
    with the least.

    Args:
        pack: the pack's entries.
        reading: its voltages.
        cutoff_cell_v: what a cell shows under load at the end, V.
        dial: the current, and the power that holds it.

    Returns:
        The way.

    Source: `physics.discharging.discharge`; the reading error is common practice.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> from calc.physics.readings import clear_reading
    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2000, resting_v=(12.6,), pack_degc=25, label_charge_rate_c=1)
    >>> limit = Limit(1.0, "the charger")
    >>> way = to_cutoff(pack, clear_reading(pack, CHEMISTRIES["lipo"]), 3.2, Dial(1.0, limit, (limit,), None))
    >>> 1.9 < way.charge_ah.likely < 2.0
    True
    """
    table, capacity_ah = RESTING_TABLES[pack.chemistry], ah_from_mah(pack.held_capacity_mah)
    resistance, off_v = pack_cell_resistance_ohm(pack).times(capacity_ah), table.reading_error_v.value

    def run(curve: tuple[float, ...], resting_v: float, resistance_ohm_ah: float) -> Discharge:
        return discharge(
            Cell(curve=curve, capacity_ah=capacity_ah, resistance_ohm_ah=resistance_ohm_ah),
            start_state=min(max(state_at(curve, resting_v), 0.0), 1.0),
            current_a=dial.current_a,
            cutoff_cell_v=cutoff_cell_v,
            power_w_per_cell=_power_w_per_cell(pack, dial),
            cell_count=int(pack.cells),
        )

    likely = run(table.likely.cell_v, reading.lowest_cell_v, resistance.likely)
    runs = [(likely, table.likely.cell_v)] + [
        (run(curve.cell_v, reading.lowest_cell_v + off, ohm_ah), curve.cell_v)
        for curve in table.curves
        for off, ohm_ah in ((-off_v, resistance.most), (off_v, resistance.least))
    ]
    return Move(
        goes_up=False,
        dial=dial,
        current_a=_current_span(likely.trace, likely.capacity_out_ah),
        charge_ah=_span_of([done.capacity_out_ah for done, _ in runs]),
        energy_wh=_span_of([done.energy_out_wh for done, _ in runs]),
        time_min=_span_of([done.time_min for done, _ in runs]),
        shows_cell_v=Span(cutoff_cell_v, cutoff_cell_v, cutoff_cell_v),
        rests_cell_v=_span_of([voltage_and_slope(curve, done.end_state)[0] for done, curve in runs]),
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
