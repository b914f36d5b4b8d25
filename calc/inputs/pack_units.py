"""Units that count from the pack: a rate typed in A, a current typed in C, a capacity typed in Wh.

They need what stands in other entries of the same pack. Where that is missing, the entry is sent back with a sentence that
says which.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.counted import CountedPack
from calc.figures.quantities import Quantity
from calc.figures.units import ah_from_mah
from calc.inputs.fields import Entry
from calc.inputs.refusals import Problem, Refused

Value = Callable[[str], float | str | None]


def counted_pack(given: Any) -> CountedPack:
    """Return what C and watt-hours count from, Ah and V, out of a calculator's `Inputs`; None for what is not asked of one pack.

    Source: 49 CFR 171.8 for the watt-hour: the nominal voltage of the cells, the highest in use, as carriers count it.

    >>> from calc.inputs.equipment import PackEntries
    >>> counted_pack(PackEntries(chemistry="lipo", cells=2, capacity_mah=350, resting_v=(7.4,), pack_degc=20,
    ...                          label_charge_rate_c=1))
    CountedPack(capacity_ah=0.35, nominal_v=7.4)
    """
    capacity_mah = getattr(given, "effective_capacity_mah", getattr(given, "capacity_mah", None))
    chemistry, cells = CHEMISTRIES.get(getattr(given, "chemistry", "")), getattr(given, "cells", None)
    return CountedPack(
        capacity_ah=None if capacity_mah is None else ah_from_mah(capacity_mah),
        nominal_v=None if chemistry is None or cells is None else cells * chemistry.highest_nominal_cell_v.value,
    )


def pack_counted_from(name: str, entry: Entry, unit: Quantity, asked: Mapping[str, Entry], value_of: Value) -> CountedPack:
    """Return what must be known of the pack to read a number that was typed in another unit than the entry's.

        C = I / Q,    I = C Q,    Q = E / (n U)        I in A, Q in Ah, E in Wh, n cells, U the highest nominal voltage of one in V

    `value_of` gives the value of another entry of the same pack by its name, and refuses what cannot stand.

    Raises:
        Refused: the capacity, or cells and chemistry, are missing or not asked on this page.

    >>> from calc.figures.quantities import PACK_AMPERES
    >>> from calc.inputs.equipment import PackEntries
    >>> from calc.inputs.fields import entries_of
    >>> asked = entries_of(PackEntries)
    >>> known = {"capacity_mah": 2500.0, "measured_capacity_mah": None}
    >>> pack_counted_from("label_charge_rate_c", asked["label_charge_rate_c"], PACK_AMPERES, asked, known.get)
    CountedPack(capacity_ah=2.5, nominal_v=None)
    """
    row = f"{entry.group.row.rows}_{entry.group.row.number}_" if entry.group.row else ""

    def known(needed: str) -> Any:
        if row + needed not in asked:
            return None
        try:
            return value_of(row + needed)
        except Refused:
            return None

    needed = unit.counts_from(entry.unit)
    if needed == "nominal_v":
        chemistry, cells = CHEMISTRIES.get(known("chemistry")), known("cells")
        if chemistry is None or cells is None:
            raise _without(name, entry, unit, "the chemistry and the cells", row + "cells" in asked)
        return CountedPack(nominal_v=cells * chemistry.highest_nominal_cell_v.value)
    if needed == "capacity_ah":
        capacity_mah = known("capacity_mah")
        if capacity_mah is None:
            raise _without(name, entry, unit, "the capacity on the label", row + "capacity_mah" in asked)
        # What a label says in A is a rate of the pack as it was new, and an aged one is charged with as much less as it holds.
        held_mah = None if entry.on_label else known("measured_capacity_mah")
        return CountedPack(capacity_ah=ah_from_mah(min(capacity_mah, held_mah or capacity_mah)))
    return CountedPack()


def _without(name: str, entry: Entry, unit: Quantity, needed: str, is_asked: bool) -> Refused:
    if is_asked:
        sentence = f"{entry.label} in {unit.sign} needs {needed}: enter that too, or the number in {entry.unit.sign}."
    else:
        sentence = f"{entry.label} in {unit.sign} cannot be told on this page: enter the number in {entry.unit.sign}."
    return Refused(Problem(name, sentence))
