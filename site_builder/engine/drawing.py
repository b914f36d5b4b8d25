"""A `Picture` as the numbers of an SVG drawing. No style and no words: the template and the style sheet have those."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor

from calc.figures.quantities import Figure, Quantity
from calc.figures.showing import Mark, Panel, Picture

WIDTH = 360
PANEL_HEIGHT = 150
LEFT = 56
RIGHT = 28
# The largest that text becomes, and about how wide a figure of it is: the style sheet lets it grow up to this.
TEXT = 20
_FIGURE_WIDTH = 0.66 * TEXT
_BESIDE = 5
_MARK_ROW = 20
_GAP = 46
_FOOT = 60
_TICKS_APART = 27
_MINUTES = (1, 2, 5, 10, 20, 30, 60, 120, 180, 240, 480, 960, 1920, 3840, 7680, 15360)
_ROUND = (1, 2, 5)


@dataclass(frozen=True, slots=True)
class Name:
    """Words, where they stand, and which end of them stands there."""

    x: float
    y: float
    words: str
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Line:
    """A tick, a level or a moment: its place on its axis, in drawing units, and its name."""

    at: float
    name: Name


@dataclass(frozen=True, slots=True)
class DrawnPanel:
    """One panel: where it stands, its line, its band, and the ticks and levels of its axis."""

    title: Name
    top: float
    bottom: float
    line: str
    band: str
    ticks: tuple[Line, ...]
    levels: tuple[Line, ...]
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture, ready for the template."""

    width: int
    height: float
    left: int
    right: int
    panels: tuple[DrawnPanel, ...]
    times: tuple[Line, ...]
    marks: tuple[Line, ...]
    across_y: float


def drawn(picture: Picture) -> Drawing:
    """Return where everything in a picture stands."""
    last = picture.times[-1].value
    across = (WIDTH - LEFT - RIGHT) / last
    places = [LEFT + time.value * across for time in picture.times]
    first_top = 34 + (_MARK_ROW if picture.marks else 0)
    panels = tuple(
        _panel(panel, first_top + place * (PANEL_HEIGHT + _GAP), places, across, title_above=15 if place else first_top - 16)
        for place, panel in enumerate(picture.panels)
    )
    bottom = panels[-1].bottom
    quantity = picture.times[0].quantity
    widest = max(len(Figure(last, quantity).number), 2) * _FIGURE_WIDTH + _BESIDE
    ticks = _ticks(0.0, last, (WIDTH - LEFT - RIGHT) / widest, quantity)
    return Drawing(
        width=WIDTH,
        height=bottom + _FOOT,
        left=LEFT,
        right=WIDTH - RIGHT,
        panels=panels,
        times=tuple(_time(LEFT + value * across, bottom + 25, words) for value, words in ticks),
        marks=_marks(picture.marks, across, first_top - 15),
        across_y=bottom + _FOOT - 10,
    )


def _panel(panel: Panel, top: float, places: list[float], across: float, title_above: float) -> DrawnPanel:
    bottom = top + PANEL_HEIGHT
    down = PANEL_HEIGHT / (panel.most - panel.least)

    def height(value: float) -> float:
        # A cell may rest below the panel's floor or a hair above full: it is drawn on the edge.
        return _rounded(bottom - (min(max(value, panel.least), panel.most) - panel.least) * down)

    def points(values: tuple[float, ...]) -> list[str]:
        heights = [height(value) for value in values]
        # Where a line runs level, its ends are enough.
        bends = [0, *(one for one in range(1, len(heights) - 1) if len(set(heights[one - 1 : one + 2])) > 1), len(heights) - 1]
        return [f"{_rounded(places[one])},{heights[one]}" for one in bends]

    ticks = _ticks(panel.least, panel.most, PANEL_HEIGHT / _TICKS_APART, panel.quantity)
    return DrawnPanel(
        title=Name(4, top - title_above, f"{panel.title}, {panel.quantity.sign}"),
        top=top,
        bottom=bottom,
        line=" ".join(points(panel.likely)),
        band=" ".join([*points(panel.highest), *reversed(points(panel.lowest))]),
        ticks=tuple(Line(height(value), Name(LEFT - _BESIDE, height(value) + 5, words)) for value, words in ticks),
        levels=tuple(_levels(panel, height)),
        points=tuple((_rounded(LEFT + place * across), height(value)) for place, value in panel.points),
    )


def _levels(panel: Panel, height: Callable[[float], float]) -> Iterable[Line]:
    """The floors and limits that the axis reaches: the highest is named above its line, the others below theirs.

    Each is named at the end where the likely line is farther away.
    """
    reached = sorted((level for level in panel.levels if panel.least <= level.at.value <= panel.most), key=lambda one: -one.at.value)
    for place, level in enumerate(reached):
        at = height(level.at.value)
        is_left = abs(panel.likely[0] - level.at.value) >= abs(panel.likely[-1] - level.at.value)
        x, anchor = (LEFT + 6, "start") if is_left else (WIDTH - RIGHT - 6, "end")
        yield Line(at, Name(x, at + (17 if place else -5), f"{level.words} {level.at}", anchor))


def _ticks(least: float, most: float, most_ticks: float, quantity: Quantity) -> list[tuple[float, str]]:
    """Return round values from `least` to `most`, no more than there is room for, with the decimals that tell them apart."""
    finest = 10.0**-quantity.decimals
    steps = _MINUTES if quantity.suffix == "min" else (one * finest * 10**power for power in range(9) for one in _ROUND)
    step = next((step for step in steps if (most - least) / step <= most_ticks), most - least)
    values = [place * step for place in range(ceil(least / step - 1e-9), floor(most / step + 1e-9) + 1)]
    words = [Figure(value, quantity).number for value in values]
    while "." in words[0] and all(one.endswith("0") for one in words):
        words = [one[:-1].removesuffix(".") for one in words]
    return list(zip(values, words, strict=True))


def _time(at: float, y: float, words: str) -> Line:
    """A moment of the time axis; its words stand around it, or as near to it as they are whole."""
    return Line(_rounded(at), Name(_rounded(min(at, WIDTH - len(words) * _FIGURE_WIDTH / 2)), y, words))


def _marks(marks: Sequence[Mark], across: float, y: float) -> tuple[Line, ...]:
    """The moments with their numbers in a row above; where two stand close, their numbers are moved apart.

    Of more than one row holds each second, third and so on has its number.
    """
    at = [_rounded(LEFT + mark.at.value * across) for mark in marks]
    widths = [max(1.4, len(str(number))) * _FIGURE_WIDTH + 1 for number in range(1, len(at) + 1)]
    each = next((each for each in range(1, len(at)) if sum(widths[::each]) <= WIDTH), 1)
    places = dict(zip(range(0, len(at), each), _apart(at[::each], widths[::each]), strict=True))
    return tuple(
        Line(line, Name(_rounded(places[number]), y, str(number + 1)) if number in places else Name(line, y, ""))
        for number, line in enumerate(at)
    )


def _apart(at: Sequence[float], widths: Sequence[float]) -> list[float]:
    """These places, moved so far that what is as wide as `widths` stands beside each other and within the drawing."""
    places = list(at)
    for place in range(1, len(places)):
        places[place] = max(places[place], places[place - 1] + (widths[place - 1] + widths[place]) / 2)
    for place in reversed(range(len(places))):
        furthest = WIDTH - widths[place] / 2 if place == len(places) - 1 else places[place + 1] - (widths[place] + widths[place + 1]) / 2
        places[place] = min(places[place], furthest)
    return places


def _rounded(place: float) -> float:
    """A place to a tenth, as a whole number where it is one: each letter of a page is one more to send."""
    tenths = round(place, 1)
    return int(tenths) if tenths == int(tenths) else tenths
