"""What was read of the cells of a pack: one text for all of them, with a place for each cell.

"3.85 3.86 3.71" in any common form; "385 386 371" as a keypad without a point has it; "3.85 - 3.71" where one cell was not read.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import CELL_VOLTS, Band, Figure, Quantity
from calc.figures.sentences import joined_with_and, worded

# The place of a cell that was not read. It is never counted as the mean of the others.
NOT_READ = "-"

# What a cell is called in a list: "C1", "cell 2:", "3 =". Never the end of a number: 3.85:3.86 stays as it is.
_CELL_NAME = re.compile(r"(?i)(?<![\w.,])(?:c(?:ell)?\s*\d{1,2}(?![\d.,])\s*[:=]?|\d{1,2}\s*[:=])")
_MILLIVOLTS = re.compile(r"[1-9]\d{3}")
_DIGITS_ALONE = re.compile(r"\d+")
_HUNDREDTHS = re.compile(r"\d{3}")


def split_readings(text: str, quantity: Quantity) -> list[str]:
    """Return the parts of "3.85 3.86", "3,85; 3,86", "C1: 3.85V C2: 3.86V" and "3852 3849", each the text of one number of volts or ohms.

    Where each cell has its name, each comes to its own place, in whatever order they were typed.

    >>> split_readings("C2: 3,86 V; C1: 3,85 V", CELL_VOLTS)
    ['3,85', '3,86']
    """
    names = [int(digits) for name in _CELL_NAME.findall(text) for digits in _DIGITS_ALONE.findall(name)]
    text = _CELL_NAME.sub(" ", text)
    own = "|".join(sorted(map(re.escape, quantity.typed), key=len, reverse=True))
    text = re.sub(rf"(?i)(?<=\d)\s*(?:{own})(?!\w)", " ", text)
    text = re.sub(r"(?i)(?<=\d)\s+mv\b", "mV", text)
    if "." in text or re.search(r",\s", text):
        text = re.sub(r",(?=\s|\d+\.)|,$", " ", text)
    parts = [part.strip(",") if part.count(",") != 1 else part for part in re.split(r"[\s;/|]+", text)]
    found = [part for part in parts if part] or [text]
    # One who lists them from the plus down begins with the last.
    if len(found) == len(names) and sorted(names) == list(range(1, len(names) + 1)):
        found = [part for _, part in sorted(zip(names, found, strict=True))]
    # Several numbers of four digits are a checker's millivolts. One alone may be a capacity in the wrong field.
    if quantity.suffix == "v" and len(found) > 1 and all(_MILLIVOLTS.fullmatch(part) for part in found):
        return [f"{part}mV" for part in found]
    return found


def with_points(parts: Sequence[str], quantity: Quantity, cells: float | None, chemistry: str | None) -> list[str]:
    """Return the parts, those of three digits with the point that they were typed without: 371 is 3.71 V.

    Only where there is a part for each cell, and a sound cell of this kind may rest at that: 168 may be a whole pack's.

    >>> with_points(["371", "-", "571"], CELL_VOLTS, cells=3, chemistry="lipo")
    ['3.71', '-', '571']
    """
    if quantity.suffix != "v" or len(parts) != cells:
        return list(parts)
    least, most = _rests_between(chemistry)
    pointed = [f"{part[0]}.{part[1:]}" if _HUNDREDTHS.fullmatch(part) else "" for part in parts]
    return [new if new and least <= float(new) <= most else part for part, new in zip(parts, pointed, strict=True)]


def as_read(part: str, quantity: Quantity) -> str:
    """Return a part as the number alone, in the entry's own unit and with a point; what is no such number comes back as it is.

    >>> [as_read(part, CELL_VOLTS) for part in ("3,85", "3852mV", "-", "3.8.5")]
    ['3.85', '3.852', '-', '3.8.5']
    """
    millivolts = re.fullmatch(r"(?i)(\d+)mv", part)
    if millivolts and quantity.suffix == "v":
        return str(Decimal(millivolts[1]).scaleb(-3))
    return part.replace(",", ".") if re.fullmatch(r"\d+,\d+", part) else part


def asked_again(parts: Sequence[str], quantity: Quantity, cells: float | None, chemistry: str | None) -> str:
    """Return what to say of the first cell whose digits are not clear without a point, or nothing; the parts are those of `with_points`.

    >>> str(asked_again(["3.71", "37"], CELL_VOLTS, cells=2, chemistry="lipo"))
    'Cell 2: enter its voltage as the meter shows it, with the point, or as three digits: 371 is 3.71 V.'
    """
    if quantity.suffix != "v" or len(parts) != cells:
        return ""
    number, part = next(((number, part) for number, part in enumerate(parts, 1) if _DIGITS_ALONE.fullmatch(part)), (0, ""))
    if not part:
        return ""
    cell = f"Cell {number}" if len(parts) > 1 else "The cell"
    if not _HUNDREDTHS.fullmatch(part):
        return f"{cell}: enter its voltage as the meter shows it, with the point, or as three digits: 371 is 3.71 V."
    least, most = _rests_between(chemistry)
    band = Band(Figure(least, CELL_VOLTS), Figure(most, CELL_VOLTS))
    return worded("{}: a sound cell rests from {}. If the meter shows {}, enter it with its point.", cell, band, f"{part[0]}.{part[1:]} V")


def not_read(parts: Sequence[str], cells: float | None) -> str:
    """Return which cells were not read, as a sentence has them, or nothing if each was.

    >>> not_read(["3.71", "-", "-", "3.70"], cells=4)
    'cells 2 and 3 have not been read'
    """
    if len(parts) != cells:
        return ""
    numbers = [str(number) for number, part in enumerate(parts, 1) if part == NOT_READ]
    if len(numbers) < 2:
        return f"cell {numbers[0]} has not been read" if numbers else ""
    return f"cells {joined_with_and(numbers)} have not been read"


def _rests_between(chemistry: str | None) -> tuple[float, float]:
    """The voltages between which a sound cell rests, V: of its kind, or of any kind where that is not known."""
    known = [CHEMISTRIES[chemistry]] if chemistry in CHEMISTRIES else list(CHEMISTRIES.values())
    return min(one.never_below_cell_v.value for one in known), max(one.upper_limit_cell_v.value for one in known)
