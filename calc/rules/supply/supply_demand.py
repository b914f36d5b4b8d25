"""What a charge takes from its supply: current at the start and at the peak, ampere-hours, and how many such charges."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.facts.lead_acid import LEAD_ACID
from calc.figures.quantities import AMPERE_HOURS, Quantity
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent, h_from_min
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.lead_acid import battery_state_percent
from calc.physics.supply.source import current_for_power_a, largest_current_a, source_resistance_ohm, source_v, supply_lead_ohm
from calc.rules.charge.charge_outlook import Outlook
from calc.rules.supply.battery_floor import at_its_floor


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What one charge asks of the supply."""

    start_current_a: float
    mean_current_a: float
    peak_current_a: float
    used_ah: Span
    used_wh: Span
    ampere_hours: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyState:
    """A lead-acid battery's charge now, %, or None for a mains supply; and the lead's share of the voltage lost per ampere."""

    charged_percent: float | None
    drop_percent_per_a: float


def demand_of(
    *, pack: PackEntries, charger: ChargerEntries, supply: SupplyEntries, chemistry: Chemistry, current_a: float, outlook: Outlook
) -> Demand:
    """Return what one charge takes from the supply, at a current within the limits of `rules.charge.charging_limits`.

    I = 2 P / (U + sqrt(U^2 - 4 R P)) with P = pack power / eta        Q = E / (eta U at that current)

    The most is counted at the lowest voltage of a battery's day, so that as many charges as it holds by this can be made one after the other.
    """
    efficiency = fraction_from_percent(charger.efficiency_percent)
    open_v, resistance_ohm = source_v(supply), source_resistance_ohm(supply)

    def drawn_a(pack_power_w: float) -> float:
        return current_for_power_a(open_v, resistance_ohm, pack_power_w / efficiency)

    peak_power_w = pack.cells * chemistry.full_cell_v.value * current_a
    peak_a = drawn_a(peak_power_w)
    at_charger_v, at_floor_v = (_input_v(one, charger, peak_power_w / efficiency) for one in (supply, at_its_floor(supply)))
    used_wh = outlook.energy_in_wh.times(1 / efficiency)
    likely_h = h_from_min(outlook.charge_min.likely)
    # Less is drawn, at a higher voltage, before and after the peak, and a battery sinks no lower than its floor: so the last is the upper end.
    used_ah = Span(used_wh.least / open_v, used_wh.likely / at_charger_v, used_wh.most / at_floor_v)
    return Demand(
        start_current_a=drawn_a(outlook.start_power_w.likely),
        mean_current_a=used_ah.likely / likely_h if likely_h else 0.0,
        peak_current_a=peak_a,
        used_ah=used_ah,
        used_wh=used_wh,
        ampere_hours=AMPERE_HOURS.to_step(0.01 if outlook.energy_in_wh.most < open_v else 0.1),
    )


def _input_v(supply: SupplyEntries, charger: ChargerEntries, power_w: float) -> float:
    """The voltage at a charger that takes a power from a supply, or its lowest input, at which it stops."""
    open_v, resistance_ohm, least_v = source_v(supply), source_resistance_ohm(supply), charger.charger_input_least_v
    if power_w >= least_v * largest_current_a(open_v, resistance_ohm, least_v):
        return least_v
    return open_v - resistance_ohm * current_for_power_a(open_v, resistance_ohm, power_w)


def state_of_supply(supply: SupplyEntries) -> SupplyState:
    """Return how full the battery is, and what the lead loses per ampere: 100 R / U, in % per A."""
    charged = battery_state_percent(LEAD_ACID[supply.battery_kind], supply.battery_resting_v) if supply.is_lead_acid else None
    return SupplyState(charged_percent=charged, drop_percent_per_a=supply_lead_ohm(supply) / (source_v(supply) * fraction_from_percent(1)))
