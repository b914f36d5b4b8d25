"""The plan of a day as it is read: what to do in order of time, who is left out and why, and what one thing more would change."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from calc.calculators.parts.day_plan_planned_day import PlannedDay
from calc.calculators.parts.day_plan_work import BY_AN_HOUR
from calc.figures.followed import Agenda, Bar, Doing, Timeline
from calc.figures.quantities import AMPERES, CELLS, CHARGES, MILLIAMPERE_HOURS, MINUTES, PACKS, Figure
from calc.figures.sentences import joined_with_and, worded
from calc.figures.showing import Row, Table
from calc.inputs.planned_day import TWO_OUTPUTS
from calc.presenting.day_clock import DayClock
from calc.presenting.day_timeline import day_batteries, numbers_of, running_bars, timeline_of
from calc.presenting.supply_load import falls_below, rests_there
from calc.presenting.turns_in_words import turns_in_words
from calc.rules.plan.charges import Together
from calc.rules.plan.day import Plan, Turn

if TYPE_CHECKING:
    from calc.calculators.day_plan import Inputs


_PAGES = {Together.ALONE: "charge-settings", Together.SERIES: "packs-in-series", Together.PARALLEL: "packs-in-parallel"}


def timeline(given: Inputs, day: PlannedDay, clock: DayClock) -> Timeline | None:
    """Return what is on each output when, what runs already first, and the level of the battery."""
    bars = running_bars(day.begun.on, day.outputs)
    for turn in day.plan.turns:
        charge = day.charge_of(turn)
        bars.append(
            Bar(
                words=numbers_of([day.title(place) for place in charge.packs]),
                also=charge.together.value,
                lane=turn.output,
                put_on_min=turn.starts_min - len(charge.packs) * ceil(given.change_min),
                starts_min=turn.starts_min,
                ends_min=turn.ends_min,
                latest_min=turn.ends_at_latest_min,
            )
        )
    return timeline_of(bars, clock, day.outputs, day_batteries(day.on_batteries, day.supplies, day.left_percent))


def turns_table(given: Inputs, day: PlannedDay, clock: DayClock) -> Agenda | None:
    """Return the one list of the day: when, on which output, what comes off and goes on, the current, and when it is ready."""
    if not day.plan.turns:
        return None
    on_it = {day.outputs.index(one.output): joined_with_and([day.sound[place].title for place in one.packs]) for one in day.begun.on}

    def names_of(turn: Turn) -> str:
        return joined_with_and([day.title(place) for place in day.charge_of(turn).packs])

    rows, doings = [], []
    for line in turns_in_words(day.plan.turns, day.waited_for, on_it, day.outputs, one_at_a_time=day.one_at_a_time, names_of=names_of):
        turn, charge = line.turn, day.charge_of(line.turn)
        amperes = AMPERES.to_step(day.chargers[turn.output].current_step_a)
        put_on_min = len(charge.packs) * ceil(given.change_min)
        begin_min = turn.starts_min - put_on_min
        output = day.outputs[turn.output] + 1
        where = f", output {output}" if given.charger_outputs == TWO_OUTPUTS else ""
        doings.append(
            Doing(
                packs=tuple(day.sound[day.waiting[place]].number for place in charge.packs),
                output=output,
                page=_PAGES[charge.together],
                begin_min=begin_min,
                ready_min=turn.ends_min,
                latest_min=turn.ends_at_latest_min,
                put_on_min=put_on_min,
                waits_for=line.waits_for,
            )
        )
        rows.append(
            Row(
                heading=f"{clock.at(begin_min)}{where}",
                cells=(
                    worded(
                        f"{line.begins}{names_of(turn)} {charge.together.value}, at {{}}, by {{}}",
                        Figure(charge.current_a, amperes),
                        charge.because,
                    ),
                    f"about {clock.at(turn.ends_min)}, at the latest {clock.at(turn.ends_at_latest_min)}",
                ),
            )
        )
    return Agenda(
        caption="In order of time",
        doings=tuple(doings),
        start_min=None if given.start_clock is None else round(given.start_clock),
        columns=("When", "Put on", "Ready"),
        rows=tuple(rows),
        one_at_a_time=day.one_at_a_time,
        notes=(f"Where a charge ends early or late, go on in this order {_as_soon_as(day)}. The latest hours still hold.",),
    )


def _as_soon_as(day: PlannedDay) -> str:
    if day.one_at_a_time:
        return "as soon as the charge before has ended, on whichever output it is: you watch one at a time"
    if any(other is not None for other in day.waited_for):
        return (
            "as soon as an output is free; but start what waits for the other output only once that is ready, however late: both at once would "
            "take more power than there is"
        )
    return "as soon as an output is free"


def left_out_table(day: PlannedDay, clock: DayClock) -> Table | None:
    """Return who is left out, and by what."""
    if not day.left_out:
        return None
    for_good = day.out_with_battery()
    rows = []
    for place in day.left_out:
        entries = day.sound[day.waiting[place]].entries
        wanted_min = day.wanted_min[place]
        if wanted_min is not None and wanted_min <= 0:
            because = f"no charge ends after {clock.hour(wanted_min)}, which has passed"
        elif day.is_at_the_floor:
            because = rests_there([supply.entries for supply in day.on_batteries])
        elif day.with_battery is not None and place not in for_good:
            because = falls_below([supply.entries for supply in day.on_batteries])
        elif wanted_min is not None:
            because = f"it cannot be ready by {clock.at(wanted_min)} on the slowest course"
        else:
            because = f"not even a second battery like {_these(day)} would do"
        name = worded(f"{day.title(place)}: {{}}, {{}}", Figure(entries.cells, CELLS), Figure(entries.capacity_mah, MILLIAMPERE_HOURS))
        rows.append(Row(heading=name, cells=(because,)))
    return Table(caption="They wait for another day", columns=("Pack", "Because of"), rows=tuple(rows))


def _these(day: PlannedDay) -> str:
    return "this one" if len(day.on_batteries) == 1 else "each of these"


def what_if_table(given: Inputs, day: PlannedDay) -> Table | None:
    """Return what one battery or one output more would change."""
    if not day.plan.turns and not day.left_out:
        return None
    rows = []
    if day.on_batteries:
        enough = "nothing: this one is enough" if len(day.on_batteries) == 1 else "nothing: these are enough"
        told = _change(day.plan, day.with_battery) if day.with_battery else enough
        rows.append(Row(heading=f"A second battery like {_these(day)}", cells=(told,)))
    watched = f"nothing: you watch {Figure(given.watched_charges, CHARGES)} at once"
    told = _change(day.plan, day.with_output) if day.with_output else watched
    like = f" like output {day.outputs[0] + 1}" if day.outputs_differ else ""
    rows.append(Row(heading=f"One output more{like}", cells=(told,)))
    if day.left_out and given.aim == BY_AN_HOUR and day.with_battery is None:
        rows.append(Row(heading="A later hour", cells=("more of them, or all",)))
    return Table(caption="With one thing more", columns=("With", "It would change"), rows=tuple(rows))


def _change(plan: Plan, other: Plan) -> str:
    """What another plan is better by."""
    if (more := plan.worth.left_out - other.worth.left_out) > 0:
        return f"{Figure(more, PACKS)} more would be ready"
    if (sooner_min := plan.worth.end_min - other.worth.end_min) > 0 and other.worth.left_out == plan.worth.left_out:
        return f"ready about {Figure(sooner_min, MINUTES)} sooner"
    return "nothing"
