"""Units that count from the pack: a rate typed in A, a current typed in C, a capacity typed in Wh.

They need what stands in other entries of the same pack. Where that is missing, the entry is sent back with a sentence that
says which.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.counted import CountedPack
from calc.figures.units import ah_from_mah, mah_from_ah
from calc.inputs.fields import Entry
from calc.inputs.refusals import Problem, Refused

Value = Callable[[str], float | str | None]


def counted_pack(given: Any) -> CountedPack:
    """Return what C and watt-hours count from, where a calculator's inputs are about one pack.

    Args:
        given: an instance of a calculator's `Inputs`.

    Returns:
        Capacity and nominal voltage; None for what is not asked of one pack.

    Source: 49 CFR 171.8 for the watt-hour: the nominal voltage of the cells, the highest in use, as carriers count it.

    >>> from calc.inputs.equipment import PackEntries
    >>> counted_pack(PackEntries(chemistry="lipo", cells=2, capacity_mah=350, resting_v=(7.4,), pack_degc=20,
    ...                          label_charge_rate_c=1))
    CountedPack(capacity_ah=0.35, nominal_v=7.4)
    """
    capacity_mah = getattr(given, "effective_capacity_mah", getattr(given, "capacity_mah", None))
    chemistry, cells = CHEMISTRIES.get(getattr(given, "chemistry", None)), getattr(given, "cells", None)
    return CountedPack(
        capacity_ah=None if capacity_mah is None else ah_from_mah(capacity_mah),
        nominal_v=None if chemistry is None or cells is None else cells * chemistry.highest_nominal_cell_v.value,
    )


def is_pack_unit(entry: Entry, unit: str) -> bool:
    """Return whether a unit typed after the number counts from the pack.

    Args:
        entry: what is asked.
        unit: as typed, in small letters without spaces.

    Returns:
        True for a rate in A, a current of the pack in C, and a capacity in Wh.

    >>> from calc.inputs.equipment import PackEntries
    >>> from calc.inputs.fields import entries_of
    >>> is_pack_unit(entries_of(PackEntries)["label_charge_rate_c"], "a")
    True
    """
    quantity = entry.quantity
    other = {"c": ("a", "amp", "amps"), "a": ("c",)} if quantity.measures == "current" else {"mah": ("wh",), "ah": ("wh",)}
    return bool(quantity.measures) and unit in other.get(quantity.suffix, ())


def from_pack_unit(name: str, entry: Entry, number: float, asked: Mapping[str, Entry], value_of: Value) -> float:
    """Return a number in the unit of its entry, by the capacity or the nominal voltage of the same pack.

        C = I / Q,    I = C Q,    Q = E / (n U)        I in A, Q in Ah, E in Wh, n cells, U the highest nominal voltage of one in V

    Args:
        name: the entry's field name.
        entry: what is asked.
        number: as typed, in A, C or Wh: see `is_pack_unit`.
        asked: all entries of the calculator, by name.
        value_of: the value of another entry, by its name; it refuses what cannot stand.

    Returns:
        The number in C, A or mAh.

    Refuses:
        An entry for which the capacity, or cells and chemistry, are missing or not asked on this page.

    Source: the definition of the C rate; 49 CFR 171.8 for the watt-hour.

    >>> from calc.inputs.equipment import PackEntries
    >>> from calc.inputs.fields import entries_of
    >>> asked = entries_of(PackEntries)
    >>> known = {"capacity_mah": 2500.0, "measured_capacity_mah": None}
    >>> from_pack_unit("label_charge_rate_c", asked["label_charge_rate_c"], 5.0, asked, known.get)
    2.0
    """
    row = f"{entry.group.row.rows}_{entry.group.row.number}_" if entry.group.row else ""

    def known(needed: str) -> float | str | None:
        if row + needed not in asked:
            return None
        try:
            return value_of(row + needed)
        except Refused:
            return None

    if entry.quantity.suffix in ("mah", "ah"):
        chemistry, cells = CHEMISTRIES.get(known("chemistry")), known("cells")
        if chemistry is None or cells is None:
            raise _without(name, entry, "Wh", "the chemistry and the cells", row + "cells" in asked)
        capacity_ah = number / (chemistry.highest_nominal_cell_v.value * cells)
        return mah_from_ah(capacity_ah) if entry.quantity.suffix == "mah" else capacity_ah
    typed_in = "A" if entry.quantity.suffix == "c" else "C"
    capacity_mah = known("capacity_mah")
    if capacity_mah is None:
        raise _without(name, entry, typed_in, "the capacity on the label", row + "capacity_mah" in asked)
    effective_ah = ah_from_mah(min(capacity_mah, known("measured_capacity_mah") or capacity_mah))
    return number / effective_ah if entry.quantity.suffix == "c" else number * effective_ah


def _without(name: str, entry: Entry, sign: str, needed: str, is_asked: bool) -> Refused:
    if is_asked:
        sentence = f"{entry.label} in {sign} needs {needed}: enter that too, or the number in {entry.quantity.sign}."
    else:
        sentence = f"{entry.label} in {sign} cannot be told on this page: enter the number in {entry.quantity.sign}."
    return Refused(Problem(name, sentence))
