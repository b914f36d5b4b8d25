"""May this pack be charged at all, on this charger and from this supply? Every reason against it, in a sentence.

What is read here is what the pilot measured. A pack that is accepted has passed no inspection: swelling, damage and smell
are for the eyes, and the card asks about them.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.asking.equipment import NICKEL, UNKNOWN, ChargerEntries, PackEntries, SupplyEntries
from calc.asking.fields import plain
from calc.asking.refusals import Problem, Refused
from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.lead_acid import LEAD_ACID
from calc.facts.practice import AIR_LEAST_DEGC, AIR_MOST_DEGC, READING_TOLERANCE_CELL_V, SPREAD_TO_WATCH_CELL_V
from calc.physics.packs import cell_counts_that_fit

TROUBLE = "pack-in-trouble"
# A rested 12 V battery is never above this: it is on a charger, or an engine is running.
_RESTED_BATTERY_MOST_V = 13.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What the voltmeter said: the pack, the mean cell, and the lowest and highest cell where each was measured."""

    pack_v: float
    mean_cell_v: float
    lowest_cell_v: float
    highest_cell_v: float
    each_cell: bool

    @property
    def is_uneven(self) -> bool:
        """Whether the cells rest further apart than a healthy pack's do."""
        return self.highest_cell_v - self.lowest_cell_v > SPREAD_TO_WATCH_CELL_V.value


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

        mean cell = V / n

    Args:
        given: the pack's entries.
        chemistry: its facts.

    Returns:
        Pack and cell voltages, V.

    Refuses:
        One cell's voltage for a whole pack, too few or too many cells, a cell below its floor or above full, and a pack
        voltage that does not fit the cell count (the sentence names the counts that it does fit).

    Source: the chemistry's own limits.

    >>> given = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(3.8, 3.81, 3.79), pack_degc=20,
    ...                     label_charge_rate_c=1)
    >>> round(reading_of(given, CHEMISTRIES["lipo"]).pack_v, 2)
    11.4
    """
    cells, typed = int(given.cells), given.resting_v
    if len(typed) == 1 and cells > 1:
        return _read_whole_pack(typed[0], cells, chemistry)
    if len(typed) != cells:
        raise Refused(
            Problem("resting_v", f"You entered {len(typed)} voltages for {cells} cells: enter each cell's, or the whole pack's.")
        )
    problems = [
        problem for number, cell_v in enumerate(typed, start=1) if (problem := _cell_problem(number, cell_v, cells, chemistry))
    ]
    if problems:
        raise Refused(*problems)
    return Reading(
        pack_v=sum(typed),
        mean_cell_v=sum(typed) / cells,
        lowest_cell_v=min(typed),
        highest_cell_v=max(typed),
        each_cell=True,
    )


def _cell_problem(number: int, cell_v: float, cells: int, chemistry: Chemistry) -> Problem | None:
    which = "The cell" if cells == 1 else f"Cell {number}"
    if cell_v < chemistry.never_below_cell_v.value:
        return Problem("resting_v", f"{which} is below its floor: do not charge this pack, and see what to do with it.", TROUBLE)
    if cell_v > chemistry.upper_limit_cell_v.value and cell_v > 2 * chemistry.never_below_cell_v.value:
        return Problem("resting_v", f"{which} cannot rest at {plain(cell_v)} V: enter one voltage for each cell, or the whole pack's.")
    if cell_v > _full_with_tolerance(chemistry):
        sentence = f"{which} is above its full voltage: do not charge this pack. Check the chemistry, and see what to do with it."
        return Problem("resting_v", sentence, TROUBLE)
    return None


def _full_with_tolerance(chemistry: Chemistry) -> float:
    return chemistry.full_cell_v.value + READING_TOLERANCE_CELL_V.value


def _read_whole_pack(pack_v: float, cells: int, chemistry: Chemistry) -> Reading:
    cell_v = pack_v / cells
    if chemistry.never_below_cell_v.value <= pack_v <= chemistry.upper_limit_cell_v.value:
        sentence = (
            f"{plain(pack_v)} V is what one cell can have: enter all {cells} cells, or the whole pack's voltage. If the whole "
            "pack reads this, do not charge it."
        )
        raise Refused(Problem("resting_v", sentence, TROUBLE))
    fitting = cell_counts_that_fit(chemistry, pack_v)
    if cells not in fitting:
        too_low = cell_v < chemistry.never_below_cell_v.value
        state = "its cells are below their floor" if too_low else "it is above its full voltage"
        if not fitting:
            sentence = f"{plain(pack_v)} V fits no pack of this chemistry. Check the reading and the chemistry; do not charge it."
        else:
            sentence = (
                f"{plain(pack_v)} V does not fit {cells} cells: it fits {_counts(fitting, pack_v)}. Count the balance plug's "
                f"wires, less one. If the count is right, {state}: do not charge it."
            )
        raise Refused(Problem("resting_v", sentence, TROUBLE))
    return Reading(pack_v=pack_v, mean_cell_v=cell_v, lowest_cell_v=cell_v, highest_cell_v=cell_v, each_cell=False)


def _counts(fitting: list[int], pack_v: float) -> str:
    named = [f"{count} {'cell' if count == 1 else 'cells'} at {pack_v / count:.2f} V each" for count in fitting]
    return named[0] if len(named) == 1 else ", ".join(named[:-1]) + " or " + named[-1]


def lower_counts_sentence(given: PackEntries, chemistry: Chemistry, reading: Reading) -> str:
    """Return the warning that the pack's voltage fits a lower cell count too, or nothing if it does not.

    A count that is too high makes the charger go on past full. One that is too low ends the charge before it begins, so it
    needs no warning.

    Args:
        given: the pack's entries.
        chemistry: its facts.
        reading: its voltages.

    Returns:
        A sentence, or an empty text.

    Source: the chemistry's own limits.

    >>> given = PackEntries(chemistry="lipo", cells=7, capacity_mah=5000, resting_v=(25.2,), pack_degc=20,
    ...                     label_charge_rate_c=1)
    >>> "6 cells at 4.20 V" in lower_counts_sentence(given, CHEMISTRIES["lipo"],
    ...                                              reading_of(given, CHEMISTRIES["lipo"]))
    True
    """
    lower = [count for count in cell_counts_that_fit(chemistry, reading.pack_v) if count < given.cells]
    if reading.each_cell or not lower:
        return ""
    return (
        f"{plain(reading.pack_v)} V also fits {_counts(lower, reading.pack_v)}. Count the balance plug's wires, less one, "
        "before you believe the label: too high a count burns the pack."
    )


def problems_of_temperature(given: PackEntries, chemistry: Chemistry) -> list[Problem]:
    """Return why it is too cold or too warm to charge, if it is. At a bound the stricter side holds.

        t_least < t_pack < t_most, and 0 <= t_air <= 40

    Args:
        given: the pack's entries.
        chemistry: its facts.

    Returns:
        No problem, or one or two.

    Source: JEITA and BAJ 2007 and IEC 62133-2 for the cell; NFPA for the air.

    >>> given = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=-1,
    ...                     label_charge_rate_c=1)
    >>> [problem.field for problem in problems_of_temperature(given, CHEMISTRIES["lipo"])]
    ['pack_degc']
    """
    window = chemistry.temperatures
    if given.pack_degc <= window.charge_least_degc.value:
        sentence = "The pack is too cold: charging it at freezing point or below ruins the cells. Warm it through first, indoors or in a pocket."
        return [Problem("pack_degc", sentence)]
    if given.pack_degc >= window.discharge_most_degc.value:
        return [Problem("pack_degc", "The pack is dangerously hot: do not charge it. Get away from it, and see what to do.", TROUBLE)]
    if given.pack_degc >= window.charge_most_degc.value:
        return [Problem("pack_degc", "The pack is too warm to charge: leave it in the shade until it has cooled.")]
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


def problems_of_supply(supply: SupplyEntries, charger_input_least_v: float) -> list[Problem]:
    """Return why this supply cannot start the charger, if it cannot.

        rest voltage above that of an empty battery, and output above the charger's lowest input

    Args:
        supply: the supply's entries.
        charger_input_least_v: the charger's lowest input voltage, V.

    Returns:
        No problem, or one.

    Source: the rest-voltage table of lead-acid batteries, and the charger's label.

    >>> supply = SupplyEntries(supply_kind="battery", battery_kind="flooded", battery_ah=70, battery_resting_v=11.5,
    ...                        lead_length_m=1.5, lead_area_mm2=2.5)
    >>> problems_of_supply(supply, charger_input_least_v=11)[0].field
    'battery_resting_v'
    """
    if supply.is_lead_acid:
        empty_v = LEAD_ACID[supply.battery_kind].rest_v[0][1].value
        if supply.battery_resting_v <= empty_v:
            return [Problem("battery_resting_v", "This battery is empty, too weak to start the charger: charge it first, or use another.")]
        if supply.battery_resting_v <= charger_input_least_v:
            sentence = "This battery rests no higher than the charger's lowest input, too weak to start it: use another supply."
            return [Problem("battery_resting_v", sentence)]
        if supply.battery_resting_v > _RESTED_BATTERY_MOST_V:
            sentence = "No 12 V battery rests this high: switch off its charger or the engine, wait an hour, and measure it again."
            return [Problem("battery_resting_v", sentence)]
    elif supply.supply_v <= charger_input_least_v:
        return [Problem("supply_v", "This supply's voltage is below the charger's lowest input, too weak to start it: use another supply.")]
    return []
