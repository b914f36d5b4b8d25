"""A flight in words and pictures: whether the pack fits, which limit says so, and what was assumed."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from calc.facts.cell_parameters import REFERENCE_TEMPERATURE_DEGC
from calc.facts.chemistries import Chemistry
from calc.facts.cited import Estimate
from calc.facts.flying import RESERVE_PERCENT
from calc.facts.pack_heat import FORECAST_ENDS_DEGC, HEAT_TRANSFER_W_PER_M2_K, SPECIFIC_HEAT_J_PER_KG_K
from calc.facts.practice import WARM_LANDING_DEGC
from calc.figures.quantities import CELL_VOLTS, DEGREES_CELSIUS, GRAMS, MILLIOHMS, MINUTES, PERCENT, Figure, Quantity
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Level, Mark, Picture, Row, Table, Verdict
from calc.figures.spans import Span
from calc.figures.units import g_from_kg, mohm_from_ohm
from calc.physics.pack.flight import Flight
from calc.physics.pack.flight_packs import FlightPack
from calc.presenting.picture import even_times, panel_of
from calc.presenting.source_lines import source_line
from calc.rules.charge.charge_outlook import guessed_because
from calc.rules.pack.flying_temperatures import caution_of_cold

LABEL = "the discharge rate on the label"
HEAT = "the temperature at landing"
VOLTAGE = "the voltage of a cell under load"


@dataclass(frozen=True, slots=True, kw_only=True)
class Utilisation:
    """How much of one limit a flight uses, most likely and at worst: 1 is all of it."""

    because: str
    likely: float
    worst: float


def utilisations_of(flown: Flight, pack: FlightPack, chemistry: Chemistry, label_share: float | None) -> list[Utilisation]:
    """Return how much of each limit a flight uses; the label counts only where its rate is known.

        label: I / I_label        heat: (T - T0) / (T_limit - T0)        voltage: (U_rest - U) / (U_rest - U_cutoff)

    The likely landing is held against 50 °C, the warmest against 60 °C.
    """
    cutoff_v, left = chemistry.careful_cutoff_cell_v.value, 1 - flown.used_share

    def of_voltage(resting_v: float, cell_v: float) -> float:
        return (resting_v - cell_v) / (resting_v - cutoff_v) if resting_v > cutoff_v else inf

    def of_heat(end_degc: float, limit_degc: float) -> float:
        return (end_degc - pack.start_degc) / (limit_degc - pack.start_degc)

    found = [
        Utilisation(
            because=HEAT,
            likely=of_heat(flown.end_degc.likely, WARM_LANDING_DEGC.value),
            worst=of_heat(flown.end_degc.most, chemistry.temperatures.discharge_most_degc.value),
        ),
        Utilisation(
            because=VOLTAGE,
            likely=of_voltage(pack.likely.resting_cell_v(left), flown.end_cell_v.likely),
            worst=of_voltage(pack.warmest.resting_cell_v(left), flown.end_cell_v.least),
        ),
    ]
    return found if label_share is None else [Utilisation(because=LABEL, likely=label_share, worst=label_share), *found]


def verdict_of(utilisations: list[Utilisation]) -> Verdict:
    """Return whether a pack fits, by the limit of which it uses most."""
    most_likely = max(utilisations, key=lambda utilisation: utilisation.likely)
    worst = max(utilisations, key=lambda utilisation: utilisation.worst)
    if most_likely.likely > 1:
        return Verdict(may=False, figure="Does not fit", set_by=f"{most_likely.because}, as it most likely comes out")
    compares_label = any(utilisation.because == LABEL for utilisation in utilisations)
    uncompared = "" if compares_label else " The rate of its label is not entered, and so was not compared: stay below it."
    if worst.worst > 1:
        note = f"Most likely it fits. What is not known of the pack decides: measure its resistance and weigh it.{uncompared}"
        return Verdict(may=True, warns=True, figure="May not fit", set_by=f"{worst.because}, at its worst end", note=note)
    held = (
        "Every limit holds, also at its worst end."
        if compares_label
        else "Both limits that could be compared hold, also at their worst ends."
    )
    note = f"{held}{uncompared} The first flight decides: feel the pack after a minute or two."
    return Verdict(may=True, figure="Fits, by these numbers", set_by=f"{most_likely.because}, the nearest of the limits", note=note)


def cautions_of_flight(
    flown: Flight, chemistry: Chemistry, utilisations: list[Utilisation], *, starts_degc: float, share: float
) -> tuple[Caution, ...]:
    """Return what to say beside the numbers of a flight, the grave cautions first; `share` of what the pack holds may be flown."""
    window = chemistry.temperatures
    danger, warm = (Figure(limit.value, DEGREES_CELSIUS, "down") for limit in (window.discharge_most_degc, WARM_LANDING_DEGC))
    landing_v, careful_v = (
        Figure(limit.value, CELL_VOLTS) for limit in (chemistry.end_of_flight_load_cell_v, chemistry.careful_cutoff_cell_v)
    )
    end, cell_v, cold = flown.end_degc, flown.end_cell_v, caution_of_cold(starts_degc)
    found = [
        ("The model pulls more than the label allows: the pack swells or burns sooner or later. Take a larger one.", True)
        if any(utilisation.because == LABEL and utilisation.likely > 1 for utilisation in utilisations)
        else None,
        (worded("The pack most likely lands above {}, where danger begins. Do not fly it like this.", danger), True)
        if end.likely > window.discharge_most_degc.value
        else None,
        (worded("It most likely lands warmer than {}: that ages it fast. Fly more gently, or land sooner, or give it air.", warm), False)
        if WARM_LANDING_DEGC.value < end.likely <= window.discharge_most_degc.value
        else None,
        (worded("At its worst end it lands above {}. Land after a minute, feel the pack, then fly longer.", danger), False)
        if end.likely <= window.discharge_most_degc.value < end.most
        else None,
        (worded("Full throttle near the end most likely pulls a cell below {}: a motor may stop there. Land earlier.", careful_v), True)
        if cell_v.likely < chemistry.careful_cutoff_cell_v.value
        else None,
        (worded("Full throttle near the end most likely pulls a cell below {}: come down before.", landing_v), False)
        if chemistry.careful_cutoff_cell_v.value <= cell_v.likely < chemistry.end_of_flight_load_cell_v.value
        else None,
        (worded("The flight leaves less than {} of what the pack gives: land earlier.", Figure(RESERVE_PERCENT.value, PERCENT)), True)
        if flown.used_share > share
        else None,
        (cold, False) if cold else None,
        (worded("Let it cool before you charge it: never above {}.", Figure(window.charge_most_degc.value, DEGREES_CELSIUS, "down")), False)
        if end.most >= window.charge_most_degc.value
        else None,
    ]
    said = [one for one in found if one]
    return tuple(Caution(sentence=sentence, grave=grave) for sentence, grave in sorted(said, key=lambda one: not one[1]))


def resistance_because(cell_resistance_mohm: float | None, label_discharge_rate_c: float | None) -> str:
    """Return where the resistance comes from, and so why everything that follows from it is as wide as it is."""
    if cell_resistance_mohm is not None:
        return "the resistance that you measured counts one to four times over a flight"
    return guessed_because(label_discharge_rate_c)


def picture_of_flight(flown: Flight, pack: FlightPack, chemistry: Chemistry, time_min: float) -> Picture:
    """Return the pack's temperature through a flight: the likely course, and the band from the coolest to the warmest."""
    coolest, likely, warmest = flown.courses_degc
    lines = [list(likely), list(coolest), list(warmest)]
    times = even_times(time_min)
    limits = ((chemistry.temperatures.discharge_most_degc.value, "danger"), (WARM_LANDING_DEGC.value, "ages fast"))
    levels = tuple(Level(at=Figure(degc, DEGREES_CELSIUS, "down"), words=words) for degc, words in limits)
    crossed = next((place for place, degc in enumerate(likely) if degc > WARM_LANDING_DEGC.value), None)
    marks = (
        ()
        if crossed is None
        else (
            Mark(
                at=Figure(times[crossed], MINUTES.to_step(0.1)),
                words=worded("likely past {}", Figure(WARM_LANDING_DEGC.value, DEGREES_CELSIUS, "down")),
            ),
        )
    )
    return Picture(
        caption="How the pack warms",
        told=worded(
            "From {} at the start to most likely {} at landing, between {} and {}.",
            Figure(pack.start_degc, DEGREES_CELSIUS),
            *(Figure(degc, DEGREES_CELSIUS) for degc in (likely[-1], coolest[-1], warmest[-1])),
        ),
        times=tuple(Figure(time, MINUTES.to_step(0.1)) for time in times),
        panels=(panel_of("Temperature of the pack", DEGREES_CELSIUS, min(0.0, *coolest), FORECAST_ENDS_DEGC.value, lines, levels),),
        marks=marks,
    )


def assumed(pack: FlightPack, is_weighed: bool, because: str) -> Table:
    """Return what was assumed of the pack and of the air, and where each number comes from."""
    reference = Figure(REFERENCE_TEMPERATURE_DEGC.value, DEGREES_CELSIUS)
    per_cell_mohm = pack.resistance_ohm.times(mohm_from_ohm(1))

    def ends(span: Span, quantity: Quantity) -> tuple[Figure, ...]:
        return tuple(Figure(value, quantity) for value in (span.least, span.likely, span.most))

    def cited(numbers: Estimate, unit: str) -> tuple[str, ...]:
        return tuple(f"{number.value:g} {unit}" for number in (numbers.least, numbers.likely, numbers.most))

    weighed = "as you weighed it" if is_weighed else "from the watt-hours on the label; common practice, no source"
    return Table(
        caption="What was assumed",
        columns=("What", "Least", "Likely", "Most", "Where it comes from"),
        rows=(
            Row(heading=worded("Resistance of one cell at {}", reference), cells=(*ends(per_cell_mohm, MILLIOHMS), because)),
            Row(heading="Mass of the pack", cells=(*ends(pack.mass_kg.times(g_from_kg(1)), GRAMS), weighed)),
            Row(
                heading="Heat that a kilogram holds",
                cells=(*cited(SPECIFIC_HEAT_J_PER_KG_K, "J/K"), source_line(SPECIFIC_HEAT_J_PER_KG_K.likely)),
            ),
            Row(
                heading="Heat that the air takes from a square metre",
                cells=(*cited(HEAT_TRANSFER_W_PER_M2_K, "W/K"), source_line(HEAT_TRANSFER_W_PER_M2_K.most)),
            ),
        ),
        notes=(
            "The pack is a brick that warms evenly, open to the air on all sides. Its inside is a little warmer than its skin.",
            worded(
                "The forecast ends at {}: {}.", Figure(FORECAST_ENDS_DEGC.value, DEGREES_CELSIUS, "down"), source_line(FORECAST_ENDS_DEGC)
            ),
        ),
    )
