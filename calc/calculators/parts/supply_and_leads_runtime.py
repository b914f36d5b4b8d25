"""How far a battery goes at a steady current, ready to be shown: its charge, what ends it first, ampere-hours and hours."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.lead_acid import LEAD_ACID, STARTING_CURRENT_A, STARTING_MIN
from calc.figures.quantities import AMPERE_HOURS, AMPERES, DEGREES_CELSIUS, HOURS, MINUTES, PERCENT, SUPPLY_VOLTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Setting
from calc.figures.units import fraction_from_percent, h_from_min, min_from_h, percent_from_fraction
from calc.inputs.supply import VEHICLE, SupplyEntries
from calc.physics.supply.battery_runtime import Runtime, cold_share
from calc.presenting.supply_load import floor_words

_SHORT_H = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class RuntimeShown:
    """How far a battery goes; all of it None for a mains supply, which does not run down."""

    charged: Setting | None = None
    ends_by: Setting | None = None
    full_capacity: Setting | None = None
    usable: Setting | None = None
    time: Setting | None = None
    kept_to_start: Setting | None = None


def runtime_shown(
    supply: SupplyEntries, runtime: Runtime, *, current_a: float, charger_input_least_v: float, battery_degc: float | None
) -> RuntimeShown:
    """Return how far a battery goes at a steady current."""
    at = Figure(current_a, AMPERES)
    kind = LEAD_ACID[supply.battery_kind]
    return RuntimeShown(
        charged=Setting(
            figure=Figure(runtime.charged_percent, PERCENT),
            set_by=f"its resting voltage, {Figure(supply.battery_resting_v, SUPPLY_VOLTS.to_step(0.01))}",
            note="Other tables differ by up to a tenth of a volt, which is 10 to 15 points of charge.",
        ),
        ends_by=_ends_by(supply, runtime, charger_input_least_v),
        full_capacity=Setting(
            figure=Figure(down_to_step(runtime.full_ah, 0.1), AMPERE_HOURS),
            set_by=f"{Figure(supply.battery_ah, AMPERE_HOURS)} on the label, at {at} (Peukert's law, exponent {kind.peukert_exponent.value:.2f})",
            note=_cold_note(battery_degc),
        ),
        usable=Setting(figure=Figure(down_to_step(runtime.usable_ah, 0.1), AMPERE_HOURS), set_by=_end_words(supply, runtime)),
        time=Setting(
            figure=_time(runtime.time_h),
            set_by=f"{at} all the time, without a pause",
            note="Packs draw less as they fill, so the day is longer than this. It is no promise for an old battery.",
        ),
        kept_to_start=_kept_to_start(supply, runtime),
    )


def _time(time_h: float) -> Figure:
    """Hours, or minutes where a tenth of an hour would hide too much."""
    if time_h < _SHORT_H:
        return Figure(down_to_step(min_from_h(time_h), 1), MINUTES)
    return Figure(down_to_step(time_h, 0.1), HOURS)


def _end_words(supply: SupplyEntries, runtime: Runtime) -> str:
    return "the charger's lowest input, behind this lead" if runtime.charger_stops_first else floor_words(supply)


def _ends_by(supply: SupplyEntries, runtime: Runtime, least_v: float) -> Setting:
    least = Figure(least_v, SUPPLY_VOLTS)
    if runtime.charger_stops_first:
        return Setting(
            figure="the charger stops",
            set_by=f"its lowest input, {least}, reached when the battery still holds {Figure(runtime.ends_percent, PERCENT)}",
            note="A shorter or thicker lead, or less power, gets more out of the battery.",
        )
    return Setting(
        figure="you stop it",
        set_by=floor_words(supply),
        note=f"The charger does not see it: it would go on down to its lowest input, {least}. Let the battery rest and measure it between charges.",
    )


def _cold_note(battery_degc: float | None) -> str:
    if battery_degc is None:
        return "A cold battery gives less: enter its temperature to count that."
    share = Figure(percent_from_fraction(cold_share(battery_degc)), PERCENT)
    return worded("Multiplied by {} for a battery at {}, by US Army TM 9-6140.", share, Figure(battery_degc, DEGREES_CELSIUS))


def _kept_to_start(supply: SupplyEntries, runtime: Runtime) -> Setting | None:
    if supply.supply_kind != VEHICLE:
        return None
    kept_percent, set_by = runtime.floor_percent, floor_words(supply)
    if runtime.charged_percent < kept_percent:
        kept_percent, set_by = runtime.charged_percent, "what it holds now, which is less than it should keep"
    starting_ah = STARTING_CURRENT_A.value * h_from_min(STARTING_MIN.value)
    return Setting(
        figure=Figure(fraction_from_percent(kept_percent) * supply.battery_ah, AMPERE_HOURS),
        set_by=set_by,
        note=(
            f"Three tries to start take about {Figure(starting_ah, AMPERE_HOURS)}. The rest is kept because a battery that is low or cold "
            "cannot give a starter its current, however many ampere-hours it still holds."
        ),
    )
