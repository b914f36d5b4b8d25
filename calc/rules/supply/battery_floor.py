"""How far down a lead-acid battery may be taken: half, or what a vehicle needs to start its engine."""

from __future__ import annotations

from calc.facts.cited import Cited
from calc.facts.lead_acid import FLOOR_PERCENT, VEHICLE_FLOOR_PERCENT
from calc.inputs.supply import VEHICLE, SupplyEntries


def floor_of(supply: SupplyEntries) -> Cited:
    """Return the charge, in percent, below which this battery is not taken."""
    return VEHICLE_FLOOR_PERCENT if supply.supply_kind == VEHICLE else FLOOR_PERCENT
