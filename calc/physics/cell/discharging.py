"""A discharge on the charger, minute by minute, and the way to the storage voltage by counted charge.

A charger that discharges turns the energy into heat, so its power binds first, while the voltage is high; the set current
binds once the voltage has sunk. The terminals show less than the cell will rest at, by the current times its resistance: a
discharge that stops when they show the wanted voltage stops early. So does a charge, on the other side.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.figures.units import min_from_h
from calc.physics.cell.cells import Cell, share_between, state_at, voltage_and_slope
from calc.physics.cell.charging import Charge, charge
from calc.physics.cell.courses import Moment
from calc.physics.cell.pieces import go_to
from calc.physics.cell.runs import Instant, course, energy_and_heat_wh

# A way to storage ends by its count: no current is so low that the charger calls the pack full before, C.
_NO_TAPER_C = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Discharge:
    """A finished discharge of a pack: minutes by phase, what came out, and its course."""

    constant_power_min: float
    constant_current_min: float
    capacity_out_ah: float
    energy_out_wh: float
    heat_wh: float
    peak_power_w: float
    trace: tuple[Moment, ...]

    @property
    def time_min(self) -> float:
        """Minutes from start to end."""
        return self.constant_power_min + self.constant_current_min

    @property
    def end_state(self) -> float:
        """State of charge at the end, a fraction."""
        return self.trace[-1].state


@dataclass(frozen=True, slots=True, kw_only=True)
class Storage:
    """The way to the storage voltage: up or down, what to move, how long, and how far the terminals are off meanwhile.

    `lost_cell_v` is what the resistance of a cell takes from its voltage, or adds to it, when the target is reached.
    """

    charges: bool
    capacity_ah: Span
    time_min: Span
    lost_cell_v: Span
    likely: Charge | Discharge


def discharge(
    cell: Cell,
    *,
    start_state: float,
    current_a: float,
    cutoff_cell_v: float,
    power_w_per_cell: float | None = None,
    until_state: float | None = None,
    cell_count: int = 1,
) -> Discharge:
    """Return the course of a discharge of `cell_count` like cells in series.

        V = U(s) - c r,    ds/dt = -c,    c = the lower of I and P / V
        V, U in V, s a fraction, c in C, r in ohm Ah, t in h, I in A, P in W per cell

    By formula on each straight piece of the curve (`pieces`). The discharge takes no minutes if the cut-off or the state is
    reached at once.

    Args:
        cell: the cell; its resistance above 0, and no lead.
        start_state: state of charge at the start, a fraction from 0 to 1.
        current_a: the lowest of all limits on the current, A, above 0.
        cutoff_cell_v: the discharge ends when a cell shows this under load, V.
        power_w_per_cell: the most that the charger can turn into heat, W for each cell; None if it does not bind.
        until_state: stop at this state of charge, a fraction; None to go on to the cut-off.
        cell_count: cells in series, 1 or more.

    Source: circuit theory; checked against full electrochemical runs of published parameter sets.

    >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
    >>> done = discharge(straight, start_state=1.0, current_a=5.0, cutoff_cell_v=3.8)
    >>> round(done.time_min, 2), round(done.end_state, 2)
    (30.0, 0.5)
    """
    rate_c = current_a / cell.capacity_ah
    terms = _Terms(
        cell=cell,
        rate_c=rate_c,
        power=inf if power_w_per_cell is None else power_w_per_cell / cell.capacity_ah,
        cutoff_v=cutoff_cell_v,
        target=-inf if until_state is None else until_state,
    )
    run, power_end_h = _by_pieces(terms, start_state)
    energy_wh, heat_wh = energy_and_heat_wh(run, cell, cell_count)
    trace = course(run, cell.capacity_ah)
    return Discharge(
        constant_power_min=min_from_h(power_end_h),
        constant_current_min=min_from_h(run[-1].time_h - power_end_h),
        capacity_out_ah=(start_state - run[-1].state) * cell.capacity_ah,
        energy_out_wh=energy_wh,
        heat_wh=heat_wh,
        peak_power_w=max(moment.current_a * moment.cell_v for moment in trace) * cell_count,
        trace=trace,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Terms:
    """What one discharge is held to, per Ah: power in W per Ah, infinite where it does not bind, and a state to stop at."""

    cell: Cell
    rate_c: float
    power: float
    cutoff_v: float
    target: float

    def start(self, state: float) -> Instant:
        """The cell at the moment that the load is switched on."""
        resting_v = voltage_and_slope(self.cell.curve, state)[0]
        rate_c = self.rate_at(resting_v)
        return Instant(0.0, state, rate_c, resting_v - rate_c * self.cell.resistance_ohm_ah)

    def rate_at(self, behind_v: float) -> float:
        """The current at a voltage behind the resistance: where the cell cannot give the power at all, the set current."""
        root = behind_v * behind_v - 4 * self.power * self.cell.resistance_ohm_ah
        return min(self.rate_c, self.power / ((behind_v + sqrt(root)) / 2)) if root >= 0 else self.rate_c


def _by_pieces(terms: _Terms, start_state: float) -> tuple[list[Instant], float]:
    """The course of a discharge, and when its constant power ends, h."""
    cell = terms.cell
    resistance = cell.resistance_ohm_ah

    def end_of(shown_v: float, rate_c: float) -> float:
        return max(state_at(cell.curve, shown_v + rate_c * resistance), terms.target)

    run = [terms.start(start_state)]
    if run[-1].rate_c < terms.rate_c:
        shown_v = max(terms.cutoff_v, terms.power / terms.rate_c)
        # It rests there at U + p r / U, which is never below 2 sqrt(p r): so all of the way it can give the power.
        if (end_state := end_of(shown_v, terms.power / shown_v)) < run[-1].state:
            go_to(run, cell, end_state, terms.rate_at)
    power_end_h = run[-1].time_h
    if (end_state := end_of(terms.cutoff_v, terms.rate_c)) < run[-1].state:
        go_to(run, cell, end_state, lambda _: terms.rate_c)
    return run, power_end_h


def storage(
    chemistry_key: str,
    *,
    resting_cell_v: float,
    target_cell_v: float,
    capacity_ah: float,
    current_a: float,
    resistance_ohm_ah: Span,
    power_w_per_cell: float | None = None,
    cell_count: int = 1,
    mean_cell_v: float | None = None,
) -> Storage:
    """Return how the cell that ends the way comes to the voltage that it should be stored at, by counting the charge.

        t = ds Q / I        ds the share to move, Q in Ah, I in A, t in h; between the slowest and the fastest current of the run
        U = I r             what the terminals show more at the end of a charge, and less at that of a discharge

    Args:
        chemistry_key: a key of `CHEMISTRIES`.
        resting_cell_v: resting voltage now of the cell that ends the way, V: the highest on charge, the lowest on discharge.
        target_cell_v: resting voltage wanted of it, V, below full.
        capacity_ah: capacity as measured, or that on the label, Ah, above 0.
        current_a: the lowest of all limits on the current, A, above 0.
        resistance_ohm_ah: resistance of a cell times its capacity, ohm Ah, above 0.
        power_w_per_cell: the most that the charger can give, or turn into heat, W for each cell; None if it does not bind.
        cell_count: cells in series, 1 or more.
        mean_cell_v: resting voltage now of all cells, V, with which the power binds; None where they are alike.

    Raises:
        ValueError: a voltage below the chemistry's floor, or above its upper limit.

    Source: `share_between`; checked against full electrochemical runs of published parameter sets.

    >>> way = storage("lipo", resting_cell_v=4.2, target_cell_v=3.82, capacity_ah=2.2, current_a=1.1,
    ...     resistance_ohm_ah=Span(0.011, 0.022, 0.036))
    >>> way.charges, f"{way.time_min.least:.0f} to {way.time_min.most:.0f}, likely {way.time_min.likely:.0f} min"
    (False, '40 to 62, likely 52 min')
    """
    charges = target_cell_v >= resting_cell_v
    share = share_between(chemistry_key, resting_cell_v, target_cell_v)
    curve = CHEMISTRIES[chemistry_key].resting.likely.cell_v
    cell = Cell(curve=curve, capacity_ah=capacity_ah, resistance_ohm_ah=resistance_ohm_ah.likely)
    start_state = state_at(curve, resting_cell_v if mean_cell_v is None else mean_cell_v)
    end_state = start_state + share.likely if charges else start_state - share.likely
    likely = _counted(chemistry_key, cell, start_state, end_state, current_a, power_w_per_cell, cell_count)
    currents = [moment.current_a for moment in likely.trace]
    return Storage(
        charges=charges,
        capacity_ah=share.times(capacity_ah),
        time_min=Span(
            min_from_h(share.least * capacity_ah / max(currents)), likely.time_min, min_from_h(share.most * capacity_ah / min(currents))
        ),
        lost_cell_v=resistance_ohm_ah.times(currents[-1] / capacity_ah),
        likely=likely,
    )


def _counted(
    chemistry_key: str, cell: Cell, start_state: float, end_state: float, current_a: float, power_w_per_cell: float | None, cell_count: int
) -> Charge | Discharge:
    """The run that moves the charge between two states, up or down."""
    chemistry = CHEMISTRIES[chemistry_key]
    if end_state >= start_state:
        return charge(
            cell,
            start_state=start_state,
            full_cell_v=chemistry.full_cell_v.value,
            current_a=current_a,
            taper_rate_c=_NO_TAPER_C,
            power_w_per_cell=power_w_per_cell,
            until_state=end_state,
            cell_count=cell_count,
        )
    return discharge(
        cell,
        start_state=start_state,
        current_a=current_a,
        cutoff_cell_v=chemistry.maker_cutoff_cell_v.value,
        power_w_per_cell=power_w_per_cell,
        until_state=end_state,
        cell_count=cell_count,
    )
