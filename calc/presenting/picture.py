"""The panels of a picture, and the times at which it is drawn."""

from __future__ import annotations

from collections.abc import Sequence

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import CELL_VOLTS, PERCENT, Figure, Quantity
from calc.figures.showing import Level, Panel

_TIMES = 41
# How far the axis of a cell's voltage reaches past its floor and past full, so that both can be drawn and named.
_BELOW_FLOOR_V = 0.3
_ABOVE_FULL_V = 0.25


def even_times(last_min: float) -> list[float]:
    """Return the 41 times of a picture, evenly spaced: t = t_last k / 40."""
    return [last_min * place / (_TIMES - 1) for place in range(_TIMES)]


def panel_of(
    title: str, quantity: Quantity, least: float, most: float, lines: Sequence[list[float]], levels: tuple[Level, ...] = ()
) -> Panel:
    """Return a panel with the first of several lines as the likely one, and the band that holds them all.

    The ends of the axis and the lines, all of one length, are in the quantity's unit.
    """
    return Panel(
        title=title,
        quantity=quantity,
        least=least,
        most=most,
        likely=tuple(lines[0]),
        lowest=tuple(min(values) for values in zip(*lines, strict=True)),
        highest=tuple(max(values) for values in zip(*lines, strict=True)),
        levels=levels,
    )


def cell_panel(title: str, chemistry: Chemistry, lines: Sequence[list[float]]) -> Panel:
    """Return a panel of a cell's voltage. Its axis is that of the chemistry, so that one picture can be held against another."""
    floor_v, full_v = chemistry.never_below_cell_v.value, chemistry.full_cell_v.value
    levels = (Level(at=Figure(full_v, CELL_VOLTS), words="full"), Level(at=Figure(floor_v, CELL_VOLTS), words="floor"))
    lowest_v, highest_v = floor_v - _BELOW_FLOOR_V, full_v + _ABOVE_FULL_V
    # The band of a cell that begins at its floor reaches further down than the axis does.
    held = [[min(max(cell_v, lowest_v), highest_v) for cell_v in line] for line in lines]
    return panel_of(title, CELL_VOLTS, lowest_v, highest_v, held, levels)


def charge_panel(title: str, lines: Sequence[list[float]], floor_percent: float | None = None) -> Panel:
    """Return a panel of what is left in a pack or a battery, from empty to full."""
    levels = () if floor_percent is None else (Level(at=Figure(floor_percent, PERCENT), words="floor"),)
    return panel_of(title, PERCENT, 0.0, 100.0, lines, levels)
