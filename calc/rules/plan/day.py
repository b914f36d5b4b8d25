"""What can be put on an output, what all of it has to share, and a plan of the day.

Whole minutes, watts and milliampere-hours: so that no rounding decides between two plans, here or in a browser.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import NamedTuple


def whole_min(time_min: float) -> int:
    """Return the whole minutes that a plan counts for what takes so long: rounded up, and never none.

    >>> whole_min(0), whole_min(60.2)
    (1, 61)
    """
    return max(1, ceil(time_min))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Packs that go on an output as one, or one pack alone, at one current.

    `packs` are places in the list of packs. `put_on_min` is how long it keeps the hands, and the output, before it charges; then it
    charges for `likely_min`, and at the latest for `most_min`. It takes at most `power_w` and, in all, at most `battery_mah` from the
    battery. `cost` is what the aim counts before the minutes: charge from the battery, or wear; nothing where the minutes alone count.
    `outputs` are those that it may go on, from 0 on; None where it may go on any.
    """

    packs: tuple[int, ...]
    put_on_min: int
    likely_min: int
    most_min: int
    power_w: int
    battery_mah: int
    cost: int
    outputs: tuple[int, ...] | None = None

    def may_go_on(self, output: int) -> bool:
        """Whether an output can give its current."""
        return self.outputs is None or output in self.outputs

    @property
    def taken_min(self) -> int:
        """How long it keeps an output, most likely."""
        return self.put_on_min + self.likely_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """What is on an output already when the plan begins, and is never moved: when it ends, at the latest too, and what it takes until then."""

    output: int
    ends_min: int
    ends_at_latest_min: int
    power_w: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """What one supply gives the charges that hang on it: so much power at once, and so much charge in all. None is without a limit.

    `battery_mah` is what is left for the lots.
    """

    power_w: int | None
    battery_mah: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What all charges share: outputs, the supplies of these, by when each pack is wanted, and what runs already.

    `hangs_on` has for each output the place of its supply in `feeds`; it is empty where all hang on the first. Where charges go on
    `one_at_a_time`, nothing is put on anywhere before all that was on has ended. Hours are minutes from the start.
    """

    outputs: int
    feeds: tuple[Feed, ...]
    wanted_min: tuple[int | None, ...]
    running: tuple[Running, ...] = ()
    hangs_on: tuple[int, ...] = ()
    one_at_a_time: bool = False

    def feed_of(self, output: int) -> int:
        """The place of an output's supply in `feeds`."""
        return self.hangs_on[output] if self.hangs_on else 0

    def feeds_of(self, lot: Lot) -> frozenset[int]:
        """The places of all supplies that may feed a lot."""
        return frozenset(self.feed_of(output) for output in range(self.outputs) if lot.may_go_on(output))


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One lot of a plan: its place in the list of lots, its output from 0 on, and when it charges; the last is the latest."""

    lot: int
    output: int
    starts_min: int
    ends_min: int
    ends_at_latest_min: int


class Worth(NamedTuple):
    """What one plan is better by than another, the weightiest first: packs left out, the cost of the aim, the minute when all is done.

    The last is 0 while nothing is put on.
    """

    left_out: int
    cost: int
    end_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The turns in the order in which they are put on, what they are worth, and what no plan can be better than."""

    turns: tuple[Turn, ...]
    worth: Worth
    bound: Worth

    @property
    def is_proven(self) -> bool:
        """Whether no plan is better."""
        return self.worth == self.bound
