"""May this be done with this pack, on this charger and from this supply? Every reason against it, in a sentence.

What is read here is what the pilot measured and saw. A pack that nobody has looked over may be swollen all the same: pages
that give it settings say so, and the card asks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.lead_acid import LEAD_ACID, REST_AFTER_CHARGE_H
from calc.figures.quantities import HOURS, SUPPLY_VOLTS, Figure
from calc.inputs.equipment import NICKEL, UNKNOWN, ChargerEntries, LabelledPack
from calc.inputs.known_pack import WithReading
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import SupplyEntries
from calc.rules.pack.cell_condition import problems_of_resistances
from calc.rules.pack.condition import Condition, condition_of
from calc.rules.pack.findings import Act
from calc.rules.pack.label_doubts import problems_of_measured_capacity
from calc.rules.pack.readings import Reading, reading_of
from calc.rules.pack.touch_limit import problems_of_touch

# Common practice, no source. The form asks how many cells are on the first; the second has the rest.
_MOST_PLUGS = 2


class LabelledCells(Protocol):
    """What the label says of the cells: their chemistry, and how many are in series."""

    @property
    def chemistry(self) -> str: ...
    @property
    def cells(self) -> float: ...


def chemistry_of(pack: LabelledCells) -> Chemistry:
    """Return the facts of the pack's lithium chemistry.

    Refuses a nickel pack, which is charged by another method, a pack whose chemistry is not known, and one with more cells than
    stay below the touch limit.
    """
    if pack.chemistry == UNKNOWN:
        sentence = (
            "Do not charge a pack whose chemistry you do not know: the wrong mode sets it on fire. Find its label or ask "
            "its maker, or take it out of use."
        )
        raise Refused(Problem("chemistry", sentence))
    if pack.chemistry == NICKEL:
        sentence = (
            "A nickel-metal hydride pack has no full voltage to charge to: use the charger's nickel mode and the maker's "
            "sheet. Never a lithium mode."
        )
        raise Refused(Problem("chemistry", sentence))
    chemistry = CHEMISTRIES[pack.chemistry]
    if problems := problems_of_touch(pack.cells, chemistry):
        raise Refused(*problems)
    return chemistry


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A pack that could be read: its facts, its voltages and its condition."""

    chemistry: Chemistry
    reading: Reading
    condition: Condition


def judged(pack: WithReading, also: Sequence[Problem] = (), act: Act | None = None) -> Judged:
    """Return a pack's facts, its voltages and its condition: the door that every calculator of a pack goes through.

    Refuses a chemistry that is not known, a reading that can mean two things, resistances and a capacity that cannot be the pack's;
    and, where an act is wanted of it, every finding that forbids that. All of it at once, with `also`: what else speaks against it.

    >>> from calc.inputs.equipment import PackEntries
    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(3.8, 3.8, 3.5), pack_degc=20, label_charge_rate_c=1)
    >>> judged(pack).condition.verdict.words
    'Take it out of use'
    >>> try:
    ...     judged(pack, act=Act.CHARGE)
    ... except Refused as refused:
    ...     print(refused.problems[0].sentence[-37:])
    Take it out of use: do not charge it.
    """
    chemistry, reading, condition = _known(pack, also, act)
    assert reading is not None, "its voltages were typed, so they were read or refused"
    return Judged(chemistry=chemistry, reading=reading, condition=condition)


def judged_so_far(pack: LabelledPack, also: Sequence[Problem] = (), act: Act | None = None) -> tuple[Chemistry, Condition]:
    """Return the facts of a pack of which not all has been read, and its condition by whatever is known of it already.

    Refuses as `judged` does.
    """
    chemistry, _, condition = _known(pack, also, act)
    return chemistry, condition


def _known(pack: WithReading | LabelledPack, also: Sequence[Problem], act: Act | None) -> tuple[Chemistry, Reading | None, Condition]:
    chemistry: Chemistry | None = None
    reading: Reading | None = None
    unread: list[Problem] = []
    try:
        chemistry = chemistry_of(pack)
        if pack.resting_v is not None:
            reading = reading_of(pack.resting_v, cells=int(pack.cells), chemistry=chemistry)
    except Refused as refused:
        unread += refused.problems
    unread += [*problems_of_resistances(pack.cell_resistances_mohm, cells=pack.cells), *problems_of_measured_capacity(pack)]
    condition = condition_of(pack, chemistry, reading)
    problems = [*(condition.problems_of(act) if act else ()), *unread, *also]
    if problems or chemistry is None:
        raise Refused(*problems)
    return chemistry, reading, condition


def problems_of_charger(charger: ChargerEntries, cells: float) -> list[Problem]:
    """Return why this charger cannot take this many cells in series, if it cannot.

    n <= the charger's cells, and n <= ports x cells per port, with two ports at most: a pack has one balance plug or two
    """
    if cells > charger.charger_cells:
        return [Problem("cells", "This pack has more cells than the charger takes: use a larger charger, never another cell count.")]
    if cells > min(charger.balance_ports, _MOST_PLUGS) * charger.port_cells:
        return [
            Problem("port_cells", "This pack has more cells than the charger's balance ports take: use a charger that balances them all.")
        ]
    return []


class ChargerInput(Protocol):
    """The input voltages on the charger's label: the lowest, and the highest if it is known."""

    @property
    def charger_input_least_v(self) -> float: ...
    @property
    def charger_input_most_v(self) -> float | None: ...


def problems_of_supply(*, supply: SupplyEntries, charger: ChargerInput | None) -> list[Problem]:
    """Return why this supply must not or cannot feed the charger, if so. A highest input that is not known stops nothing here.

    Without a charger it is held against nothing but what no such supply can have.

        the battery at rest and not empty, and the charger's lowest input < output <= its highest input

    Source: the rest-voltage table of lead-acid batteries, and the charger's label.
    """
    if charger is None:
        return _problems_of_battery(supply, None) if supply.is_lead_acid else []
    least_v, most_v = charger.charger_input_least_v, charger.charger_input_most_v
    if most_v is not None and most_v <= least_v:
        sentence = "The charger's highest input voltage is not above its lowest: check both on its label."
        return [Problem("charger_input_most_v", sentence)]
    if supply.is_lead_acid:
        return _problems_of_battery(supply, charger)
    if supply.supply_v <= least_v:
        return [Problem("supply_v", "This supply's voltage is below the charger's lowest input, too weak to start it: use another supply.")]
    if most_v is not None and supply.supply_v > most_v:
        sentence = (
            f"This supply gives {Figure(supply.supply_v, SUPPLY_VOLTS)}, and the charger takes {Figure(most_v, SUPPLY_VOLTS)} "
            "at most: more destroys it, and can set it on fire. Use a supply of a lower voltage."
        )
        return [Problem("supply_v", sentence)]
    return []


def _problems_of_battery(supply: SupplyEntries, charger: ChargerInput | None) -> list[Problem]:
    kind = LEAD_ACID[supply.battery_kind]
    sentence = ""
    if supply.battery_resting_v > kind.rested_most_v.value:
        most = Figure(kind.rested_most_v.value, SUPPLY_VOLTS.to_step(0.01))
        sentence = (
            f"No such battery rests above {most}: it was charged not long ago. Switch off its charger or the engine, wait "
            f"{Figure(REST_AFTER_CHARGE_H.value, HOURS.to_step(1))}, and measure it again. If it still reads this after a night, it is full: enter {most}."
            " An iron phosphate battery rests so high at almost any charge: choose the mains power supply in its place, with the volts and amperes on its "
            "label, and count yourself what you take out."
        )
    elif supply.battery_resting_v <= kind.rest_v[0][1].value:
        sentence = "This battery is empty, too weak to start the charger: charge it first, or use another."
    elif charger is not None and supply.battery_resting_v <= charger.charger_input_least_v:
        sentence = "This battery rests no higher than the charger's lowest input, too weak to start it: use another supply."
    elif charger is not None and charger.charger_input_most_v is not None and supply.battery_resting_v > charger.charger_input_most_v:
        sentence = "This battery rests above the charger's highest input, which would destroy it: use a charger that is made for 12 V."
    return [Problem("battery_resting_v", sentence)] if sentence else []
