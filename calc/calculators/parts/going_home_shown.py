"""The sheet for going home as it is read: the timeline, what to do in order of time, who waits for another day and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calc.calculators.parts.going_home_work import Evening, EveningPack
from calc.facts.practice import STORE_WITHIN_DAYS
from calc.figures.followed import Agenda, Bar, Doing, Timeline
from calc.figures.quantities import AMPERES, CELL_VOLTS, CELLS, DAYS, MILLIAMPERE_HOURS, MINUTES, PACKS, Band, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Row, Table
from calc.figures.spans import Span
from calc.inputs.planned_day import TWO_OUTPUTS, BegunPackEntries
from calc.presenting.day_clock import DayClock
from calc.presenting.day_timeline import day_batteries, running_bars, timeline_of
from calc.presenting.storage_words import count_to_stop_at
from calc.presenting.supply_load import falls_below, rests_there
from calc.presenting.turns_in_words import OTHER_TAKES_A_PART, TurnInWords, turns_in_words
from calc.rules.plan.day import Turn
from calc.rules.plan.evening import EveningMove
from calc.rules.supply.battery_floor import is_at_its_floor

if TYPE_CHECKING:
    from calc.calculators.going_home import Inputs


_NO_MORE = f"Never charge with more current than a line says, though the pack's own page may give more: {OTHER_TAKES_A_PART}."


def name_of(number: int, pack: BegunPackEntries) -> str:
    """Return what a pack is called on the sheet."""
    return worded(f"Pack {number}: {{}}, {{}}", Figure(pack.cells, CELLS), Figure(pack.capacity_mah, MILLIAMPERE_HOURS))


def timeline(evening: Evening, clock: DayClock) -> Timeline | None:
    """Return what is on each output when, what runs already first, and the level of a battery that charges any."""
    bars = running_bars(evening.begun.on, evening.outputs)
    for turn in evening.plan.turns:
        move = evening.move_of(turn)
        bars.append(
            Bar(
                words=title_of(move.pack),
                also="charge" if move.move.goes_up else "discharge",
                lane=turn.output,
                put_on_min=turn.starts_min - evening.lots[turn.lot].put_on_min,
                starts_min=turn.starts_min,
                ends_min=turn.ends_min,
                latest_min=turn.ends_at_latest_min,
            )
        )
    return timeline_of(bars, clock, evening.outputs, day_batteries(evening.on_batteries, evening.supplies, evening.left_percent))


def title_of(place: int) -> str:
    """Return what a pack is called in a list."""
    return f"Pack {place + 1}"


def _from_to(span: Span) -> Band:
    return Band(Figure(span.least, MINUTES), Figure(span.most, MINUTES))


def _way_words(move: EveningMove) -> str:
    return "Charge" if move.move.goes_up else "Discharge"


def in_order(given: Inputs, evening: Evening, clock: DayClock) -> Agenda | None:
    """Return the one list of the evening, in order of time."""
    if not evening.plan.turns:
        return None
    on_it = {evening.outputs.index(one.output): ", ".join(map(title_of, one.packs)) for one in evening.begun.on}

    def name_of_turn(turn: Turn) -> str:
        return title_of(evening.move_of(turn).pack)

    rows, doings = [], []
    for line in turns_in_words(
        evening.plan.turns, evening.waited_for, on_it, evening.outputs, one_at_a_time=evening.one_at_a_time, names_of=name_of_turn
    ):
        row, doing = _line(given, evening, clock, line)
        rows.append(row)
        doings.append(doing)
    return Agenda(
        caption="In order of time",
        columns=("When", "Put on", "Stop after", "Or when a cell shows", "Takes", "Ready"),
        rows=tuple(rows),
        doings=tuple(doings),
        start_min=None if given.start_clock is None else round(given.start_clock),
        until_min=round(evening.until_min),
        one_at_a_time=evening.one_at_a_time,
        notes=(
            (
                "Stop by the count, or as soon as one cell shows its voltage: the lowest on the way down, the highest on the way up. Let it "
                "rest for half an hour, and read every cell again: the terminals under current do not show its rest."
            ),
            *([_NO_MORE] if evening.shares else []),
        ),
    )


def _line(given: Inputs, evening: Evening, clock: DayClock, line: TurnInWords) -> tuple[Row, Doing]:
    turn = line.turn
    put_on_min = evening.lots[turn.lot].put_on_min
    begin_min = turn.starts_min - put_on_min
    one = evening.move_of(turn)
    pack, plan, count = given.packs[one.pack], evening.plans[one.pack], one.move.count
    assert count is not None, "a way to storage is counted"
    output, charger = evening.outputs[turn.output] + 1, evening.chargers[turn.output]
    current = Figure(one.move.dial.current_a, AMPERES.to_step(charger.current_step_a))
    what = worded(
        f"{line.begins}{{}}. {_way_words(one)}, {plan.chemistry.charger_mode}, at {{}}, by {{}}",
        name_of(one.pack + 1, pack),
        current,
        one.because,
    )
    return Row(
        heading=f"{clock.at(begin_min)}{f', output {output}' if given.charger_outputs == TWO_OUTPUTS else ''}",
        cells=(
            what,
            count_to_stop_at(count, charger.capacity_step_mah),
            Figure(one.move.stop_cell_v, CELL_VOLTS),
            _from_to(one.move.time_min),
            f"about {clock.at(turn.ends_min)}, at the latest {clock.at(turn.ends_at_latest_min)}",
        ),
    ), Doing(
        packs=(one.pack + 1,),
        output=output,
        page="storage",
        begin_min=begin_min,
        ready_min=turn.ends_min,
        latest_min=turn.ends_at_latest_min,
        put_on_min=put_on_min,
        waits_for=line.waits_for,
    )


def not_tonight(given: Inputs, evening: Evening) -> Table | None:
    """Return who waits for another day, and by what."""
    if not evening.left_out:
        return None

    def until(pack: EveningPack) -> str:
        return "tomorrow: it is low" if pack.goes_up else f"within {Figure(STORE_WITHIN_DAYS.value, DAYS)}, or fly it"

    def because(pack: EveningPack) -> str:
        if too_empty := evening.too_empty_for(pack):
            batteries = [supply.entries for supply in too_empty]
            return rests_there(batteries) if all(map(is_at_its_floor, batteries)) else falls_below(batteries)
        return "the time that is left"

    rows = tuple(
        Row(
            heading=name_of(pack.place + 1, given.packs[pack.place]),
            cells=("Charge" if pack.goes_up else "Discharge", _from_to(pack.time_min), because(pack), until(pack)),
        )
        for pack in evening.left_out
    )
    return Table(caption="Not tonight", columns=("Pack", "What to do", "Takes", "Because of", "Do it"), rows=rows)


def what_if(evening: Evening) -> Table | None:
    """Return what one output more would change, where some are left out and more could be watched."""
    if evening.with_output is None:
        return None
    more = evening.plan.worth.left_out - evening.with_output.worth.left_out
    told = f"{Figure(more, PACKS)} more would be done" if more > 0 else "nothing"
    return Table(caption="With one thing more", columns=("With", "It would change"), rows=(Row(heading="One output more", cells=(told,)),))
