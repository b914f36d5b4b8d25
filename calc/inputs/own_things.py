"""What is kept of a pilot's own packs, chargers and supplies: taken from what the calculators ask, so that each field stands in one place.

What is on a label stays as it is and comes along to a pack of the same kind. What was measured of the pack is kept with its date. A reading
is true for a while only, and none is ever kept.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.equipment import CHARGER, NICKEL, UNKNOWN, ChargerEntries, DischargingChargerEntries, PackEntries
from calc.inputs.fields import Entry, Group, choice, entries_of, same_as
from calc.inputs.joined_packs import PluggedPackEntries
from calc.inputs.rows import several
from calc.inputs.second_supply import SECOND
from calc.inputs.supply import SupplyEntries

LABEL = Group("own-label", "On its label")
PLUGS = Group("own-plugs", "Its balance plugs")
MEASURED = Group("own-measured", "As last measured, if you know it", optional=True)

# What of a pack's dated values is to be measured again: what it had when it was new stays.
MEASURED_AGAIN = ("measured_capacity_mah", "cell_resistance_mohm")

ONE_PLUG, TWO_PLUGS = "1", "2"
MOST_OUTPUTS = 4
# By which names a plan asks what its second output has of its own, and what that is called of an output.
SECOND_OUTPUT = {"second_output_current_a": "charger_current_a", "second_output_power_w": "charger_power_w"}
# What else another charger has, and what its supply has, where that is one of its own.
SECOND_CHARGER = {f"{SECOND}{name}": name for name in entries_of(DischargingChargerEntries) if name not in SECOND_OUTPUT.values()}
SECOND_SUPPLY = {f"{SECOND}{name}": name for name in entries_of(SupplyEntries)}
# What each kind of pack is called where there is no room for its whole name.
SHORT_KINDS = {key: kind.short_name for key, kind in CHEMISTRIES.items()} | {NICKEL: "NiMH", UNKNOWN: "Kind not known"}


@dataclass(frozen=True, kw_only=True)
class PlugEntries:
    """The balance plugs of a pack. How many cells are on each of two is never assumed."""

    balance_plugs: str = choice(
        "Balance plugs",
        {ONE_PLUG: "One", TWO_PLUGS: "Two"},
        group=PLUGS,
        starts_as=ONE_PLUG,
        on_label=True,
        hint="Packs of many cells have two.",
    )
    first_plug_cells: float = same_as(
        PluggedPackEntries,
        "first_plug_cells",
        group=PLUGS,
        only_with=("balance_plugs", (TWO_PLUGS,)),
        optional=False,
        hint="The one at the minus end: count its wires, less one. The other has the rest.",
    )


@dataclass(frozen=True, kw_only=True)
class OutputEntries:
    """One output of a charger. Each gives a current and a power of its own."""

    charger_current_a: float = same_as(ChargerEntries, "charger_current_a")
    charger_power_w: float = same_as(ChargerEntries, "charger_power_w")


@dataclass(frozen=True, kw_only=True)
class _Outputs:
    outputs: tuple[OutputEntries, ...] = several(OutputEntries, "Output", group_key="outputs", least=1, most=MOST_OUTPUTS)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnThing:
    """A kind of thing that is kept: what is asked of it by name, and which of that is true for one of its kind alone.

    `dated` is kept with the day on which it was measured. `readings` are emptied when another is picked.
    """

    key: str
    entries: Mapping[str, Entry]
    dated: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()


def own_pack() -> OwnThing:
    """Return what is kept of a pack.

    >>> own_pack().dated[0], own_pack().readings[0]
    ('measured_capacity_mah', 'resting_v')
    """
    asked = entries_of(PackEntries)
    label = {name: replace(entry, group=LABEL) for name, entry in asked.items() if entry.on_label}
    dated = {name: replace(entry, group=MEASURED) for name, entry in asked.items() if not (entry.on_label or entry.measured)}
    return OwnThing(key="pack", entries=label | entries_of(PlugEntries) | dated, dated=tuple(dated), readings=_measured(asked))


def own_charger() -> OwnThing:
    """Return what is kept of a charger: its outputs one by one, and what they share.

    >>> list(own_charger().entries)[:2]
    ['outputs_1_charger_current_a', 'outputs_1_charger_power_w']
    """
    outputs = entries_of(OutputEntries)
    shared = {name: replace(entry, group=CHARGER) for name, entry in entries_of(DischargingChargerEntries).items() if name not in outputs}
    return OwnThing(key="charger", entries=entries_of(_Outputs) | shared)


def own_supply() -> OwnThing:
    """Return what is kept of a supply, with its lead.

    >>> own_supply().readings
    ('battery_resting_v',)
    """
    asked = entries_of(SupplyEntries)
    return OwnThing(key="supply", entries={name: entry for name, entry in asked.items() if not entry.measured}, readings=_measured(asked))


def _measured(asked: Mapping[str, Entry]) -> tuple[str, ...]:
    return tuple(name for name, entry in asked.items() if entry.measured)
