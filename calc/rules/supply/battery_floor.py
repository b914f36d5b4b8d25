"""How far down a lead-acid battery may be taken: half, or what a vehicle needs to start its engine."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from calc.facts.cited import Cited
from calc.facts.lead_acid import FLOOR_PERCENT, LEAD_ACID, VEHICLE_FLOOR_PERCENT
from calc.inputs.supply import VEHICLE, SupplyEntries
from calc.physics.supply.lead_acid import battery_rest_v, battery_state_percent

Supply = TypeVar("Supply", bound=SupplyEntries)


def floor_of(supply: SupplyEntries) -> Cited:
    """Return the charge, in percent, below which this battery is not taken."""
    return VEHICLE_FLOOR_PERCENT if supply.supply_kind == VEHICLE else FLOOR_PERCENT


def is_at_its_floor(supply: SupplyEntries) -> bool:
    """Return whether a battery rests at its floor before anything is charged from it, or below it; a mains supply has none."""
    return supply.is_lead_acid and battery_state_percent(LEAD_ACID[supply.battery_kind], supply.battery_resting_v) <= floor_of(supply).value


def at_its_floor(supply: Supply) -> Supply:
    """Return the supply as it is when the day ends: a battery that rests at its floor. What holds there holds all day."""
    if not supply.is_lead_acid:
        return supply
    floor_v = battery_rest_v(LEAD_ACID[supply.battery_kind], floor_of(supply).value)
    return replace(supply, battery_resting_v=min(supply.battery_resting_v, floor_v))
