"""A pack as it starts on a flight: what is not known of it, combined for the coolest landing, the likely and the warmest.

Which end of mass, of the heat that it holds and of cooling that is, depends on the air. Write the pack as dT/dt = f(T), u for
what it is above the air. More heat is always warmer, as f rises with it. As f does not change with time, a pack only warms or
only cools, and twice the heat that a kilogram holds only takes twice the time: less of it is further on, either way.
- The air is no warmer than the pack at its start: then u stays 0 or more, and more cooling is always cooler. The mass m stands
  in f as P y^3 - g u y, with y = m^(-1/3), P the heat and g the cooling. A pack that warms does so faster the lighter it is. For
  one that cools, the time to a temperature is convex in y: the warmest landing lies at an end, the coolest may lie between.
- The air is warmer: then the pack warms, faster the lighter it is and the less heat it holds. More cooling warms it until it
  is as warm as the air, and cools it from there on: the least cooling, the most, or first one and then the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import sqrt

from calc.facts.cell_parameters import REFERENCE_TEMPERATURE_DEGC
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.pack_heat import HEAT_TRANSFER_W_PER_M2_K, SPECIFIC_HEAT_J_PER_KG_K
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah
from calc.physics.cell.cell_resistance import cell_resistance_ohm, least_factor, likely_factor, most_factor
from calc.physics.cell.cells import edge_curves, voltage_and_slope
from calc.physics.pack.pack_heat import Body, body_of
from calc.physics.pack.packs import watt_hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """One way in which what is not known may come together: the least heat, the likely or the most, and what the pack may be.

    `factor` is the temperature factor of its resistance. `ends` takes the landing of all bodies: `min` for the coolest. In air
    that is no warmer, the first body alone decides for a pack that only warms.
    """

    resistance_ohm: float
    factor: Callable[[float], float]
    bodies: tuple[Body, ...]
    ends: Callable[[Iterable[float]], float]
    resting_cell_v: Callable[[float], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightPack:
    """A pack as it starts, with its corners: the coolest, the likely, the warmest."""

    cells: float
    effective_ah: float
    start_degc: float
    air_degc: float
    mass_kg: Span
    resistance_ohm: Span
    coolest: Corner
    likely: Corner
    warmest: Corner


def flight_pack(
    chemistry_key: str,
    *,
    cells: float,
    capacity_mah: float,
    effective_capacity_mah: float,
    cell_resistance_mohm: float | None,
    label_discharge_rate_c: float | None,
    mass_kg: float | None,
    start_degc: float,
    air_degc: float,
) -> FlightPack:
    """Return a charged pack as it starts, from what is known of it.

        m = E / e        m in kg, E the watt-hours of the label, e in Wh/kg; where the pack was not weighed

    Args:
        chemistry_key: a key of `CHEMISTRIES`.
        cells: cells in series, 1 or more.
        capacity_mah: capacity on the label, mAh, above 0.
        effective_capacity_mah: what it still holds, mAh, above 0; a C rate counts from it.
        cell_resistance_mohm: resistance of one cell, read near 25 °C, mΩ; None if it was not read.
        label_discharge_rate_c: continuous discharge rate on the label, C; None if there is none.
        mass_kg: mass of the pack, kg, above 0; None if it was not weighed.
        start_degc: the pack's temperature at the start, °C.
        air_degc: the air around it, °C.

    Source: `facts.pack_heat`; `physics.cell.cell_resistance`.

    >>> pack = flight_pack("lipo", cells=6, capacity_mah=5000, effective_capacity_mah=5000, cell_resistance_mohm=3,
    ...     label_discharge_rate_c=None, mass_kg=0.7, start_degc=25, air_degc=25)
    >>> pack.warmest.bodies[0].heat_capacity_j_per_k
    581.0
    """
    resistance = cell_resistance_ohm(
        capacity_mah=capacity_mah,
        effective_capacity_mah=effective_capacity_mah,
        cell_resistance_mohm=cell_resistance_mohm,
        label_discharge_rate_c=label_discharge_rate_c,
        degc=REFERENCE_TEMPERATURE_DEGC.value,
        chemistry_key=chemistry_key,
    )
    energy_wh = watt_hours(capacity_mah, cells, CHEMISTRIES[chemistry_key].nominal_cell_v.value)
    per_mass = CHEMISTRIES[chemistry_key].energy_per_mass_wh_per_kg
    masses = Span(energy_wh / per_mass.most.value, energy_wh / per_mass.likely.value, energy_wh / per_mass.least.value)
    mass = masses if mass_kg is None else Span(mass_kg, mass_kg, mass_kg)
    low_curve, high_curve = edge_curves(chemistry_key)
    coolest_bodies, warmest_bodies = _edge_bodies(mass, air_is_warmer=air_degc > start_degc)
    c_likely, h_likely = SPECIFIC_HEAT_J_PER_KG_K.likely.value, HEAT_TRANSFER_W_PER_M2_K.likely.value

    def resting(curve: tuple[float, ...]) -> Callable[[float], float]:
        return lambda state: voltage_and_slope(curve, state)[0]

    return FlightPack(
        cells=cells,
        effective_ah=ah_from_mah(effective_capacity_mah),
        start_degc=start_degc,
        air_degc=air_degc,
        mass_kg=mass,
        resistance_ohm=resistance,
        coolest=Corner(
            resistance_ohm=resistance.least, factor=least_factor, bodies=coolest_bodies, ends=min, resting_cell_v=resting(high_curve)
        ),
        likely=Corner(
            resistance_ohm=resistance.likely,
            factor=likely_factor,
            bodies=(_body(mass.likely, c_likely, h_likely),),
            ends=max,
            resting_cell_v=resting(CHEMISTRIES[chemistry_key].resting.likely.cell_v),
        ),
        warmest=Corner(
            resistance_ohm=resistance.most, factor=most_factor, bodies=warmest_bodies, ends=max, resting_cell_v=resting(low_curve)
        ),
    )


def _body(mass_kg: float, specific_heat: float, heat_transfer: float) -> Body:
    return body_of(mass_kg=mass_kg, specific_heat_j_per_kg_k=specific_heat, heat_transfer_w_per_m2_k=heat_transfer)


def _edge_bodies(mass_kg: Span, *, air_is_warmer: bool) -> tuple[tuple[Body, ...], tuple[Body, ...]]:
    """The bodies among which a pack lands coolest, and those among which it lands warmest, as the module's head derives."""
    light, likely, heavy = mass_kg.least, mass_kg.likely, mass_kg.most
    holds_least, holds_most = SPECIFIC_HEAT_J_PER_KG_K.least.value, SPECIFIC_HEAT_J_PER_KG_K.most.value
    still, usual, windy = (
        h.value for h in (HEAT_TRANSFER_W_PER_M2_K.least, HEAT_TRANSFER_W_PER_M2_K.likely, HEAT_TRANSFER_W_PER_M2_K.most)
    )
    if air_is_warmer:
        # In the step in which a pack passes the temperature of the air, the usual cooling may end it warmer than either end does.
        coolest = tuple(_body(heavy, holds_most, cooling) for cooling in (still, windy))
        return coolest, tuple(_body(light, holds_least, cooling) for cooling in (still, usual, windy))
    # Between the ends five masses do: halfway between two neighbours a pack lands within a thousandth of its fall in temperature.
    masses = {light, sqrt(light * likely), likely, sqrt(likely * heavy), heavy}
    coolest = (_body(heavy, holds_most, windy), *(_body(mass, holds_least, windy) for mass in sorted(masses)))
    return coolest, (_body(light, holds_least, still), _body(light, holds_most, still), _body(heavy, holds_most, still))
