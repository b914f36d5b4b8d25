"""How packs that were joined side by side come level, as a picture."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence

from calc.figures.quantities import AMPERES, CELL_VOLTS, MINUTES, Figure, Quantity
from calc.figures.showing import Picture
from calc.physics.pack.joining import Levelling
from calc.presenting.picture import even_times, panel_of
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.joined.levelling import ComingLevel


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
            panel_of("Voltage of a cell at the joint", CELL_VOLTS, min(rests), max(rests), voltages),
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
