"""What a supply lead loses at a current: volts, watts, and what is left for the charger, from cool wire to hot."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.copper import HOT_LEAD_DEGC
from calc.figures.spans import Span
from calc.figures.units import ohm_from_mohm, percent_from_fraction
from calc.physics.supply.leads import lead_span_ohm, warm_resistance_ohm
from calc.physics.supply.source import Supply, source_resistance_ohm, source_v, supply_lead_ohm


@dataclass(frozen=True, slots=True, kw_only=True)
class Losses:
    """What is lost between the supply's terminals and the charger, and the voltage that the charger sees."""

    drop_v: Span
    drop_percent: Span
    lost_w: Span
    at_charger_v: Span


def losses_at(supply: Supply, current_a: float) -> Losses:
    """Return what lead and connectors lose at a current.

        dU = I (R_wire + R_connectors)        P = I dU        U_charger = U - I R_battery - dU        in V, A, Ω and W

    The least is solid copper at 20 °C, the likely one flexible lead at 20 °C as on every page, the most flexible lead as hot as
    its insulation may become.

    Source: IEC 60028, IEC 60228 class 5, and Ohm's law.

    >>> from types import SimpleNamespace
    >>> supply = SimpleNamespace(is_lead_acid=False, supply_v=12.0, lead_length_m=1.5, lead_area_mm2=2.5, connector_mohm=None)
    >>> round(losses_at(supply, current_a=10).drop_v.likely, 2)
    0.24
    """
    wire_ohm = lead_span_ohm(supply.lead_length_m, supply.lead_area_mm2)
    connector_ohm = ohm_from_mohm(supply.connector_mohm or 0)
    lead_ohm = Span(
        wire_ohm.least + connector_ohm, supply_lead_ohm(supply), warm_resistance_ohm(wire_ohm.most, HOT_LEAD_DEGC.value) + connector_ohm
    )
    drop_v = lead_ohm.times(current_a)
    inside_v = current_a * (source_resistance_ohm(supply) - supply_lead_ohm(supply))
    left_v = source_v(supply) - inside_v
    return Losses(
        drop_v=drop_v,
        drop_percent=drop_v.times(percent_from_fraction(1 / source_v(supply))),
        lost_w=drop_v.times(current_a),
        at_charger_v=Span(left_v - drop_v.most, left_v - drop_v.likely, left_v - drop_v.least),
    )
