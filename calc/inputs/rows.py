"""Several things alike, asked in rows: the packs that are to be joined, the flights of a day.

Each entry of a row is named after the rows and the row's number, `packs_3_cells`, so that the form, the address and the phone
know it as an entry like any other. The first rows stand open and must be entered; the later ones are folded away, and are
asked only if something in them is typed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Set
from dataclasses import dataclass, field, fields, replace
from functools import cache
from typing import Any, TypeVar

from calc.figures.sentences import worded
from calc.inputs.fields import Entry, FormRow, Group, OnChoice, entries_of
from calc.inputs.refusals import Problem, Refused, within_sentence

Found = TypeVar("Found")
One = TypeVar("One")

_WHOLE = re.compile(r"\d{1,2}(?![\d.,])")
_OF_PACK = re.compile(r"packs_(\d+)_")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """What each row asks, as a dataclass, and the rows themselves, in order. `alike` names the entry that counts those of one label."""

    asks: type
    rows: tuple[FormRow, ...]
    alike: str = ""

    @property
    def entries(self) -> Mapping[str, Entry]:
        """What is asked in all of them, by the name that it has on the form."""
        return entries_of_rows(self.asks, self.rows)


def several(asks: type, label: str, *, group_key: str, least: int, most: int, alike: str = "", comes_later: bool = False) -> Any:
    """Return a dataclass field for several things alike, read as a tuple of `asks`, a dataclass of what each row asks.

    `group_key` is the name of the field itself, with which the name of each entry begins. `label` "Pack" makes "Pack 1", "Pack 2".
    At least `least` rows must be entered; `most` is the number of rows in all. `alike` is the name of another field that may count how
    many of them have the label of the first: what is on a label is then asked once. Rows that `comes_later` stand below the answer.

    >>> from calc.inputs.equipment import PackEntries
    >>> list(several(PackEntries, "Pack", group_key="packs", least=2, most=8).metadata["rows"].entries)[:2]
    ['packs_1_chemistry', 'packs_1_cells']
    """
    rows = tuple(FormRow(group_key, label, number, optional=number > least, comes_later=comes_later) for number in range(1, most + 1))
    return field(metadata={"rows": Rows(asks=asks, rows=rows, alike=alike)})


def _name(row: FormRow, name: str) -> str:
    return f"{row.rows}_{row.number}_{name}"


@cache  # emptied before Python's memory is kept for the phones: they make hundreds of these sooner than they fetch them
def entries_of_rows(asks: type, rows: tuple[FormRow, ...]) -> Mapping[str, Entry]:
    """Return what rows ask, by the name that it has on the form."""
    return {name: entry for row in rows for name, entry in _entries_of_row(asks, row).items()}


def _entries_of_row(asks: type, row: FormRow) -> dict[str, Entry]:
    own = entries_of(asks)

    def of_row(choice: OnChoice | None) -> OnChoice | None:
        """A choice that an entry waits for: the row's own, or one that is made once for all rows."""
        return choice and (_name(row, choice[0]) if choice[0] in own else choice[0], choice[1])

    return {
        _name(row, name): replace(entry, group=_group(entry.group, row), only_with=of_row(entry.only_with), unless=of_row(entry.unless))
        for name, entry in own.items()
    }


def _group(asked: Group, row: FormRow) -> Group:
    """A row that must be entered keeps what can stay empty in a fold of its own; an optional row is one fold with all in it."""
    key = f"{row.rows}-{row.number}"
    if row.optional:
        return Group(key, f"{row.title}, if there is one", optional=True, row=row)
    if asked.optional:
        return Group(f"{key}-{asked.key}", f"{row.title}: {within_sentence(asked.title)}", optional=True, row=row)
    return Group(key, row.title, row=row)


def with_one_label(inputs: type, asked: Mapping[str, Entry], typed: Mapping[str, str]) -> dict[str, str]:
    """Return what is typed, with the label of the first row in each further one that is counted as alike.

    A count that is no whole number copies nothing: it is refused as an entry.

    >>> from calc.inputs.joined_packs import JoinedPackEntries
    >>> typed = {"packs_1_cells": "3", "packs_2_cells": "4", "packs_1_resting_v": "11.1", "alike_packs": "2"}
    >>> spread = with_one_label(JoinedPackEntries, entries_of(JoinedPackEntries), typed)
    >>> spread["packs_2_cells"], spread.get("packs_3_cells"), spread.get("packs_2_resting_v")
    ('3', None, None)
    """
    found = dict(typed)
    for held in (one.metadata["rows"] for one in fields(inputs) if "rows" in one.metadata):
        count = _WHOLE.match(typed.get(held.alike, ""))
        for row in held.rows[1 : int(count[0])] if count else ():
            for name in entries_of(held.asks):
                if asked[_name(row, name)].on_label:
                    found[_name(row, name)] = typed.get(_name(held.rows[0], name), "")
    return found


def left_out(asked: Mapping[str, Entry], typed: Mapping[str, str]) -> frozenset[FormRow]:
    """Return the optional rows in which nothing is typed. What the form shows at first is not typed.

    >>> from calc.inputs.equipment import PackEntries
    >>> asked = several(PackEntries, "Pack", group_key="packs", least=1, most=3).metadata["rows"].entries
    >>> [row.title for row in left_out(asked, {"packs_2_cells": "3", "packs_3_label_charge_rate_c": "1"})]
    ['Pack 3']
    """
    rows = {entry.group.row for entry in asked.values() if entry.group.row and entry.group.row.optional}
    entered = {entry.group.row for name, entry in asked.items() if typed.get(name, "") not in ("", entry.starts_as)}
    return frozenset(rows - entered)


def gaps(asked: Mapping[str, Entry], empty_rows: Set[FormRow]) -> list[Problem]:
    """Return a problem for each row that is left out though a later one is not, at its first entry.

    Without gaps the third of what is read is the third on the form, and a sentence about it names the right one.
    """
    first_entries: dict[FormRow, str] = {}
    for name, entry in asked.items():
        if entry.group.row:
            first_entries.setdefault(entry.group.row, name)
    problems = []
    for row in sorted(empty_rows, key=lambda row: (row.rows, row.number)):
        later = [other for other in first_entries if other.rows == row.rows and other.number > row.number and other not in empty_rows]
        if later:
            sentence = f"Nothing is entered here. Enter it, or move {later[-1].title} here."
            problems.append(of_row(Problem(first_entries[row], sentence, missing=True), row))
    return problems


def gathered(inputs: type, values: Mapping[str, Any]) -> dict[str, Any]:
    """Return field name to value, with the values of each row brought together into a tuple of what each asks.

    >>> from calc.inputs.equipment import ChargerEntries
    >>> gathered(ChargerEntries, {"balance_ports": 2.0})
    {'balance_ports': 2.0}
    """
    found = {one.name: values[one.name] for one in fields(inputs) if one.name in values}
    for one in fields(inputs):
        if held := one.metadata.get("rows"):
            names = entries_of(held.asks)
            each = [{name: values[_name(row, name)] for name in names if _name(row, name) in values} for row in held.rows]
            found[one.name] = tuple(held.asks(**row) for row in each if row)
    return found


def of_row(problem: Problem, row: FormRow | None) -> Problem:
    """Return a problem of an entry on the form, its sentence begun with the title of the row, if it stands in one.

    >>> of_row(Problem("packs_3_cells", "Enter the cells in series."), FormRow("packs", "Pack", 3, optional=True)).sentence
    'Pack 3: enter the cells in series.'
    """
    return replace(problem, sentence=worded("{}: {}", row.title, within_sentence(problem.sentence))) if row else problem


def in_row(inputs: type, rows: str, number: int, problem: Problem) -> Problem:
    """Return a problem of one thing as a problem of the row that it stands in.

    It is about an entry by the name that it has in the row's own dataclass, or about another entry or the whole; what comes back names
    the entry on the form, and its sentence begins with the row's title.

    >>> from calc.inputs.equipment import PackEntries
    >>> @dataclass
    ... class Inputs:
    ...     packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=2, most=8)
    >>> in_row(Inputs, "packs", 3, Problem("resting_v", "Cell 2 is below its floor.")).field
    'packs_3_resting_v'
    """
    [held] = [one.metadata["rows"] for one in fields(inputs) if one.name == rows]
    row = held.rows[number - 1]
    name = _name(row, problem.field) if problem.field in entries_of(held.asks) else problem.field
    return of_row(replace(problem, field=name), row)


def out_of_row(problem: Problem) -> tuple[str, str]:
    """Return the number of the row of packs that a problem is about, and its sentence without the row's title; no number if it is about none.

    >>> out_of_row(Problem("packs_3_resting_v", "Pack 3: cell 2 is below its floor."))
    ('3', 'Cell 2 is below its floor.')
    >>> out_of_row(Problem("resting_v", "Cell 2 is below its floor."))
    ('', 'Cell 2 is below its floor.')
    """
    row = _OF_PACK.match(problem.field)
    if not row:
        return "", problem.sentence
    words = problem.sentence.partition(": ")[2]
    return row[1], words[:1].upper() + words[1:]


def each_row(given: Any, rows: str, work: Callable[[Any], Found]) -> tuple[Found, ...]:
    """Return what a function makes of each row, or refuse with the problems of all rows at once, each begun with its row's title.

    >>> from calc.inputs.equipment import PackEntries
    >>> @dataclass
    ... class Inputs:
    ...     packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=1, most=8)
    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=20, label_charge_rate_c=1)
    >>> each_row(Inputs(packs=(pack, pack)), "packs", lambda one: one.cells)
    (3, 3)
    """
    return each_numbered(type(given), rows, enumerate(getattr(given, rows), 1), work)


def each_numbered(inputs: type, rows: str, numbered: Iterable[tuple[int, One]], work: Callable[[One], Found]) -> tuple[Found, ...]:
    """Return `each_row` of what stands for some of the rows, each with the number of its own."""
    found: list[Found] = []
    problems: list[Problem] = []
    for number, one in numbered:
        try:
            found.append(work(one))
        except Refused as refused:
            problems += [in_row(inputs, rows, number, problem) for problem in refused.problems]
    if problems:
        raise Refused(*problems)
    return tuple(found)
