"""What is asked of a planned day: its packs, when each is wanted, the outputs, and once it has begun which are on, until when, and which are done.

A new plan moves nothing that runs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Unpack

from calc.figures.quantities import CLOCK, WATTS
from calc.inputs.equipment import CHARGER, PACK, ChargerEntries
from calc.inputs.fields import Details, Group, choice, number, same_as
from calc.inputs.rows import several
from calc.inputs.stored_packs import StoredPackEntries

DAY = Group("day", "The plan")

BEGUN = "begun"
DAY_CHOICES = {"new": "Nothing is on yet", BEGUN: "Some packs are on already, or done"}
WAITING, ON_FIRST, ON_SECOND, DONE, DONE_ON_SECOND = "waiting", "output_1", "output_2", "done", "done_2"
STANDS_CHOICES = {WAITING: "Waits", ON_FIRST: "On output 1", ON_SECOND: "On output 2", DONE: "Done", DONE_ON_SECOND: "Done on output 2"}
_ASKED = ("day_begun", (BEGUN,))
GONE = (ON_FIRST, ON_SECOND, DONE, DONE_ON_SECOND)


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


ONE_OUTPUT, TWO_OUTPUTS = "1", "2"
OUTPUT_CHOICES = {ONE_OUTPUT: "One", TWO_OUTPUTS: "Two, of one charger or of two"}
_OF_TWO = ("charger_outputs", (TWO_OUTPUTS,))
SAME, ANOTHER, OWN_SUPPLY = "same", "another", "own"
SECOND_CHARGER_CHOICES = {SAME: "The same charger", ANOTHER: "Another charger"}
SECOND_SUPPLY_CHOICES = {SAME: "The same supply", OWN_SUPPLY: "A supply of its own"}


@dataclass(frozen=True, kw_only=True)
class OutputsEntries:
    """How many outputs there are, and of two what the second gives where it is not as the first, and what they share."""

    charger_outputs: str = choice(
        "Outputs that you charge on",
        OUTPUT_CHOICES,
        group=CHARGER,
        starts_as=ONE_OUTPUT,
        hint="The current and the power asked above are those of the first.",
        asked_as="the number of outputs",
    )
    second_output_current_a: float | None = same_as(
        ChargerEntries,
        "charger_current_a",
        label="Highest charge current of the second output",
        optional=True,
        only_with=_OF_TWO,
        hint="Left empty, as the first has it.",
    )
    second_output_power_w: float | None = same_as(
        ChargerEntries,
        "charger_power_w",
        label="Highest charge power of the second output",
        optional=True,
        only_with=_OF_TWO,
        hint="Left empty, as the first has it.",
    )
    second_charger: str | None = choice(
        "Charger of the second output",
        SECOND_CHARGER_CHOICES,
        group=CHARGER,
        starts_as=SAME,
        only_with=_OF_TWO,
        hint="Of another one, leave empty what is as the first has it.",
    )
    second_supply: str | None = choice(
        "What feeds the second charger",
        SECOND_SUPPLY_CHOICES,
        group=CHARGER,
        starts_as=SAME,
        only_with=("second_charger", (ANOTHER,)),
        asked_as="what feeds the second charger",
    )
    all_outputs_w: float | None = number(
        "Power of both outputs together",
        WATTS,
        group=CHARGER,
        least=1,
        most=6000,
        optional=True,
        only_with=("second_charger", (SAME,)),
        hint="Where they share it. Left empty, each has its own.",
    )

    @property
    def has_second_charger(self) -> bool:
        """Whether the second output is another charger's."""
        return self.second_charger == ANOTHER

    @property
    def has_second_supply(self) -> bool:
        """Whether the second output hangs on a supply of its own."""
        return self.second_supply == OWN_SUPPLY


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
