"""How packs that were joined side by side come level: how long, how much moves, where they rest, and the picture."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum

from calc.figures.quantities import AMPERES, CELL_VOLTS, MILLIAMPERE_HOURS, MINUTES, Figure, Quantity
from calc.figures.showing import Picture, Range
from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.physics.pack.joining import Levelling
from calc.presenting.picture import cell_panel, even_times, panel_of
from calc.presenting.ranges import minutes_or_hours, range_of
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.joined.levelling import ComingLevel

# The current has died away when so much of the first one is left.
_DIED_AWAY = 0.1
_BECAUSE = "the resistance of the cells, and the curve of their voltage"


@dataclass(frozen=True, slots=True, kw_only=True)
class LevellingShown:
    """How the current dies away; all of it None where nothing flows, or where they may not be joined yet."""

    wait: Range | None = None
    moved: Range | None = None
    rests_at: Range | None = None
    picture: Picture | None = None


def levelling_shown(packs: Sequence[SoundPack], levelling: ComingLevel) -> LevellingShown:
    """Return how the current between the packs dies away."""
    taken_ah = levelling.span(lambda run: max(run[-1].taken_ah))
    return LevellingShown(
        wait=minutes_or_hours(levelling.span(_died_away_min), _BECAUSE, "Until the current has fallen to a tenth."),
        moved=range_of(taken_ah.times(mah_from_ah(1)), MILLIAMPERE_HOURS, _BECAUSE, "Into the pack that takes most."),
        rests_at=range_of(_cells_rest_at(levelling), CELL_VOLTS, _BECAUSE),
        picture=picture_of_levelling(packs, levelling),
    )


def _cells_rest_at(levelling: ComingLevel) -> Span:
    """The lowest and the highest cell of all courses, and the likely mean."""
    cell_v = [v for run in (levelling.likely, *levelling.corners) for cells in run[-1].cell_v for v in cells]
    likely_v = [v for cells in levelling.likely[-1].cell_v for v in cells]
    return Span(min(cell_v), fsum(likely_v) / len(likely_v), max(cell_v))


def _died_away_min(run: tuple[Levelling, ...]) -> float:
    """Between the two moments around a tenth of the first current, by straight line."""
    highest = [max(map(abs, moment.currents_a)) for moment in run]
    place = bisect_right(highest, -highest[0] * _DIED_AWAY, key=lambda current_a: -current_a)
    if place >= len(run):
        return run[-1].time_min
    before, after = run[place - 1], run[place]
    share = (highest[place - 1] - highest[0] * _DIED_AWAY) / (highest[place - 1] - highest[place])
    return before.time_min + (after.time_min - before.time_min) * share


def picture_of_levelling(packs: Sequence[SoundPack], levelling: ComingLevel) -> Picture | None:
    """Return the current between the packs and the voltage of the joint, from the joining on.

    None where the current or the difference of the cells reads as nothing: an axis would have no height.
    """
    cells = packs[0].cells
    runs = [levelling.likely, *levelling.corners]
    times = even_times(max(run[-1].time_min for run in runs))
    currents = [_at_times(run, times, _highest_a) for run in runs]
    voltages = [_at_times(run, times, lambda moment: moment.joint_v / cells) for run in runs]
    rests = [one.reading.mean_cell_v for one in packs]
    first, last = levelling.likely[0], levelling.likely[-1]
    highest_a = max(max(line) for line in currents)
    if _reads_alike(0.0, highest_a, AMPERES) or _reads_alike(min(rests), max(rests), CELL_VOLTS):
        return None
    return Picture(
        caption="After the main leads are joined",
        told=(
            f"Most likely {Figure(_highest_a(first), AMPERES)} flow at first. After {Figure(last.time_min, MINUTES)} it is a twentieth "
            f"of that, and a cell rests at {Figure(last.joint_v / cells, CELL_VOLTS)}."
        ),
        times=tuple(Figure(time_min, MINUTES) for time_min in times),
        panels=(
            panel_of("Highest current in a pack", AMPERES, 0.0, highest_a, currents),
            cell_panel("Voltage of a cell at the joint", packs[0].chemistry, voltages),
        ),
    )


def _reads_alike(least: float, most: float, quantity: Quantity) -> bool:
    return Figure(least, quantity).number == Figure(most, quantity).number


def _highest_a(moment: Levelling) -> float:
    return max(map(abs, moment.currents_a))


def _at_times(run: tuple[Levelling, ...], times: list[float], of: Callable[[Levelling], float]) -> list[float]:
    """One thing of a course at each time, by straight lines; after its end, as at its end."""
    found = []
    for time_min in times:
        after = bisect_right(run, time_min, key=lambda moment: moment.time_min)
        if after == len(run):
            found.append(of(run[-1]))
            continue
        left, right = run[after - 1], run[after]
        share = (time_min - left.time_min) / (right.time_min - left.time_min)
        found.append(of(left) + (of(right) - of(left)) * share)
    return found
