"""Text as typed -> values, or every problem at once.

What is clear is accepted: spaces, a unit after the number, a comma as decimal mark. What can be read in two ways is asked
about: 5.0 where mAh is meant, 2,650 which is two thousand or two and a half.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple, TypeVar

from calc.figures.counted import CountedPack
from calc.figures.quantities import Quantity
from calc.inputs.cell_readings import as_read, asked_again, not_read, split_readings, with_points
from calc.inputs.entered import Entered
from calc.inputs.examples import rested
from calc.inputs.fields import Entry, Kind, OnChoice, entries_of
from calc.inputs.pack_units import pack_counted_from
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import gaps, gathered, left_out, of_row, with_one_label
from calc.inputs.typed_numbers import PackOf, number_typed

Inputs = TypeVar("Inputs")

_LONGEST = 200


def read(inputs: type[Inputs], entries: Mapping[str, str]) -> Inputs:
    """Return a calculator's inputs from the entries as typed, field name to text: every value within its bounds, in the field's unit.

    A name that the calculator does not ask for is passed over. Refuses every entry that is missing, unreadable, out of bounds or open to two
    readings, and every row that is left empty before one that is not, all at once.

    >>> from dataclasses import dataclass
    >>> from calc.inputs.fields import Group, number
    >>> from calc.figures.quantities import AMPERES
    >>> @dataclass
    ... class Inputs:
    ...     current_a: float = number("Current", AMPERES, group=Group("pack", "Pack"), least=0.1, most=50)
    >>> read(Inputs, {"current_a": "6,0 A"})
    Inputs(current_a=6.0)
    """
    values, problems = _values(inputs, entries)
    if problems:
        raise Refused(*problems)
    return inputs(**gathered(inputs, values))


def read_so_far(inputs: type, entries: Mapping[str, str]) -> Entered:
    """Return what has been entered so far of what a calculator asks: what could be read, and what is missing.

    An entry that is not given counts as what the form shows at first; one that was emptied is missing. Refuses every entry that is typed and
    unreadable, out of bounds or open to two readings, all at once.

    >>> from calc.inputs.equipment import RateEntries
    >>> read_so_far(RateEntries, {"requested_rate_c": ""}).missing[0].sentence
    'Enter the charge rate you want.'
    """
    asked = entries_of(inputs)
    typed = {name: entry.starts_as for name, entry in asked.items()} | dict(entries)
    values, problems = _values(inputs, typed)
    if unreadable := [problem for problem in problems if not problem.missing]:
        raise Refused(*unreadable)
    begun = {entry.group.key for name, entry in asked.items() if _tidy(typed[name]) not in ("", entry.starts_as)}
    return Entered(
        values=values, missing=tuple(problems), begun=tuple(problem for problem in problems if asked[problem.field].group.key in begun)
    )


def _values(inputs: type, entries: Mapping[str, str]) -> tuple[dict[str, Any], list[Problem]]:
    """The value of each entry that could be read, and a problem for each other that is asked."""
    asked = entries_of(inputs)
    typed = with_one_label(inputs, asked, {name: _tidy(entries.get(name, "")) for name in asked})
    empty_rows = left_out(asked, typed)
    values: dict[str, Any] = {}
    problems: list[Problem] = []

    def value_of(name: str) -> Any:
        if asked[name].kind is Kind.READINGS and typed[name]:
            return _readings(name, asked, typed, pack_of)
        sample = rested(asked[name].unit, *_pack_read(name, asked, typed)) if asked[name].of_pack else ""
        return _value(name, asked[name], typed[name], pack_of, sample)

    def pack_of(name: str, unit: Quantity) -> CountedPack:
        return pack_counted_from(name, asked[name], unit, asked, value_of)

    for name, entry in asked.items():
        if entry.group.row in empty_rows or not is_asked(entry, asked, typed):
            continue
        try:
            values[name] = value_of(name)
        except Refused as refused:
            problems.extend(of_row(problem, entry.group.row) for problem in refused.problems)
    return values, problems + gaps(asked, empty_rows)


def is_asked(entry: Entry, asked: Mapping[str, Entry], entries: Mapping[str, str]) -> bool:
    """Return whether an entry is asked at all, given the choices made so far.

    It is unless it belongs to an option that is not chosen, or to a choice that is not asked itself, or an option that rules it out is chosen.
    `asked` are all entries of the calculator by name, `entries` the texts as typed.
    """

    def is_chosen(choice: OnChoice) -> bool:
        name, options = choice
        return is_asked(asked[name], asked, entries) and (_tidy(entries.get(name, "")) or asked[name].starts_as) in options

    return (entry.only_with is None or is_chosen(entry.only_with)) and not (entry.unless and is_chosen(entry.unless))


def _tidy(text: str) -> str:
    return " ".join(text.replace("\u2212", "-").replace("\u00a0", " ").replace("\u202f", " ").split())


def _value(name: str, entry: Entry, text: str, pack_of: PackOf, sample: str) -> Any:
    if not text:
        if entry.optional:
            return None
        verb = "Choose" if entry.kind is Kind.CHOICE else "Enter"
        raise Refused(Problem(name, f"{verb} {entry.within}.", missing=True))
    if entry.kind is Kind.CHOICE:
        return _chosen(name, entry, text)
    _refuse_long(name, entry, text)
    return number_typed(name, entry, text, pack_of, sample)


def _refuse_long(name: str, entry: Entry, text: str) -> None:
    if len(text) > _LONGEST:
        raise Refused(Problem(name, f"{entry.first} is too long to be a number: enter it again."))


def _readings(name: str, asked: Mapping[str, Entry], typed: Mapping[str, str], pack_of: PackOf) -> tuple[float, ...]:
    entry = asked[name]
    _refuse_long(name, entry, typed[name])
    pack = _pack_read(name, asked, typed)
    parts = with_points(split_readings(typed[name], entry.unit), entry.unit, *pack)
    if sentence := asked_again(parts, entry.unit, *pack):
        raise Refused(Problem(name, sentence))
    if unread := not_read(parts, pack.cells):
        raise Refused(Problem(name, f"{entry.label}: {unread}.", missing=True))
    sample = rested(entry.unit, 1 if len(parts) > 1 else pack.cells, pack.chemistry)
    return tuple(number_typed(name, entry, part, pack_of, sample if entry.of_pack else "") for part in parts)


class _PackRead(NamedTuple):
    """The pack that readings belong to, as far as it is entered."""

    cells: float | None
    chemistry: str | None


def _pack_read(name: str, asked: Mapping[str, Entry], typed: Mapping[str, str]) -> _PackRead:
    row = asked[name].group.row
    in_row = {own: f"{row.rows}_{row.number}_{own}" if row else own for own in ("cells", "chemistry")}
    # The lines of a log are all of the one pack that is asked above them.
    cells, chemistry = (one if one in asked else own for own, one in in_row.items())
    try:
        count = number_typed(cells, asked[cells], typed.get(cells, ""), lambda *_: CountedPack())
    except (KeyError, Refused):
        count = None  # not asked on this page, or not entered yet
    return _PackRead(cells=count, chemistry=typed.get(chemistry))


def cells_as_read(inputs: type[Inputs], entries: Mapping[str, str]) -> dict[str, str]:
    """Return each entry of readings that has a place for every cell of its pack, as one text with a space between the cells.

    Each number is in the entry's own unit and with its point, what cannot be read as it was typed, and a dash for a cell that was not read.

    >>> from calc.inputs.equipment import PackEntries
    >>> cells_as_read(PackEntries, {"chemistry": "lipo", "cells": "3", "resting_v": "371, 3,72; -"})
    {'resting_v': '3.71 3.72 -'}
    """
    asked = entries_of(inputs)
    typed = with_one_label(inputs, asked, {name: _tidy(text) for name, text in entries.items()})
    found = {}
    for name, entry in asked.items():
        if entry.kind is Kind.READINGS and (text := typed.get(name, "")) and len(text) <= _LONGEST:
            pack = _pack_read(name, asked, typed)
            parts = with_points(split_readings(text, entry.unit), entry.unit, *pack)
            if len(parts) == pack.cells:
                found[name] = " ".join(as_read(part, entry.unit) for part in parts)
    return found


def _chosen(name: str, entry: Entry, text: str) -> str:
    if text not in entry.options:
        raise Refused(Problem(name, f"Choose {entry.within}: take one that is on the list."))
    return text
