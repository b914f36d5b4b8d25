"""A `Picture` as the numbers of an SVG drawing. No style and no words: the template and the style sheet have those."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import Figure
from calc.figures.showing import Panel, Picture

WIDTH = 360
PANEL_HEIGHT = 118
GAP = 34
LEFT = 58
RIGHT = 10
TOP = 24
FOOT = 40
_TICKS_MOST = 7
_TICK_STEPS = (1, 2, 5, 10, 20, 30, 60, 120, 240, 480, 960)


@dataclass(frozen=True, slots=True)
class Tick:
    """A place on an axis, in drawing units, and what stands there."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class DrawnPanel:
    """One panel: where it stands, its line, its band, and the two ends of its axis."""

    title: str
    top: float
    bottom: float
    line: str
    band: str
    ends: tuple[Tick, ...]
    points: tuple[tuple[float, float], ...]
    limit: Tick | None


@dataclass(frozen=True, slots=True)
class DrawnMark:
    """A moment: its number in the key below, and where it stands."""

    number: int
    at: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture, ready for the template."""

    width: int
    height: int
    left: int
    right: int
    panels: tuple[DrawnPanel, ...]
    times: tuple[Tick, ...]
    marks: tuple[DrawnMark, ...]


def drawn(picture: Picture) -> Drawing:
    """Return where everything in a picture stands."""
    last = picture.times[-1].value
    across = (WIDTH - LEFT - RIGHT) / last
    places = [LEFT + time.value * across for time in picture.times]
    panels = tuple(_panel(panel, TOP + place * (PANEL_HEIGHT + GAP), places, across) for place, panel in enumerate(picture.panels))
    step = next((step for step in _TICK_STEPS if last / step < _TICKS_MOST), _TICK_STEPS[-1])
    ticks = range(0, int(last) + 1, step)
    return Drawing(
        width=WIDTH,
        height=int(panels[-1].bottom) + FOOT,
        left=LEFT,
        right=WIDTH - RIGHT,
        panels=panels,
        times=tuple(Tick(LEFT + time * across, Figure(time, picture.times[0].quantity).number) for time in ticks),
        marks=tuple(DrawnMark(number, LEFT + mark.at.value * across) for number, mark in enumerate(picture.marks, 1)),
    )


def _panel(panel: Panel, top: float, places: list[float], across: float) -> DrawnPanel:
    bottom = top + PANEL_HEIGHT
    down = PANEL_HEIGHT / (panel.most - panel.least)

    def height(value: float) -> float:
        # A cell may rest below the panel's floor or a hair above full: it is drawn on the edge.
        return bottom - (min(max(value, panel.least), panel.most) - panel.least) * down

    def points(values: tuple[float, ...]) -> list[str]:
        return [f"{x:.1f},{height(value):.1f}" for x, value in zip(places, values, strict=True)]

    return DrawnPanel(
        title=panel.title,
        top=top,
        bottom=bottom,
        line=" ".join(points(panel.likely)),
        band=" ".join([*points(panel.highest), *reversed(points(panel.lowest))]),
        points=tuple((LEFT + place * across, height(value)) for place, value in panel.points),
        limit=None if panel.limit is None else Tick(height(panel.limit), panel.limit_words),
        ends=(Tick(top, str(Figure(panel.most, panel.quantity))), Tick(bottom, str(Figure(panel.least, panel.quantity)))),
    )
