"""Tables of common cases for a calculator's page: worked out by the build, through the same door as every answer.

A page's front matter says which entries stand in the rows and columns. No number of a table is typed by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.answering import answer, calculator
from calc.figures.showing import Range, Row, Setting, Table
from calc.inputs.entries import is_asked
from calc.inputs.fields import Entry, entries_of
from calc.inputs.refusals import Refusal
from site_builder.reading.club import ENTRY_NAMES
from site_builder.reading.faults import ContentFault
from site_builder.reading.pages import CommonCases, Page

_SHORT = len("100 to 200 min")


@dataclass(frozen=True, slots=True)
class WorkedTable:
    """A table, the words above it, and what was entered for it beside its rows and columns: label and text."""

    table: Table
    says_html: str
    entered: tuple[tuple[str, str], ...]

    @property
    def is_short(self) -> bool:
        """Say whether three cells stand side by side on a phone."""
        return all(len(str(cell)) <= _SHORT for row in self.table.rows for cell in row.cells)


def typed_in(asked: Mapping[str, Entry], entries: Mapping[str, str]) -> dict[str, str]:
    """Return the entries as a form holds them: what it shows at first stands for what is left out."""
    return {name: entry.starts_as for name, entry in asked.items() if entry.starts_as} | dict(entries)


def worked_tables(page: Page) -> list[WorkedTable]:
    """Return the tables of a page, worked out.

    Raises:
        ContentFault: a table asks for what the calculator does not have, or one of its cases is refused.
    """
    return [_worked(page, cases) for cases in page.common_cases]


def _worked(page: Page, cases: CommonCases) -> WorkedTable:
    asked = entries_of(calculator(page.calculator).Inputs)
    # A charger of the club brings what other calculators ask, too.
    own = cases.entries.keys() - ENTRY_NAMES
    for name in (name for case in (own, *cases.rows, *cases.columns) for name in case):
        if name not in asked:
            raise ContentFault(page.file, f"`common_cases` enters `{name}`, which {page.calculator} does not ask. Take it out.")
    found = [[_shown(page, cases, row | column) for column in cases.columns] for row in cases.rows]
    limits = {one.set_by for line in found for one in line if isinstance(one, Setting)}
    table = Table(
        caption=cases.caption,
        columns=(_label(asked, cases.rows[0]), *(_heading(asked, column) for column in cases.columns)),
        rows=tuple(
            Row(heading=_heading(asked, row), cells=tuple(_cell(one, len(limits) > 1) for one in line))
            for row, line in zip(cases.rows, found, strict=True)
        ),
        notes=_notes(_label(asked, cases.columns[0]), limits),
    )
    return WorkedTable(table, cases.says_html, _entered(asked, cases))


def _notes(across: str, limits: set[str]) -> tuple[str, ...]:
    columns = f"Side by side: {across[0].lower()}{across[1:]}."
    return (columns, f"Every one is set by {limits.pop()}.") if len(limits) == 1 else (columns,)


def _entered(asked: Mapping[str, Entry], cases: CommonCases) -> tuple[tuple[str, str], ...]:
    varied = {name for case in (*cases.rows, *cases.columns) for name in case}
    typed = typed_in(asked, cases.entries)
    names = [name for name in asked if name in typed and name not in varied and is_asked(asked[name], asked, typed)]
    return tuple((asked[name].label, _text(asked[name], typed[name])) for name in names)


def _shown(page: Page, cases: CommonCases, case: dict[str, str]) -> Setting | Range:
    asked = entries_of(calculator(page.calculator).Inputs)
    found = answer(page.calculator, typed_in(asked, cases.entries | case))
    if isinstance(found, Refusal):
        sentence = f"`common_cases`, {dict(case)} is refused: {found.problems[0].sentence} Take it out, or change the entries."
        raise ContentFault(page.file, sentence)
    shown = getattr(found, cases.shows, None)
    if not isinstance(shown, (Setting, Range)):
        sentence = f"`common_cases` shows `{cases.shows}`, which is no setting and no range of {page.calculator}. Correct it."
        raise ContentFault(page.file, sentence)
    return shown


def _cell(shown: Setting | Range, names_limit: bool) -> str:
    if isinstance(shown, Range):
        return str(shown.ends)
    return f"{shown.figure}, {shown.set_by}" if names_limit else str(shown.figure)


def _heading(asked: Mapping[str, Entry], case: Mapping[str, str]) -> str:
    """A row or a column is named by the first of its entries."""
    name, text = next(iter(case.items()))
    return _text(asked[name], text)


def _label(asked: Mapping[str, Entry], case: Mapping[str, str]) -> str:
    return asked[next(iter(case))].label


def _text(entry: Entry, text: str) -> str:
    if entry.options:
        return entry.options[text]
    if entry.quantity is None:
        return text
    sign = entry.quantity.sign_of_one if text == "1" and entry.quantity.sign_of_one else entry.quantity.sign
    return f"{text}\u00a0{sign}"
