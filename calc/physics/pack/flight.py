"""A flight as the pack sees it: volts lost under load, heat, the temperature at landing, and the rate that it can stand.

The pilot knows the highest current and the mean, not the course between. The heat follows the mean of the current's square,
which lies between the square of the mean (an even draw) and the mean times the highest (full throttle or none). What is not
known of resistance, mass and cooling is run for the warmest landing and for the coolest.
Which ends these are, `flight_packs` derives.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, floor, fsum, log, log2

from calc.figures.spans import Span
from calc.figures.units import h_from_min, min_from_h
from calc.physics.cell.bracketing import root_bracket
from calc.physics.cell.cell_resistance import least_factor, likely_factor, most_factor, temperature_factor
from calc.physics.pack.flight_packs import Corner, FlightPack
from calc.physics.pack.pack_heat import warming

# Rates between which a pack's own is looked for, C, and how finely.
_SLOWEST_C, _FASTEST_C, _PART_OF_RATE, _RATE_STEPS = 0.1, 400.0, 1e-3, 20
_DOUBLINGS = floor(log2(_FASTEST_C / _SLOWEST_C)) + 1


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


def flight(pack: FlightPack, *, highest_current_a: float, mean_current_a: float, time_min: float) -> Flight:
    """Return what a flight does to a fully charged pack.

        P = n R f(T) <I²>,    mean² <= <I²> <= mean x highest        U = U_rest - I R f(T)
        P in W, n cells, R in ohm per cell at 25 °C, f the temperature factor, I in A, U in V per cell

    The mean current is no more than the highest. Voltages may come out below 0 for a current that the pack cannot give at all.

    Source: Joule's law; `pack_heat.warming`. That the likely square lies half way is our assumption.

    >>> from calc.physics.pack.flight_packs import flight_pack
    >>> pack = flight_pack("lipo", cells=6, capacity_mah=5000, effective_capacity_mah=5000, cell_resistance_mohm=3,
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
    end_factor = Span(least_factor(ends_degc[2]), likely_factor(ends_degc[1]), most_factor(min(ends_degc[0], pack.start_degc)))
    used = mean_current_a * h_from_min(time_min) / pack.effective_ah
    return Flight(
        courses_degc=courses,
        mean_heat_w=_mean_heat_w(pack, squares, courses[1], time_min),
        peak_heat_w=sag.times(highest_current_a * pack.cells),
        sag_cell_v=sag,
        start_cell_v=_under_load_v(pack, 1.0, sag),
        end_cell_v=_under_load_v(pack, max(1.0 - used, 0.0), _loss_v(pack, end_factor, highest_current_a)),
        used_share=used,
    )


def over_both(cool: Flight, warm: Flight) -> Flight:
    """Return one flight over two of a pack that starts between two temperatures: each part from the end where it asks more of the pack.

    Source: the two flights.

    >>> from calc.physics.pack.flight_packs import flight_pack
    >>> cool, warm = (
    ...     flight(flight_pack("lipo", cells=6, capacity_mah=5000, effective_capacity_mah=5000, cell_resistance_mohm=3,
    ...         label_discharge_rate_c=None, mass_kg=0.7, start_degc=degc, air_degc=degc),
    ...         highest_current_a=25, mean_current_a=25, time_min=5)
    ...     for degc in (18, 28)
    ... )
    >>> both = over_both(cool, warm)
    >>> both.end_degc.most == warm.end_degc.most, both.start_cell_v.least == cool.start_cell_v.least
    (True, True)
    """

    def most_lost(of: Callable[[Flight], Span]) -> Span:
        return Span(of(warm).least, of(cool).likely, of(cool).most)

    def lowest(of: Callable[[Flight], Span]) -> Span:
        return Span(of(cool).least, of(cool).likely, of(warm).most)

    return Flight(
        courses_degc=(cool.courses_degc[0], *warm.courses_degc[1:]),
        mean_heat_w=most_lost(lambda one: one.mean_heat_w),
        peak_heat_w=most_lost(lambda one: one.peak_heat_w),
        sag_cell_v=most_lost(lambda one: one.sag_cell_v),
        start_cell_v=lowest(lambda one: one.start_cell_v),
        end_cell_v=lowest(lambda one: one.end_cell_v),
        used_share=cool.used_share,
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


def _mean_heat_w(pack: FlightPack, squares: tuple[float, float, float], likely_course: tuple[float, ...], time_min: float) -> Span:
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
    return Span(current_a * ohm.least * factor.least, current_a * ohm.likely * factor.likely, current_a * ohm.most * factor.most)


def _under_load_v(pack: FlightPack, state: float, loss: Span) -> Span:
    return Span(
        pack.warmest.resting_cell_v(state) - loss.most,
        pack.likely.resting_cell_v(state) - loss.likely,
        pack.coolest.resting_cell_v(state) - loss.least,
    )


def highest_rate_c(pack: FlightPack, *, limit_degc: float, left_share: float) -> Span:
    """Return the highest rate, C, held from full to landing, that leaves the pack no warmer than a limit: by the warmest landing, the
    likely and the coolest.

    Looked for between 0.1 and 400 C, to a thousandth. Rate and time count from what the pack still holds. Pack and air must be below
    the limit at the start; `left_share` is a fraction of the charge.

    Source: `pack_heat.warming`.

    >>> from calc.physics.pack.flight_packs import flight_pack
    >>> pack = flight_pack("lipo", cells=6, capacity_mah=5000, effective_capacity_mah=5000, cell_resistance_mohm=3,
    ...     label_discharge_rate_c=None, mass_kg=0.7, start_degc=25, air_degc=25)
    >>> rates = [highest_rate_c(pack, limit_degc=limit, left_share=0.2).likely for limit in (50, 60)]
    >>> rates[0] < rates[1]
    True
    """

    def end_degc(corner: Corner, rate_c: float) -> float:
        current_a = rate_c * pack.effective_ah
        time_min = min_from_h((1 - left_share) * pack.effective_ah / current_a)
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
        return exp(root_bracket(past_by, slowest, fastest, _PART_OF_RATE)[0])

    return Span(highest_c(pack.warmest), highest_c(pack.likely), highest_c(pack.coolest))
