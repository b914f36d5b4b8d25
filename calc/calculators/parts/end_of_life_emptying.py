"""A pack that is emptied through a load: which load, how hot, how long, when to stop, and the picture of it."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.facts.loads import E12, HOT_SPOT_HIGH_DEGC, HOT_SPOT_LOW_DEGC, POWER_DERATING, TOO_HOT_TO_TOUCH_DEGC
from calc.figures.quantities import AMPERES, CELL_VOLTS, DEGREES_CELSIUS, LAMPS, MINUTES, PACK_VOLTS, RATE, WATT_HOURS, WATTS, Band, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Picture, Range, Setting
from calc.figures.spans import Span
from calc.physics.cell.courses import Moment, moments_at
from calc.physics.pack.emptying import EmptyingOutlook
from calc.physics.pack.loads import resistor_temperature_degc
from calc.presenting.picture import cell_panel, even_times, panel_of
from calc.presenting.ranges import ends_of, minutes_range, range_of
from calc.presenting.source_lines import source_line
from calc.rules.charge.load_choice import Load, ohm_figure
from calc.rules.pack.readings import TROUBLE

# Four times 3.2 V are off in their last bit.
_NOISE_V = 1e-9
_TENTHS_OF_A_WATT = WATTS.to_step(0.1)
_HOT_SPOTS = Band(Figure(HOT_SPOT_LOW_DEGC.value, DEGREES_CELSIUS), Figure(HOT_SPOT_HIGH_DEGC.value, DEGREES_CELSIUS))


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadShown:
    """The load as settings, with its current and its heat at the start; what belongs to the other kind of load is None."""

    resistor: Setting | None = None
    resistor_rating: Setting | None = None
    lamps: Setting | None = None
    current_at_start: Range | None = None
    heat_at_start: Range | None = None
    load_temperature: Range | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EmptyingShown:
    """How long the emptying takes, and when to stop it; all of it None for a pack that is not emptied."""

    time_to_empty: Range | None = None
    energy_out: Range | None = None
    stop_at_cell: Setting | None = None
    stop_at_pack: Setting | None = None
    picture: Picture | None = None


def load_shown(load: Load, coming: EmptyingOutlook, *, rate_c: float | None, is_own: bool, air_degc: float, cells: float) -> LoadShown:
    """Return the load ready to be shown; the rate is that at which a resistor empties the pack, None for lamps."""
    starts = [run.mean_trace[0] for run in (coming.likely, *coming.corners)]
    amperes = [start.current_a for start in starts]
    watts = [start.current_a * start.cell_v * cells for start in starts]
    heat_w = Span(min(watts), watts[0], max(watts))
    because = "two loads of a kind differ, and so do meters"
    resistor = rating = lamps = temperature = None
    if load.lamps is not None:
        lamps = Setting(
            figure=Figure(load.lamps, LAMPS),
            set_by="the full voltage of the pack: none of them gets more than the volts on its base",
            note="One after the other, in series. When they are switched on cold they draw several times as much for a moment.",
        )
    if load.ohm is not None and load.rated_w is not None and rate_c is not None:
        chosen = worded("{} at the full voltage, then up to the next value that is made: {}", Figure(rate_c, RATE), source_line(E12))
        resistor = Setting(figure=ohm_figure(load.ohm), set_by="what you have" if is_own else chosen)
        rating = Setting(
            figure=Figure(load.rated_w, WATTS),
            set_by=f"twice what it carries at the full voltage: {source_line(POWER_DERATING)}",
            note="Several alike in series or in parallel share the watts.",
        )
        temperature = range_of(
            resistor_temperature_degc(air_degc, heat_w.most, load.rated_w),
            DEGREES_CELSIUS,
            "kinds of wirewound resistors differ, and so does how the air carries the heat away",
            worded(
                "Worked out from the surface at full load, {} by MIL-PRF-26 (from memory), for still air; in the sun hotter.", _HOT_SPOTS
            ),
        )
    return LoadShown(
        resistor=resistor,
        resistor_rating=rating,
        lamps=lamps,
        current_at_start=range_of(Span(min(amperes), amperes[0], max(amperes)), AMPERES.to_step(0.01), because),
        heat_at_start=range_of(heat_w, _TENTHS_OF_A_WATT, because),
        load_temperature=temperature,
    )


def emptying_shown(chemistry: Chemistry, cells: float, coming: EmptyingOutlook, *, each_cell: bool) -> EmptyingShown:
    """Return how long the emptying takes and when to stop it: never below what all cells show when the lowest is at its floor."""
    floor, careful = chemistry.never_below_cell_v, chemistry.careful_cutoff_cell_v
    careful_v = cells * careful.value
    # Cells apart: the lowest is at its floor while the pack still shows more than the careful cutoff of all.
    at_floor_v = max(run.mean_trace[-1].cell_v * cells for run in (coming.likely, *coming.corners))
    by_cells = at_floor_v > careful_v
    stop = Setting(
        figure=Figure(max(careful_v, at_floor_v), PACK_VOLTS, "up"),
        set_by="the cells as they were read: so much the whole pack may still show when the lowest is at its floor"
        if by_cells
        else source_line(careful),
        note="If you read the pack alone: with a margin, since its weakest cell is lower than the mean."
        + ("" if each_cell else " It holds until every cell has been read."),
    )
    return EmptyingShown(
        time_to_empty=minutes_range(
            coming.time_min, "how full the pack is, and how much a worn pack holds", "Look at it every few minutes, the whole time."
        ),
        energy_out=ends_of(coming.energy_wh, WATT_HOURS, "how full the pack is, and how much a worn pack holds"),
        stop_at_cell=Setting(
            figure=Figure(floor.value, CELL_VOLTS),
            set_by=source_line(floor),
            note="Unplug it here. Further down the weakest cell is driven backwards by the others.",
        ),
        stop_at_pack=stop,
        picture=_picture(coming, chemistry, cells),
    )


def _picture(coming: EmptyingOutlook, chemistry: Chemistry, cells: float) -> Picture:
    """Return the voltage of the lowest cell and the heat in the load against time.

    P = n U I        n cells, U in V, I in A
    """
    # An emptying that is over at once still needs a minute to be drawn on.
    times = even_times(max(coming.time_min.most, 1.0))
    runs = (coming.likely, *coming.corners)
    lowest = [moments_at(run.trace, times) for run in runs]
    means = [moments_at(run.mean_trace, times) for run in runs]

    def heat_w(moment: Moment) -> float:
        return moment.current_a * moment.cell_v * cells

    heats_w = [[heat_w(moment) for moment in run] for run in means]
    highest_w = max(max(run) for run in heats_w)
    start, end = coming.likely.trace[0], coming.likely.trace[-1]
    first, last = coming.likely.mean_trace[0], coming.likely.mean_trace[-1]
    return Picture(
        caption="From the start until the lowest cell is at its floor",
        told=(
            f"Most likely the lowest cell sinks from {Figure(start.cell_v, CELL_VOLTS)} to {Figure(end.cell_v, CELL_VOLTS)} in "
            f"{Figure(coming.likely.time_min, MINUTES)}, and the heat in the load from {Figure(heat_w(first), WATTS.to_step(0.1))} to "
            f"{Figure(heat_w(last), WATTS.to_step(0.1))}. The last volts go fast."
        ),
        times=tuple(Figure(time_min, MINUTES) for time_min in times),
        panels=(
            cell_panel("Voltage of the lowest cell", chemistry, [[moment.cell_v for moment in run] for run in lowest]),
            panel_of("Heat in the load", WATTS.to_step(0.1), 0.0, highest_w or 1.0, heats_w),
        ),
    )


def cautions_of_emptying(shown: EmptyingShown, *, is_emptied: bool, was_read_whole: bool, rests_v: float) -> tuple[Caution, ...]:
    """Return what to look out for when a pack is emptied, or why one is not."""
    if not is_emptied:
        sentence = (
            "A pack that has been through a crash or a short circuit is not emptied before it is handed in: a cell may be harmed where "
            "nobody sees it. Hand it in as a harmed one."
        )
        return (Caution(sentence=sentence, grave=True, go_to=f"{TROUBLE}#afterwards"),)
    burns = Figure(TOO_HOT_TO_TOUCH_DEGC.value, DEGREES_CELSIUS)
    sentences = [
        ("Empty it outside, on stone or bare earth, away from what burns. Stay with it, awake, until it is unplugged.", True),
        (
            worded(
                "The load burns skin at once and can set things alight: metal of {} is too hot to be touched for a second. Nothing may touch it, nothing may lie near it.",
                burns,
            ),
            True,
        ),
        ("If the pack swells, smells, hisses or gets warm, part it from the load only if you can do so safely, and get away.", True),
        ("Only the whole pack was read. Watch every cell while it empties: the weakest is at its floor before the others.", False)
        if was_read_whole
        else ("", False),
        (_is_there_already(shown, rests_v), False),
    ]
    return tuple(Caution(sentence=sentence, grave=grave) for sentence, grave in sentences if sentence)


def _is_there_already(shown: EmptyingShown, rests_v: float) -> str:
    """That there is nothing to empty for somebody who reads the pack alone; nothing where there is."""
    stop = shown.stop_at_pack.figure if shown.stop_at_pack else None
    if not isinstance(stop, Figure) or rests_v > stop.value + _NOISE_V:
        return ""
    return f"It rests at {Figure(rests_v, PACK_VOLTS)}, and by the whole pack you would stop at {stop}: hand it in as it is, its contacts covered."
