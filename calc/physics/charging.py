"""A charge, minute by minute: constant current, then constant power where power binds, then constant voltage.

At every moment the current is the highest that no limit forbids: the set current, the power that the charger or the supply
can give, the full voltage. As the cell's voltage rises they take over in that order. The charge ends when the current has
tapered to its cut-off. All cells of the pack are taken to be alike; balancing is a line of its own in `forecasting`.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import exp, sqrt

from calc.figures.units import h_from_min, min_from_h
from calc.physics.cells import Cell, voltage_and_slope
from calc.physics.courses import Moment
from calc.physics.stepping import Now, course, energy_and_heat_wh, go_on, slow_after

# Steps for one whole capacity at constant current, and, divided by this, for one time constant at constant voltage.
_STEPS = 120
_STEPS_PER_TIME_CONSTANT = 4


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
    start_pack_v: float
    peak_pack_v: float
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
    steps: int = _STEPS,
) -> Charge:
    """Return the course of a charge of `cell_count` like cells in series.

        V = U(s) + c r + v,    ds/dt = c,    dv/dt = (c r1 - v) / t1,    c = lowest that I, P / V and V <= V_full allow
        V, U, v in V, s a fraction, c in C, r and r1 in ohm Ah, t and t1 in h, I in A, P in W per cell

    Constant current is exact in each step. Constant power takes the mean of the currents at both ends of a step. Constant
    voltage solves for the current at the end of the step (implicit), so that no step is too long for a low resistance.

    Args:
        cell: the cell; its resistance above 0.
        start_state: state of charge at the start, a fraction from 0 to 1.
        full_cell_v: voltage at which the charger holds a cell, V.
        current_a: the lowest of all limits on the current, A, above 0.
        taper_rate_c: the charge ends when the current has fallen to this, C, above 0.
        power_w_per_cell: the lowest of all limits on the charger's output power, W for each cell; None if none binds.
        until_state: stop at this state of charge, a fraction; None to go on until full.
        cell_count: cells in series, 1 or more.
        steps: steps for a whole capacity, 30 or more.

    Returns:
        The charge; of no minutes if the cell is as full as the charger can make it.

    Refuses: nothing; a cell that must not be charged is refused before.

    Source: circuit theory; checked against full electrochemical runs of published parameter sets.

    >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
    >>> done = charge(straight, start_state=0.2, full_cell_v=4.2, current_a=5.0, taper_rate_c=0.1)
    >>> round(done.constant_current_min, 2), round(done.constant_voltage_min, 1)
    (38.0, 23.0)
    """
    rate_c = current_a / cell.capacity_ah
    power = None if power_w_per_cell is None else power_w_per_cell / cell.capacity_ah
    target = float("inf") if until_state is None else until_state
    phases = _Phases(
        cell=cell,
        rate_c=rate_c,
        power=power,
        power_v=full_cell_v if power is None else min(full_cell_v, power / rate_c),
        full_v=full_cell_v,
        taper_c=taper_rate_c,
        target=target,
        steps=steps,
    )
    run = [phases.start(start_state)]
    ends = [run[-1].time_h]
    for phase in (phases.constant_current, phases.constant_power, phases.constant_voltage):
        phase(run)
        ends.append(run[-1].time_h)
    return _charge_from(run, ends, cell, cell_count)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Phases:
    """The three phases of one charge; each appends to the run until its own end, and nothing if that is past.

    `power` is in W per Ah, or None. At `power_v` the set current asks for all of it.
    """

    cell: Cell
    rate_c: float
    power: float | None
    power_v: float
    full_v: float
    taper_c: float
    target: float
    steps: int

    def start(self, state: float) -> Now:
        """The cell at the moment that the charger switches on: rested, so the slow part is at 0."""
        resting_v = voltage_and_slope(self.cell.curve, state)[0]
        resistance = self.cell.resistance_ohm_ah
        rate_c = min(self.rate_c, self._rate_at_power(resting_v))
        if resting_v + rate_c * resistance < self.full_v:
            return Now(0.0, state, 0.0, rate_c, resting_v + rate_c * resistance)
        return Now(0.0, state, 0.0, max((self.full_v - resting_v) / resistance, 0.0), max(self.full_v, resting_v))

    def constant_current(self, run: list[Now]) -> None:
        """Go on at the set current until power or the full voltage binds."""
        go_on(run, self._current_step, self._step_h, lambda now: now.cell_v >= self.power_v or now.state >= self.target)

    def constant_power(self, run: list[Now]) -> None:
        """Go on at the power until the full voltage binds."""
        if self.power is not None:
            go_on(run, self._power_step, self._step_h, lambda now: now.cell_v >= self.full_v or now.state >= self.target)

    def constant_voltage(self, run: list[Now]) -> None:
        """Hold the full voltage until the current has tapered."""
        go_on(run, self._voltage_step, self._voltage_step_h, lambda now: now.rate_c <= self.taper_c or now.state >= self.target)

    def _current_step(self, now: Now, step_h: float) -> Now:
        state = now.state + self.rate_c * step_h
        slow_v = slow_after(self.cell, now, self.rate_c, step_h)
        cell_v = voltage_and_slope(self.cell.curve, state)[0] + self.rate_c * self.cell.resistance_ohm_ah + slow_v
        return Now(now.time_h + step_h, state, slow_v, self.rate_c, cell_v)

    def _rate_at_power(self, behind_v: float) -> float:
        """The current, C, at which the power flows into the voltage behind the resistance: V = U + (P / V) r."""
        if self.power is None:
            return self.rate_c
        root = sqrt(behind_v * behind_v + 4 * self.power * self.cell.resistance_ohm_ah)
        return self.power / ((behind_v + root) / 2)

    def _power_step(self, now: Now, step_h: float) -> Now:
        curve = self.cell.curve
        rate_c = now.rate_c
        for _ in range(2):
            mean_c = (now.rate_c + rate_c) / 2
            state = now.state + mean_c * step_h
            slow_v = slow_after(self.cell, now, mean_c, step_h)
            behind_v = voltage_and_slope(curve, state)[0] + slow_v
            rate_c = self._rate_at_power(behind_v)
        return Now(now.time_h + step_h, state, slow_v, rate_c, behind_v + rate_c * self.cell.resistance_ohm_ah)

    def _step_h(self, now: Now) -> float:
        """The time that fills one of the steps at the present current."""
        return 1 / (self.steps * now.rate_c)

    def _voltage_step_h(self, now: Now) -> float:
        """A small part of the time in which the current would fall to a third, unless that fills more than a step."""
        slope = voltage_and_slope(self.cell.curve, now.state)[1]
        time_constant_h = (self.cell.resistance_ohm_ah + self.cell.slow_ohm_ah) / slope
        return min(self._step_h(now), time_constant_h * _STEPS_PER_TIME_CONSTANT / self.steps)

    def _voltage_step(self, now: Now, step_h: float) -> Now:
        """Newton's method on the current at the end; the curve is of straight pieces, so a few rounds end it."""
        faded = exp(-step_h / h_from_min(self.cell.slow_time_min)) if self.cell.slow_ohm_ah else 0.0
        resistance = self.cell.resistance_ohm_ah + self.cell.slow_ohm_ah * (1 - faded)
        kept_v = now.slow_v * faded - self.full_v
        rate_c = now.rate_c
        for _ in range(12):
            state = now.state + (now.rate_c + rate_c) / 2 * step_h
            resting_v, slope = voltage_and_slope(self.cell.curve, state)
            change = (resting_v + kept_v + rate_c * resistance) / (slope * step_h / 2 + resistance)
            rate_c -= change
            if -1e-12 < change < 1e-12:
                break
        slow_v = rate_c * self.cell.slow_ohm_ah * (1 - faded) + now.slow_v * faded
        state = now.state + (now.rate_c + rate_c) / 2 * step_h
        return Now(now.time_h + step_h, state, slow_v, rate_c, self.full_v)


def _charge_from(run: list[Now], ends_h: list[float], cell: Cell, cell_count: int) -> Charge:
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
        start_pack_v=first.cell_v * cell_count,
        peak_pack_v=max(moment.cell_v for moment in trace) * cell_count,
        trace=trace,
    )
