"""What an answer shows of a plan that is followed: one list in order of time, and the outputs as a timeline. Each has one macro, too."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import Figure
from calc.figures.showing import Panel, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """What one line of an agenda is about: the packs by number, the output, the key of the page that has the last word, and minutes from
    the start: when to begin, when it is ready, and when at the latest. `waits_for` is another output that must be ready before
    it starts, `put_on_min` how long it keeps the hands until then.
    """

    packs: tuple[int, ...]
    output: int
    page: str
    begin_min: int
    ready_min: int
    latest_min: int
    put_on_min: int
    waits_for: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Agenda(Table):
    """A table that is followed line by line, in order of time. `start_min` is the start in minutes since midnight, if it has an hour, and
    `until_min` the minutes from there until all must be ready, if there is an end to it. `one_at_a_time`: a line begins once the one before
    has ended, on whichever output that is.
    """

    doings: tuple[Doing, ...]
    start_min: int | None
    until_min: int | None = None
    one_at_a_time: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """What is on a lane of a timeline, in minutes from the start: put on, flowing, ready, ready at the latest; `is_on` where it runs already."""

    words: str
    also: str
    lane: int
    put_on_min: int
    starts_min: int
    ends_min: int
    latest_min: int
    is_on: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Hour:
    """A place on a timeline and its hour."""

    at_min: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BatteryLevel:
    """The level of a battery over the day, and its floor."""

    panel: Panel
    floor: Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """What is on each output when, and below it the level of each battery that feeds them.

    `told` says in words what is drawn; the list beside it has it line by line.
    """

    caption: str
    told: str
    lanes: tuple[str, ...]
    bars: tuple[Bar, ...]
    hours: tuple[Hour, ...]
    last_min: int
    levels: tuple[BatteryLevel, ...] = ()
