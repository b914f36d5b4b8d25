"""What is asked about a pack and a charger (`inputs.supply` has the supply): the same entries in every calculator that needs them.

A calculator's `Inputs` inherits those it needs. Python collects inherited fields from the last base to the first, so the
bases stand in the reverse of the form's order.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import CHEMISTRIES, MOST_CELLS, NICKEL_METAL_HYDRIDE
from calc.facts.looks import LOOKS, SOUND, SOUND_WORDS
from calc.facts.warmth import WARMTHS
from calc.figures.quantities import (
    AMPERES,
    CELL_VOLTS,
    CELLS,
    DEGREES_CELSIUS,
    MILLIAMPERE_HOURS,
    MILLIOHMS,
    PERCENT,
    PORTS,
    RATE,
    SUPPLY_VOLTS,
    WATTS,
)
from calc.inputs.fields import Group, choice, number, readings, same_as
from calc.inputs.known_pack import COLD, WithCapacity, WithCondition, WithReading

PACK = Group("pack", "This pack")
READINGS = Group("readings", "Read on the pack now")
# What a pilot may wish for, and most leave as it stands.
RATE_WANTED = Group("rate", "How fast, if not at 1C", optional=True)
PACK_MORE = Group("pack-more", "More about this pack, if known", optional=True)
CHARGER = Group("charger", "The charger", kept=True)

# The finest steps that a charger may have, and the step of capacity that most have.
FINEST_CURRENT_STEP_A = 0.01
FINEST_CAPACITY_STEP_MAH = 1
USUAL_CAPACITY_STEP_MAH = 100

# The choices that are not worked out are listed too: a pilot who holds such a pack must find it, and be told what to do.
NICKEL = "nimh"
UNKNOWN = "unknown"
CHEMISTRY_CHOICES = {key: chemistry.name for key, chemistry in CHEMISTRIES.items()} | {
    NICKEL: NICKEL_METAL_HYDRIDE.name,
    UNKNOWN: "Not known, or the label cannot be read",
}
LOOK_CHOICES = {key: look.words for key, look in LOOKS.items()} | {SOUND: SOUND_WORDS}
_SPANS = ", ".join(f"{key} {one.span}" for key, one in WARMTHS.items())
WARMTH_CHOICES = {COLD: "Cold: measure it"} | {key: f"{one.words}, {one.span}" for key, one in WARMTHS.items()}
RESTED, FLOWN, LOADED = "rested", "flown", "loaded"
READ_CHOICES = {
    RESTED: "Rested: nothing plugged in for half an hour or more",
    FLOWN: "Just flown or charged, less than half an hour ago",
    LOADED: "While the motor ran, or while it charged",
}


@dataclass(frozen=True, kw_only=True)
class LabelledPack(WithCondition, WithCapacity):
    """One pack from its label, and whatever else is known of it so far. Without `resting_v` and `pack_degc` it has not been read."""

    chemistry: str = choice("Chemistry", CHEMISTRY_CHOICES, group=PACK, hint="As the label says.", on_label=True)
    cells: float = number(
        "Cells in series",
        CELLS,
        group=PACK,
        least=1,
        most=MOST_CELLS,
        whole=True,
        on_label=True,
        asked_as="the number of cells in series",
        hint="The number before the S. The balance plug has one wire more.",
    )
    capacity_mah: float = number("Capacity on the label", MILLIAMPERE_HOURS, group=PACK, least=20, most=60_000, on_label=True)
    label_charge_rate_c: float = number(
        "Charge rate on the label",
        RATE,
        group=PACK,
        least=0.1,
        most=20,
        starts_as="1",
        on_label=True,
        hint="Often in small print: the large C number is for flight. Leave it at 1 if the label shows none.",
    )
    resting_v: tuple[float, ...] | None = readings(
        "Resting voltage",
        CELL_VOLTS,
        group=READINGS,
        least=0,
        most=70,
        optional=True,
        hint="The whole pack, or each cell with spaces between: 3.80 3.81 3.79. Measured before charging, half an hour after use.",
    )
    pack_degc: float | None = number(
        "Temperature of the pack",
        DEGREES_CELSIUS,
        group=READINGS,
        least=-40,
        most=100,
        optional=True,
        measured=True,
        such_as="20",
        hint="A number with F after it is read as °F.",
    )
    pack_warmth: str | None = choice(
        "How warm it feels",
        WARMTH_CHOICES,
        group=READINGS,
        asked_as="the word for how warm it feels",
        optional=True,
        measured=True,
        hint=f"In place of the number: {_SPANS}. Each limit then counts from the stricter end. A cold pack is measured.",
    )
    air_degc: float | None = number(
        "Temperature of the air",
        DEGREES_CELSIUS,
        group=PACK_MORE,
        least=-40,
        most=60,
        optional=True,
        measured=True,
        such_as="20",
        hint="Left empty, it counts as warm as the pack.",
    )
    measured_capacity_mah: float | None = number(
        "Capacity as last measured",
        MILLIAMPERE_HOURS,
        group=PACK_MORE,
        least=20,
        most=60_000,
        optional=True,
        hint="What it took in from empty. An aged pack holds less than its label, and is charged with less.",
    )
    label_discharge_rate_c: float | None = number(
        "Discharge rate on the label", RATE, group=PACK_MORE, least=0.5, most=300, optional=True, on_label=True
    )
    cell_resistance_mohm: float | None = number(
        "Resistance of one cell",
        MILLIOHMS,
        group=PACK_MORE,
        least=0.1,
        most=500,
        optional=True,
        hint="As a charger or a meter shows it, the highest of the cells.",
    )
    new_resistance_mohm: float | None = number(
        "Resistance of one cell when new",
        MILLIOHMS,
        group=PACK_MORE,
        least=0.1,
        most=500,
        optional=True,
        hint="From your notes, at much the same warmth.",
    )
    cell_resistances_mohm: tuple[float, ...] | None = readings(
        "Resistance of each cell",
        MILLIOHMS,
        group=PACK_MORE,
        least=0.1,
        most=500,
        optional=True,
        hint="All cells in order, with spaces between: 5.1 4.9 5.0. Read together, on one charger or meter.",
    )
    look: str | None = choice(
        "What you see, smell or know",
        LOOK_CHOICES,
        group=PACK_MORE,
        optional=True,
        measured=True,
        hint="Go down the list and take the first line that fits.",
    )
    read_when: str | None = choice(
        "When you read the voltages",
        READ_CHOICES,
        group=PACK_MORE,
        optional=True,
        measured=True,
        hint="A voltage under load is not a state of charge.",
    )


@dataclass(frozen=True, kw_only=True)
class PackEntries(WithReading, LabelledPack):
    """One pack, from its label, a voltmeter and a thermometer."""

    resting_v: tuple[float, ...] = same_as(LabelledPack, "resting_v", optional=False)
    pack_degc: float | None = same_as(LabelledPack, "pack_degc", optional=False, only_with=("pack_warmth", ("", COLD)))


@dataclass(frozen=True, kw_only=True)
class RateEntries:
    """How fast a pack is to be charged: its words and bounds. A page takes them by `same_as`, at its own place in the form."""

    requested_rate_c: float = number(
        "Charge rate you want",
        RATE,
        group=RATE_WANTED,
        least=0.05,
        most=20,
        starts_as="1",
        hint="1C suits most packs. The label still counts, and may allow less.",
    )


@dataclass(frozen=True, kw_only=True)
class ChargerEntries:
    """A charger, from its label and its manual."""

    charger_current_a: float = number("Highest charge current", AMPERES, group=CHARGER, least=0.1, most=60)
    charger_power_w: float = number("Highest charge power", WATTS, group=CHARGER, least=1, most=3000)
    charger_cells: float = number(
        "Most cells in series",
        CELLS,
        group=CHARGER,
        least=1,
        most=MOST_CELLS,
        whole=True,
        asked_as="the highest number of cells that the charger takes",
    )
    balance_ports: float = number(
        "Balance ports",
        PORTS,
        group=CHARGER,
        least=1,
        most=4,
        whole=True,
        starts_as="1",
        hint="Of one output: as many balance plugs as one charge can have.",
        asked_as="the number of balance ports",
    )
    port_cells: float = number(
        "Most cells on one balance port",
        CELLS,
        group=CHARGER,
        least=1,
        most=MOST_CELLS,
        whole=True,
        asked_as="the highest number of cells that one balance port takes",
    )
    current_step_a: float = number("Smallest step of current", AMPERES, group=CHARGER, least=FINEST_CURRENT_STEP_A, most=1, starts_as="0.1")
    capacity_step_mah: float = number(
        "Smallest step of capacity",
        MILLIAMPERE_HOURS,
        group=CHARGER,
        least=FINEST_CAPACITY_STEP_MAH,
        most=1000,
        starts_as=str(USUAL_CAPACITY_STEP_MAH),
    )
    charger_input_least_v: float = number("Lowest input voltage", SUPPLY_VOLTS, group=CHARGER, least=5, most=60, starts_as="11")
    charger_input_most_v: float | None = number(
        "Highest input voltage",
        SUPPLY_VOLTS,
        group=CHARGER,
        least=10,
        most=100,
        optional=True,
        hint="On its label. Above it the charger breaks, and can burn.",
    )
    efficiency_percent: float = number(
        "Efficiency", PERCENT, asked_as="the efficiency of the charger", group=CHARGER, least=40, most=99, starts_as="85"
    )
    balance_current_a: float | None = number("Balance current", AMPERES, group=CHARGER, least=0.01, most=5, optional=True)


@dataclass(frozen=True, kw_only=True)
class DischargingChargerEntries(ChargerEntries):
    """A charger that takes charge out of a pack too, if its label says so."""

    discharge_current_a: float | None = number("Highest discharge current", AMPERES, group=CHARGER, least=0.05, most=60, optional=True)
    discharge_power_w: float | None = number("Highest discharge power", WATTS, group=CHARGER, least=0.5, most=1000, optional=True)
