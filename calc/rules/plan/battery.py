"""What the day may take from a lead-acid battery: by its floor, and by the highest current that all outputs together can ask of it."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.lead_acid import LEAD_ACID
from calc.figures.units import fraction_from_percent, percent_from_fraction
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.lead_acid import battery_state_percent, capacity_at_current_ah, usable_ah
from calc.physics.supply.source import current_for_power_a, source_resistance_ohm, source_v
from calc.rules.supply.battery_floor import at_its_floor, floor_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Battery:
    """A battery over the day: charge before and floor in %, what it may give in Ah, what it would give in all, and V at the charger."""

    before_percent: float
    floor_percent: float
    usable_ah: float
    whole_ah: float
    charger_v: float

    def taken_ah(self, energy_wh: float, efficiency_percent: float) -> float:
        """Return the charge that a charge takes from it, Ah, by the energy that goes into the packs."""
        return energy_wh / fraction_from_percent(efficiency_percent) / self.charger_v

    def left_percent(self, taken_ah: float) -> float:
        """Return what is left in it once so much has been taken, %."""
        return self.before_percent - percent_from_fraction(taken_ah / self.whole_ah)


def battery_of(supply: SupplyEntries, *, pack_power_w: float, efficiency_percent: float) -> Battery:
    """Return what a battery gives over the day. `pack_power_w` is the most that goes into packs at once.

        I = P / (eta U_in)        Q(I) by Peukert        Q = (s - s_floor) Q(I)        U_in at the floor, behind battery and lead

    All of it is reckoned at the highest current and the lowest voltage of the day, so the battery gives more rather than less.
    """
    kind, floor = LEAD_ACID[supply.battery_kind], at_its_floor(supply)
    resistance_ohm = source_resistance_ohm(supply)
    current_a = current_for_power_a(source_v(floor), resistance_ohm, pack_power_w / fraction_from_percent(efficiency_percent))
    floor_percent = floor_of(supply).value
    return Battery(
        before_percent=battery_state_percent(kind, supply.battery_resting_v),
        floor_percent=floor_percent,
        usable_ah=usable_ah(kind, supply.battery_ah, supply.battery_resting_v, current_a, floor_percent),
        whole_ah=capacity_at_current_ah(supply.battery_ah, current_a, kind.peukert_exponent.value),
        charger_v=source_v(floor) - current_a * resistance_ohm,
    )
