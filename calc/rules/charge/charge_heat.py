"""How warm a pack gets on its way to the full voltage: will the charge itself take it to its temperature stop?

The pack is one lump, as in a flight. Its heat is that of the set current over the time for which that current flows; after that
the current falls, and the heat with its square.
"""

from __future__ import annotations

from math import ceil

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.pack_heat import SPECIFIC_HEAT_J_PER_KG_K
from calc.figures.spans import Span
from calc.figures.units import s_from_min
from calc.inputs.equipment import PackEntries
from calc.physics.pack.flight import flight
from calc.physics.pack.flight_packs import FlightPack, flight_pack
from calc.physics.pack.packs import watt_hours
from calc.rules.charge.charge_outlook import Outlook, pack_cell_resistance_ohm


def minutes_at_full_current(outlook: Outlook) -> Span:
    """Return for how long the set current flows in a charge, min.

    Where power holds it down, the least has none of that time, and the most all of it.
    """
    constant = outlook.coming.constant_current_min
    return Span(constant.least, constant.likely, constant.most + outlook.coming.constant_power_min.most)


def never_above_degc(pack: PackEntries, *, longest_min: float, current_a: float) -> float:
    """Return what no course of a charge passes, °C: the lightest pack that keeps all of the most heat. Quick to work out.

        T = max(T0, Tair) + n R I² t / (m c)        n cells, R in ohm, I in A, t in s, m in kg, c in J/(kg K)

    Source: a balance of energy; `facts.pack_heat`.
    """
    energy_wh = watt_hours(pack.capacity_mah, pack.cells, CHEMISTRIES[pack.chemistry].nominal_cell_v.value)
    lightest_kg = energy_wh / CHEMISTRIES[pack.chemistry].energy_per_mass_wh_per_kg.most.value
    heat_j = pack.cells * pack_cell_resistance_ohm(pack).most * current_a**2 * s_from_min(longest_min)
    warmer_degc = pack.warmest_degc if pack.air_degc is None else max(pack.warmest_degc, pack.air_degc)
    return warmer_degc + heat_j / (lightest_kg * SPECIFIC_HEAT_J_PER_KG_K.least.value)


def likely_never_above_degc(pack: PackEntries, *, longest_min: float, current_a: float) -> float:
    """Return what the likely course of a charge does not pass, °C: the likely pack, if it kept all of its heat. Quick to work out.

        T = max(T0, Tair) + n R f I² t / C        n cells, R in ohm, f the factor of the cooler of both, I in A, t in s, C in J/K

    Source: a balance of energy; a resistance falls while the pack warms.
    """
    seen = _as_flown(pack)
    likely = seen.likely
    heat_w = seen.cells * likely.resistance_ohm * likely.factor(min(seen.start_degc, seen.air_degc)) * current_a**2
    least_j_per_k = min(body.heat_capacity_j_per_k for body in likely.bodies)
    return max(seen.start_degc, seen.air_degc) + heat_w * s_from_min(longest_min) / least_j_per_k


def hottest_on_charge_degc(pack: PackEntries, *, minutes: Span, current_a: float) -> Span:
    """Return the highest temperature of a pack during a charge, °C, its start included: the coolest course, the likely, the warmest.

        P = n R f(T) I²        P in W, n cells, R in ohm per cell at 25 °C, f the temperature factor, I in A

    The coolest has the least resistance in the most wind and the shortest time at full current; the warmest the reverse. Air that was
    not measured counts as warm as the pack.

    Source: Joule's law; `physics.pack.flight`.
    """
    if minutes.most <= 0:
        return Span(pack.warmest_degc, pack.warmest_degc, pack.warmest_degc)
    # A charge at one current heats a pack as a flight at that current does.
    courses = flight(_as_flown(pack), highest_current_a=current_a, mean_current_a=current_a, time_min=minutes.most).courses_degc
    spans = (minutes.least, minutes.likely, minutes.most)
    return Span(*(max(_until(course, time_min / minutes.most)) for course, time_min in zip(courses, spans, strict=True)))


def _as_flown(pack: PackEntries) -> FlightPack:
    """The pack as heat sees it; air that was not measured counts as the pack's."""
    return flight_pack(
        pack.chemistry,
        cells=pack.cells,
        capacity_mah=pack.capacity_mah,
        effective_capacity_mah=pack.effective_capacity_mah,
        cell_resistance_mohm=pack.highest_resistance_mohm,
        label_discharge_rate_c=pack.label_discharge_rate_c,
        mass_kg=None,
        start_degc=pack.warmest_degc,
        air_degc=pack.warmest_degc if pack.air_degc is None else pack.air_degc,
    )


def _until(course: tuple[float, ...], share: float) -> tuple[float, ...]:
    """The part of a course up to a share of its time, and the rest of the step in which that lies."""
    return course[: ceil(share * (len(course) - 1)) + 1]
