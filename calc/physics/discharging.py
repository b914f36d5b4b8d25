"""A discharge on the charger, minute by minute, and the way to the storage voltage by counted charge.

A charger that discharges turns the energy into heat, so its power binds first, while the voltage is high; the set current
binds once the voltage has sunk. The terminals show less than the cell will rest at, by the current times its resistance: a
discharge that stops when they show the wanted voltage stops early. So does a charge, on the other side.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt

from calc.facts.cell_parameters import TAPER_RATE_C
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.resting_voltages import RESTING_TABLES
from calc.figures.spans import Span
from calc.figures.units import min_from_h
from calc.physics.cells import Cell, share_between, state_at, voltage_and_slope
from calc.physics.charging import Charge, charge
from calc.physics.courses import Moment
from calc.physics.stepping import Now, course, energy_and_heat_wh, go_on, slow_after

_STEPS = 120


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
    """The way to the storage voltage: up or down, what to move, how long, and what the terminals show meanwhile.

    `shows_at_end_cell_v` is what they show when the count is reached. A pack that is stopped when they first show the
    target rests at `rests_if_stopped_by_voltage_cell_v` instead.
    """

    charges: bool
    capacity_ah: Span
    time_min: Span
    shows_at_end_cell_v: Span
    rests_if_stopped_by_voltage_cell_v: Span
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
    steps: int = _STEPS,
) -> Discharge:
    """Return the course of a discharge of `cell_count` like cells in series.

        V = U(s) - c r - v,    ds/dt = -c,    dv/dt = (c r1 - v) / t1,    c = the lower of I and P / V
        V, U, v in V, s a fraction, c in C, r and r1 in ohm Ah, t and t1 in h, I in A, P in W per cell

    Args:
        cell: the cell; its resistance above 0.
        start_state: state of charge at the start, a fraction from 0 to 1.
        current_a: the lowest of all limits on the current, A, above 0.
        cutoff_cell_v: the discharge ends when a cell shows this under load, V.
        power_w_per_cell: the most that the charger can turn into heat, W for each cell; None if it does not bind.
        until_state: stop at this state of charge, a fraction; None to go on to the cut-off.
        cell_count: cells in series, 1 or more.
        steps: steps for a whole capacity, 30 or more.

    Returns:
        The discharge; of no minutes if the cut-off or the state is reached at once.

    Refuses: nothing; a cell that must not be discharged is refused before.

    Source: circuit theory; checked against full electrochemical runs of published parameter sets.

    >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
    >>> done = discharge(straight, start_state=1.0, current_a=5.0, cutoff_cell_v=3.8)
    >>> round(done.time_min, 2), round(done.end_state, 2)
    (30.0, 0.5)
    """
    rate_c = current_a / cell.capacity_ah
    power = inf if power_w_per_cell is None else power_w_per_cell / cell.capacity_ah
    target = -inf if until_state is None else until_state
    resistance = cell.resistance_ohm_ah

    def rate_at_power(behind_v: float) -> float:
        # A cell that cannot give the power at all gives the set current: then power does not bind.
        root = behind_v * behind_v - 4 * power * resistance
        return power / ((behind_v + sqrt(root)) / 2) if root >= 0 else inf

    def power_step(now: Now, step_h: float) -> Now:
        after_c = now.rate_c
        for _ in range(2):
            mean_c = (now.rate_c + after_c) / 2
            state = now.state - mean_c * step_h
            slow_v = slow_after(cell, now, mean_c, step_h)
            behind_v = voltage_and_slope(cell.curve, state)[0] - slow_v
            after_c = min(rate_c, rate_at_power(behind_v))
        return Now(now.time_h + step_h, state, slow_v, after_c, behind_v - after_c * resistance)

    def current_step(now: Now, step_h: float) -> Now:
        state = now.state - rate_c * step_h
        slow_v = slow_after(cell, now, rate_c, step_h)
        cell_v = voltage_and_slope(cell.curve, state)[0] - slow_v - rate_c * resistance
        return Now(now.time_h + step_h, state, slow_v, rate_c, cell_v)

    def is_spent(now: Now) -> bool:
        return now.cell_v <= cutoff_cell_v or now.state <= target

    def length_h(now: Now) -> float:
        return 1 / (steps * now.rate_c)

    resting_v = voltage_and_slope(cell.curve, start_state)[0]
    start_c = min(rate_c, rate_at_power(resting_v))
    run = [Now(0.0, start_state, 0.0, start_c, resting_v - start_c * resistance)]
    go_on(run, power_step, length_h, lambda now: now.rate_c >= rate_c or is_spent(now))
    power_end_h = run[-1].time_h
    go_on(run, current_step, length_h, is_spent)
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
) -> Storage:
    """Return how a rested pack comes to the voltage that it should be stored at, by counting the charge.

        t = ds Q / I        ds the share to move, Q in Ah, I in A, t in h; between the slowest and the fastest current of the run
        shown at the end:   U_target + I r on charge, U_target - I r on discharge

    Args:
        chemistry_key: a key of `RESTING_TABLES`.
        resting_cell_v: resting voltage now, V.
        target_cell_v: resting voltage wanted, V, below full.
        capacity_ah: capacity as measured, or that on the label, Ah, above 0.
        current_a: the lowest of all limits on the current, A, above 0.
        resistance_ohm_ah: resistance of a cell times its capacity, ohm Ah, above 0.
        power_w_per_cell: the most that the charger can give, or turn into heat, W for each cell; None if it does not bind.
        cell_count: cells in series, 1 or more.

    Returns:
        The way to the target.

    Refuses: a voltage below the chemistry's floor, or above its upper limit.

    Source: `share_between`; checked against full electrochemical runs of published parameter sets.

    >>> way = storage("lipo", resting_cell_v=4.2, target_cell_v=3.82, capacity_ah=2.2, current_a=1.1,
    ...     resistance_ohm_ah=Span(0.011, 0.022, 0.036))
    >>> way.charges, f"{way.time_min.least:.0f} to {way.time_min.most:.0f}, likely {way.time_min.likely:.0f} min"
    (False, '40 to 62, likely 52 min')
    """
    charges = target_cell_v >= resting_cell_v
    share = share_between(chemistry_key, resting_cell_v, target_cell_v)
    curve = RESTING_TABLES[chemistry_key].likely.cell_v
    cell = Cell(curve=curve, capacity_ah=capacity_ah, resistance_ohm_ah=resistance_ohm_ah.likely)
    start_state, end_state = state_at(curve, resting_cell_v), state_at(curve, target_cell_v)
    likely = _counted(chemistry_key, cell, start_state, end_state, current_a, power_w_per_cell, cell_count)
    currents = [moment.current_a for moment in likely.trace]
    lost_v = resistance_ohm_ah.times(currents[-1] / capacity_ah)
    losses_v = (lost_v.least, lost_v.likely, lost_v.most)
    if charges:
        shown = Span(*(target_cell_v + loss_v for loss_v in losses_v))
        rests = Span(*(max(target_cell_v - loss_v, resting_cell_v) for loss_v in reversed(losses_v)))
    else:
        shown = Span(*(target_cell_v - loss_v for loss_v in reversed(losses_v)))
        rests = Span(*(min(target_cell_v + loss_v, resting_cell_v) for loss_v in losses_v))
    return Storage(
        charges=charges,
        capacity_ah=share.times(capacity_ah),
        time_min=Span(
            min_from_h(share.least * capacity_ah / max(currents)),
            likely.time_min,
            min_from_h(share.most * capacity_ah / min(currents)),
        ),
        shows_at_end_cell_v=shown,
        rests_if_stopped_by_voltage_cell_v=rests,
        likely=likely,
    )


def _counted(
    chemistry_key: str,
    cell: Cell,
    start_state: float,
    end_state: float,
    current_a: float,
    power_w_per_cell: float | None,
    cell_count: int,
) -> Charge | Discharge:
    """The run that moves the charge between two states, up or down."""
    chemistry = CHEMISTRIES[chemistry_key]
    if end_state >= start_state:
        return charge(
            cell,
            start_state=start_state,
            full_cell_v=chemistry.full_cell_v.value,
            current_a=current_a,
            taper_rate_c=TAPER_RATE_C.most.value,
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
