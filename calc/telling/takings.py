"""What a charge takes from the supply, and what to say about the supply beside it."""

from __future__ import annotations

from calc.asking.equipment import BATTERY, SupplyEntries
from calc.facts.copper import GOOD_DROP_PERCENT
from calc.facts.lead_acid import FLOOR_PERCENT, LEAD_ACID
from calc.figures.quantities import AMPERE_HOURS, AMPERES, CHARGES, PACK_VOLTS, PERCENT, WATT_HOURS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Range, Setting
from calc.physics.supplies import usable_ah
from calc.physics.supply_demand import Demand, state_of_supply
from calc.telling.ranges import ends_of


def takings_of(supply: SupplyEntries, demand: Demand) -> dict[str, Setting | Range | None]:
    """Return what a charge takes from its supply, by name.

    Args:
        supply: the supply's entries.
        demand: what one charge takes.

    Returns:
        Currents, ampere-hours, watt-hours and charges left, each with what set it.

    Source: `physics.supply_demand`.

    >>> from calc.figures.spans import Span
    >>> demand = Demand(start_current_a=3, mean_current_a=4, peak_current_a=5, used_ah=Span(2, 3, 4),
    ...                 used_wh=Span(24, 36, 48), ampere_hours=AMPERE_HOURS)
    >>> supply = SupplyEntries(supply_kind="mains", supply_v=12, supply_current_a=20, lead_length_m=2, lead_area_mm2=2.5)
    >>> takings_of(supply, demand)["supply_at_peak"].figure.number
    '5.0'
    """
    return {
        "supply_at_start": Setting(
            figure=Figure(demand.start_current_a, AMPERES),
            set_by="the pack's power at the start, through charger and lead",
        ),
        "supply_at_peak": Setting(
            figure=Figure(demand.peak_current_a, AMPERES),
            set_by="the pack's power when it reaches its full voltage, through charger and lead",
        ),
        "supply_mean": Setting(
            figure=Figure(demand.mean_current_a, AMPERES),
            set_by="what is taken, over the likely time of the charge",
        ),
        "supply_energy": ends_of(
            demand.used_wh,
            WATT_HOURS,
            "the charge put in is a range",
            note="What the pack takes, over the charger's efficiency; the lead's loss comes on top.",
        ),
        "supply_used": ends_of(demand.used_ah, demand.ampere_hours, "the charge put in is a range"),
        "supply_charges": charges_left(supply, demand),
    }


def charges_left(supply: SupplyEntries, demand: Demand) -> Setting | None:
    """Return how many such charges the battery holds down to its floor, or nothing for a mains supply.

        n = usable Ah at the peak current / Ah of one charge, rounded down

    Args:
        supply: the supply's entries.
        demand: what one charge takes.

    Returns:
        Whole charges, with the floor and the battery's state in words.

    Source: the rest-voltage table, Peukert's law, and the floor of 50 % (common practice, no source).

    >>> from calc.figures.spans import Span
    >>> demand = Demand(start_current_a=3, mean_current_a=4, peak_current_a=5, used_ah=Span(2, 3, 4),
    ...                 used_wh=Span(24, 36, 48), ampere_hours=AMPERE_HOURS)
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

    >>> from calc.figures.spans import Span
    >>> demand = Demand(start_current_a=3, mean_current_a=15, peak_current_a=20, used_ah=Span(2, 3, 4),
    ...                 used_wh=Span(24, 36, 48), ampere_hours=AMPERE_HOURS)
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
