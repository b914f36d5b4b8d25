"""May this pack be charged at all, on this charger and from this supply? Every reason against it, in a sentence.

What is read here is what the pilot measured. A pack that is accepted has passed no inspection: swelling, damage and smell
are for the eyes, and the card asks about them.
"""

from __future__ import annotations

from calc.asking.equipment import NICKEL, UNKNOWN, ChargerEntries, PackEntries, SupplyEntries
from calc.asking.refusals import Problem, Refused
from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.lead_acid import LEAD_ACID, REST_AFTER_CHARGE_H
from calc.facts.practice import AIR_LEAST_DEGC, AIR_MOST_DEGC
from calc.figures.quantities import HOURS, SUPPLY_VOLTS, Figure
from calc.physics.readings import TROUBLE, Reading, cell_name, clear_reading, is_above_full, is_below_floor


def chemistry_of(given: PackEntries) -> Chemistry:
    """Return the facts of the pack's chemistry.

    Args:
        given: the pack's entries.

    Returns:
        The lithium chemistry.

    Refuses:
        A nickel pack, which is charged by another method, and a pack whose chemistry is not known.

    Source: none; no number is involved.

    >>> chemistry_of(PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=20,
    ...                          label_charge_rate_c=1)).charger_mode
    'Lithium-polymer, 4.20 V per cell'
    """
    if given.chemistry == UNKNOWN:
        sentence = (
            "Do not charge a pack whose chemistry you do not know: the wrong mode sets it on fire. Find its label or ask "
            "its maker, or take it out of use."
        )
        raise Refused(Problem("chemistry", sentence))
    if given.chemistry == NICKEL:
        sentence = (
            "A nickel-metal hydride pack has no full voltage to charge to: use the charger's nickel mode and the maker's "
            "sheet. Never a lithium mode."
        )
        raise Refused(Problem("chemistry", sentence))
    return CHEMISTRIES[given.chemistry]


def reading_of(given: PackEntries, chemistry: Chemistry) -> Reading:
    """Return what the resting voltage says, once it is clear and lies where a healthy pack can rest.

    Args:
        given: the pack's entries.
        chemistry: its facts.

    Returns:
        Pack and cell voltages, V.

    Refuses:
        What `clear_reading` refuses, and a cell below its floor or above full.

    Source: the chemistry's own limits.

    >>> given = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(3.8, 3.81, 3.79), pack_degc=20,
    ...                     label_charge_rate_c=1)
    >>> round(reading_of(given, CHEMISTRIES["lipo"]).pack_v, 2)
    11.4
    """
    reading = clear_reading(given, chemistry)
    problems = [
        Problem("resting_v", f"{cell_name(reading, number)} is {fault}", TROUBLE)
        for number, cell_v in enumerate(reading.cell_v, start=1)
        if (fault := _cell_fault(cell_v, chemistry))
    ]
    if problems:
        raise Refused(*problems)
    return reading


def _cell_fault(cell_v: float, chemistry: Chemistry) -> str:
    if is_below_floor(cell_v, chemistry):
        return "below its floor: do not charge this pack, and see what to do with it."
    if is_above_full(cell_v, chemistry):
        return "above its full voltage: do not charge this pack. Check the chemistry, and see what to do with it."
    return ""


def problems_of_pack_temperature(pack_degc: float, chemistry: Chemistry) -> list[Problem]:
    """Return why the pack itself is too cold or too warm to charge, if it is. At a bound the stricter side holds.

        t_least < t_pack < t_most

    Args:
        pack_degc: the cells' own temperature, °C.
        chemistry: the pack's facts.

    Returns:
        No problem, or one.

    Source: JEITA and BAJ 2007 and IEC 62133-2.

    >>> [problem.field for problem in problems_of_pack_temperature(-1, CHEMISTRIES["lipo"])]
    ['pack_degc']
    """
    window = chemistry.temperatures
    if pack_degc <= window.charge_least_degc.value:
        sentence = "The pack is too cold: charging it at freezing point or below ruins the cells. Warm it through first, indoors or in a pocket."
        return [Problem("pack_degc", sentence)]
    if pack_degc >= window.discharge_most_degc.value:
        return [Problem("pack_degc", "The pack is dangerously hot: do not charge it. Get away from it, and see what to do.", TROUBLE)]
    if pack_degc >= window.charge_most_degc.value:
        return [Problem("pack_degc", "The pack is too warm to charge: leave it in the shade until it has cooled.")]
    return []


def problems_of_temperature(given: PackEntries, chemistry: Chemistry) -> list[Problem]:
    """Return why it is too cold or too warm to charge, if it is: the pack first, then the air.

        0 <= t_air <= 40

    Args:
        given: the pack's entries.
        chemistry: its facts.

    Returns:
        No problem, or one.

    Source: JEITA and BAJ 2007 and IEC 62133-2 for the cell; NFPA for the air.

    >>> given = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=20,
    ...                     label_charge_rate_c=1, air_degc=41)
    >>> [problem.field for problem in problems_of_temperature(given, CHEMISTRIES["lipo"])]
    ['air_degc']
    """
    if problems := problems_of_pack_temperature(given.pack_degc, chemistry):
        return problems
    field, air_degc = ("pack_degc", given.pack_degc) if given.air_degc is None else ("air_degc", given.air_degc)
    if air_degc < AIR_LEAST_DEGC.value:
        return [Problem(field, "The air is below freezing point: charge in a warmer place.")]
    if air_degc > AIR_MOST_DEGC.value:
        return [Problem(field, "It is too hot here to charge: go to a cooler place, and never charge in a hot vehicle.")]
    return []


def problems_of_charger(given: ChargerEntries, cells: float) -> list[Problem]:
    """Return why this charger cannot take this many cells, if it cannot.

        n <= the charger's cells, and n <= ports x cells per port

    Args:
        given: the charger's entries.
        cells: cells in series.

    Returns:
        No problem, or one.

    Source: the charger's label.

    >>> charger = ChargerEntries(charger_current_a=5, charger_power_w=50, charger_cells=6, balance_ports=1, port_cells=6,
    ...                          current_step_a=0.1, capacity_step_mah=100, charger_input_least_v=11,
    ...                          efficiency_percent=85)
    >>> len(problems_of_charger(charger, cells=7))
    1
    """
    if cells > given.charger_cells:
        return [Problem("cells", "This pack has more cells than the charger takes: use a larger charger, never another cell count.")]
    if cells > given.balance_ports * given.port_cells:
        return [Problem("port_cells", "This pack has more cells than the charger's balance ports take: use a charger that balances them all.")]
    return []


def problems_of_supply(
    supply: SupplyEntries, charger_input_least_v: float, charger_input_most_v: float | None
) -> list[Problem]:
    """Return why this supply must not or cannot feed the charger, if so.

        the battery at rest and not empty, and the charger's lowest input < output <= its highest input

    Args:
        supply: the supply's entries.
        charger_input_least_v: the charger's lowest input voltage, V.
        charger_input_most_v: its highest, V; None if it is not known, which stops nothing here.

    Returns:
        No problem, or one.

    Source: the rest-voltage table of lead-acid batteries, and the charger's label.

    >>> supply = SupplyEntries(supply_kind="battery", battery_kind="flooded", battery_ah=70, battery_resting_v=11.5,
    ...                        lead_length_m=1.5, lead_area_mm2=2.5)
    >>> problems_of_supply(supply, charger_input_least_v=11, charger_input_most_v=None)[0].field
    'battery_resting_v'
    """
    if charger_input_most_v is not None and charger_input_most_v <= charger_input_least_v:
        sentence = "The charger's highest input voltage is not above its lowest: check both on its label."
        return [Problem("charger_input_most_v", sentence)]
    if supply.is_lead_acid:
        return _problems_of_battery(supply, charger_input_least_v, charger_input_most_v)
    if supply.supply_v <= charger_input_least_v:
        return [Problem("supply_v", "This supply's voltage is below the charger's lowest input, too weak to start it: use another supply.")]
    if charger_input_most_v is not None and supply.supply_v > charger_input_most_v:
        sentence = (
            f"This supply gives {Figure(supply.supply_v, SUPPLY_VOLTS)}, and the charger takes {Figure(charger_input_most_v, SUPPLY_VOLTS)} "
            "at most: more destroys it, and can set it on fire. Use a supply of a lower voltage."
        )
        return [Problem("supply_v", sentence)]
    return []


def _problems_of_battery(
    supply: SupplyEntries, charger_input_least_v: float, charger_input_most_v: float | None
) -> list[Problem]:
    kind = LEAD_ACID[supply.battery_kind]
    sentence = ""
    if supply.battery_resting_v > kind.rested_most_v.value:
        most = Figure(kind.rested_most_v.value, SUPPLY_VOLTS.to_step(0.01))
        sentence = (
            f"No such battery rests above {most}: it was charged not long ago. Switch off its charger or the engine, wait "
            f"{Figure(REST_AFTER_CHARGE_H.value, HOURS.to_step(1))}, and measure it again. If it still reads this after a night, it is full: enter {most}."
        )
    elif supply.battery_resting_v <= kind.rest_v[0][1].value:
        sentence = "This battery is empty, too weak to start the charger: charge it first, or use another."
    elif supply.battery_resting_v <= charger_input_least_v:
        sentence = "This battery rests no higher than the charger's lowest input, too weak to start it: use another supply."
    elif charger_input_most_v is not None and supply.battery_resting_v > charger_input_most_v:
        sentence = "This battery rests above the charger's highest input, which would destroy it: use a charger that is made for 12 V."
    return [Problem("battery_resting_v", sentence)] if sentence else []
