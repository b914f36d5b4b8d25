"""How far a lead-acid battery goes at a steady current, what ends it first, and how long it takes to fill it again."""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import Protocol

from calc.facts.lead_acid import (
    ACCEPTANCE_H,
    COLD_CAPACITY_PERCENT,
    FULL_AGAIN_PERCENT,
    LEAD_ACID,
    REFILL_FACTOR_LEAST,
    REFILL_FACTOR_MOST,
    SLOW_ACCEPTANCE_H,
)
from calc.figures.units import degf_from_degc, fraction_from_percent
from calc.physics.supply.lead_acid import battery_state_percent, capacity_at_current_ah, interpolated


class Battery(Protocol):
    """A lead-acid battery: its kind, a key of `LEAD_ACID`, its capacity in Ah and its voltage at rest."""

    @property
    def battery_kind(self) -> str: ...
    @property
    def battery_ah(self) -> float: ...
    @property
    def battery_resting_v(self) -> float: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Runtime:
    """A battery at a steady current: its charge now, where it ends and by what, and what it gives until then."""

    charged_percent: float
    floor_percent: float
    charger_stops_percent: float
    full_ah: float
    usable_ah: float
    time_h: float

    @property
    def ends_percent(self) -> float:
        """The charge at which it ends: at the floor, or where the charger stops for low input, whichever comes first."""
        return max(self.floor_percent, self.charger_stops_percent)

    @property
    def charger_stops_first(self) -> bool:
        """Whether the charger ends it, so that nobody has to watch for the floor."""
        return self.charger_stops_percent > self.floor_percent


def cold_share(battery_degc: float) -> float:
    """Return the share of its capacity, a fraction up to 1, that a lead-acid battery gives at its own temperature, °C.

    Straight lines join the table's rows; below its coldest row the first line goes on, down to none.

    Source: US Army TM 9-6140-200-14 (TM 10-6140-200-14), paragraph 1-9; SAE J537 for the temperature of the rating.

    >>> cold_share(0), cold_share(30)
    (0.75, 1.0)
    """
    percent = interpolated([(degf, percent.value) for degf, percent in COLD_CAPACITY_PERCENT], degf_from_degc(battery_degc))
    return fraction_from_percent(min(max(percent, 0.0), 100.0))


def runtime_of(
    battery: Battery, current_a: float, *, floor_percent: float, lost_v: float, charger_input_least_v: float, battery_degc: float | None
) -> Runtime:
    """Return how long a battery runs at a steady current, and what ends it first; 0 Ah if it is at its end already.

        Q = (s - s_end) x Q(I) x cold share        t = Q / I        the charger stops where U(s) - dU = U_least

    Args:
        battery: kind, capacity and resting voltage.
        current_a: A, above 0.
        floor_percent: the charge below which it is not taken, %.
        lost_v: what the battery's own resistance, the lead and the connectors lose at that current, V.
        charger_input_least_v: the charger's lowest input, V.
        battery_degc: the battery's temperature, °C; None counts as that of its rating.

    Source: the rest-voltage table, Peukert's law; the floor is common practice, no source.

    >>> from types import SimpleNamespace
    >>> battery = SimpleNamespace(battery_kind="flooded", battery_ah=70, battery_resting_v=12.65)
    >>> runtime = runtime_of(battery, 3.5, floor_percent=50, lost_v=0.2, charger_input_least_v=11, battery_degc=None)
    >>> round(runtime.usable_ah, 6), round(runtime.time_h, 6), runtime.charger_stops_first
    (35.0, 10.0, False)
    """
    kind = LEAD_ACID[battery.battery_kind]
    charged_percent = battery_state_percent(kind, battery.battery_resting_v)
    stops_percent = battery_state_percent(kind, charger_input_least_v + lost_v)
    share = 1.0 if battery_degc is None else cold_share(battery_degc)
    full_ah = capacity_at_current_ah(battery.battery_ah, current_a, kind.peukert_exponent.value) * share
    usable_ah = fraction_from_percent(max(0.0, charged_percent - max(floor_percent, stops_percent))) * full_ah
    return Runtime(
        charged_percent=charged_percent,
        floor_percent=floor_percent,
        charger_stops_percent=stops_percent,
        full_ah=full_ah,
        usable_ah=usable_ah,
        time_h=usable_ah / current_a,
    )


def refill_h(battery_ah: float, from_percent: float, charger_a: float) -> tuple[float, float]:
    """Return how long it takes to fill a lead-acid battery again, in hours: the shortest, by the ampere-hour law with little overcharge,
    and the longest, by a slow battery with more.

        t = k ((q - q_tail) / I + T ln(q_tail / q_end))        q missing, q_tail = I T or q if that is less; q in Ah, T and t in h

    The charger gives its current until the battery accepts less; from there the current falls with what is missing.

    Source: the ampere-hour law (Woodbridge 1935); the slow end is common practice, no source.

    >>> [round(hours, 1) for hours in refill_h(battery_ah=70, from_percent=50, charger_a=7)]
    [5.9, 11.6]
    """
    end_ah = battery_ah * fraction_from_percent(100 - FULL_AGAIN_PERCENT.value)
    # A battery that misses less than that is full, and takes no time.
    missing_ah = max(battery_ah * fraction_from_percent(100 - from_percent), end_ah)

    def hours(time_constant_h: float) -> float:
        tail_begins_ah = min(missing_ah, max(charger_a * time_constant_h, end_ah))
        return (missing_ah - tail_begins_ah) / charger_a + time_constant_h * log(tail_begins_ah / end_ah)

    return (hours(ACCEPTANCE_H.value) * REFILL_FACTOR_LEAST.value, hours(SLOW_ACCEPTANCE_H.value) * REFILL_FACTOR_MOST.value)
