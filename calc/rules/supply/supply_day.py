"""A lead-acid battery over the day: its charge and its voltage as one pack after another is charged from it.

The battery is its resting voltage at the charge it has left, behind its own resistance and the lead. A high current takes
more out of it than flows (Peukert). Rest between charges is not counted as recovery, so the day looks worse rather than better.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from calc.facts.lead_acid import LEAD_ACID
from calc.figures.units import fraction_from_percent, h_from_min
from calc.inputs.equipment import ChargerEntries
from calc.inputs.supply import SupplyEntries
from calc.physics.cell.charging import Charge
from calc.physics.cell.courses import moment_at
from calc.physics.supply.lead_acid import battery_rest_v, battery_state_percent, capacity_at_current_ah
from calc.physics.supply.source import current_for_power_a, source_resistance_ohm
from calc.rules.supply.battery_floor import floor_of

_STEPS_PER_CHARGE = 48


class SupplyMoment(NamedTuple):
    """The battery at one minute of the day."""

    time_min: float
    charged_percent: float
    current_a: float
    charger_input_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OneCharge:
    """What one charge of the day did to the battery, and the minute of the day at which it ended."""

    ended_min: float
    before_percent: float
    after_percent: float
    taken_ah: float
    peak_current_a: float
    least_input_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """The day: each charge that could be finished, the course, and where it came to an end.

    `floor_at` and `stopped_at` hold (charge number, minutes into it), or None if that never came.
    """

    charges: tuple[OneCharge, ...]
    trace: tuple[SupplyMoment, ...]
    floor_percent: float
    floor_at: tuple[int, float] | None
    stopped_at: tuple[int, float] | None

    @property
    def charger_stops_first(self) -> bool:
        """Whether the charger stops before the battery comes to its floor."""
        return self.stopped_at is not None and self.floor_at is None

    @property
    def charges_above_floor(self) -> int:
        """Whole charges that leave the battery above its floor."""
        return sum(charge.after_percent >= self.floor_percent for charge in self.charges)


def day_of(*, supply: SupplyEntries, charger: ChargerEntries, run: Charge, cell_count: float, charges: int) -> Day:
    """Return the battery's day: so many charges alike, one after the other, until the charger stops for low input or the battery is empty.

    U_in = U(s) - I R        ds/dt = -I / Q(I)        I from P_pack / eta        Q(I) by Peukert
    """
    battery = _Battery(supply, charger, charged_percent=battery_state_percent(LEAD_ACID[supply.battery_kind], supply.battery_resting_v))
    done: list[OneCharge] = []
    for number in range(1, charges + 1):
        before_percent, first = battery.charged_percent, len(battery.trace)
        taken_ah = battery.charge_once(number, run, cell_count)
        if battery.stopped_at:
            break
        during = battery.trace[first:]
        done.append(
            OneCharge(
                ended_min=battery.time_min,
                before_percent=before_percent,
                after_percent=battery.charged_percent,
                taken_ah=taken_ah,
                peak_current_a=max(moment.current_a for moment in during),
                least_input_v=min(moment.charger_input_v for moment in during),
            )
        )
    return Day(
        charges=tuple(done),
        trace=tuple(battery.trace),
        floor_percent=battery.floor_percent,
        floor_at=battery.floor_at,
        stopped_at=battery.stopped_at,
    )


class _Battery:
    """The battery as the day draws it down."""

    def __init__(self, supply: SupplyEntries, charger: ChargerEntries, charged_percent: float) -> None:
        self.kind = LEAD_ACID[supply.battery_kind]
        self.battery_ah = supply.battery_ah
        self.resistance_ohm = source_resistance_ohm(supply)
        self.efficiency = fraction_from_percent(charger.efficiency_percent)
        self.least_v = charger.charger_input_least_v
        self.floor_percent = floor_of(supply).value
        self.charged_percent = charged_percent
        self.time_min = 0.0
        self.trace: list[SupplyMoment] = []
        self.floor_at: tuple[int, float] | None = None
        self.stopped_at: tuple[int, float] | None = None

    def charge_once(self, number: int, run: Charge, cell_count: float) -> float:
        """Draw one charge, in equal steps of time; return the ampere-hours taken, or stop when the input sinks too low."""
        step_min = run.time_min / _STEPS_PER_CHARGE
        taken_ah = 0.0
        for step in range(_STEPS_PER_CHARGE):
            # The middle of the step stands for all of it.
            into_min = (step + 0.5) * step_min
            moment = moment_at(run.trace, into_min)
            drawn = self._drawn(moment.current_a * moment.cell_v * cell_count)
            if drawn is None:
                self.stopped_at = (number, into_min)
                return taken_ah
            current_a, input_v = drawn
            self.time_min += step_min
            hours = h_from_min(step_min)
            taken_ah += current_a * hours
            if current_a > 0:
                full_ah = capacity_at_current_ah(self.battery_ah, current_a, self.kind.peukert_exponent.value)
                self.charged_percent -= current_a * hours / (full_ah * fraction_from_percent(1))
            if self.floor_at is None and self.charged_percent < self.floor_percent:
                self.floor_at = (number, into_min)
            is_empty, self.charged_percent = self.charged_percent < 0, max(self.charged_percent, 0.0)
            self.trace.append(SupplyMoment(self.time_min, self.charged_percent, current_a, input_v))
            if is_empty:
                self.stopped_at = (number, into_min)
                return taken_ah
        return taken_ah

    def _drawn(self, pack_power_w: float) -> tuple[float, float] | None:
        """The current and the voltage at the charger, or None where the battery is empty or sinks below its lowest input."""
        if self.charged_percent <= 0:
            return None
        open_v = battery_rest_v(self.kind, self.charged_percent)
        power_w = pack_power_w / self.efficiency
        if 4 * self.resistance_ohm * power_w > open_v * open_v:
            return None
        current_a = current_for_power_a(open_v, self.resistance_ohm, power_w)
        input_v = open_v - current_a * self.resistance_ohm
        return None if input_v < self.least_v else (current_a, input_v)


def at_times(trace: tuple[SupplyMoment, ...], times: list[float], of: Callable[[SupplyMoment], float]) -> list[float]:
    """Return one value of the day at each of these rising times: that of the last moment before it, or the first.

    >>> trace = (SupplyMoment(10, 90, 5, 12.3), SupplyMoment(20, 80, 5, 12.2))
    >>> at_times(trace, [0, 15, 30], lambda moment: moment.charged_percent)
    [90, 90, 80]
    """
    values, place = [], 0
    for time_min in times:
        while place + 1 < len(trace) and trace[place + 1].time_min <= time_min:
            place += 1
        values.append(of(trace[place]))
    return values
