"""A charge of a cell with a slow part, in steps of time: no formula holds for it at constant power or constant voltage."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

from calc.figures.units import h_from_min
from calc.physics.cells import voltage_and_slope
from calc.physics.charge_terms import ChargeTerms
from calc.physics.runs import Now
from calc.physics.stepping import go_on, slow_after

# Steps for one whole capacity at constant current, and, divided by this, for one time constant at constant voltage.
_STEPS = 120
_STEPS_PER_TIME_CONSTANT = 4


def charge_in_steps(terms: ChargeTerms, start_state: float, steps: int = _STEPS) -> tuple[list[Now], list[float]]:
    """Return the course of a charge, in steps, and when its phases end.

        V = U(s) + c r + v,    ds/dt = c,    dv/dt = (c r1 - v) / t1,    c = lowest that I, P / V and V <= V_full allow
        V, U, v in V, s a fraction, c in C, r and r1 in ohm Ah, t and t1 in h, I in A, P in W per cell

    Constant current is exact in each step. Constant power takes the mean of the currents at both ends of a step. Constant
    voltage solves for the current at the end of the step (implicit), so that no step is too long for a low resistance.

    Args:
        terms: what the charge is held to.
        start_state: state of charge at the start, a fraction from 0 to 1.
        steps: steps for a whole capacity, 30 or more.

    Returns:
        The run, and four times in h: its start, and the ends of constant current, constant power and constant voltage.

    Refuses: nothing.

    Source: circuit theory; checked against full electrochemical runs of published parameter sets.

    >>> from calc.physics.cells import Cell
    >>> slow = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.05, slow_ohm_ah=0.05, slow_time_min=0.1)
    >>> terms = ChargeTerms(cell=slow, rate_c=1.0, power=None, power_v=4.2, full_v=4.2, taper_c=0.1, target=1.0)
    >>> run, ends = charge_in_steps(terms, 0.2)
    >>> round((ends[1] - ends[0]) * 60, 2)
    38.0
    """
    phases = _Phases(terms, steps)
    run = [terms.start(start_state)]
    ends = [run[-1].time_h]
    for phase in (phases.constant_current, phases.constant_power, phases.constant_voltage):
        phase(run)
        ends.append(run[-1].time_h)
    return run, ends


@dataclass(frozen=True, slots=True)
class _Phases:
    """The three phases of one charge; each appends to the run until its own end, and nothing if that is past."""

    terms: ChargeTerms
    steps: int

    def constant_current(self, run: list[Now]) -> None:
        """Go on at the set current until power or the full voltage binds."""
        power_v, target = self.terms.power_v, self.terms.target
        go_on(run, self._current_step, self._step_h, lambda now: now.cell_v >= power_v or now.state >= target)

    def constant_power(self, run: list[Now]) -> None:
        """Go on at the power until the full voltage binds."""
        full_v, target = self.terms.full_v, self.terms.target
        if self.terms.power is not None:
            go_on(run, self._power_step, self._step_h, lambda now: now.cell_v >= full_v or now.state >= target)

    def constant_voltage(self, run: list[Now]) -> None:
        """Hold the full voltage until the current has tapered."""
        taper_c, target = self.terms.taper_c, self.terms.target
        go_on(run, self._voltage_step, self._voltage_step_h, lambda now: now.rate_c <= taper_c or now.state >= target)

    def _current_step(self, now: Now, step_h: float) -> Now:
        cell, rate_c = self.terms.cell, self.terms.rate_c
        state = now.state + rate_c * step_h
        slow_v = slow_after(cell, now, rate_c, step_h)
        cell_v = voltage_and_slope(cell.curve, state)[0] + rate_c * cell.resistance_ohm_ah + slow_v
        return Now(now.time_h + step_h, state, slow_v, rate_c, cell_v)

    def _power_step(self, now: Now, step_h: float) -> Now:
        cell, rate_c = self.terms.cell, now.rate_c
        for _ in range(2):
            mean_c = (now.rate_c + rate_c) / 2
            state = now.state + mean_c * step_h
            slow_v = slow_after(cell, now, mean_c, step_h)
            behind_v = voltage_and_slope(cell.curve, state)[0] + slow_v
            rate_c = self.terms.rate_at_power(behind_v)
        return Now(now.time_h + step_h, state, slow_v, rate_c, behind_v + rate_c * cell.resistance_ohm_ah)

    def _step_h(self, now: Now) -> float:
        """The time that fills one of the steps at the present current."""
        return 1 / (self.steps * now.rate_c)

    def _voltage_step_h(self, now: Now) -> float:
        """A small part of the time in which the current would fall to a third, unless that fills more than a step."""
        cell = self.terms.cell
        slope = voltage_and_slope(cell.curve, now.state)[1]
        time_constant_h = (cell.resistance_ohm_ah + cell.slow_ohm_ah) / slope
        return min(self._step_h(now), time_constant_h * _STEPS_PER_TIME_CONSTANT / self.steps)

    def _voltage_step(self, now: Now, step_h: float) -> Now:
        """Newton's method on the current at the end; the curve is of straight pieces, so a few rounds end it."""
        cell, full_v = self.terms.cell, self.terms.full_v
        faded = exp(-step_h / h_from_min(cell.slow_time_min))
        resistance = cell.resistance_ohm_ah + cell.slow_ohm_ah * (1 - faded)
        kept_v = now.slow_v * faded - full_v
        rate_c = now.rate_c
        for _ in range(12):
            state = now.state + (now.rate_c + rate_c) / 2 * step_h
            resting_v, slope = voltage_and_slope(cell.curve, state)
            change = (resting_v + kept_v + rate_c * resistance) / (slope * step_h / 2 + resistance)
            rate_c -= change
            if -1e-12 < change < 1e-12:
                break
        slow_v = rate_c * cell.slow_ohm_ah * (1 - faded) + now.slow_v * faded
        state = now.state + (now.rate_c + rate_c) / 2 * step_h
        return Now(now.time_h + step_h, state, slow_v, rate_c, full_v)
