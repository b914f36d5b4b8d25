"""What may be done with a pack, judged a second time from its entries, by the test's own rules.

Of calc only the records of the chemistries are read, which `tests/units/calc/facts/test_chemistries.py` holds to their limits. A rule
that slips there is then laxer than what stands here, and is seen.
"""

from __future__ import annotations

from statistics import median

from calc.facts.chemistries import CHEMISTRIES

FLOOR_CELL_V = {key: one.never_below_cell_v.value for key, one in CHEMISTRIES.items()}
FULL_CELL_V = {key: one.full_cell_v.value for key, one in CHEMISTRIES.items()}
CAREFUL_CELL_V = {key: one.careful_cutoff_cell_v.value for key, one in CHEMISTRIES.items()}

METER_V = 0.02
# Looks with which a pack may be used; with the first of them it is charged slowly.
USABLE = ("watched", "sound", "")


def cells_v(entries: dict[str, str]) -> list[float]:
    """Each cell, or the mean where the whole pack was read."""
    typed, cells = [float(text) for text in entries["resting_v"].split()], int(float(entries["cells"]))
    return typed if len(typed) == cells else [typed[0] / cells]


def each_cell_read(entries: dict[str, str]) -> bool:
    return len(entries["resting_v"].split()) == int(float(entries["cells"]))


def effective_ah(entries: dict[str, str]) -> float:
    label_mah = float(entries["capacity_mah"])
    return min(label_mah, float(entries.get("measured_capacity_mah") or label_mah)) / 1000


def state(curve: tuple[float, ...], cell_v: float) -> float:
    """How full a cell is on a curve whose points are evenly spaced; a straight line goes on past its ends, up to empty and full."""
    steps = len(curve) - 1
    place = max((number for number in range(steps) if curve[number] <= cell_v), default=0)
    return min(max((place + (cell_v - curve[place]) / (curve[place + 1] - curve[place])) / steps, 0.0), 1.0)


def least_behind(chemistry: str, low_v: float, high_v: float) -> float:
    """The least share of a charge that the lowest cell lacks, on whichever curve and with the meter's error either way."""
    table = CHEMISTRIES[chemistry].resting
    off = table.reading_error_v.value
    return min(
        max(0.0, state(curve.cell_v, high_v) - state(curve.cell_v, low_v + error)) for curve in table.curves for error in (-off, 0.0, off)
    )


def resistance_over_mates(entries: dict[str, str]) -> float:
    """The most that any cell has over the middle of the others, as a factor."""
    read = [float(text) for text in entries.get("cell_resistances_mohm", "").split()]
    return max((one / median(read[:place] + read[place + 1 :]) for place, one in enumerate(read)), default=1.0) if len(read) > 1 else 1.0


def worn_out(entries: dict[str, str]) -> set[str]:
    """Which ends of life have been reached by wear."""
    found = set()
    measured = entries.get("measured_capacity_mah")
    if measured and float(measured) * 100 <= float(entries["capacity_mah"]) * 80 * (1 + 1e-9):
        found.add("four fifths of the label")
    read = [*entries.get("cell_resistances_mohm", "").split(), *entries.get("cell_resistance_mohm", "").split()]
    new = entries.get("new_resistance_mohm")
    if new and read and max(map(float, read)) >= 2 * float(new) * (1 - 1e-9):
        found.add("twice the resistance")
    return found


def forbidding(entries: dict[str, str]) -> set[str]:
    """Everything that forbids a charge, wherever the pack is charged."""
    chemistry, cells = entries["chemistry"], cells_v(entries)
    found = worn_out(entries)
    rested = entries.get("read_when", "rested") in ("rested", "")
    if entries.get("look", "") not in USABLE:
        found.add("its look")
    if not rested:
        found.add("not rested")
    if max(cells) > FULL_CELL_V[chemistry] + METER_V + 1e-9:
        found.add("above full")
    if min(cells) < FLOOR_CELL_V[chemistry] - 1e-9:
        found.add("below the floor")
    if not found & {"above full", "below the floor", "not rested"} and least_behind(chemistry, min(cells), max(cells)) >= 0.20:
        found.add("a cell that dropped away")
    if resistance_over_mates(entries) >= 2 - 1e-9:
        found.add("a cell with twice the resistance of its mates")
    return found | warmth(entries)


def warmth(entries: dict[str, str]) -> set[str]:
    """The pack is charged between 0 and 45 °C (JEITA and BAJ 2007, IEC 62133-2), in air of 0 to 40 °C (NFPA)."""
    pack_degc = float(entries["pack_degc"])
    air_degc = float(entries.get("air_degc") or pack_degc)
    return {"its warmth"} if not 0 < pack_degc < 45 else {"the air"} if not 0 <= air_degc <= 40 else set()


def recovers(entries: dict[str, str]) -> bool:
    """Whether it may be charged, but slowly: run nearly flat, apart, one cell ahead in age, or once crashed."""
    cells = cells_v(entries)
    return (
        entries.get("look") == "watched"
        or min(cells) < CAREFUL_CELL_V[entries["chemistry"]] - 1e-9
        or max(cells) - min(cells) > 0.03 + 1e-6
        or resistance_over_mates(entries) >= 1.5 - 1e-9
    )


def condition_ceilings_a(entries: dict[str, str]) -> dict[str, float]:
    """Half of 1C for a pack that recovers (common practice, no source); in the cold half of 1C, or of the label if that is less."""
    capacity_ah, label_c = effective_ah(entries), float(entries["label_charge_rate_c"])
    slow = {"its condition": 0.5 * capacity_ah} if recovers(entries) else {}
    coldest = min(float(entries["pack_degc"]), float(entries.get("air_degc") or entries["pack_degc"]))
    return slow | ({"the cold": min(0.5, 0.5 * label_c) * capacity_ah} if coldest <= 10 else {})
