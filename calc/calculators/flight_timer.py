"""What do I set the flight timer to, so that I land with the reserve I want?

The draw of the flights so far, with a margin for how far they differ, against what the pack gives today: an aged pack holds
less, and a cold one gives less of it. Assumes that the next flight is flown like those, from a full pack.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.flying import COLD_DEGC, COLD_LEFT_PERCENT, RESERVE_PERCENT, TIMER_STEP_S, WARM_DEGC
from calc.facts.practice import CAPACITY_CUTOUT_MARGIN
from calc.figures.quantities import AMPERES, CELL_VOLTS, DEGREES_CELSIUS, DRAW, MILLIAMPERE_HOURS, PERCENT, Figure
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Row, Setting, Table, held_by, shown
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, h_from_min, min_from_s, percent_from_fraction, s_from_min
from calc.inputs.equipment import PACK, PackEntries
from calc.inputs.fields import choice, number, same_as
from calc.inputs.flights import MOST_FLIGHTS, FlightEntries
from calc.inputs.known_pack import WithCapacity, WithTemperature
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, several
from calc.physics.cell.cells import edge_curves, resting_cell_v, voltage_and_slope
from calc.physics.pack.flight_times import Consumption, PlannedBy, consumption_of, share_in_the_cold, usable_mah
from calc.presenting.clock import on_a_timer
from calc.presenting.ranges import range_of
from calc.presenting.source_lines import source_line
from calc.rules.pack.condition import condition_of
from calc.rules.pack.findings import Act
from calc.rules.pack.flying_temperatures import caution_of_cold, problems_of_flying_temperature
from calc.rules.pack.label_doubts import problems_of_measured_capacity

_FEW_FLIGHTS = 3
# A timer that goes further than this beyond every flight so far is a guess to be approached.
_STEP_MIN = 1

_PLANNED_BECAUSE = {
    PlannedBy.SPREAD: "the spread of your flights",
    PlannedBy.LEAST_MARGIN: "the least margin, since your flights hardly differ",
    PlannedBy.HIGHEST: "the flight that took the most a minute",
    PlannedBy.ONE_FLIGHT: "one flight alone, which may be half as much again the next time",
}


@dataclass(frozen=True, kw_only=True)
class Inputs(WithTemperature, WithCapacity):
    """A pack, the reserve to land with, and the flights so far."""

    chemistry: str = choice("Chemistry", {key: one.name for key, one in CHEMISTRIES.items()}, group=PACK, starts_as="lipo")
    capacity_mah: float = same_as(PackEntries, "capacity_mah")
    pack_degc: float | None = same_as(PackEntries, "pack_degc")
    pack_warmth: str | None = same_as(PackEntries, "pack_warmth")
    reserve_percent: float = number(
        "Reserve to land with",
        PERCENT,
        group=PACK,
        least=5,
        most=60,
        starts_as=f"{RESERVE_PERCENT.value:g}",
        hint="A fifth is what pilots keep.",
    )
    measured_capacity_mah: float | None = same_as(PackEntries, "measured_capacity_mah")
    look: str | None = same_as(PackEntries, "look")
    cell_resistance_mohm: float | None = same_as(PackEntries, "cell_resistance_mohm")
    cell_resistances_mohm: tuple[float, ...] | None = same_as(PackEntries, "cell_resistances_mohm")
    new_resistance_mohm: float | None = same_as(PackEntries, "new_resistance_mohm")
    flights: tuple[FlightEntries, ...] = several(FlightEntries, "Flight", group_key="flights", least=1, most=MOST_FLIGHTS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The timer, the alarm behind it, what to find after landing, and how it all comes about."""

    cautions: tuple[Caution, ...] = shown("Look out")
    timer: Setting = shown("Timer", "Set on the transmitter")
    voltage_alarm: Setting = shown("Voltage alarm, one cell under load", "Set on the transmitter")
    put_back: Range = shown("Put back after that", "What to find after landing")
    left: Range = shown("Left in the pack", "What to find after landing")
    rests_at: Range = shown("Half an hour later a cell rests at", "What to find after landing")
    usable: Setting = shown("Charge to fly with", "How it comes about")
    mean_draw: Setting = shown("Your flights take, on average", "How it comes about")
    spread: Setting | None = shown("Their spread", "How it comes about")
    planned_draw: Setting = shown("Planned for", "How it comes about")
    each_flight: Table = shown("Flight by flight", "How it comes about")


def work_out(given: Inputs) -> Answer:
    """Return the timer that keeps the reserve, and what to check it by.

        t = Q f (1 - R) / d, down to ten seconds        Q in mAh, f the share in the cold, R the reserve, d the planned draw

    Refuses a pack whose condition or temperature forbids a flight, a flight that took more than a pack holds, and flights for which
    no timer keeps the reserve.
    """
    _refuse_what_cannot_be(given)
    consumption = consumption_of([flight.put_back_mah / flight.flown_min for flight in given.flights])
    fly_mah = usable_mah(given.effective_capacity_mah, given.coolest_degc, given.reserve_percent)
    timer_min = min_from_s(down_to_step(s_from_min(fly_mah / consumption.planned), TIMER_STEP_S.value))
    if timer_min == 0:
        raise Refused(Problem("", "No timer keeps that reserve on this pack: use a larger pack, or warm this one through first."))
    landing = _after_landing(given, consumption, timer_min)
    return Answer(
        cautions=_cautions(given, timer_min),
        timer=Setting(
            figure=on_a_timer(timer_min),
            set_by=f"{_PLANNED_BECAUSE[consumption.planned_by]}, and the reserve of {Figure(given.reserve_percent, PERCENT)}",
            note=f"Rounded down to {TIMER_STEP_S.value:g} seconds. It counts from the first throttle.",
        ),
        voltage_alarm=_voltage_alarm(given),
        **held_by(landing),
        usable=_usable(given, fly_mah),
        mean_draw=_draw_setting(consumption.mean, "charge put back over minutes flown"),
        spread=None
        if consumption.spread is None
        else _draw_setting(consumption.spread, "how far your flights lie apart: their standard deviation"),
        planned_draw=_draw_setting(
            consumption.planned,
            _PLANNED_BECAUSE[consumption.planned_by],
            "Of twenty flights nineteen stay below it, if they differ as yours did (NIST handbook, Student's t)."
            if consumption.spread is not None
            else "The extra half is common practice, no source.",
        ),
        each_flight=_each_flight(given),
    )


def _refuse_what_cannot_be(given: Inputs) -> None:
    problems = [
        *condition_of(given, None, None).problems_of(Act.FLY),
        *problems_of_measured_capacity(given),
        *(one for degc in given.ends_degc for one in problems_of_flying_temperature(degc, CHEMISTRIES[given.chemistry])),
    ]
    most_mah = given.capacity_mah * CAPACITY_CUTOUT_MARGIN.value

    def check(flight: FlightEntries) -> None:
        if flight.put_back_mah > most_mah:
            sentence = "More was put back than this pack can hold: check the number, and the capacity on the label."
            raise Refused(Problem("put_back_mah", sentence))

    try:
        each_row(given, "flights", check)
    except Refused as refused:
        problems += refused.problems
    if problems:
        raise Refused(*problems)


def _voltage_alarm(given: Inputs) -> Setting:
    alarm = CHEMISTRIES[given.chemistry].end_of_flight_load_cell_v
    return Setting(
        figure=Figure(alarm.value, CELL_VOLTS),
        set_by=source_line(alarm),
        note="Timer or alarm, whichever comes first: land. A timer knows nothing of a weak cell.",
    )


def _usable(given: Inputs, fly_mah: float) -> Setting:
    share = share_in_the_cold(given.coolest_degc)
    held = Figure(given.effective_capacity_mah, MILLIAMPERE_HOURS)
    whose = "the capacity last measured" if given.effective_capacity_mah < given.capacity_mah else "the label"
    note = ""
    if share < 1:
        note = worded(
            "At {} this page counts on {} of that, by a straight line: all of it at {}, and at the other end the {} that a standard asks "
            "of a cell at {}. A pack that is kept warm gives more.",
            Figure(given.coolest_degc, DEGREES_CELSIUS),
            Figure(percent_from_fraction(share), PERCENT),
            Figure(WARM_DEGC.value, DEGREES_CELSIUS),
            Figure(COLD_LEFT_PERCENT.value, PERCENT),
            Figure(COLD_DEGC.value, DEGREES_CELSIUS),
        )
    return Setting(
        figure=Figure(fly_mah, MILLIAMPERE_HOURS),
        set_by=worded(f"{{}} by {whose}, less the reserve of {{}}", held, Figure(given.reserve_percent, PERCENT)),
        note=note,
    )


def _draw_setting(draw: float, set_by: str, note: str = "") -> Setting:
    amperes = ah_from_mah(draw) / h_from_min(1)
    return Setting(figure=Figure(draw, DRAW), also=Figure(amperes, AMPERES), set_by=set_by, note=note)


@dataclass(frozen=True, slots=True, kw_only=True)
class _AfterLanding:
    put_back: Range
    left: Range
    rests_at: Range


def _after_landing(given: Inputs, consumption: Consumption, timer_min: float) -> _AfterLanding:
    held_mah = given.effective_capacity_mah
    taken = Span(max(consumption.mean - consumption.margin, 0.0), consumption.mean, consumption.planned).times(timer_min)
    left = Span(*(max(1 - mah / held_mah, 0.0) for mah in (taken.most, taken.likely, taken.least)))
    low_curve, high_curve = edge_curves(given.chemistry)
    rests = Span(
        voltage_and_slope(low_curve, left.least)[0],
        resting_cell_v(given.chemistry, left.likely),
        voltage_and_slope(high_curve, left.most)[0],
    )
    differ = "no two flights take the same"
    landed = CHEMISTRIES[given.chemistry].end_of_flight_resting_cell_v
    return _AfterLanding(
        put_back=range_of(taken, MILLIAMPERE_HOURS, differ),
        left=range_of(left.times(percent_from_fraction(1)), PERCENT, differ),
        rests_at=range_of(
            rests,
            CELL_VOLTS,
            f"{differ}, and cells with the same label differ",
            f"Most packs have a fifth left at {Figure(landed.value, CELL_VOLTS)}. Lower: take a minute off the timer, and find out why.",
        ),
    )


def _each_flight(given: Inputs) -> Table:
    return Table(
        caption="Flight by flight",
        columns=("Flight", "Put back", "Draw", "Of what it holds"),
        rows=tuple(
            Row(
                heading=f"Flight {count}, {on_a_timer(flight.flown_min)}",
                cells=(
                    Figure(flight.put_back_mah, MILLIAMPERE_HOURS),
                    Figure(flight.put_back_mah / flight.flown_min, DRAW),
                    Figure(percent_from_fraction(flight.put_back_mah / given.effective_capacity_mah), PERCENT),
                ),
            )
            for count, flight in enumerate(given.flights, 1)
        ),
    )


def _cautions(given: Inputs, timer_min: float) -> tuple[Caution, ...]:
    reserve = Figure(given.reserve_percent, PERCENT)
    kept_mah = usable_mah(given.effective_capacity_mah, WARM_DEGC.value, given.reserve_percent)
    deep = [f"flight {count}" for count, flight in enumerate(given.flights, 1) if flight.put_back_mah > kept_mah]
    found = []
    if deep:
        found.append(Caution(sentence=f"Flown into the reserve of {reserve}: {', '.join(deep)}. Land sooner.", grave=True))
    if timer_min > max(flight.flown_min for flight in given.flights) + _STEP_MIN:
        sentence = (
            "The timer is longer than any flight you noted: lengthen your flights minute by minute, and read the cells after each landing."
        )
        found.append(Caution(sentence=sentence))
    if len(given.flights) < _FEW_FLIGHTS:
        found.append(Caution(sentence="So few flights tell little, so the margin is wide. Note the next ones too, and it narrows."))
    if cold := caution_of_cold(given.coolest_degc):
        found.append(Caution(sentence=cold))
    return tuple(found)
