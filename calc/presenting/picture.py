"""The panels of a picture, and the times at which it is drawn."""

from __future__ import annotations

from calc.figures.quantities import Quantity
from calc.figures.showing import Panel

_TIMES = 41


def even_times(last_min: float) -> list[float]:
    """Return the 41 times of a picture, evenly spaced: t = t_last k / 40."""
    return [last_min * place / (_TIMES - 1) for place in range(_TIMES)]


def panel_of(title: str, quantity: Quantity, least: float, most: float, lines: list[list[float]]) -> Panel:
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
    )
