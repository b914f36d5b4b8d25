"""What is asked of a day that has begun, so that a new plan moves nothing that runs: which packs are on, until when, and which are done."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import CLOCK
from calc.inputs.equipment import PACK
from calc.inputs.fields import Group, choice, number

DAY = Group("day", "The plan")

BEGUN = "begun"
DAY_CHOICES = {"new": "Nothing is on yet", BEGUN: "Some packs are on already, or done"}
WAITING, ON_FIRST, ON_SECOND, DONE = "waiting", "output_1", "output_2", "done"
STANDS_CHOICES = {WAITING: "Waits", ON_FIRST: "On output 1", ON_SECOND: "On output 2", DONE: "Done"}
_ASKED = ("day_begun", (BEGUN,))


@dataclass(frozen=True, kw_only=True)
class BegunPackEntries:
    """Where one pack of the day stands. What was read of it holds for the moment before it went on."""

    stands: str | None = choice(
        "Where it stands", STANDS_CHOICES, group=PACK, starts_as=WAITING, only_with=_ASKED, asked_as="the state of the pack"
    )


@dataclass(frozen=True, kw_only=True)
class BegunDayEntries:
    """Whether the day has begun, and until when the outputs are taken."""

    day_begun: str = choice("The plan so far", DAY_CHOICES, group=DAY, starts_as="new", asked_as="the state of the plan")
    output_1_ready_clock: float | None = number(
        "Output 1 is ready at about", CLOCK, group=DAY, least=0, most=1439, whole=True, optional=True, only_with=_ASKED,
        asked_as="the hour at which output 1 is ready",
    )  # fmt: skip
    output_1_latest_clock: float | None = number(
        "Output 1 is ready at the latest", CLOCK, group=DAY, least=0, most=1439, whole=True, optional=True, only_with=_ASKED,
        asked_as="the latest hour at which output 1 is ready",
    )  # fmt: skip
    output_2_ready_clock: float | None = number(
        "Output 2 is ready at about", CLOCK, group=DAY, least=0, most=1439, whole=True, optional=True, only_with=_ASKED,
        asked_as="the hour at which output 2 is ready",
    )  # fmt: skip
    output_2_latest_clock: float | None = number(
        "Output 2 is ready at the latest", CLOCK, group=DAY, least=0, most=1439, whole=True, optional=True, only_with=_ASKED,
        asked_as="the latest hour at which output 2 is ready",
    )  # fmt: skip
