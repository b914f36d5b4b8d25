"""A charge as a picture and as a table: current, cell voltage and charge against time, with the band of all courses."""

from __future__ import annotations

from collections.abc import Callable

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import CELL_VOLTS, MINUTES, PACK_AMPERES, PERCENT, Band, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Level, Mark, Picture, Row, Table
from calc.figures.units import percent_from_fraction
from calc.physics.cell.courses import Moment, moment_at, moments_at
from calc.physics.cell.forecasting import Forecast
from calc.presenting.picture import cell_panel, charge_panel, even_times, panel_of

_ROWS_MOST = 13
# Above the current that was set there must be room for its name.
_HEADROOM = 1.25
_ROW_STEPS_MIN = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480)


def picture_of(coming: Forecast, chemistry: Chemistry, set_to: Figure) -> Picture:
    """Return the picture of a charge: at each of its times the likely course, and the lowest and the highest of all.

    `set_to` is the charge current that the charger is set to.
    """
    # A charge that is over at once still needs a minute to be drawn on.
    times = even_times(max(coming.time_min.most, 1.0))
    moments = [moments_at(run.trace, times) for run in (coming.likely, *coming.corners)]

    def lines(of: Callable[[Moment], float]) -> list[list[float]]:
        return [[of(moment) for moment in run] for run in moments]

    currents = lines(lambda moment: moment.current_a)
    highest_a = max(set_to.value, *map(max, currents))

    return Picture(
        caption="The charge, minute by minute",
        told=_in_words(coming),
        times=tuple(Figure(time_min, MINUTES) for time_min in times),
        panels=(
            panel_of(
                "Current into the pack", PACK_AMPERES, 0.0, highest_a * _HEADROOM, currents, (Level(at=set_to, words="charge current"),)
            ),
            cell_panel("Voltage of a cell", chemistry, lines(lambda moment: moment.cell_v)),
            charge_panel("Charge in the pack", lines(lambda moment: percent_from_fraction(moment.state))),
        ),
        marks=_marks_of(coming),
    )


def _marks_of(coming: Forecast) -> tuple[Mark, ...]:
    """Return the moments of the likely course at which another limit takes over, in the order of time."""
    likely = coming.likely
    full_v_min = likely.constant_current_min + likely.constant_power_min
    marks = []
    if likely.constant_power_min > 0:
        marks.append(Mark(at=Figure(likely.constant_current_min, MINUTES), words="power: the current sinks"))
    if likely.constant_voltage_min > 0:
        marks.append(Mark(at=Figure(full_v_min, MINUTES), words="full voltage: the current falls"))
    return (*marks, Mark(at=Figure(likely.time_min, MINUTES), words="done"))


def _in_words(coming: Forecast) -> str:
    likely = coming.likely
    start, end = likely.trace[0], likely.trace[-1]
    return worded(
        "Most likely the charge begins at {} with {}, {}, with {} in the pack.",
        Figure(percent_from_fraction(start.state), PERCENT),
        Figure(start.current_a, PACK_AMPERES),
        ", ".join(f"at {mark.at} {mark.words}" for mark in _marks_of(coming)),
        Figure(percent_from_fraction(end.state), PERCENT),
    )


def minute_by_minute(coming: Forecast) -> Table:
    """Return the picture's lines as a table to read, at most thirteen rows: the likely course, and the band of the charge."""
    last_min = coming.time_min.most
    step_min = next((step for step in _ROW_STEPS_MIN if last_min / step < _ROWS_MOST - 1), _ROW_STEPS_MIN[-1])
    rows = []
    for time_min in range(0, int(last_min) + step_min + 1, step_min):
        moment = moment_at(coming.likely.trace, time_min)
        state = coming.state_at(time_min)
        band = Band(*(Figure(percent_from_fraction(end), PERCENT) for end in (state.least, state.most)))
        rows.append(
            Row(
                heading=str(Figure(time_min, MINUTES)),
                cells=(
                    Figure(moment.current_a, PACK_AMPERES),
                    Figure(moment.cell_v, CELL_VOLTS),
                    Figure(percent_from_fraction(moment.state), PERCENT),
                    band,
                ),
            )
        )
    return Table(
        caption="The same in figures",
        columns=("After", "Current", "A cell shows", "Charge, likely", "Charge, from and to"),
        rows=tuple(rows),
        of_picture=True,
    )
