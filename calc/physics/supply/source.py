"""What feeds the charger, as the charger sees it: a voltage behind the resistance of a battery, a lead and its connectors."""

from __future__ import annotations

from typing import Protocol

from calc.figures.units import ohm_from_mohm
from calc.physics.supply.leads import lead_resistance_ohm
from calc.physics.supply.supplies import battery_resistance_ohm


class Supply(Protocol):
    """A 12 V lead-acid battery (capacity in Ah, voltage at rest) or a mains supply (its output), and the lead to the charger."""

    @property
    def is_lead_acid(self) -> bool: ...
    @property
    def battery_ah(self) -> float: ...
    @property
    def battery_resting_v(self) -> float: ...
    @property
    def supply_v(self) -> float: ...
    @property
    def lead_length_m(self) -> float: ...
    @property
    def lead_area_mm2(self) -> float: ...
    @property
    def connector_mohm(self) -> float | None: ...


def source_v(supply: Supply) -> float:
    """Return the supply's voltage with nothing drawn, V: the battery's at rest, or the mains supply's output.

    Source: the definition of an open-circuit voltage.

    >>> from types import SimpleNamespace
    >>> source_v(SimpleNamespace(is_lead_acid=False, supply_v=13.8))
    13.8
    """
    return supply.battery_resting_v if supply.is_lead_acid else supply.supply_v


def supply_lead_ohm(supply: Supply) -> float:
    """Return the resistance of the supply lead, there and back, with its connectors, Ω. Connectors not entered count as none.

        R = R_wire + R_connectors

    Source: Ohm's law; `leads.lead_resistance_ohm` has that of the wire.

    >>> from types import SimpleNamespace
    >>> round(supply_lead_ohm(SimpleNamespace(lead_length_m=1.5, lead_area_mm2=2.5, connector_mohm=6)), 3)
    0.03
    """
    return lead_resistance_ohm(supply.lead_length_m, supply.lead_area_mm2) + ohm_from_mohm(supply.connector_mohm or 0)


def source_resistance_ohm(supply: Supply) -> float:
    """Return the resistance between the supply's own voltage and the charger, Ω. A mains supply holds its voltage and adds none.

        R = R_lead + R_battery

    Source: Ohm's law.

    >>> from types import SimpleNamespace
    >>> mains = SimpleNamespace(is_lead_acid=False, lead_length_m=1.5, lead_area_mm2=2.5, connector_mohm=None)
    >>> round(source_resistance_ohm(mains), 3)
    0.024
    """
    return supply_lead_ohm(supply) + (battery_resistance_ohm(supply.battery_ah) if supply.is_lead_acid else 0.0)
