"""A `Timeline` as the numbers of an SVG drawing. No style and no words: the template and the style sheet have those."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.followed import Bar, BatteryLevel, Timeline
from calc.figures.quantities import Figure

WIDTH = 358
LEFT = 8
RIGHT = 8
TITLE = 24
BAR = 44
GAP = 8
LEVEL = 90
FOOT = 28
# The largest that text becomes: the style sheet lets it grow up to this. What a letter of it takes across, and what stays free beside words.
TEXT = 16
_LETTER = 0.59 * TEXT
_SMALL_LETTER = 0.53 * TEXT
_HOUR_LETTER = 0.62 * TEXT
_BESIDE = 8
_BELOW_LETTERS = 5


@dataclass(frozen=True, slots=True)
class Tick:
    """A place on an axis, in drawing units, and what stands there."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class DrawnHour:
    """The line of an hour, and where the middle of its words stands."""

    at: float
    middle: float
    words: str


@dataclass(frozen=True, slots=True)
class DrawnBar:
    """A bar: where it stands and ends, where it ends at the latest, its two lines of words, and whether it runs already.

    Where the next bar of its lane begins before its latest end, `latest` is its own end: the line would lie under that bar.
    """

    x: float
    y: float
    width: float
    latest: float
    words: str
    also: str
    is_on: bool


@dataclass(frozen=True, slots=True)
class DrawnLevel:
    """A battery's level: what it is called, its line and its band, where it begins and ends with what stands there, and its floor."""

    title: str
    top: float
    bottom: float
    line: str
    band: str
    first: Tick
    last: Tick
    floor: Tick
    floor_words_y: float


@dataclass(frozen=True, slots=True)
class DrawnTimeline:
    """A timeline, ready for the template."""

    width: int
    height: int
    left: int
    right: int
    bottom: float
    bar_height: int
    lanes: tuple[Tick, ...]
    bars: tuple[DrawnBar, ...]
    hours: tuple[DrawnHour, ...]
    levels: tuple[DrawnLevel, ...]


def drawn_timeline(timeline: Timeline) -> DrawnTimeline:
    """Return where everything of a timeline stands."""
    across = (WIDTH - LEFT - RIGHT) / timeline.last_min
    tops = [place * (TITLE + BAR + GAP) for place in range(len(timeline.lanes))]
    bottom = float(len(tops) * (TITLE + BAR + GAP))
    levels = []
    for one in timeline.levels:
        levels.append(_level(one, bottom))
        bottom = levels[-1].bottom + GAP
    return DrawnTimeline(
        width=WIDTH,
        height=int(bottom) + FOOT,
        left=LEFT,
        right=WIDTH - RIGHT,
        bottom=bottom,
        bar_height=BAR,
        lanes=tuple(Tick(top + TITLE - 6, words) for top, words in zip(tops, timeline.lanes, strict=True)),
        bars=tuple(_bar(bar, across, tops[bar.lane] + TITLE, is_last=_is_last(bar, timeline.bars)) for bar in timeline.bars),
        hours=tuple(_hour(LEFT + hour.at_min * across, hour.words) for hour in timeline.hours),
        levels=tuple(levels),
    )


def _hour(at: float, words: str) -> DrawnHour:
    """An hour's words stand around its line, or as near to it as they are whole."""
    half = len(words) * _HOUR_LETTER / 2
    return DrawnHour(at, min(max(at, half), WIDTH - half), words)


def _is_last(bar: Bar, bars: tuple[Bar, ...]) -> bool:
    return not any(other.lane == bar.lane and bar.put_on_min < other.put_on_min < bar.latest_min for other in bars)


def _bar(bar: Bar, across: float, y: float, *, is_last: bool) -> DrawnBar:
    x, end = LEFT + bar.put_on_min * across, LEFT + bar.ends_min * across
    width = max(end - x - 1, 2.0)
    # Where the words are too long the numbers alone stand there, and where those are, too, nothing: the list has them.
    short = bar.words.replace("Pack ", "")
    words = next((text for text in (bar.words, short) if len(text) * _LETTER + _BESIDE <= width), "")
    also = bar.also if len(bar.also) * _SMALL_LETTER + _BESIDE <= width else ""
    latest = LEFT + bar.latest_min * across if is_last else x + width
    return DrawnBar(x=x, y=y, width=width, latest=latest, words=words, also=also, is_on=bar.is_on)


def _level(level: BatteryLevel, top: float) -> DrawnLevel:
    panel = level.panel
    top += TITLE
    bottom = top + LEVEL
    down = LEVEL / (panel.most - panel.least)
    steps = (WIDTH - LEFT - RIGHT) / (len(panel.likely) - 1)

    def y(value: float) -> float:
        return bottom - (min(max(value, panel.least), panel.most) - panel.least) * down

    floor_y = y(level.floor.value)

    def points(values: tuple[float, ...]) -> list[str]:
        return [f"{LEFT + place * steps:.1f},{y(value):.1f}" for place, value in enumerate(values)]

    return DrawnLevel(
        title=panel.title,
        top=top,
        bottom=bottom,
        line=" ".join(points(panel.likely)),
        band=" ".join([*points(panel.highest), *reversed(points(panel.lowest))]),
        first=Tick(y(panel.likely[0]), str(Figure(panel.likely[0], panel.quantity))),
        last=Tick(y(panel.likely[-1]), str(Figure(panel.likely[-1], panel.quantity))),
        floor=Tick(floor_y, str(level.floor)),
        # Below its line, unless the hours stand there.
        floor_words_y=floor_y + TEXT if floor_y + TEXT + _BELOW_LETTERS <= bottom + GAP else floor_y - _BELOW_LETTERS,
    )
