"""What a calculator asks: one `Entry` for each field of its `Inputs`, with label, unit and bounds.

The form is made from these, and so are the sentences that send an entry back. An entry's text is read in `entries`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, field, fields, replace
from enum import Enum
from typing import Any, TypedDict, TypeVar, Unpack

from calc.figures.quantities import Quantity
from calc.inputs.refusals import within_sentence

Found = TypeVar("Found")

# A choice that is made elsewhere on the form, by its name, and the options with which something holds.
OnChoice = tuple[str, tuple[str, ...]]


class Kind(Enum):
    """How an entry is typed."""

    NUMBER = "number"
    READINGS = "readings"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class FormRow:
    """One of several things alike: the third of `packs`, say. An `optional` one can be left out altogether, and one that `comes_later`
    stands below the answer.
    """

    rows: str
    label: str
    number: int
    optional: bool
    comes_later: bool = False

    @property
    def title(self) -> str:
        """What the row is called on the form and in sentences: "Pack 3"."""
        return f"{self.label} {self.number}"


@dataclass(frozen=True, slots=True)
class Group:
    """Entries that belong to one thing.

    A `kept` group (the charger, the supply) is the same from pack to pack: the form folds it away once it is filled. An
    `optional` group can stay empty: the form folds it away from the start. A group of `calc.inputs.rows` names its `row`.
    """

    key: str
    title: str
    kept: bool = False
    optional: bool = False
    row: FormRow | None = None

    @property
    def comes_later(self) -> bool:
        """Whether it stands below the answer: it is entered once for all packs, or can stay empty, or is a row that something else fills in."""
        return self.kept or (self.optional if self.row is None else self.row.comes_later)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One thing that is asked.

    `starts_as` is the text that the form shows at first. `only_with` names a choice and the options with which this entry
    is asked at all, `unless` a choice and the options with which it is not. A `measured` entry is true for a while only: the form does not bring back an old one.
    What is `on_label` is the same for packs that are alike: a row of the form can take it from the row before.
    `asked_as` names the thing in a sentence, where the label does not: "the rate to compare with" for "Compare with a rate of".
    `such_as` is an example of its number, where one between the bounds would be a strange one. A voltage `of_pack` has one that fits its cells.
    """

    kind: Kind
    label: str
    group: Group
    quantity: Quantity | None = None
    least: float = 0
    most: float = 0
    whole: bool = False
    options: Mapping[str, str] = field(default_factory=dict)
    starts_as: str = ""
    optional: bool = False
    hint: str = ""
    only_with: OnChoice | None = None
    unless: OnChoice | None = None
    measured: bool = False
    on_label: bool = False
    asked_as: str = ""
    such_as: str = ""
    of_pack: bool = False

    @property
    def unit(self) -> Quantity:
        """What a number is in; a choice has no unit."""
        if self.quantity is None:
            raise TypeError(f"{self.label} is a choice and has no unit")
        return self.quantity

    @property
    def may_stay(self) -> bool:
        """Whether what it starts as serves most packs: a number that few change."""
        return self.kind is Kind.NUMBER and self.starts_as != "" and self.group.row is None

    @property
    def within(self) -> str:
        """What is asked, further on in a sentence: "the charge current", "when you read the voltages"."""
        words = within_sentence(self.label)
        return self.asked_as or (words if words.split(" ")[0] in ("what", "when", "the") else f"the {words}")

    @property
    def first(self) -> str:
        """The same at the beginning of a sentence: "Charge current", "The rate to compare with"."""
        return self.asked_as[:1].upper() + self.asked_as[1:] if self.asked_as else self.label


class Details(TypedDict, total=False):
    """What an entry may have beside its label, its group and its bounds: see `Entry`."""

    whole: bool
    starts_as: str
    optional: bool
    hint: str
    only_with: OnChoice
    measured: bool
    on_label: bool
    asked_as: str
    such_as: str
    of_pack: bool


class Changes(Details, total=False):
    """What may be another thing on another page."""

    label: str
    group: Group
    options: Mapping[str, str]
    unless: OnChoice


def number(label: str, quantity: Quantity, *, group: Group, least: float, most: float, **details: Unpack[Details]) -> Any:
    """Return a dataclass field for a number in one unit, between two bounds that still make sense.

    The field's name ends in the unit's suffix. An optional one may stay empty, which gives None; so may one that is not asked.

    >>> from calc.figures.quantities import AMPERES
    >>> number("Charge current", AMPERES, group=Group("pack", "Pack"), least=0.1, most=50).metadata["entry"].most
    50
    """
    return _field(Entry(kind=Kind.NUMBER, label=label, group=group, quantity=quantity, least=least, most=most, **details))


def readings(label: str, quantity: Quantity, *, group: Group, least: float, most: float, **details: Unpack[Details]) -> Any:
    """Return a dataclass field for what a meter showed, once or for each cell, read as a tuple; the bounds are those of one reading.

    It is `measured`, true for a while only, unless it is the note of a day that is named.

    >>> from calc.figures.quantities import CELL_VOLTS
    >>> readings("Resting voltage", CELL_VOLTS, group=Group("pack", "Pack"), least=0, most=70).metadata["entry"].measured
    True
    """
    details = Details(measured=True, of_pack=quantity.suffix == "v") | details
    return _field(Entry(kind=Kind.READINGS, label=label, group=group, quantity=quantity, least=least, most=most, **details))


def choice(label: str, options: Mapping[str, str], *, group: Group, **details: Unpack[Details]) -> Any:
    """Return a dataclass field for one of several options, key to words in the order shown, read as the option's key.

    `starts_as` is the key that is chosen at first; empty makes the pilot choose.

    >>> choice("Kind", {"a": "One"}, group=Group("pack", "Pack")).metadata["entry"].options["a"]
    'One'
    """
    return _field(Entry(kind=Kind.CHOICE, label=label, group=group, options=options, **details))


def _field(entry: Entry) -> Any:
    skippable = entry.optional or entry.only_with is not None or entry.unless is not None
    return field(default=None if skippable else MISSING, metadata={"entry": entry})


def same_as(inputs: type, name: str, **changes: Unpack[Changes]) -> Any:
    """Return a dataclass field that asks what another class asks by the same name, in the same words and within the same bounds.

    What is given here counts on this page instead.

    >>> from dataclasses import dataclass
    >>> from calc.figures.quantities import AMPERES
    >>> @dataclass
    ... class Charger:
    ...     current_a: float = number("Current", AMPERES, group=Group("charger", "Charger"), least=0.1, most=5)
    >>> same_as(Charger, "current_a").metadata["entry"].most
    5
    """
    return _field(replace(entries_of(inputs)[name], **changes))


def entries_of(inputs: type) -> dict[str, Entry]:
    """Return what a calculator asks, by field name, in the order of the class.

    Inherited entries come first, and those of each row stand under their own name (`packs_3_cells`). The form brings each group's
    together, in the order of their first entry.

    >>> from dataclasses import dataclass
    >>> from calc.figures.quantities import AMPERES
    >>> @dataclass
    ... class Inputs:
    ...     current_a: float = number("Current", AMPERES, group=Group("pack", "Pack"), least=0.1, most=5)
    >>> list(entries_of(Inputs))
    ['current_a']
    """
    found: dict[str, Entry] = {}
    for one in fields(inputs):
        found |= one.metadata["rows"].entries if "rows" in one.metadata else {one.name: one.metadata["entry"]}
    return found


def part_of(given: Any, asks: type[Found]) -> Found:
    """Return a part of what was entered, a dataclass of entries that a calculator's own inherits, by itself.

    >>> from calc.inputs.equipment import RateEntries
    >>> class Inputs(RateEntries):
    ...     pass
    >>> part_of(Inputs(requested_rate_c=2), RateEntries)
    RateEntries(requested_rate_c=2)
    """
    return asks(**{name: getattr(given, name) for name in entries_of(asks)})


def plain(value: float) -> str:
    """Return a bound or a value as a pilot would write it, without a needless `.0`.

    >>> plain(60000.0), plain(0.1)
    ('60000', '0.1')
    """
    return re.sub(r"\.0$", "", repr(float(value))) if abs(value) < 1e15 else repr(value)
