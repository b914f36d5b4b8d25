"""What is asked of a planned day: its packs, when each is wanted, and once it has begun which are on, until when, and which are done.

A new plan moves nothing that runs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Unpack

from calc.figures.quantities import CLOCK
from calc.inputs.equipment import PACK
from calc.inputs.fields import Details, Group, choice, number, same_as
from calc.inputs.rows import several
from calc.inputs.stored_packs import StoredPackEntries

DAY = Group("day", "The plan")

BEGUN = "begun"
DAY_CHOICES = {"new": "Nothing is on yet", BEGUN: "Some packs are on already, or done"}
WAITING, ON_FIRST, ON_SECOND, DONE = "waiting", "output_1", "output_2", "done"
STANDS_CHOICES = {WAITING: "Waits", ON_FIRST: "On output 1", ON_SECOND: "On output 2", DONE: "Done"}
_ASKED = ("day_begun", (BEGUN,))
GONE = (ON_FIRST, ON_SECOND, DONE)


@dataclass(frozen=True, kw_only=True)
class BegunPackEntries(StoredPackEntries):
    """Where one pack of the day stands. What it rests at is asked while it waits; once it is on, what it rested at before: by that the
    battery has given it its charge.
    """

    resting_v: tuple[float, ...] | None = same_as(StoredPackEntries, "resting_v", unless=("stands", GONE))
    stands: str | None = choice(
        "Where it stands", STANDS_CHOICES, group=PACK, starts_as=WAITING, only_with=_ASKED, asked_as="the state of the pack"
    )
    begun_v: tuple[float, ...] | None = same_as(
        StoredPackEntries,
        "resting_v",
        only_with=("stands", GONE),
        label="Resting voltage before it went on",
        hint="As you entered it then.",
        measured=False,
    )

    @property
    def last_resting_v(self) -> tuple[float, ...]:
        """What it rested at when it was last read."""
        return self.resting_v or self.begun_v or ()


def hour(label: str, *, group: Group = DAY, **details: Unpack[Details]) -> Any:
    """Return a dataclass field for an hour of the day, in minutes since midnight."""
    return number(label, CLOCK, group=group, least=0, most=1439, **(Details(whole=True) | details))


def _output_hour(label: str, asked_as: str) -> Any:
    return hour(label, optional=True, only_with=_ASKED, asked_as=asked_as)


@dataclass(frozen=True, kw_only=True)
class BegunDayEntries:
    """Whether the day has begun, and until when the outputs are taken."""

    day_begun: str = choice("The plan so far", DAY_CHOICES, group=DAY, starts_as="new", asked_as="the state of the plan")
    output_1_ready_clock: float | None = _output_hour("Output 1 is ready at about", "the hour at which output 1 is ready")
    output_1_latest_clock: float | None = _output_hour("Output 1 is ready at the latest", "the latest hour at which output 1 is ready")
    output_2_ready_clock: float | None = _output_hour("Output 2 is ready at about", "the hour at which output 2 is ready")
    output_2_latest_clock: float | None = _output_hour("Output 2 is ready at the latest", "the latest hour at which output 2 is ready")


@dataclass(frozen=True, kw_only=True)
class BegunPacksEntries:
    """Two to twelve of them. A calculator names this class last among its bases: packs stand first."""

    packs: tuple[BegunPackEntries, ...] = several(BegunPackEntries, "Pack", group_key="packs", least=2, most=12)


@dataclass(frozen=True, kw_only=True)
class PlannedPackEntries(BegunPackEntries):
    """A pack that is to be charged, and the hour by which it must be ready, if there is one."""

    wanted_clock: float | None = hour(
        "Wanted by", group=PACK, optional=True, hint="Left empty, any hour will do.", asked_as="the hour by which you want it"
    )


@dataclass(frozen=True, kw_only=True)
class PlannedPacksEntries:
    """Two to twelve of them. A calculator names this class last among its bases: packs stand first."""

    packs: tuple[PlannedPackEntries, ...] = several(PlannedPackEntries, "Pack", group_key="packs", least=2, most=12)
