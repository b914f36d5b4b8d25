"""What stands above the words of a page, between its two lines of `+++`."""

from typing import Annotated, Literal

from pydantic import Field

from site_builder.reading.briefing import Asked, DrawnRule
from site_builder.reading.cards import CardPart, LabelOf
from site_builder.reading.tables import Strict

Text = Annotated[str, Field(min_length=1)]


class Cases(Strict):
    """A table that the build works out: `shows` is a field of the calculator's answer, `says` stands above the table.

    Each row and each column is some entries, the first of which names it. `entries` are those of all cases, merged as a
    worked example's are.
    """

    caption: Text
    says: Text
    shows: Text
    entries: dict[str, str]
    rows: tuple[dict[str, str], ...] = Field(min_length=1, strict=False)
    columns: tuple[dict[str, str], ...] = Field(min_length=1, strict=False)


class ToDo(Strict):
    """A line of what to do on the first page: the key of the page that it leads to, its words, and what one gets there."""

    page: Text
    title: Text
    gives: Text


# What is done with a pack, in the order of its life: the parts that a page of the handbook may belong to.
Phase = Literal["charge", "fly", "keep", "carry", "retire"]


class PageHead(Strict):
    """What a page takes over as it stands above its words.

    `short` is the page's name in the navigation, where it stands if it is `in_bar`. `to_do` are the first things on the first page, `teaser` the line
    in a list below, on its `section`: one of those that `sections` names on the first page, in the order shown. `phase` is marked beside its heading.
    `onward` is the page that takes the entries over, `onward_words` the link to it. `example_for_all` is true where the worked example holds for
    any pack, so it may stand beside entries. `numbers_from` is the calculator whose answer a card's figures are taken from, `fixed_entries` are the
    choices there that the job itself makes, whatever was entered last. `logs` is the kind of line that a card leaves in a pack's log, where it is no
    charge, or that a calculator's page offers to keep there. `own` is the kind of thing of the pilot's own that a page keeps.
    """

    title: Text
    short: Annotated[str, Field(min_length=1, max_length=12)]
    description: Text
    order: int
    in_bar: bool = False
    to_do: tuple[ToDo, ...] = Field(default=(), strict=False)
    teaser: Text | None = None
    section: Text | None = None
    sections: dict[str, Text] = Field(default_factory=dict)
    phase: Phase | None = None
    calculator: Annotated[str, Field(pattern=r"^[a-z]+(_[a-z]+)*$")] = ""
    own: Literal["", "pack", "charger", "supply"] = ""
    logs: Literal["", "check", "storage"] = ""
    example_for_all: bool = False
    numbers_from: Annotated[str, Field(pattern=r"^[a-z]+(_[a-z]+)*$")] = ""
    fixed_entries: dict[str, str] = Field(default_factory=dict)
    onward: Text | None = None
    onward_words: Text | None = None


class FrontMatter(PageHead):
    """What stands above the words.

    `lead` are the words above its form, `contents` the question above a list of its headings. `sources` are those that it rests on without a mark in
    its words. `rules` are the drawings of a briefing, `questions` those at its end. `parts` are the steps of a job card and `stop_at_once` what ends
    it; `label_of` is whose label is compared before its first step, and `changes_pack` is true where what was measured before holds no longer after it.
    """

    lead: Text
    worked_example: dict[str, str] = Field(default_factory=dict)
    sources: tuple[str, ...] = Field(default=(), strict=False)
    contents: Text | None = None
    common_cases: tuple[Cases, ...] = Field(default=(), strict=False)
    rules: tuple[DrawnRule, ...] = Field(default=(), strict=False)
    questions: tuple[Asked, ...] = Field(default=(), strict=False)
    label_of: LabelOf = ""
    changes_pack: bool = False
    stop_at_once: tuple[Text, ...] = Field(default=(), strict=False)
    parts: tuple[CardPart, ...] = Field(default=(), strict=False)
