"""What a charge may take, as spans: the likely course, and the courses at the corners of what is not known.

Not known are the state of charge at the start, the resistance, the curve of the chemistry, and when the charger calls the
pack full. Each corner puts them together so that one phase, or the whole, comes out shortest or longest.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from itertools import product
from math import inf, log

from calc.facts.cell_parameters import TAPER_RATE_C
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.figures.units import min_from_h
from calc.physics.cell.cells import Cell, cell_on_charge, edge_curves, state_at, voltage_and_slope
from calc.physics.cell.charge_terms import ChargeTerms
from calc.physics.cell.charging import Charge, charge
from calc.physics.cell.courses import minutes_to, moment_at
from calc.physics.cell.pieces import go_to
from calc.physics.cell.runs import Instant


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """A charge forecast: the likely run, the runs at the corners, and the span over all of them.

    The minutes at constant power have bounds of their own: on a flat curve they are longest between the corners. `corners` holds
    those of the lowest curve first, then those of the highest in the same order.
    """

    likely: Charge
    corners: tuple[Charge, ...]
    constant_power_min: Span

    def span(self, of: Callable[[Charge], float]) -> Span:
        """Return the least, the likely and the most of one thing over all runs, in its own unit.

        Source: the runs of this forecast.

        >>> coming = forecast("lipo", start_state=Span(0.2, 0.2, 0.2), full_cell_v=4.2, capacity_ah=5.0, current_a=5.0,
        ...     resistance_ohm_ah=Span(0.02, 0.02, 0.02))
        >>> round(coming.span(lambda run: run.peak_power_w).likely, 2)
        21.0
        """
        corners = [of(run) for run in self.corners]
        likely = of(self.likely)
        return Span(min(likely, *corners), likely, max(likely, *corners))

    @property
    def constant_current_min(self) -> Span:
        """Minutes at constant current."""
        return self.span(lambda run: run.constant_current_min)

    @property
    def constant_voltage_min(self) -> Span:
        """Minutes at constant voltage."""
        return self.span(lambda run: run.constant_voltage_min)

    @property
    def time_min(self) -> Span:
        """Minutes from start to end, without balancing. Not the sum of the phases' ends: no pack is longest in all."""
        corners = self.span(lambda run: run.time_min)
        # A curve between the edges may take the current of the lowest and be called full as early as the highest.
        half = len(self.corners) // 2
        between = (
            minutes_to(low.trace, min(low.trace[-1].state, high.trace[-1].state))
            for low, high in zip(self.corners[:half], self.corners[half:], strict=True)
        )
        least = min([corners.least, *(time_min for time_min in between if time_min is not None)])
        return Span(least, corners.likely, corners.most)

    @property
    def capacity_in_ah(self) -> Span:
        """Ampere-hours put into the pack."""
        return self.span(lambda run: run.capacity_in_ah)

    @property
    def energy_in_wh(self) -> Span:
        """Watt-hours put into the pack, its heat included."""
        return self.span(lambda run: run.energy_in_wh)

    @property
    def heat_wh(self) -> Span:
        """Watt-hours that become heat in the pack."""
        return self.span(lambda run: run.heat_wh)

    @property
    def peak_power_w(self) -> Span:
        """The highest power into the pack, W."""
        return self.span(lambda run: run.peak_power_w)

    def state_at(self, time_min: float) -> Span:
        """Return the state of charge, fractions, if the charge is stopped at a minute, 0 or more.

        Source: the runs of this forecast.

        >>> coming = forecast("lipo", start_state=Span(0.2, 0.2, 0.2), full_cell_v=4.2, capacity_ah=5.0, current_a=5.0,
        ...     resistance_ohm_ah=Span(0.02, 0.02, 0.02))
        >>> round(coming.state_at(30.0).likely, 3)
        0.7
        """
        return self.span(lambda run: moment_at(run.trace, time_min).state)

    def minutes_to(self, state: float) -> Span | None:
        """Return the minutes until a state of charge, a fraction, is reached; None if one of the runs ends below it.

        Source: the runs of this forecast.

        >>> coming = forecast("lipo", start_state=Span(0.2, 0.2, 0.2), full_cell_v=4.2, capacity_ah=5.0, current_a=5.0,
        ...     resistance_ohm_ah=Span(0.02, 0.02, 0.02))
        >>> round(coming.minutes_to(0.7).likely, 3)
        30.0
        """
        minutes = [minutes_to(run.trace, state) for run in (self.likely, *self.corners)]
        reached = [time_min for time_min in minutes if time_min is not None]
        return Span(min(reached), reached[0], max(reached)) if len(reached) == len(minutes) else None


def over_both(first: Forecast, second: Forecast) -> Forecast:
    """Return one charge forecast over two, each part in its own unit, whichever of them comes true; most likely the first.

    Both are of one pack, so their curves are the same.

    Source: the runs of both forecasts.

    >>> cool, warm = (
    ...     forecast("lipo", start_state=Span(0.2, 0.2, 0.2), full_cell_v=4.2, capacity_ah=5.0, current_a=5.0,
    ...         resistance_ohm_ah=Span(ohm_ah, ohm_ah, ohm_ah))
    ...     for ohm_ah in (0.04, 0.02)
    ... )
    >>> both = over_both(cool, warm).time_min
    >>> both.least == warm.time_min.least, both.likely == cool.time_min.likely, both.most == cool.time_min.most
    (True, True, True)
    """
    halves = [(one.corners[: len(one.corners) // 2], one.corners[len(one.corners) // 2 :]) for one in (first, second)]
    power = [one.constant_power_min for one in (first, second)]
    return Forecast(
        likely=first.likely,
        corners=(*(corner for low, _ in halves for corner in low), *(corner for _, high in halves for corner in high)),
        constant_power_min=Span(min(one.least for one in power), power[0].likely, max(one.most for one in power)),
    )


def forecast(
    chemistry_key: str,
    *,
    start_state: Span,
    full_cell_v: float,
    capacity_ah: float,
    current_a: float,
    resistance_ohm_ah: Span,
    power_w_per_cell: float | None = None,
    cell_count: int = 1,
) -> Forecast:
    """Return the likely course of a charge, and the courses that bound it.

        corners = {lowest, highest curve} x {lowest start and cut-off, highest start and cut-off} x {least, most resistance}

    The cut-off is a rate of the capacity, or below 1 C a share of the set current: chargers do either. A cell that must not be
    charged is refused before.

    Args:
        chemistry_key: a key of `CHEMISTRIES`.
        start_state: state of charge at the start, fractions from 0 to 1.
        full_cell_v: voltage at which the charger holds a cell, V.
        capacity_ah: capacity as measured, or that on the label, Ah, above 0.
        current_a: the lowest of all limits on the current, A, above 0.
        resistance_ohm_ah: what a cell shows over a whole charge times its capacity, ohm Ah, above 0.
        power_w_per_cell: the lowest of all limits on the charger's output power, W for each cell; None if none binds.
        cell_count: cells in series, 1 or more.

    Source: `charging.charge`; cut-offs from `TAPER_RATE_C`.

    >>> coming = forecast("lipo", start_state=Span(0.0, 0.0, 0.0), full_cell_v=4.2, capacity_ah=2.2, current_a=2.2,
    ...     resistance_ohm_ah=Span(0.011, 0.022, 0.036))
    >>> f"{coming.time_min.least:.0f} to {coming.time_min.most:.0f}, likely {coming.time_min.likely:.0f} min"
    '60 to 65, likely 62 min'
    """
    slowed = min(1.0, current_a / capacity_ah)

    def cell_of(curve: tuple[float, ...], resistance: float) -> Cell:
        return cell_on_charge(chemistry_key, curve, capacity_ah=capacity_ah, resistance_ohm_ah=resistance)

    def run(curve: tuple[float, ...], state: float, resistance: float, taper_rate_c: float) -> Charge:
        return charge(
            cell_of(curve, resistance),
            start_state=state,
            full_cell_v=full_cell_v,
            current_a=current_a,
            taper_rate_c=taper_rate_c,
            power_w_per_cell=power_w_per_cell,
            cell_count=cell_count,
        )

    low_curve, high_curve = edge_curves(chemistry_key)
    starts = ((start_state.least, TAPER_RATE_C.most.value * slowed), (start_state.most, TAPER_RATE_C.least.value))
    resistances = (resistance_ohm_ah.least, resistance_ohm_ah.most)
    likely = run(
        CHEMISTRIES[chemistry_key].resting.likely.cell_v, start_state.likely, resistance_ohm_ah.likely, TAPER_RATE_C.likely.value * slowed
    )
    corners = tuple(
        run(curve, state, resistance, taper_rate_c)
        for curve, (state, taper_rate_c), resistance in product((low_curve, high_curve), starts, resistances)
    )
    if power_w_per_cell is None:
        return Forecast(likely=likely, corners=corners, constant_power_min=Span(0.0, 0.0, 0.0))
    minutes = partial(_power_minutes, full_v=full_cell_v, rate_c=current_a / capacity_ah, power=power_w_per_cell / capacity_ah)
    low_end, high_end = cell_of(low_curve, resistance_ohm_ah.least), cell_of(high_curve, resistance_ohm_ah.most)
    power_min = Span(
        min(minutes(start_state.most, begins=low_end, ends=high_end), likely.constant_power_min),
        likely.constant_power_min,
        max(minutes(start_state.least, begins=high_end, ends=low_end), likely.constant_power_min),
    )
    return Forecast(likely=likely, corners=corners, constant_power_min=power_min)


def _power_minutes(start_state: float, *, begins: Cell, ends: Cell, full_v: float, rate_c: float, power: float) -> float:
    """Minutes from where the power binds on one cell to where the full voltage binds on another."""
    terms = ChargeTerms(cell=begins, rate_c=inf, power=power, power_v=0.0, full_v=inf, taper_c=0.0, target=inf)
    power_v, full_c = min(power / rate_c, full_v), min(rate_c, power / full_v)
    end_state = state_at(ends.curve, full_v - full_c * ends.resistance_ohm_ah) - ends.lead_h * full_c
    begin = max(terms.surface_at(start_state), state_at(begins.curve, power_v - rate_c * begins.resistance_ohm_ah))
    end = max(begin, terms.surface_at(end_state))
    begin_v = voltage_and_slope(begins.curve, begin)[0]
    begin_c = terms.rate_at_power(begin_v)
    run = [Instant(0.0, begin, begin_c, begin_v + begin_c * begins.resistance_ohm_ah)]
    go_to(run, begins, end, terms.rate_at_power)
    return min_from_h(run[-1].time_h + begins.lead_h * log(begin_c / run[-1].rate_c))


def balancing_minutes(imbalance_ah: Span, balance_current_a: float) -> Span:
    """Return the minutes that a charger needs to bring the cells level: its own line, after or during the charge.

        t = dQ / I        dQ in Ah between the fullest and the emptiest cell, 0 or more, I past a cell in A, above 0

    Source: the definition of the ampere-hour.

    >>> round(balancing_minutes(Span(0.022, 0.066, 0.11), 0.2).likely, 1)
    19.8
    """
    return imbalance_ah.times(min_from_h(1 / balance_current_a))
