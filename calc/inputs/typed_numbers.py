"""A number as typed -> a value in the entry's unit and within its bounds, or the sentence that sends it back."""

from __future__ import annotations

import re
from collections.abc import Callable

from calc.facts.copper import STANDARD_AREAS_MM2, THINNEST_GAUGE_SOLD
from calc.figures.calendar import no_such_day
from calc.figures.counted import CountedPack
from calc.figures.quantities import Band, Figure, Quantity
from calc.figures.sentences import worded
from calc.figures.units import mah_from_ah
from calc.inputs.examples import example_of
from calc.inputs.fields import Entry
from calc.inputs.refusals import Problem, Refused

# What a number of an entry counts from, for one that was typed in that unit.
PackOf = Callable[[str, Quantity], CountedPack]

_ENTRY = re.compile(r"([+-]?(?:\d+[.,]?\d*|[.,]\d+))\s*([^\d\s.,+-].*)?")
# No number is grouped after a leading nought: 0,850 is a decimal comma.
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2}[.,]\d{3}")
_MOST_GAUGE = 40


def number_typed(name: str, entry: Entry, text: str, pack_of: PackOf, sample: str = "") -> float:
    """Return the number that a text is, in the entry's own unit and within its bounds, or refuse it with what to type instead.

    `pack_of` tells what a number counts from that was typed in C or in watt-hours; `sample` is an example of what is asked.
    """
    sample = sample or example_of(entry)
    if entry.unit.suffix == "day" and (why_not := no_such_day(text)):
        raise Refused(Problem(name, f"{entry.first}: {why_not}."))
    for one in entry.unit.can_be_typed_in:
        if one.reads is not None and (number := one.reads(text)) is not None:
            return _within(name, entry, _in_own_unit(name, entry, number, one, pack_of), bare="", sample=sample)
    if entry.unit.written is not None:
        raise Refused(Problem(name, f"{entry.first} must be written as {sample}."))
    match = _ENTRY.fullmatch(text)
    if match is None:
        raise Refused(Problem(name, f"{entry.first} must be a number, such as {sample}."))
    digits, unit = match.group(1), (match.group(2) or "").lower().replace(" ", "").rstrip(".")
    if _THOUSANDS.fullmatch(digits) and entry.most >= 1000 and ("," in digits or _is_counted_whole(entry, digits, unit)):
        whole, decimal = re.sub("[.,]", "", digits), float(digits.replace(",", "."))
        raise Refused(Problem(name, f"{entry.first}: {digits} can be read in two ways. Enter {whole}, or {decimal:g}."))
    if entry.unit.suffix == "mm2" and not unit and _may_be_gauge(bare := digits.lstrip("+").rstrip(".,")):
        raise Refused(Problem(name, f"{entry.first}: {bare} can be read in two ways. Enter {bare} AWG, or {bare} mm²."))
    value = float(digits.replace(",", "."))
    typed_in = _unit_typed(name, entry, unit, sample) if unit else entry.unit
    return _within(name, entry, _in_own_unit(name, entry, value, typed_in, pack_of), bare="" if unit else digits, sample=sample)


def _is_counted_whole(entry: Entry, digits: str, unit: str) -> bool:
    """Whether a point before three digits may stand for thousands: 22.000 mAh, where 2.650 Ah is how a label has it.

    No meter and no label shows thousandths of such a unit. A number that is too small with the point is sent back for that.
    """
    typed_in = _unit_named(entry, unit) or entry.unit
    return typed_in.decimals == 0 and float(digits) >= entry.least


def _unit_named(entry: Entry, text: str) -> Quantity | None:
    return next((unit for unit in entry.unit.can_be_typed_in if text in unit.typed), None)


def _unit_typed(name: str, entry: Entry, text: str, sample: str) -> Quantity:
    found = _unit_named(entry, text)
    if found is None:
        which = "alone" if entry.unit.sign_of_one else f"in {entry.unit.sign}"
        raise Refused(Problem(name, f"{entry.first}: enter the number {which}, such as {sample}."))
    return found


def _in_own_unit(name: str, entry: Entry, value: float, unit: Quantity, pack_of: PackOf) -> float:
    if unit.suffix == entry.unit.suffix:
        return value  # there and back would cost the last bit
    pack = pack_of(name, unit)
    try:
        return unit.in_unit(value, entry.unit, pack)
    except (ValueError, OverflowError):
        raise Refused(Problem(name, f"{entry.first} is out of the range of that unit: enter it in {entry.unit.sign}.")) from None


def _within(name: str, entry: Entry, value: float, bare: str, sample: str) -> float:
    """`bare` is what was typed, if no unit stands after it."""
    quantity = entry.unit
    if quantity.suffix == "mah" and bare:
        _refuse_ampere_hours(name, entry, value, bare)
    if not entry.least <= value <= entry.most:
        least = Figure(entry.least, quantity.to_step(entry.least), "up")
        most = Figure(entry.most, quantity.to_step(entry.most), "down")
        if quantity.written is not None:
            # Its unit is how it is written.
            raise Refused(Problem(name, f"{entry.first} must be from {least.number} to {most.number}."))
        raise Refused(Problem(name, worded(f"{entry.first} must be from {{}}.", Band(least, most))))
    if entry.whole and value != int(value):
        raise Refused(Problem(name, f"{entry.first} must be a whole number, such as {sample}."))
    return value


def _refuse_ampere_hours(name: str, entry: Entry, value: float, bare: str) -> None:
    """Ask about a number of milliampere-hours that may be the ampere-hours of a label: a thousandfold error burns."""
    if 0 < value < entry.least:
        raise Refused(
            Problem(
                name,
                f"{entry.first} is asked in mAh, and {bare} looks like ampere-hours: enter "
                f"{Figure(mah_from_ah(value), entry.unit).number} if the label says {bare} Ah.",
            )
        )
    # No label has tenths of a milliampere-hour, and a large pack's 22.0 Ah is within the bounds of a small one's mAh. A step of 1.0 is no ampere-hour.
    if re.search(r"[.,]", bare) and entry.least <= value and mah_from_ah(value) < entry.most:
        raise Refused(Problem(name, f"{entry.first}: {bare} can be read in two ways. Enter {bare} Ah, or {bare} mAh."))


def _may_be_gauge(digits: str) -> bool:
    """Whether a number of mm² without its unit may mean a gauge, unless it can only be a cross-section: one that is sold, where no lead of that
    gauge is. 14 mm² carries more than twice what gauge 14 may.
    """
    if not digits.isdecimal() or int(digits) > _MOST_GAUGE:
        return False
    number = int(digits)
    is_sold_by_gauge = number % 2 == 0 and number <= THINNEST_GAUGE_SOLD.value
    return is_sold_by_gauge or not any(area.value == number for area in STANDARD_AREAS_MM2)
