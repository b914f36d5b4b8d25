"""What one charge takes from its supply, and how many such charges a battery holds."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import AMPERE_HOURS, AMPERES, CHARGES, PACK_VOLTS, PERCENT, WATT_HOURS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Range, Setting
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.battery_runtime import runtime_of
from calc.physics.supply.source import source_resistance_ohm
from calc.presenting.ranges import ends_of
from calc.presenting.supply_load import floor_words, lowest_input_words
from calc.rules.supply.battery_floor import floor_of
from calc.rules.supply.supply_demand import Demand


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyLoad:
    """What a charge takes from the supply; `charges` is None for a mains supply, which does not run down."""

    at_start: Setting
    at_peak: Setting
    mean: Setting
    used: Range
    energy: Range
    charges: Setting | None


def supply_load(supply: SupplyEntries, demand: Demand, charger_input_least_v: float) -> SupplyLoad:
    """Return what a charge takes from its supply."""
    return SupplyLoad(
        at_start=Setting(figure=Figure(demand.start_current_a, AMPERES), set_by="the pack's power at the start, through charger and lead"),
        at_peak=Setting(
            figure=Figure(demand.peak_current_a, AMPERES),
            set_by="the pack's power when it reaches its full voltage, through charger and lead",
        ),
        mean=Setting(figure=Figure(demand.mean_current_a, AMPERES), set_by="what is taken, over the likely time of the charge"),
        used=ends_of(demand.used_ah, demand.ampere_hours, "the charge put in is a range"),
        energy=ends_of(
            demand.used_wh,
            WATT_HOURS,
            "the charge put in is a range",
            note="What the pack takes, over the charger's efficiency; the lead's loss comes on top.",
        ),
        charges=charges_left(supply, demand, charger_input_least_v),
    )


def charges_left(supply: SupplyEntries, demand: Demand, charger_input_least_v: float) -> Setting | None:
    """Return how many such charges the battery holds, down to its floor or until the charger stops; None for a mains supply.

    n = usable Ah at the peak current / Ah of one charge, rounded down
    """
    if not supply.is_lead_acid or demand.used_ah.most == 0:
        return None
    runtime = runtime_of(
        supply,
        demand.peak_current_a,
        floor_percent=floor_of(supply).value,
        lost_v=demand.peak_current_a * source_resistance_ohm(supply),
        charger_input_least_v=charger_input_least_v,
        battery_degc=None,
    )
    until = "the charger stops" if runtime.charger_stops_first else "the floor"
    return Setting(
        figure=Figure(down_to_step(runtime.usable_ah / demand.used_ah.most, 1), CHARGES),
        set_by=lowest_input_words(charger_input_least_v) if runtime.charger_stops_first else floor_words(supply),
        note=(
            f"It rests at {Figure(supply.battery_resting_v, PACK_VOLTS)}, about {Figure(runtime.charged_percent, PERCENT)} charged. At this current "
            f"{Figure(runtime.usable_ah, AMPERE_HOURS)} can be drawn before {until}, if the battery still has its label's capacity."
        ),
    )
