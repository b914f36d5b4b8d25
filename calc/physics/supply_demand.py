"""What a charge takes from its supply: current at the start and at the peak, ampere-hours, and how many such charges."""

from __future__ import annotations

from dataclasses import dataclass

from calc.asking.equipment import BATTERY, ChargerEntries, PackEntries, SupplyEntries
from calc.facts.chemistries import Chemistry
from calc.facts.copper import GOOD_DROP_PERCENT
from calc.facts.lead_acid import FLOOR_PERCENT, LEAD_ACID
from calc.figures.quantities import AMPERE_HOURS, CHARGES, PACK_VOLTS, PERCENT, Figure, Quantity
from calc.figures.rounding import down_to_step
from calc.figures.showing import Setting
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent
from calc.physics.charge_outlook import Outlook
from calc.physics.charging_limits import source_resistance_ohm, source_v
from calc.physics.leads import lead_resistance_ohm
from calc.physics.supplies import battery_state_percent, current_for_power_a, usable_ah


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What one charge asks of the supply."""

    start_current_a: float
    peak_current_a: float
    used_ah: Span
    ampere_hours: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyState:
    """A lead-acid battery's charge now, %, or None for a mains supply; and the lead's share of the voltage lost per ampere."""

    charged_percent: float | None
    drop_percent_per_a: float


def demand_of(
    pack: PackEntries, charger: ChargerEntries, supply: SupplyEntries, chemistry: Chemistry, current_a: float, outlook: Outlook
) -> Demand:
    """Return what one charge takes from the supply.

        I = 2 P / (U + sqrt(U^2 - 4 R P)) with P = pack power / eta        Q = E / (eta U at that current)

    Args:
        pack: the pack's entries.
        charger: the charger's entries.
        supply: the supply's entries.
        chemistry: the pack's facts.
        current_a: the charge current, A, within the limits of `physics.charging_limits`.
        outlook: the charge to come.

    Returns:
        Currents, A, and ampere-hours, Ah, at the supply.

    Source: Ohm's law.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> from calc.physics.acceptance import reading_of
    >>> from calc.physics.charge_outlook import outlook_of
    >>> lipo = CHEMISTRIES["lipo"]
    >>> pack = PackEntries(chemistry="lipo", cells=6, capacity_mah=5000, resting_v=(22.2,), pack_degc=25,
    ...                    label_charge_rate_c=1)
    >>> charger = ChargerEntries(charger_current_a=10, charger_power_w=250, charger_cells=6, balance_ports=1, port_cells=6,
    ...                          current_step_a=0.1, capacity_step_mah=100, charger_input_least_v=11,
    ...                          efficiency_percent=85)
    >>> supply = SupplyEntries(supply_kind="mains", supply_v=12.0, supply_current_a=20, lead_length_m=0.05, lead_area_mm2=70)
    >>> outlook = outlook_of(pack, charger, lipo, reading_of(pack, lipo), current_a=5)
    >>> round(demand_of(pack, charger, supply, lipo, 5, outlook).peak_current_a, 2)
    12.35
    """
    efficiency = fraction_from_percent(charger.efficiency_percent)
    open_v, resistance_ohm = source_v(supply), source_resistance_ohm(supply)

    def drawn_a(pack_power_w: float) -> float:
        return current_for_power_a(open_v, resistance_ohm, pack_power_w / efficiency)

    peak_a = drawn_a(pack.cells * chemistry.full_cell_v.value * current_a)
    at_charger_v = open_v - peak_a * resistance_ohm
    return Demand(
        start_current_a=drawn_a(outlook.start_power_w.likely),
        peak_current_a=peak_a,
        # Less is drawn, at a higher voltage, before and after the peak: so this is the upper end of what is used.
        used_ah=Span(
            outlook.energy_in_wh.least / efficiency / open_v,
            outlook.energy_in_wh.likely / efficiency / at_charger_v,
            outlook.energy_in_wh.most / efficiency / at_charger_v,
        ),
        ampere_hours=AMPERE_HOURS.to_step(0.01 if outlook.energy_in_wh.most < open_v else 0.1),
    )


def state_of_supply(supply: SupplyEntries) -> SupplyState:
    """Return how full the battery is, and what the lead loses per ampere.

        drop = 100 R / U        in % per A

    Args:
        supply: the supply's entries.

    Returns:
        The state.

    Source: the rest-voltage table of lead-acid batteries; Ohm's law.

    >>> supply = SupplyEntries(supply_kind="battery", battery_kind="flooded", battery_ah=70, battery_resting_v=12.24,
    ...                        lead_length_m=1.5, lead_area_mm2=2.5)
    >>> state_of_supply(supply).charged_percent
    50.0
    """
    lead_ohm = lead_resistance_ohm(supply.lead_length_m, supply.lead_area_mm2)
    charged = (
        battery_state_percent(LEAD_ACID[supply.battery_kind], supply.battery_resting_v)
        if supply.supply_kind == BATTERY
        else None
    )
    return SupplyState(
        charged_percent=charged,
        drop_percent_per_a=lead_ohm / (source_v(supply) * fraction_from_percent(1)),
    )


def charges_left(supply: SupplyEntries, demand: Demand) -> Setting | None:
    """Return how many such charges the battery holds down to its floor, or nothing for a mains supply.

        n = usable Ah at the peak current / Ah of one charge, rounded down

    Args:
        supply: the supply's entries.
        demand: what one charge takes.

    Returns:
        Whole charges, with the floor and the battery's state in words.

    Source: the rest-voltage table, Peukert's law, and the floor of 50 % (common practice, no source).

    >>> from calc.figures.quantities import AMPERE_HOURS
    >>> demand = Demand(start_current_a=3, peak_current_a=5, used_ah=Span(2, 3, 4), ampere_hours=AMPERE_HOURS)
    >>> supply = SupplyEntries(supply_kind="battery", battery_kind="flooded", battery_ah=70, battery_resting_v=12.65,
    ...                        lead_length_m=1.5, lead_area_mm2=2.5)
    >>> charges_left(supply, demand).figure.number
    '7'
    """
    if supply.supply_kind != BATTERY or demand.used_ah.most == 0:
        return None
    kind = LEAD_ACID[supply.battery_kind]
    usable = usable_ah(kind, supply.battery_ah, supply.battery_resting_v, demand.peak_current_a)
    charged = Figure(state_of_supply(supply).charged_percent, PERCENT)
    return Setting(
        figure=Figure(down_to_step(usable / demand.used_ah.most, 1), CHARGES),
        set_by=f"the battery's floor, {Figure(FLOOR_PERCENT.value, PERCENT)} (common practice, no source)",
        note=(
            f"It rests at {Figure(supply.battery_resting_v, PACK_VOLTS)}, about {charged} charged. At this current "
            f"{Figure(usable, AMPERE_HOURS)} can be drawn before the floor, if the battery still has its label's capacity."
        ),
    )


def cautions_of_supply(supply: SupplyEntries, demand: Demand) -> list[tuple[str, bool]]:
    """Return what to say about the supply beside the numbers, each with whether it is grave.

    Args:
        supply: the supply's entries.
        demand: what one charge takes.

    Returns:
        Sentences; none where nothing is to be said.

    Source: ABYC E-11 for the drop; the floor is common practice, no source.

    >>> demand = Demand(start_current_a=3, peak_current_a=20, used_ah=Span(2, 3, 4), ampere_hours=AMPERE_HOURS)
    >>> supply = SupplyEntries(supply_kind="mains", supply_v=12, supply_current_a=20, lead_length_m=2, lead_area_mm2=2.5)
    >>> len(cautions_of_supply(supply, demand))
    1
    """
    found = []
    state = state_of_supply(supply)
    if state.charged_percent is not None:
        found.append(("A lead-acid battery gives off a gas that burns while it is charged: no sparks or flames near it.", False))
        if state.charged_percent <= FLOOR_PERCENT.value:
            found.append(("The battery is at its floor already: it may not start the vehicle, and it wears out fast below.", True))
    drop_percent = state.drop_percent_per_a * demand.peak_current_a
    if drop_percent > GOOD_DROP_PERCENT.value:
        sentence = (
            f"The supply lead loses {Figure(drop_percent, PERCENT)} of the voltage at the peak, more than the "
            f"{Figure(GOOD_DROP_PERCENT.value, PERCENT)} of a good one: shorten it, or use a thicker one."
        )
        found.append((sentence, False))
    return found
