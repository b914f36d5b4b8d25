"""An example of what is asked, for the sentence that sends an entry back."""

from __future__ import annotations

from math import sqrt

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import Figure, Quantity
from calc.inputs.fields import Entry, plain


def example_of(entry: Entry) -> str:
    """Return a usual number: the one that the entry names, else one between the bounds in times, where both are above 0, to one digit.

    >>> from calc.inputs.equipment import PackEntries
    >>> from calc.inputs.fields import entries_of
    >>> example_of(entries_of(PackEntries)["capacity_mah"])
    '1000 mAh'
    """
    if entry.unit.written is not None:
        return entry.such_as or entry.unit.written(round((entry.least + entry.most) / 2))
    middle = sqrt(entry.least * entry.most) if entry.least > 0 else entry.most / 10
    example = entry.such_as or entry.starts_as or plain(float(f"{middle:.1g}"))
    # What is counted is named already by what is asked.
    return example if entry.unit.sign_of_one else f"{example} {entry.unit.sign}"


def rested(unit: Quantity, cells: float | None, chemistry: str | None) -> str:
    """Return what so many cells in series show where they rest half full, or one cell where nobody knows how many there are.

    With no kind known it is that of the usual pack.

    >>> from calc.figures.quantities import CELL_VOLTS
    >>> [rested(CELL_VOLTS, cells, "lipo").replace("\\u00a0", " ") for cells in (None, 6)]
    ['3.82 V', '22.92 V']
    """
    one = CHEMISTRIES.get(chemistry or "", CHEMISTRIES["lipo"])
    middle_v = (one.storage_low_cell_v.value + one.storage_high_cell_v.value) / 2
    return str(Figure((cells or 1) * middle_v, unit))
