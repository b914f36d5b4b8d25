"""The few kinds of thing that an answer can show. Each has one macro in the page templates.

An `Answer` is a frozen dataclass whose fields hold these kinds, or tuples of them. `shown` gives a field its words, so the
class reads like the page and a calculator needs no template of its own.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any

from calc.figures.quantities import Band, Figure, Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Ceiling:
    """One of the limits that were compared for a setting; `binds` marks the one that set it."""

    because: str
    figure: Figure
    binds: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A value to dial in. It never stands without `set_by`, the limit or the rule that set it."""

    figure: Figure | str
    set_by: str
    also: Figure | str | None = None
    note: str = ""
    ceilings: tuple[Ceiling, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict(Setting):
    """Whether something may be done now: `figure` says it in words, `set_by` why, and `may` which sign stands beside it; one that
    `warns` has a sign of its own. `may` is None where nothing speaks against it so far, and not all is known.
    """

    may: bool | None
    warns: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A forecast: the least and the most, the most likely where one can be named, and what the width comes from.

    `beside` is the same two ends in a second unit.
    """

    least: Figure
    most: Figure
    because: str
    likely: Figure | None = None
    note: str = ""
    beside: Band | None = None

    @property
    def ends(self) -> Band:
        """Both ends, as one thing to print."""
        return Band(self.least, self.most)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A table's line: its heading and its cells; `marked` is the line that this pack's answer stands in."""

    heading: str
    cells: tuple[Figure | Band | str, ...]
    marked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table to read across. Every cell holds its unit, or all of them have `unit`, which then stands at the head of each column; the
    notes name the sources. `of_picture` are the figures of a picture, which are wanted less often than the picture.
    """

    caption: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()
    unit: Quantity | None = None
    of_picture: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A floor or a limit on a picture: a line across it, and what it is called."""

    at: Figure
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One quantity against time: the likely course, and the lowest and highest of all courses, at the picture's times.

    The axis reaches from `least` to `most`; `levels` are the floors and limits that stand on it, `points` what was measured, place and
    value.
    """

    title: str
    quantity: Quantity
    least: float
    most: float
    likely: tuple[float, ...]
    lowest: tuple[float, ...]
    highest: tuple[float, ...]
    points: tuple[tuple[float, float], ...] = ()
    levels: tuple[Level, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A moment on a picture at which something takes over."""

    at: Figure
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Panels that share what runs across them, from the first to the last: times, or what `across` says.

    `told` says in words what the lines show, `band` what the line and the band stand for. One that `opens` is in sight at once.
    """

    caption: str
    told: str
    times: tuple[Figure, ...]
    panels: tuple[Panel, ...]
    marks: tuple[Mark, ...] = ()
    across: str = "time"
    opens: bool = False
    band: str = "The line is the likely course; the band holds every course that the entries allow."


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """What is written down by hand on paper: its title and unit, a time or a word if it has none, and how many boxes of it."""

    title: str
    quantity: Quantity | None = None
    boxes: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to do and tick. `done` are the words on its tick. `timer` counts down from there, and anew after each look if it
    `timer_repeats`; the tick of a step `starts` and `stops` the timers of those that it names. `asks_count` asks what the charger
    counts, which must be the figure. The figure, or the time left, of one `on_top` stays in sight while the card runs.

    `act` names what is done, for its picture. `also` is the figure in a second unit. `takes_note` gives room to write, `writes` are boxes on paper alone.
    `logs_as` names the entries of a line of the pack's log that are asked here, for the line that the card leaves there.
    """

    key: str
    act: str
    title: str
    say: str
    figure: Figure | str | None = None
    also: Figure | None = None
    set_by: str = ""
    timer: Figure | None = None
    timer_repeats: bool = False
    starts: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    asks_count: bool = False
    on_top: bool = False
    done: str = ""
    takes_note: bool = False
    logs_as: tuple[str, ...] = ()
    writes: tuple[Blank, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """A part of a card: steps in the order in which they are done."""

    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A sentence that must be read with the numbers. `grave` is for what can burn, `go_to` the key of the page that helps."""

    sentence: str
    grave: bool = False
    go_to: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WiredPlug:
    """A balance plug: the numbers that its cells have on the charger, from the negative end, and what it goes into."""

    cells: tuple[int, ...]
    into: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WiredPack:
    """A pack as it is wired: its name, its balance plugs, and whether its main lead is the wrong way round."""

    title: str
    plugs: tuple[WiredPlug, ...]
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """How packs are wired to each other and to a charger, side by side or one after the other.

    `told` says in one sentence what is drawn, `wires` the same wire by wire. `never` says why packs must not be joined like
    this; it is empty where they may.
    """

    caption: str
    told: str
    packs: tuple[WiredPack, ...]
    side_by_side: bool
    wires: tuple[str, ...] = ()
    never: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A field of an answer with its words, ready to be shown: one value or several of one kind."""

    key: str
    title: str
    section: str
    kind: str
    values: tuple[Any, ...]


def shown(title: str, section: str = "") -> Any:
    """Return a dataclass field that an answer shows under this title, in this section of the page; no section for none.

    >>> from dataclasses import dataclass
    >>> @dataclass
    ... class Answer:
    ...     current: str = shown("Charge current")
    >>> parts_of(Answer("2.6 A"))[0].title
    'Charge current'
    """
    return field(metadata={"title": title, "section": section})


def held_by(answer: Any) -> dict[str, Any]:
    """Return what an answer, or a part of one, holds by the names of its fields: what a larger one is made from."""
    return {one.name: getattr(answer, one.name) for one in fields(answer)}


def parts_of(answer: Any) -> list[Part]:
    """Return what an answer shows, in the order of its fields, leaving out what does not apply to it."""
    parts = []
    for one in fields(answer):
        value = getattr(answer, one.name)
        if value is None or value == ():
            continue
        values = value if isinstance(value, tuple) else (value,)
        kind = type(values[0]).__name__.lower()
        parts.append(Part(one.name, one.metadata["title"], one.metadata["section"], kind, values))
    return parts
