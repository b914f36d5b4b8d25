"""What feeds the charger, as the charger sees it: a voltage behind the resistance of a battery, a lead and its connectors, and what passes that."""

from __future__ import annotations

from math import sqrt
from typing import Protocol

from calc.figures.units import ohm_from_mohm
from calc.physics.supply.lead_acid import battery_resistance_ohm
from calc.physics.supply.leads import lead_resistance_ohm


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


def power_at_current_w(open_v: float, resistance_ohm: float, current_a: float) -> float:
    """Return the power that arrives behind a resistance, W: P = (U - I R) I, with the voltage U at no load, V; past U / 2R it falls again.

    Source: Ohm's law.

    >>> round(power_at_current_w(open_v=12.0, resistance_ohm=0.02, current_a=10.0), 2)
    118.0
    """
    return (open_v - current_a * resistance_ohm) * current_a


def current_for_power_a(open_v: float, resistance_ohm: float, power_w: float) -> float:
    """Return the current that a source gives when a charger behind a resistance asks for a power at its input, A.

        I = 2 P / (U + sqrt(U^2 - 4 R P))        the lower root of P = (U - I R) I, with U at no load in V, R of source and lead in Ω

    Raises:
        ValueError: more power than can pass, P > U^2 / 4R: the caller's limits come first.

    Source: Ohm's law.

    >>> round(current_for_power_a(open_v=12.0, resistance_ohm=0.0, power_w=148.2), 2)
    12.35
    """
    under_root = open_v * open_v - 4 * resistance_ohm * power_w
    if under_root < 0:
        raise ValueError(f"{power_w} W cannot pass {resistance_ohm} ohm from {open_v} V")
    return 2 * power_w / (open_v + sqrt(under_root))


def largest_current_a(open_v: float, resistance_ohm: float, least_v: float) -> float:
    """Return the current at which a source's voltage, behind a resistance, sinks to the lowest that is usable, A; 0 if it is below already.

        I = (U - U_least) / R        U at no load in V, R of source and lead in Ω, above 0

    Source: Ohm's law.

    >>> round(largest_current_a(open_v=12.5, resistance_ohm=0.05, least_v=11.0), 1)
    30.0
    """
    return max(0.0, open_v - least_v) / resistance_ohm
