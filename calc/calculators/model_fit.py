"""Does this pack fit my model: does it stand the current, and how warm does it land?

Three limits are compared: the discharge rate on the label, the voltage of a cell under load, and the temperature at landing.
The label is a promise; the other two follow from the resistance. Assumes a pack that starts fully charged, cells that are
alike, and a pack that warms as one lump.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

from calc.calculators.parts.model_fit_flight import (
    assumed,
    cautions_of_flight,
    picture_of_flight,
    resistance_because,
    utilisations_of,
    verdict_of,
)
from calc.calculators.parts.model_fit_rates import minutes_to_landing, rate_it_can_hold, rates_side_by_side, share_to_landing
from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.flying import RESERVE_PERCENT
from calc.facts.practice import WARM_LANDING_DEGC
from calc.figures.quantities import (
    AMPERES,
    CELL_VOLTS,
    DEGREES_CELSIUS,
    GRAMS,
    LABEL_AMPERE_HOURS,
    MINUTES,
    PACK_AMPERES,
    PACK_VOLTS,
    PERCENT,
    RATE,
    WATTS,
    Figure,
)
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Picture, Range, Setting, Table, Verdict, held_by, shown
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent, kg_from_g, min_from_h, percent_from_fraction
from calc.inputs.equipment import PACK, PACK_MORE, READINGS, PackEntries
from calc.inputs.fields import Group, number, same_as
from calc.inputs.known_pack import WithCapacity, WithTemperature
from calc.inputs.refusals import Problem, Refused
from calc.physics.pack.flight import Flight, flight, highest_rate_c, over_both
from calc.physics.pack.flight_packs import FlightPack, flight_pack
from calc.physics.pack.flight_times import share_in_the_cold
from calc.physics.pack.packs import current_at_rate_a, rate_c_of_current
from calc.presenting.ranges import range_of
from calc.rules.pack.cell_condition import problems_of_resistances
from calc.rules.pack.condition import condition_of
from calc.rules.pack.findings import Act
from calc.rules.pack.flying_temperatures import problems_of_flying_temperature
from calc.rules.pack.label_doubts import problems_of_measured_capacity
from calc.rules.pack.touch_limit import problems_of_touch

FLIGHT = Group("flight", "What the model asks for")


@dataclass(frozen=True, kw_only=True)
class Inputs(WithTemperature, WithCapacity):
    """A pack from its label, what the model draws, and the weather."""

    chemistry: str = same_as(PackEntries, "chemistry", options={key: one.name for key, one in CHEMISTRIES.items()})
    cells: float = same_as(PackEntries, "cells")
    capacity_mah: float = same_as(PackEntries, "capacity_mah")
    label_discharge_rate_c: float | None = same_as(PackEntries, "label_discharge_rate_c", group=PACK)
    cell_resistance_mohm: float | None = same_as(PackEntries, "cell_resistance_mohm", group=PACK)
    pack_degc: float | None = same_as(PackEntries, "pack_degc", hint="As it is when you start.")
    pack_warmth: str | None = same_as(PackEntries, "pack_warmth")
    air_degc: float | None = same_as(PackEntries, "air_degc", group=READINGS)
    highest_current_a: float = number(
        "Highest current", PACK_AMPERES, group=FLIGHT, least=0.1, most=500, hint="At full throttle, from a meter or the motor's sheet."
    )
    mean_current_a: float = number(
        "Mean current",
        PACK_AMPERES,
        group=FLIGHT,
        least=0.1,
        most=500,
        hint="Of a whole flight: the ampere-hours put back, times 60, divided by its minutes.",
    )
    flight_min: float = number("Minutes of flight", MINUTES, group=FLIGHT, least=0.2, most=600)
    measured_capacity_mah: float | None = same_as(PackEntries, "measured_capacity_mah", group=PACK_MORE)
    pack_g: float | None = number("Weight of the pack", GRAMS, group=PACK_MORE, least=2, most=20_000, optional=True, hint="With its leads.")
    look: str | None = same_as(PackEntries, "look")
    cell_resistances_mohm: tuple[float, ...] | None = same_as(PackEntries, "cell_resistances_mohm")
    new_resistance_mohm: float | None = same_as(PackEntries, "new_resistance_mohm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Whether it fits, then the three limits one by one, and what the pack itself can stand."""

    cautions: tuple[Caution, ...] = shown("Look out")
    verdict: Verdict = shown("This pack in this model")
    requested_rate: Setting = shown("Highest rate asked of it", "Does it fit")
    charge_taken: Setting = shown("Charge that the flight takes", "Does it fit")
    land_after: Setting = shown("Land after", "Does it fit")
    sag: Range = shown("Sag of the pack at the highest current", "Under load")
    start_cell: Range = shown("A cell then shows, at the start", "Under load")
    end_cell: Range = shown("A cell then shows, at landing", "Under load")
    end_pack: Range = shown("The pack then shows, at landing", "Under load")
    end_temperature: Range = shown("Temperature at landing", "Heat")
    mean_heat: Range = shown("Heat in the pack, on average", "Heat")
    peak_heat: Range = shown("Heat in the pack at the highest current", "Heat")
    picture: Picture = shown("Picture", "Heat")
    honest_rate: Range = shown("Rate that it can hold to landing", "What the pack can stand")
    rates: Table = shown("Rates side by side", "What the pack can stand")
    assumptions: Table = shown("What was assumed", "What this rests on")


def work_out(given: Inputs) -> Answer:
    """Return whether a pack fits a model, with everything that is not known of it kept as a range.

    Refuses a pack with more volts than anybody may touch, one whose condition or temperature forbids a flight, a mean current above the
    highest, a flight that takes more than the pack holds, and a current that most likely pulls a fresh cell below its maker's cutoff at
    once.
    """
    chemistry = CHEMISTRIES[given.chemistry]
    _refuse_entries(given, chemistry)
    starts = [_pack(given, degc) for degc in given.ends_degc]
    pack = starts[-1]  # the warm end of a word has the least room for heat
    flown = reduce(
        over_both,
        (
            flight(one, highest_current_a=given.highest_current_a, mean_current_a=given.mean_current_a, time_min=given.flight_min)
            for one in starts
        ),
    )
    _refuse_flight(given, chemistry, pack, flown)
    because = resistance_because(given.highest_resistance_mohm, given.label_discharge_rate_c)
    heat_because = f"{because}; how the current comes and goes, and how the air cools, is not known either"
    utilisations = utilisations_of(flown, pack, chemistry, _label_share(given))
    holds_c = {
        limit: reduce(
            Span.lower, (highest_rate_c(one, limit_degc=limit, left_share=fraction_from_percent(RESERVE_PERCENT.value)) for one in starts)
        )
        for limit in (WARM_LANDING_DEGC.value, chemistry.temperatures.discharge_most_degc.value)
    }
    under_load, share = _under_load(given, flown, because), share_to_landing(given.coolest_degc)
    return Answer(
        cautions=cautions_of_flight(flown, chemistry, utilisations, starts_degc=given.coolest_degc, share=share),
        verdict=verdict_of(utilisations),
        requested_rate=_requested_rate(given),
        charge_taken=Setting(
            figure=Figure(flown.used_share * pack.effective_ah, LABEL_AMPERE_HOURS),
            also=Figure(percent_from_fraction(flown.used_share), PERCENT),
            set_by="the mean current, times the minutes",
        ),
        land_after=_land_after(given, pack, share),
        **held_by(under_load),
        end_temperature=_end_temperature(flown, chemistry, heat_because),
        mean_heat=range_of(flown.mean_heat_w, WATTS.to_step(0.1), heat_because),
        peak_heat=range_of(flown.peak_heat_w, WATTS.to_step(0.1), because),
        picture=picture_of_flight(flown, pack, chemistry, given.flight_min),
        honest_rate=rate_it_can_hold(holds_c[WARM_LANDING_DEGC.value], because),
        rates=rates_side_by_side(pack, given.highest_current_a, given.mean_current_a, given.label_discharge_rate_c, holds_c, share=share),
        assumptions=assumed(pack, given.pack_g is not None, because),
    )


def _pack(given: Inputs, start_degc: float) -> FlightPack:
    return flight_pack(
        given.chemistry,
        cells=given.cells,
        capacity_mah=given.capacity_mah,
        effective_capacity_mah=given.effective_capacity_mah,
        cell_resistance_mohm=given.highest_resistance_mohm,
        label_discharge_rate_c=given.label_discharge_rate_c,
        mass_kg=None if given.pack_g is None else kg_from_g(given.pack_g),
        start_degc=start_degc,
        air_degc=start_degc if given.air_degc is None else given.air_degc,
    )


def _refuse_entries(given: Inputs, chemistry: Chemistry) -> None:
    problems = [
        *problems_of_touch(given.cells, chemistry),
        *condition_of(given, None, None).problems_of(Act.FLY),
        *problems_of_measured_capacity(given),
        *problems_of_resistances(given.cell_resistances_mohm, cells=given.cells),
        *dict.fromkeys(one for degc in given.ends_degc for one in problems_of_flying_temperature(degc, chemistry, air_degc=given.air_degc)),
    ]
    if given.mean_current_a > given.highest_current_a:
        problems.append(Problem("mean_current_a", "The mean current is above the highest: check both, or exchange them."))
    if problems:
        raise Refused(*problems)


def _refuse_flight(given: Inputs, chemistry: Chemistry, pack: FlightPack, flown: Flight) -> None:
    if flown.used_share > 1:
        sentence = worded(
            "The pack is empty after {} at this mean current: enter fewer minutes, or take a larger pack.",
            Figure(min_from_h(pack.effective_ah / given.mean_current_a), MINUTES.to_step(0.1), "down"),
        )
        raise Refused(Problem("flight_min", sentence))
    if flown.start_cell_v.likely < chemistry.maker_cutoff_cell_v.value:
        sentence = worded(
            "At this current a full cell most likely falls below {} at once: this pack cannot give it. Take one with more "
            "capacity or less resistance.",
            Figure(chemistry.maker_cutoff_cell_v.value, CELL_VOLTS),
        )
        raise Refused(Problem("highest_current_a", sentence))


def _label_share(given: Inputs) -> float | None:
    if given.label_discharge_rate_c is None:
        return None
    return given.highest_current_a / current_at_rate_a(given.effective_capacity_mah, given.label_discharge_rate_c)


def _requested_rate(given: Inputs) -> Setting:
    rate = Figure(rate_c_of_current(given.effective_capacity_mah, given.highest_current_a), RATE.to_step(0.1))
    also = Figure(given.highest_current_a, PACK_AMPERES)
    share, label_c = _label_share(given), given.label_discharge_rate_c
    if share is None or label_c is None:
        return Setting(figure=rate, also=also, set_by="the highest current that you entered", note="The label's rate is not entered.")
    note = worded(
        "The label allows {}, which is {}: the model takes {} of it. Labels promise more than packs hold.",
        Figure(label_c, RATE.to_step(0.1).as_it_is),
        Figure(current_at_rate_a(given.effective_capacity_mah, label_c), AMPERES, "down"),
        Figure(percent_from_fraction(share), PERCENT),
    )
    return Setting(figure=rate, also=also, set_by="the highest current that you entered", note=note)


def _land_after(given: Inputs, pack: FlightPack, share: float) -> Setting:
    gives = share_in_the_cold(given.coolest_degc)
    counted = worded(
        " At {} it counts on {} of the capacity, as the flight timer does.",
        Figure(given.coolest_degc, DEGREES_CELSIUS),
        Figure(percent_from_fraction(gives), PERCENT),
    )
    return Setting(
        figure=minutes_to_landing(pack, given.mean_current_a, share=share),
        set_by=worded("{} left at landing, as a university tells drone pilots", Figure(RESERVE_PERCENT.value, PERCENT)),
        note=worded("At the mean current that you entered, rounded down.{}", counted if gives < 1 else ""),
    )


def _end_temperature(flown: Flight, chemistry: Chemistry, because: str) -> Range:
    note = worded(
        "A pack is worked too hard at {}; danger begins at {}.",
        Figure(WARM_LANDING_DEGC.value, DEGREES_CELSIUS, "down"),
        Figure(chemistry.temperatures.discharge_most_degc.value, DEGREES_CELSIUS, "down"),
    )
    return range_of(flown.end_degc, DEGREES_CELSIUS, because, note=note)


@dataclass(frozen=True, slots=True, kw_only=True)
class _UnderLoad:
    sag: Range
    start_cell: Range
    end_cell: Range
    end_pack: Range


def _under_load(given: Inputs, flown: Flight, because: str) -> _UnderLoad:
    def never_negative(span: Span) -> Span:
        # A current that the pack cannot give at all pulls its voltage to nothing, not below.
        return Span(max(0.0, span.least), max(0.0, span.likely), max(0.0, span.most))

    start, end = never_negative(flown.start_cell_v), never_negative(flown.end_cell_v)
    at_end = f"{because}, and a cell's resting voltage with what is left in it is known only roughly"
    return _UnderLoad(
        sag=range_of(flown.sag_cell_v.times(given.cells), PACK_VOLTS, because, note="At the start, at the pack's own temperature."),
        start_cell=range_of(start, CELL_VOLTS, because),
        end_cell=range_of(end, CELL_VOLTS, at_end, note=_cutoffs(CHEMISTRIES[given.chemistry])),
        end_pack=range_of(end.times(given.cells), PACK_VOLTS, at_end),
    )


def _cutoffs(chemistry: Chemistry) -> str:
    return worded(
        "Come down at {} under load; a cutoff in the model belongs at {} or above.",
        Figure(chemistry.end_of_flight_load_cell_v.value, CELL_VOLTS),
        Figure(chemistry.careful_cutoff_cell_v.value, CELL_VOLTS),
    )
