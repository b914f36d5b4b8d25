"""What is asked about the supply of a charger, and the lead between the two: the same entries in every calculator that needs them."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.lead_acid import LEAD_ACID
from calc.figures.quantities import AMPERE_HOURS, AMPERES, METRES, MILLIOHMS, SQUARE_MILLIMETRES, SUPPLY_VOLTS
from calc.inputs.fields import Group, choice, number

SUPPLY = Group("supply", "What feeds the charger", kept=True)
SUPPLY_MORE = Group("supply-more", "More about the supply, if known", optional=True)

MAINS = "mains"
BATTERY = "battery"
VEHICLE = "vehicle"
SUPPLY_CHOICES = {BATTERY: "A 12 V lead-acid battery", VEHICLE: "A vehicle's own battery", MAINS: "A mains power supply"}
# Both run down, and both are asked for capacity and resting voltage; only their floors differ.
LEAD_ACID_SUPPLIES = (BATTERY, VEHICLE)
BATTERY_CHOICES = {key: kind.name for key, kind in LEAD_ACID.items()}


@dataclass(frozen=True, kw_only=True)
class SupplyEntries:
    """What feeds the charger, and the lead between the two."""

    supply_kind: str = choice(
        "Supply",
        SUPPLY_CHOICES,
        group=SUPPLY,
        starts_as=BATTERY,
        hint="A vehicle's battery must still start its engine, so more is left in it.",
    )
    battery_kind: str = choice("Kind of battery", BATTERY_CHOICES, group=SUPPLY, only_with=("supply_kind", LEAD_ACID_SUPPLIES))
    battery_ah: float = number(
        "Capacity of the battery",
        AMPERE_HOURS,
        group=SUPPLY,
        least=1,
        most=1000,
        only_with=("supply_kind", LEAD_ACID_SUPPLIES),
        hint="The 20-hour figure on its label.",
    )
    battery_resting_v: float = number(
        "Resting voltage of the battery",
        SUPPLY_VOLTS,
        group=SUPPLY,
        least=1,
        most=16,
        only_with=("supply_kind", LEAD_ACID_SUPPLIES),
        measured=True,
        such_as="12.6",
        hint="With nothing connected: an hour after a load, eight hours after a charge.",
    )
    supply_v: float = number(
        "Output voltage", SUPPLY_VOLTS, group=SUPPLY, least=5, most=60, only_with=("supply_kind", (MAINS,)), such_as="13.8"
    )
    supply_current_a: float = number(
        "Highest output current", AMPERES, group=SUPPLY, least=0.1, most=200, only_with=("supply_kind", (MAINS,))
    )
    lead_length_m: float = number(
        "Length of the supply lead, one way", METRES, group=SUPPLY, least=0.05, most=30, asked_as="the one-way length of the supply lead"
    )
    lead_area_mm2: float = number(
        "Cross-section of one wire", SQUARE_MILLIMETRES, group=SUPPLY, least=0.1, most=70, hint="With its unit: 2.5 mm², or 14 AWG."
    )
    connector_mohm: float | None = number(
        "Resistance of the connectors and clips",
        MILLIOHMS,
        group=SUPPLY_MORE,
        least=0,
        most=200,
        optional=True,
        hint="All of them together, there and back. Left empty, they count as none.",
    )
    lead_fuse_a: float | None = number(
        "Fuse in the supply lead",
        AMPERES,
        asked_as="the rating of the fuse in the supply lead",
        group=SUPPLY_MORE,
        least=1,
        most=200,
        optional=True,
        hint="The number on it. A vehicle's socket has a fuse too: the lower number counts.",
    )

    @property
    def is_lead_acid(self) -> bool:
        """Whether it is a battery, which runs down, and not a mains supply."""
        return self.supply_kind in LEAD_ACID_SUPPLIES
