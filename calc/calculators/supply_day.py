"""How many packs can I charge from this battery today, and when must I stop?

The battery's own floor comes first: half, where it begins to wear out fast, or what a vehicle needs to start its engine.
Later the charger would stop by itself, for low input. Assumes charges alike, one after the other, and a battery that still
has its label's capacity.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from calc.calculators import charge_settings
from calc.facts.lead_acid import LEAD_ACID
from calc.figures.quantities import AMPERE_HOURS, AMPERES, CHARGES, MINUTES, PERCENT, SUPPLY_VOLTS, Figure, Quantity
from calc.figures.showing import Caution, Level, Mark, Picture, Range, Row, Setting, Table, shown
from calc.inputs.fields import Group, number
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import VEHICLE
from calc.physics.cell.charging import Charge
from calc.physics.supply.lead_acid import battery_rest_v, battery_state_percent
from calc.presenting.picture import charge_panel, even_times, panel_of
from calc.presenting.supply_load import feed_cautions, floor_words, lowest_input_words, rests_there
from calc.presenting.verdicts import cautions_before_a_charge
from calc.rules.charge.charge_outlook import outlook_of
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import current_limits
from calc.rules.supply.battery_floor import floor_of, is_at_its_floor
from calc.rules.supply.supply_day import Day, SupplyMoment, at_times, day_of

DAY = Group("day", "The day")
# Between them lies whatever a battery of six lead cells shows at a charger, at rest and under load: one axis for every day.
_AXIS_V = (10.0, 13.5)


@dataclass(frozen=True, kw_only=True)
class Inputs(charge_settings.Inputs):
    """The entries of the settings, and how many such charges are planned."""

    planned_charges: float = number(
        "Charges planned",
        CHARGES,
        group=DAY,
        least=1,
        most=20,
        whole=True,
        starts_as="4",
        hint="Of this pack, or of packs like it.",
        asked_as="the number of charges planned",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """How far the battery goes, charge by charge, and what is left of it."""

    cautions: tuple[Caution, ...] = shown("Look out")
    whole_charges: Setting = shown("Charges above the floor", "How far it goes")
    floor_reached: Setting = shown("Stop for the battery's sake", "How far it goes")
    charger_stops: Setting = shown("The charger stops by itself", "How far it goes")
    charge_left: Range = shown("Left in the battery afterwards", "How far it goes")
    rest_afterwards: Range = shown("It then rests at", "How far it goes")
    picture: Picture | None = shown("Picture", "Over the day")
    charge_by_charge: Table | None = shown("Charge by charge", "Over the day")


def work_out(given: Inputs) -> Answer:
    """Return the battery's day, by the likely charge and by the one that takes most; what it promises holds for the latter.

    Refuses whatever `charge_settings` refuses, and a mains supply, which does not run down.
    """
    if not given.is_lead_acid:
        raise Refused(
            Problem("supply_kind", "A mains supply does not run down: this page is for a battery. Choose it, or go back to the settings.")
        )
    pack = charge_settings.accepted(given)
    chemistry, reading = pack.chemistry, pack.reading
    limits = current_limits(pack=given, charger=given, supply=given, chemistry=chemistry, requested_rate_c=given.requested_rate_c)
    current_a, _ = charge_setting_a(pack=given, current_step_a=given.current_step_a, limits=limits)
    coming = outlook_of(
        pack=given, balance_current_a=given.balance_current_a, chemistry=chemistry, reading=reading, current_a=current_a
    ).coming
    greediest = max((coming.likely, *coming.corners), key=lambda run: run.energy_in_wh)

    def day(run: Charge) -> Day:
        return day_of(supply=given, charger=given, run=run, cell_count=given.cells, charges=int(given.planned_charges))

    likely, worst = day(coming.likely), day(greediest)
    return Answer(
        cautions=(*_cautions(given, worst), *cautions_before_a_charge(pack.condition)),
        whole_charges=Setting(
            figure=Figure(worst.charges_above_floor, CHARGES),
            set_by=lowest_input_words(given.charger_input_least_v) if worst.charger_stops_first else floor_words(given),
            note=f"Of {Figure(given.planned_charges, CHARGES)} planned, each taking the most that it may.",
        ),
        floor_reached=_floor_reached(given, worst),
        charger_stops=_moment(worst.stopped_at, lowest_input_words(given.charger_input_least_v)),
        charge_left=_left(likely, worst, given, lambda percent: percent, PERCENT),
        rest_afterwards=_left(
            likely, worst, given, lambda percent: battery_rest_v(LEAD_ACID[given.battery_kind], percent), SUPPLY_VOLTS.to_step(0.01)
        ),
        # A charger that stops at once leaves nothing to draw.
        picture=_picture(given, likely, worst) if likely.trace or worst.trace else None,
        charge_by_charge=_charge_by_charge(likely) if likely.charges else None,
    )


def _floor_reached(given: Inputs, worst: Day) -> Setting:
    if is_at_its_floor(given):
        return Setting(figure="before charge 1", set_by=rests_there([given]))
    if worst.floor_at and worst.floor_at[1] < 1:
        return Setting(figure=f"at the start of charge {worst.floor_at[0]}", set_by=floor_words(given))
    return _moment(worst.floor_at, floor_words(given), "down")


def _moment(at: tuple[int, float] | None, because: str, rounds: str = "") -> Setting:
    if at is None:
        return Setting(figure="not on this day", set_by=f"{because}, not reached with the charges planned")
    charge, minutes = at
    return Setting(figure=f"{Figure(minutes, MINUTES, rounds)} into charge {charge}", set_by=because)


def _left(likely: Day, worst: Day, given: Inputs, of: Callable[[float], float], quantity: Quantity) -> Range:
    before_percent = battery_state_percent(LEAD_ACID[given.battery_kind], given.battery_resting_v)
    ends = [of(max(0.0, day.trace[-1].charged_percent) if day.trace else before_percent) for day in (worst, likely)]
    return Range(least=Figure(min(ends), quantity), most=Figure(max(ends), quantity), because="the charge put into the packs is a range")


def _picture(given: Inputs, likely: Day, worst: Day) -> Picture:
    last_min = max([moment.time_min for day in (likely, worst) for moment in day.trace[-1:]], default=0.0)
    # A full pack takes no time at all, and a picture needs some.
    times = even_times(last_min or 1.0)

    def lines(of: Callable[[SupplyMoment], float]) -> list[list[float]]:
        return [at_times(day.trace, times, of) for day in (likely, worst) if day.trace]

    stops = Level(at=Figure(given.charger_input_least_v, SUPPLY_VOLTS), words="charger stops")

    return Picture(
        caption="The battery over the day",
        told=_in_words(likely),
        times=tuple(Figure(time_min, MINUTES) for time_min in times),
        panels=(
            panel_of("Voltage at the charger", SUPPLY_VOLTS, *_AXIS_V, lines(lambda moment: moment.charger_input_v), (stops,)),
            charge_panel("Charge in the battery", lines(lambda moment: moment.charged_percent), floor_of(given).value),
        ),
        marks=tuple(
            Mark(at=Figure(charge.ended_min, MINUTES), words=f"charge {number} done") for number, charge in enumerate(likely.charges, 1)
        ),
    )


def _in_words(day: Day) -> str:
    if not day.charges:
        return "The charger stops in the first charge."
    first, last = day.charges[0], day.charges[-1]
    return (
        f"Most likely {Figure(len(day.charges), CHARGES)} {'takes' if len(day.charges) == 1 else 'take'} the battery from {Figure(first.before_percent, PERCENT)} to "
        f"{Figure(last.after_percent, PERCENT)}; the lowest voltage at the charger is "
        f"{Figure(min(charge.least_input_v for charge in day.charges), SUPPLY_VOLTS)}."
    )


def _charge_by_charge(day: Day) -> Table:
    return Table(
        caption="Charge by charge, most likely",
        columns=("Charge", "Battery before", "Battery after", "Taken", "Highest current", "Lowest at the charger"),
        rows=tuple(
            Row(
                heading=f"charge {number}",
                cells=(
                    Figure(charge.before_percent, PERCENT),
                    Figure(charge.after_percent, PERCENT),
                    Figure(charge.taken_ah, AMPERE_HOURS),
                    Figure(charge.peak_current_a, AMPERES),
                    Figure(charge.least_input_v, SUPPLY_VOLTS),
                ),
            )
            for number, charge in enumerate(day.charges, 1)
        ),
    )


def _cautions(given: Inputs, worst: Day) -> tuple[Caution, ...]:
    found = [
        Caution(sentence="Charge the battery again on the same day: left low, a lead-acid battery loses capacity for good."),
        Caution(sentence="While it is charged it gives off a gas that burns: no sparks or flames near it."),
    ]
    if worst.floor_at:
        harm = "it may not start the engine" if given.supply_kind == VEHICLE else "it wears out fast there"
        grave = f"The plan takes the battery below its floor: {harm}. Stop before that."
        if is_at_its_floor(given):
            grave = f"The battery is at its floor already, or below it: {harm}. Charge nothing from it."
        found.insert(0, Caution(sentence=grave, grave=True))
    return (*feed_cautions(given, given), *found)
