"""Text as typed -> values, or every problem at once.

What is clear is accepted: spaces, a unit after the number, a comma as decimal mark. What can be read in two ways is asked
about: 5.0 where mAh is meant, 2,650 which is two thousand or two and a half.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from math import sqrt
from typing import Any, TypeVar

from calc.facts.copper import area_mm2_of_gauge
from calc.figures.quantities import Band, Figure, Quantity
from calc.figures.sentences import worded
from calc.figures.units import ah_from_mah, base_from_milli, degc_from_degf, mah_from_ah, min_from_s
from calc.inputs.fields import Entry, Kind, entries_of, plain
from calc.inputs.pack_units import from_pack_unit, is_pack_unit
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import gaps, gathered, left_out, of_row
from calc.inputs.wire_sizes import gauge_of, may_be_gauge

Inputs = TypeVar("Inputs")
# The number of an entry in its own unit, for one that was typed in a unit that counts from the pack.
ByPack = Callable[[str, float], float]

_LONGEST = 200
_ENTRY = re.compile(r"([+-]?(?:\d+[.,]?\d*|[.,]\d+))\s*([^\d\s.,+-].*)?")
# No number is grouped after a leading nought: 0,850 is a decimal comma.
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
# What a cell is called in a list: "C1", "cell 2:", "3 =". Never the end of a number: 3.85:3.86 stays as it is.
_CELL_NAME = re.compile(r"(?i)(?<![\w.,])(?:c(?:ell)?\s*\d{1,2}(?![\d.,])\s*[:=]?|\d{1,2}\s*[:=])")
_MILLIVOLTS = re.compile(r"[1-9]\d{3}")
# As a stopwatch shows it: 6:30.
_MINUTES_AND_SECONDS = re.compile(r"([0-9]{1,4}):([0-5][0-9])")

# A unit that is typed after the number and is not the field's own, by the field's suffix.
_OTHER_UNITS: dict[str, dict[str, Any]] = {
    "mah": {"ah": mah_from_ah},
    "ah": {"mah": ah_from_mah},
    "degc": {"f": degc_from_degf, "°f": degc_from_degf, "degf": degc_from_degf},
    "v": {"mv": base_from_milli},
    "a": {"ma": base_from_milli},
}
_OWN_UNITS: dict[str, tuple[str, ...]] = {
    "mah": ("mah",),
    "ah": ("ah",),
    "degc": ("c", "°c", "degc"),
    "mm2": ("mm2", "mm²", "mm^2", "sqmm", "sq.mm", "qmm"),
    "v": ("v", "volt", "volts"),
    "a": ("a", "amp", "amps"),
    "c": ("c",),
    "w": ("w", "watt", "watts"),
    "mohm": ("mohm", "mω", "milliohm", "milliohms"),
    "ohm": ("ohm", "ohms", "ω"),
    "percent": ("%", "percent"),
    "m": ("m", "metre", "metres"),
    "min": ("min", "minute", "minutes"),
    "cells": ("s", "cell", "cells"),
    "ports": ("port", "ports"),
}


def read(inputs: type[Inputs], entries: Mapping[str, str]) -> Inputs:
    """Return the calculator's inputs from the entries as typed.

    Args:
        inputs: a calculator's `Inputs` class.
        entries: field name to text; a name that the calculator does not ask is passed over.

    Returns:
        An instance of `inputs`, every value within its bounds, in the field's unit.

    Refuses:
        Every entry that is missing, unreadable, out of bounds or open to two readings, and every row that is left empty
        before one that is not, all at once.

    >>> from dataclasses import dataclass
    >>> from calc.inputs.fields import Group, number
    >>> from calc.figures.quantities import AMPERES
    >>> @dataclass
    ... class Inputs:
    ...     current_a: float = number("Current", AMPERES, group=Group("pack", "Pack"), least=0.1, most=50)
    >>> read(Inputs, {"current_a": "6,0 A"})
    Inputs(current_a=6.0)
    """
    asked = entries_of(inputs)
    typed = {name: _tidy(entries.get(name, "")) for name in asked}
    empty_rows = left_out(asked, typed)
    values: dict[str, Any] = {}
    problems: list[Problem] = []

    def value_of(name: str) -> Any:
        return _value(name, asked[name], typed[name], by_pack)

    def by_pack(name: str, number: float) -> float:
        return from_pack_unit(name, asked[name], number, asked, value_of)

    for name, entry in asked.items():
        if entry.group.row in empty_rows or not is_asked(entry, asked, typed):
            continue
        try:
            values[name] = value_of(name)
        except Refused as refused:
            problems.extend(of_row(problem, entry.group.row) for problem in refused.problems)
    problems += gaps(asked, empty_rows)
    if problems:
        raise Refused(*problems)
    return inputs(**gathered(inputs, values))


def is_asked(entry: Entry, asked: Mapping[str, Entry], entries: Mapping[str, str]) -> bool:
    """Return whether an entry is asked at all, given the choices made so far.

    Args:
        entry: the entry in question.
        asked: all entries of the calculator, by name.
        entries: field name to text, as typed.

    Returns:
        True unless the entry belongs to an option that is not chosen, or to a choice that is not asked itself.

    >>> from calc.inputs.fields import Group
    >>> is_asked(Entry(kind=Kind.NUMBER, label="x", group=Group("a", "A")), {}, {})
    True
    """
    if entry.only_with is None:
        return True
    name, options = entry.only_with
    return is_asked(asked[name], asked, entries) and (_tidy(entries.get(name, "")) or asked[name].starts_as) in options


def _tidy(text: str) -> str:
    return " ".join(text.replace("\u2212", "-").replace("\u00a0", " ").replace("\u202f", " ").split())


def _value(name: str, entry: Entry, text: str, by_pack: ByPack) -> Any:
    if not text:
        if entry.optional:
            return None
        verb = "Choose" if entry.kind is Kind.CHOICE else "Enter"
        raise Refused(Problem(name, f"{verb} {entry.within}.", missing=True))
    if entry.kind is Kind.CHOICE:
        return _chosen(name, entry, text)
    if len(text) > _LONGEST:
        raise Refused(Problem(name, f"{entry.first} is too long to be a number: enter it again."))
    if entry.kind is Kind.READINGS:
        return tuple(_number(name, entry, part, by_pack) for part in _listed(text, entry.quantity))
    return _number(name, entry, text, by_pack)


def _chosen(name: str, entry: Entry, text: str) -> str:
    if text not in entry.options:
        raise Refused(Problem(name, f"Choose {entry.within}: take one that is on the list."))
    return text


def _listed(text: str, quantity: Quantity) -> list[str]:
    """Split "3.85 3.86", "3,85; 3,86", "C1: 3.85V C2: 3.86V" and "3852 3849" into their numbers, of volts or of ohms."""
    text = _CELL_NAME.sub(" ", text)
    text = re.sub(r"(?i)(?<=\d)\s*(?:v(?:olts?)?|m[ωΩ\u2126]|m(?:illi)?ohms?)(?!\w)", " ", text)
    text = re.sub(r"(?i)(?<=\d)\s+mv\b", "mV", text)
    if "." in text or re.search(r",\s", text):
        text = re.sub(r",(?=\s|\d+\.)|,$", " ", text)
    parts = [part.strip(",") if part.count(",") != 1 else part for part in re.split(r"[\s;/|]+", text)]
    found = [part for part in parts if part] or [text]
    # Several numbers of four digits are a checker's millivolts. One alone may be a capacity in the wrong field.
    if quantity.suffix == "v" and len(found) > 1 and all(_MILLIVOLTS.fullmatch(part) for part in found):
        return [f"{part}mV" for part in found]
    return found


def _number(name: str, entry: Entry, text: str, by_pack: ByPack) -> float:
    if entry.quantity.suffix == "min" and (clock := _MINUTES_AND_SECONDS.fullmatch(text)):
        return _within(name, entry, float(clock.group(1)) + min_from_s(float(clock.group(2))), bare=text)
    if entry.quantity.suffix == "mm2" and (gauge := gauge_of(text)) is not None:
        return _within(name, entry, _in_own_unit(name, entry, gauge, area_mm2_of_gauge), bare="")
    match = _ENTRY.fullmatch(text)
    if match is None:
        raise Refused(Problem(name, f"{entry.first} must be a number, such as {_sample(entry)}."))
    digits, unit = match.group(1), (match.group(2) or "").lower().replace(" ", "").rstrip(".")
    if _THOUSANDS.fullmatch(digits) and entry.most >= 1000:
        whole = digits.replace(",", "")
        raise Refused(
            Problem(name, f"{entry.first}: {digits} can be read in two ways. Enter {whole}, or {digits.replace(',', '.')}.")
        )
    if entry.quantity.suffix == "mm2" and not unit and may_be_gauge(bare := digits.strip("+.,")):
        raise Refused(Problem(name, f"{entry.first}: {bare} can be read in two ways. Enter {bare} AWG, or {bare} mm²."))
    value = float(digits.replace(",", "."))
    converted = by_pack(name, value) if is_pack_unit(entry, unit) else _converted(name, entry, value, unit)
    return _within(name, entry, converted, bare="" if unit else digits)


def _sample(entry: Entry) -> str:
    """A usual number: between the bounds in times, where both are above 0, and to one digit."""
    middle = sqrt(entry.least * entry.most) if entry.least > 0 else entry.most / 10
    sample = entry.starts_as or plain(float(f"{middle:.1g}"))
    # What is counted is named already by what is asked.
    return sample if entry.quantity.sign_of_one else f"{sample} {entry.quantity.sign}"


def _converted(name: str, entry: Entry, value: float, unit: str) -> float:
    quantity: Quantity = entry.quantity
    if not unit or unit in _OWN_UNITS.get(quantity.suffix, ()):
        return value
    convert = _OTHER_UNITS.get(quantity.suffix, {}).get(unit)
    if convert is None:
        if quantity.sign_of_one:
            raise Refused(Problem(name, f"{entry.first}: enter the number alone, such as {_sample(entry)}."))
        raise Refused(Problem(name, f"{entry.first}: enter the number in {quantity.sign}, such as {_sample(entry)}."))
    return _in_own_unit(name, entry, value, convert)


def _in_own_unit(name: str, entry: Entry, value: float, convert: Callable[[float], float]) -> float:
    try:
        return convert(value)
    except (ValueError, OverflowError):
        raise Refused(Problem(name, f"{entry.first} is out of the range of that unit: enter it in {entry.quantity.sign}.")) from None


def _within(name: str, entry: Entry, value: float, bare: str) -> float:
    """`bare` is what was typed, if no unit stands after it."""
    quantity = entry.quantity
    # A small decimal number in a field of milliampere-hours is a label that says ampere-hours: ask, a thousandfold error burns.
    if bare and quantity.suffix == "mah" and 0 < value < entry.least:
        raise Refused(
            Problem(
                name,
                f"{entry.first} is asked in mAh, and {bare} looks like ampere-hours: enter "
                f"{Figure(mah_from_ah(value), quantity).number} if the label says {bare} Ah.",
            )
        )
    if not entry.least <= value <= entry.most:
        least = Figure(entry.least, quantity.to_step(entry.least), "up")
        most = Figure(entry.most, quantity.to_step(entry.most), "down")
        raise Refused(Problem(name, worded(f"{entry.first} must be from {{}}.", Band(least, most))))
    if entry.whole and value != int(value):
        raise Refused(Problem(name, f"{entry.first} must be a whole number, such as {_sample(entry)}."))
    return value
