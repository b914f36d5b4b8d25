"""A flight as the pack sees it: volts lost under load, heat, the temperature at landing, and the rate that it can stand.

The pilot knows the highest current and the mean, not the course between. The heat follows the mean of the current's square,
which lies between the square of the mean (an even draw) and the mean times the highest (full throttle or none). What is not
known of resistance, mass and cooling is run for the warmest landing and for the coolest.

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
from math import exp, floor, fsum, log, log2, sqrt

from calc.facts.cell_parameters import REFERENCE_TEMPERATURE_DEGC
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.pack_heat import ENERGY_PER_MASS_WH_PER_KG, HEAT_TRANSFER_W_PER_M2_K, SPECIFIC_HEAT_J_PER_KG_K
from calc.facts.resting_voltages import RESTING_TABLES
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, h_from_min, min_from_h
from calc.physics.bracketing import narrowed
from calc.physics.cells import (
    cell_resistance_ohm,
    edge_curves,
    least_factor,
    likely_factor,
    most_factor,
    temperature_factor,
    voltage_and_slope,
)
from calc.physics.packs import watt_hours
from calc.physics.pack_heat import Body, body_of, warming

# Rates between which a pack's own is looked for, C, and how finely.
_SLOWEST_C, _FASTEST_C, _PART_OF_RATE, _RATE_STEPS = 0.1, 400.0, 1e-3, 20
_DOUBLINGS = floor(log2(_FASTEST_C / _SLOWEST_C)) + 1


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
    held_ah: float
    start_degc: float
    air_degc: float
    mass_kg: Span
    resistance_ohm: Span
    coolest: Corner
    likely: Corner
    warmest: Corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Flight:
    """What the flight does to the pack. The cells' voltages are those under the highest current."""

    courses_degc: tuple[tuple[float, ...], ...]
    mean_heat_w: Span
    peak_heat_w: Span
    sag_cell_v: Span
    start_cell_v: Span
    end_cell_v: Span
    used_share: float

    @property
    def end_degc(self) -> Span:
        """The temperature at landing, °C."""
        return Span(*(course[-1] for course in self.courses_degc))


def flight_pack(
    chemistry_key: str,
    *,
    cells: float,
    capacity_mah: float,
    held_capacity_mah: float,
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
        held_capacity_mah: what it still holds, mAh, above 0; a C rate counts from it.
        cell_resistance_mohm: resistance of one cell, read near 25 °C, mΩ; None if it was not read.
        label_discharge_rate_c: continuous discharge rate on the label, C; None if there is none.
        mass_kg: mass of the pack, kg, above 0; None if it was not weighed.
        start_degc: the pack's temperature at the start, °C.
        air_degc: the air around it, °C.

    Returns:
        The pack.

    Refuses: nothing.

    Source: `facts.pack_heat`; `cells.cell_resistance_ohm`.

    >>> pack = flight_pack("lipo", cells=6, capacity_mah=5000, held_capacity_mah=5000, cell_resistance_mohm=3,
    ...     label_discharge_rate_c=None, mass_kg=0.7, start_degc=25, air_degc=25)
    >>> pack.warmest.bodies[0].heat_capacity_j_per_k
    581.0
    """
    resistance = cell_resistance_ohm(
        capacity_mah=capacity_mah,
        held_capacity_mah=held_capacity_mah,
        cell_resistance_mohm=cell_resistance_mohm,
        label_discharge_rate_c=label_discharge_rate_c,
        degc=REFERENCE_TEMPERATURE_DEGC.value,
        chemistry_key=chemistry_key,
    )
    energy_wh = watt_hours(capacity_mah, cells, CHEMISTRIES[chemistry_key].nominal_cell_v.value)
    per_mass = ENERGY_PER_MASS_WH_PER_KG[chemistry_key]
    masses = Span(energy_wh / per_mass.most.value, energy_wh / per_mass.likely.value, energy_wh / per_mass.least.value)
    mass = masses if mass_kg is None else Span(mass_kg, mass_kg, mass_kg)
    low_curve, high_curve = edge_curves(chemistry_key)
    coolest_bodies, warmest_bodies = _edge_bodies(mass, air_is_warmer=air_degc > start_degc)
    c_likely, h_likely = SPECIFIC_HEAT_J_PER_KG_K.likely.value, HEAT_TRANSFER_W_PER_M2_K.likely.value

    def resting(curve: tuple[float, ...]) -> Callable[[float], float]:
        return lambda state: voltage_and_slope(curve, state)[0]

    return FlightPack(
        cells=cells,
        held_ah=ah_from_mah(held_capacity_mah),
        start_degc=start_degc,
        air_degc=air_degc,
        mass_kg=mass,
        resistance_ohm=resistance,
        coolest=Corner(
            resistance_ohm=resistance.least,
            factor=least_factor,
            bodies=coolest_bodies,
            ends=min,
            resting_cell_v=resting(high_curve),
        ),
        likely=Corner(
            resistance_ohm=resistance.likely,
            factor=likely_factor,
            bodies=(_body(mass.likely, c_likely, h_likely),),
            ends=max,
            resting_cell_v=resting(RESTING_TABLES[chemistry_key].likely.cell_v),
        ),
        warmest=Corner(
            resistance_ohm=resistance.most,
            factor=most_factor,
            bodies=warmest_bodies,
            ends=max,
            resting_cell_v=resting(low_curve),
        ),
    )


def _body(mass_kg: float, specific_heat: float, heat_transfer: float) -> Body:
    return body_of(mass_kg=mass_kg, specific_heat_j_per_kg_k=specific_heat, heat_transfer_w_per_m2_k=heat_transfer)


def _edge_bodies(mass_kg: Span, *, air_is_warmer: bool) -> tuple[tuple[Body, ...], tuple[Body, ...]]:
    """The bodies among which a pack lands coolest, and those among which it lands warmest, as the module's head derives."""
    light, likely, heavy = mass_kg.least, mass_kg.likely, mass_kg.most
    holds_least, holds_most = SPECIFIC_HEAT_J_PER_KG_K.least.value, SPECIFIC_HEAT_J_PER_KG_K.most.value
    still, usual, windy = (h.value for h in (HEAT_TRANSFER_W_PER_M2_K.least, HEAT_TRANSFER_W_PER_M2_K.likely, HEAT_TRANSFER_W_PER_M2_K.most))
    if air_is_warmer:
        # In the step in which a pack passes the temperature of the air, the usual cooling may end it warmer than either end does.
        coolest = tuple(_body(heavy, holds_most, cooling) for cooling in (still, windy))
        return coolest, tuple(_body(light, holds_least, cooling) for cooling in (still, usual, windy))
    # Between the ends five masses do: halfway between two neighbours a pack lands within a thousandth of its fall in temperature.
    masses = {light, sqrt(light * likely), likely, sqrt(likely * heavy), heavy}
    coolest = (_body(heavy, holds_most, windy), *(_body(mass, holds_least, windy) for mass in sorted(masses)))
    return coolest, (_body(light, holds_least, still), _body(light, holds_most, still), _body(heavy, holds_most, still))


def flight(pack: FlightPack, *, highest_current_a: float, mean_current_a: float, time_min: float) -> Flight:
    """Return what a flight does to a charged pack.

        P = n R f(T) <I²>,    mean² <= <I²> <= mean x highest        U = U_rest - I R f(T)
        P in W, n cells, R in ohm per cell at 25 °C, f the temperature factor, I in A, U in V per cell

    Args:
        pack: the pack at the start, fully charged.
        highest_current_a: the highest current, A, above 0.
        mean_current_a: the mean current, A, above 0 and no more than the highest.
        time_min: minutes of flight, above 0.

    Returns:
        The flight; voltages may come out below 0 for a current that the pack cannot give at all.

    Refuses: nothing.

    Source: Joule's law; `pack_heat.warming`. That the likely square lies half way is our assumption.

    >>> pack = flight_pack("lipo", cells=6, capacity_mah=5000, held_capacity_mah=5000, cell_resistance_mohm=3,
    ...     label_discharge_rate_c=None, mass_kg=0.7, start_degc=25, air_degc=25)
    >>> gentle = flight(pack, highest_current_a=25, mean_current_a=25, time_min=5)
    >>> round(gentle.peak_heat_w.least, 2), round(gentle.used_share, 3)
    (11.25, 0.417)
    """
    even, pulsed = mean_current_a**2, mean_current_a * highest_current_a
    corners = (pack.coolest, pack.likely, pack.warmest)
    squares = (even, (even + pulsed) / 2, pulsed)
    courses = tuple(_course(pack, corner, square, time_min) for corner, square in zip(corners, squares, strict=True))
    sag = _loss_v(pack, temperature_factor(pack.start_degc), highest_current_a)
    ends_degc = [course[-1] for course in courses]
    # The coldest that it may end at loses most volts, and the warmest fewest.
    end_factor = Span(
        least_factor(ends_degc[2]), likely_factor(ends_degc[1]), most_factor(min(ends_degc[0], pack.start_degc))
    )
    used = mean_current_a * h_from_min(time_min) / pack.held_ah
    return Flight(
        courses_degc=courses,
        mean_heat_w=_mean_heat_w(pack, squares, courses[1], time_min),
        peak_heat_w=sag.times(highest_current_a * pack.cells),
        sag_cell_v=sag,
        start_cell_v=_under_load_v(pack, 1.0, sag),
        end_cell_v=_under_load_v(pack, max(1.0 - used, 0.0), _loss_v(pack, end_factor, highest_current_a)),
        used_share=used,
    )


def _heat_w(pack: FlightPack, corner: Corner, square: float) -> Callable[[float], float]:
    at_reference_w = square * corner.resistance_ohm * pack.cells
    factor = corner.factor
    return lambda degc: at_reference_w * factor(degc)


def _course(
    pack: FlightPack, heated: Corner, square: float, time_min: float, lands: Corner | None = None, steps: int = 40
) -> tuple[float, ...]:
    """The temperatures of a flight with the heat of one corner, in the bodies of that corner or of another."""
    among, heat_w = lands or heated, _heat_w(pack, heated, square)
    most_lost_w = max(body.cooling_w_per_k for body in among.bodies) * (pack.start_degc - pack.air_degc)
    only_warms = pack.air_degc <= pack.start_degc and heat_w(pack.start_degc) >= most_lost_w
    return warming(
        among.bodies[:1] if only_warms else among.bodies,
        start_degc=pack.start_degc,
        air_degc=pack.air_degc,
        time_min=time_min,
        heat_w=heat_w,
        ends=among.ends,
        steps=steps,
    )


def _mean_heat_w(
    pack: FlightPack, squares: tuple[float, float, float], likely_course: tuple[float, ...], time_min: float
) -> Span:
    """The mean of the heat. A pack that stays cool keeps its resistance, so the most heat is that of the coolest bodies."""
    even, likely, pulsed = squares

    def mean(corner: Corner, square: float, course: tuple[float, ...]) -> float:
        return fsum(map(_heat_w(pack, corner, square), course)) / len(course)

    return Span(
        mean(pack.coolest, even, _course(pack, pack.coolest, even, time_min, lands=pack.warmest)),
        mean(pack.likely, likely, likely_course),
        mean(pack.warmest, pulsed, _course(pack, pack.warmest, pulsed, time_min, lands=pack.coolest)),
    )


def _loss_v(pack: FlightPack, factor: Span, current_a: float) -> Span:
    """Volts that one cell loses at a current."""
    ohm = pack.resistance_ohm
    return Span(
        current_a * ohm.least * factor.least, current_a * ohm.likely * factor.likely, current_a * ohm.most * factor.most
    )


def _under_load_v(pack: FlightPack, state: float, loss: Span) -> Span:
    return Span(
        pack.warmest.resting_cell_v(state) - loss.most,
        pack.likely.resting_cell_v(state) - loss.likely,
        pack.coolest.resting_cell_v(state) - loss.least,
    )


def rate_it_stands_c(pack: FlightPack, *, limit_degc: float, left_share: float) -> Span:
    """Return the highest rate, held from full to landing, that leaves the pack no warmer than a limit.

    Looked for between 0.1 and 400 C, to a thousandth. Rate and time count from what the pack still holds.

    Args:
        pack: the pack at the start, fully charged, below the limit like the air around it.
        limit_degc: the highest temperature at landing, °C.
        left_share: share of the charge that is left at landing, a fraction.

    Returns:
        The rate, C: for the warmest landing, the likely and the coolest.

    Refuses: nothing.

    Source: `pack_heat.warming`.

    >>> pack = flight_pack("lipo", cells=6, capacity_mah=5000, held_capacity_mah=5000, cell_resistance_mohm=3,
    ...     label_discharge_rate_c=None, mass_kg=0.7, start_degc=25, air_degc=25)
    >>> rates = [rate_it_stands_c(pack, limit_degc=limit, left_share=0.2).likely for limit in (50, 60)]
    >>> rates[0] < rates[1]
    True
    """

    def end_degc(corner: Corner, rate_c: float) -> float:
        current_a = rate_c * pack.held_ah
        time_min = min_from_h((1 - left_share) * pack.held_ah / current_a)
        return _course(pack, corner, current_a**2, time_min, steps=_RATE_STEPS)[-1]

    def highest_c(corner: Corner) -> float:
        def past_by(log_rate: float) -> float:
            return end_degc(corner, exp(log_rate)) - limit_degc

        # From one rate to twice as much is as far everywhere: so few rates find a small one and a large one alike.
        slowest, fastest = log(_SLOWEST_C), log(_FASTEST_C)
        if pack.air_degc > pack.start_degc:
            # A slow flight gives warm air more time than a quicker one: every rate below the one that is found must do.
            doubled = (slowest + place * log(2) for place in range(1, _DOUBLINGS))
            fastest = next((log_rate for log_rate in doubled if past_by(log_rate) > 0), fastest)
            slowest = max(slowest, fastest - log(2))
        if past_by(fastest) <= 0:
            return _FASTEST_C
        return exp(narrowed(past_by, slowest, fastest, _PART_OF_RATE)[0])

    return Span(highest_c(pack.warmest), highest_c(pack.likely), highest_c(pack.coolest))
