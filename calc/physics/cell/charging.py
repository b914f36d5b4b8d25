"""A charge, minute by minute: constant current, then constant power where power binds, then constant voltage.

At every moment the current is the highest that no limit forbids: the set current, the power that the charger or the supply
can give, the full voltage. As the cell's voltage rises they take over in that order. The charge ends when the current has
tapered to its cut-off. All cells of the pack are taken to be alike; balancing is a line of its own in `forecasting`.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf, log

from calc.figures.units import min_from_h
from calc.physics.cell.cells import Cell, state_at
from calc.physics.cell.charge_terms import ChargeTerms
from calc.physics.cell.courses import Moment
from calc.physics.cell.pieces import go_to, hold_voltage
from calc.physics.cell.runs import Instant, course, energy_and_heat_wh


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """A finished charge of a pack: minutes by phase, what went in, the power it asked for, and its course."""

    constant_current_min: float
    constant_power_min: float
    constant_voltage_min: float
    capacity_in_ah: float
    energy_in_wh: float
    heat_wh: float
    start_power_w: float
    peak_power_w: float
    trace: tuple[Moment, ...]

    @property
    def time_min(self) -> float:
        """Minutes from start to end, without balancing."""
        return self.constant_current_min + self.constant_power_min + self.constant_voltage_min

    @property
    def end_state(self) -> float:
        """State of charge at the end, a fraction."""
        return self.trace[-1].state


def charge(
    cell: Cell,
    *,
    start_state: float,
    full_cell_v: float,
    current_a: float,
    taper_rate_c: float,
    power_w_per_cell: float | None = None,
    until_state: float | None = None,
    cell_count: int = 1,
) -> Charge:
    """Return the course of a charge of `cell_count` like cells in series.

        V = U(u) + c r,    u = s + k c,    ds/dt = c,    c = lowest that I, P / V and V <= V_full allow
        V, U in V, s and u fractions, c in C, r in ohm Ah, k and t in h, I in A, P in W per cell

    By formula on each straight piece of the curve (`pieces`). The charge takes no minutes if the cell is as full as the charger
    can make it.

    Args:
        cell: the cell; its resistance above 0.
        start_state: state of charge at the start, a fraction from 0 to 1.
        full_cell_v: voltage at which the charger holds a cell, V.
        current_a: the lowest of all limits on the current, A, above 0.
        taper_rate_c: the charge ends when the current has fallen to this, C, above 0.
        power_w_per_cell: the lowest of all limits on the charger's output power, W for each cell; None if none binds.
        until_state: stop at this state of charge, a fraction; None to go on until full.
        cell_count: cells in series, 1 or more.

    Source: circuit theory; checked against full electrochemical runs of published parameter sets.

    >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
    >>> done = charge(straight, start_state=0.2, full_cell_v=4.2, current_a=5.0, taper_rate_c=0.1)
    >>> round(done.constant_current_min, 2), round(done.constant_voltage_min, 1)
    (38.0, 23.0)
    """
    rate_c = current_a / cell.capacity_ah
    power = None if power_w_per_cell is None else power_w_per_cell / cell.capacity_ah
    terms = ChargeTerms(
        cell=cell,
        rate_c=rate_c,
        power=power,
        power_v=full_cell_v if power is None else min(full_cell_v, power / rate_c),
        full_v=full_cell_v,
        taper_c=taper_rate_c,
        target=inf if until_state is None else until_state,
    )
    run, ends = _with_lead(cell.lead_h, *_by_pieces(terms, start_state))
    return _charge_from(run, ends, cell, cell_count)


def _by_pieces(terms: ChargeTerms, start_state: float) -> tuple[list[Instant], list[Instant]]:
    """The course of a charge as the surface of the grains has it, and when its phases end: each at a state that a formula tells."""
    cell = terms.cell
    target = terms.surface_at(terms.target)
    at_full_c = terms.rate_c if terms.power is None else min(terms.rate_c, terms.power / terms.full_v)

    def end_of(shown_v: float, rate_c: float) -> float:
        return min(state_at(cell.curve, shown_v - rate_c * cell.resistance_ohm_ah), target)

    run = [terms.start(start_state)]
    ends = [run[-1]]
    if (end_state := end_of(terms.power_v, terms.rate_c)) > run[-1].state:
        go_to(run, cell, end_state, lambda _: terms.rate_c)
    ends.append(run[-1])
    if (end_state := end_of(terms.full_v, at_full_c)) > run[-1].state:
        go_to(run, cell, end_state, terms.rate_at_power)
    ends.append(run[-1])
    if (end_state := end_of(terms.full_v, terms.taper_c)) > run[-1].state:
        hold_voltage(run, cell, end_state, terms.full_v)
    ends.append(run[-1])
    return run, ends


def _with_lead(lead_h: float, run: list[Instant], ends: list[Instant]) -> tuple[list[Instant], list[float]]:
    """The course of the whole, from that of its surface: dt = ds / c = du / c - k dc / c, so the time grows by k ln(c0 / c)."""
    if not lead_h or not run[0].rate_c:
        return run, [end.time_h for end in ends]

    def whole(now: Instant) -> Instant:
        later_h = lead_h * log(run[0].rate_c / now.rate_c)
        return Instant(now.time_h + later_h, now.state - lead_h * now.rate_c, now.rate_c, now.cell_v)

    return [whole(now) for now in run], [whole(end).time_h for end in ends]


def _charge_from(run: list[Instant], ends_h: list[float], cell: Cell, cell_count: int) -> Charge:
    """Sum up a run, in the units of the dial."""
    energy_wh, heat_wh = energy_and_heat_wh(run, cell, cell_count)
    trace = course(run, cell.capacity_ah)
    first, last = trace[0], trace[-1]
    current_h, power_h, voltage_h = (end - start for start, end in pairwise(ends_h))
    return Charge(
        constant_current_min=min_from_h(current_h),
        constant_power_min=min_from_h(power_h),
        constant_voltage_min=min_from_h(voltage_h),
        capacity_in_ah=(last.state - first.state) * cell.capacity_ah,
        energy_in_wh=energy_wh,
        heat_wh=heat_wh,
        start_power_w=first.current_a * first.cell_v * cell_count,
        peak_power_w=max(moment.current_a * moment.cell_v for moment in trace) * cell_count,
        trace=trace,
    )
