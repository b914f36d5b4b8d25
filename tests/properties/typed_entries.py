"""Entries as pilots type them, for hypothesis: packs, chargers and supplies that fit, nearly fit, or make no sense.

Every number is text with at most two decimals, as it stands on a label or a meter. The bounds are wide: most of what is
drawn here no club owns, and all of it must be answered or refused.
"""

from __future__ import annotations

from dataclasses import fields
from functools import cache

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from calc.answering import calculator, calculator_keys
from calc.facts.chemistries import CHEMISTRIES, MOST_CELLS
from calc.inputs.fields import Entry, Kind, entries_of
from tests.properties.own_condition import FLOOR_CELL_V, FULL_CELL_V, METER_V

Entries = dict[str, str]

KEYS = tuple(calculator_keys())
# The calculators that answer by a part of what they ask.
GROWING_KEYS = tuple(key for key in KEYS if hasattr(calculator(key), "so_far"))
CHARGING_KEYS = tuple(key for key in KEYS if "charge_current" in {one.name for one in fields(calculator(key).Answer)})
ASKED: dict[str, Entry] = {name: entry for key in KEYS for name, entry in entries_of(calculator(key).Inputs).items()}
# Entries of rows, and what each is called in a form for one thing: packs_2_cells is a pack's cells.
IN_ROWS = {name: name.removeprefix(f"{entry.group.row.rows}_{entry.group.row.number}_") for name, entry in ASKED.items() if entry.group.row}
_PLACES = {name: (ASKED[name].group.row.rows, ASKED[name].group.row.number) for name in IN_ROWS}
# The rows that some calculator must have: several share the names of their entries, and one may do with fewer than another.
_MUST = {
    (row.rows, row.number)
    for key in KEYS
    for entry in entries_of(calculator(key).Inputs).values()
    if (row := entry.group.row) and not row.optional
}
# Of each kind of row the first that may be left out.
_NEXT_PLACES = {place[0]: place for place in sorted({*_PLACES.values()} - _MUST, reverse=True)}.values()
# Rows have so many that among all fields the others would hardly be drawn.
_FIELDS = [sorted(ASKED.keys() - IN_ROWS), *([sorted(IN_ROWS)] if IN_ROWS else [])]
_ANY_FIELD = st.one_of(map(st.sampled_from, _FIELDS))

# Every chemistry that there is a record of, so that one added later is drawn too.
CHEMISTRY_KEYS = tuple(CHEMISTRIES)
# Where a cell of each can rest, in hundredths of a volt, from the floor to full and what a meter may be off.
_RESTING_CENTIVOLTS = {key: (round(100 * FLOOR_CELL_V[key]), round(100 * (FULL_CELL_V[key] + METER_V))) for key in CHEMISTRY_KEYS}
# How far the cells of one pack are drawn apart, in hundredths of a volt: level, to be balanced, to be watched.
_APART_CENTIVOLTS = (0, 1, 3, 4, 6, 10, 12)
# Drawn with the pack or left out with it: these must fit its other entries.
_OF_A_PACK = {
    "pack_warmth",
    "alike_packs",
    "first_plug_cells",
    "air_degc",
    "measured_capacity_mah",
    "cell_resistance_mohm",
    "cell_resistances_mohm",
    "new_resistance_mohm",
}


@cache  # a strategy that is made anew for each draw is also checked anew, which takes longer than the draw
def numbers(least: float, most: float, decimals: int = 2) -> SearchStrategy[str]:
    """Numbers as text, to so many decimals, the bounds included."""
    scale = 10**decimals
    return st.integers(round(least * scale), round(most * scale)).map(lambda count: f"{count / scale:.{decimals}f}")


@cache
def one_of_or_numbers(common: tuple[str, ...], least: float, most: float, decimals: int = 2) -> SearchStrategy[str]:
    """What often stands on a label, or any number."""
    return st.sampled_from(common) | numbers(least, most, decimals)


# What a pack may have that speaks against it. Most have nothing; nobody owns many with all of it at once.
_FAULTS = ("look", "read_when", "apart", "resistances", "capacity", "new_resistance")


@st.composite
def packs(draw: st.DrawFn) -> Entries:
    """A pack whose cells rest between the floor and full, neither cold nor hot. Most may be charged; no two cells need be alike."""
    chemistry = draw(st.sampled_from(CHEMISTRY_KEYS))
    cells = draw(st.integers(1, CHEMISTRIES[chemistry].most_cells))
    capacity_mah = draw(st.sampled_from((2650, 350, 1000, 5000)) | st.integers(20, 60_000))
    fault = draw(st.sampled_from((None,) * 2 * len(_FAULTS) + _FAULTS))
    pack = {
        "chemistry": chemistry,
        "cells": str(cells),
        "capacity_mah": str(capacity_mah),
        "resting_v": draw(resting_voltages(chemistry, cells, (*_APART_CENTIVOLTS, 40) if fault == "apart" else _APART_CENTIVOLTS)),
        "pack_degc": draw(one_of_or_numbers(("20", "11", "10"), 0.5, 44.5, 1)),
        "label_charge_rate_c": draw(one_of_or_numbers(("1", "2", "5"), 0.1, 20)),
        "requested_rate_c": draw(one_of_or_numbers(("1", "20", "0.5"), 0.05, 20)),
        "look": draw(st.sampled_from(list(ASKED["look"].options)))
        if fault == "look"
        else draw(st.sampled_from(("sound", "sound", "sound", "watched"))),
        "read_when": draw(st.sampled_from(list(ASKED["read_when"].options))) if fault == "read_when" else "rested",
    }
    return pack | draw(st.fixed_dictionaries({}, optional=_of_its_age(cells, capacity_mah, fault, draw(st.floats(0.5, 100)))))


def _of_its_age(cells: int, capacity_mah: int, fault: str | None, own_mohm: float) -> dict[str, SearchStrategy[str]]:
    """What may be known of a pack besides: its cells were made alike, an aged one holds less than its label, a new one a little more."""
    most_mah = min(60_000, max(20, 1.1 * capacity_mah - 0.01))
    factor = st.sampled_from((1.0, 1.5, 2.0)) if fault == "resistances" else st.floats(1, 1.3)

    def ohms(factors: list[float]) -> str:
        return " ".join(f"{own_mohm * one:.2f}" for one in factors)

    return {
        "air_degc": numbers(0, 40, 1),
        "measured_capacity_mah": numbers(min(most_mah, max(20, (0.3 if fault == "capacity" else 0.81) * capacity_mah)), most_mah),
        "cell_resistance_mohm": st.floats(1, 1.3).map(lambda one: ohms([one])),
        "cell_resistances_mohm": st.lists(factor, min_size=cells, max_size=cells).map(ohms),
        "new_resistance_mohm": st.just(ohms([0.5 if fault == "new_resistance" else 0.9])),
    }


@st.composite
def resting_voltages(draw: st.DrawFn, chemistry: str, cells: int, apart_centivolts: tuple[int, ...] | None = None) -> str:
    """The whole pack's voltage, or each cell's with spaces between: around a lowest one, and each elsewhere."""
    least, most = _RESTING_CENTIVOLTS[chemistry]
    if draw(st.booleans()):
        return draw(numbers(cells * least / 100, cells * most / 100))
    lowest, apart = draw(st.integers(least, most)), draw(st.sampled_from(apart_centivolts or _APART_CENTIVOLTS))
    cell = st.integers(lowest, min(most, lowest + apart)).map(lambda count: f"{count / 100:.2f}")
    return " ".join(draw(st.lists(cell, min_size=cells, max_size=cells)))


@st.composite
def chargers(draw: st.DrawFn, cells: int) -> Entries:
    """A charger that takes so many cells on its ports."""
    ports = draw(st.integers(1, 4))
    # A pack has two plugs at most, and each goes into a port of its own.
    port_cells = draw(st.integers(-(-cells // min(ports, 2)), MOST_CELLS))
    plugs = {"first_plug_cells": str(draw(st.integers(cells - port_cells, port_cells)))} if port_cells < cells else {}
    return plugs | {
        "charger_current_a": draw(numbers(0.5, 60, 1)),
        "charger_power_w": draw(one_of_or_numbers(("50", "250"), 20, 3000, 0)),
        "charger_cells": draw(numbers(cells, MOST_CELLS, 0)),
        "balance_ports": str(ports),
        "port_cells": str(port_cells),
        "current_step_a": draw(one_of_or_numbers(("0.1", "0.1", "0.05", "0.01", "0.5"), 0.01, 1)),
        "capacity_step_mah": draw(one_of_or_numbers(("100", "100", "10", "50", "1000"), 1, 1000, 1)),
        "charger_input_least_v": draw(one_of_or_numbers(("11", "10.5"), 5, 11, 1)),
        # Not known, or above every supply that is drawn below.
        "charger_input_most_v": draw(one_of_or_numbers(("",), 60, 100, 1)),
        "efficiency_percent": draw(numbers(40, 99, 0)),
    }


@st.composite
def supplies(draw: st.DrawFn) -> Entries:
    lead = {
        "lead_length_m": draw(one_of_or_numbers(("1.5",), 0.05, 30)),
        "lead_area_mm2": draw(one_of_or_numbers(("2.5", "0.75"), 0.1, 70)),
    }
    if draw(st.booleans()):
        return lead | {"supply_kind": "mains", "supply_v": draw(numbers(11.1, 60, 1)), "supply_current_a": draw(numbers(2, 200, 1))}
    return lead | {
        "supply_kind": draw(st.sampled_from(("battery", "vehicle"))),
        "battery_kind": draw(st.sampled_from(("flooded", "agm"))),
        "battery_ah": draw(numbers(4, 1000, 0)),
        "battery_resting_v": draw(numbers(11.91, 12.8)),
    }


@cache
def loads() -> SearchStrategy[Entries]:
    """What empties a pack, a resistor by its rate, at times one at hand, or small lamps; and what is known of the pack's age."""
    rates = {"load_kind": st.just("resistor"), "emptying_rate_c": st.just("0.2") | numbers(0.02, 1)}
    at_hand = {"resistor_ohm": numbers(0.1, 10_000, 1), "resistor_w": numbers(0.1, 2000, 1)}
    two_loads = st.fixed_dictionaries(
        {
            "first_load_v": numbers(10, 60),
            "first_load_a": numbers(0, 5),
            "second_load_v": numbers(1, 9.99),
            "second_load_a": numbers(5.01, 200),
        }
    )
    of_its_age = st.just({}) | two_loads
    lamp_row = {"load_kind": st.just("lamps"), "lamp_v": st.sampled_from(("6", "12", "24")), "lamp_w": numbers(1, 60, 0)}
    load = st.fixed_dictionaries(rates) | st.fixed_dictionaries(rates, optional=at_hand) | st.fixed_dictionaries(lamp_row)
    return st.tuples(load, of_its_age).map(lambda drawn: drawn[0] | drawn[1])


@cache
def _within_its_bounds(name: str) -> SearchStrategy[str]:
    entry = ASKED[name]
    if entry.kind is Kind.CHOICE:
        return st.sampled_from(list(entry.options))
    if entry.quantity and (written := entry.quantity.written):
        return st.integers(round(entry.least), round(entry.most)).map(written)
    return numbers(entry.least, entry.most, 0 if entry.whole else 2)


@cache
def _of_other_calculators(names: frozenset[str]) -> SearchStrategy[Entries]:
    """Those of the entries that go with any charge: what must be entered always, and the rest at times."""
    others = sorted(name for name in names if ASKED[name].only_with is None)
    return st.fixed_dictionaries(
        {name: _within_its_bounds(name) for name in others if not ASKED[name].optional},
        optional={name: _within_its_bounds(name) for name in others if ASKED[name].optional},
    )


@st.composite
def charges(draw: st.DrawFn) -> Entries:
    """A pack on a charger and a supply, and whatever else any calculator asks, one added later too. Most are answered."""
    pack = draw(packs())
    charge = pack | draw(chargers(int(pack["cells"]))) | draw(supplies()) | draw(loads())
    charge |= draw(rows_like(pack))
    return charge | draw(_of_other_calculators(frozenset(ASKED.keys() - charge.keys() - _OF_A_PACK - IN_ROWS.keys())))


def in_rows(pack: Entries) -> Entries:
    """The same pack in each row that must be entered."""
    return {name: pack[own] for name, own in IN_ROWS.items() if own in pack and _PLACES[name] in _MUST}


@st.composite
def rows_like(draw: st.DrawFn, pack: Entries) -> Entries:
    """The rows of every calculator: the pack, resting elsewhere in each, at times with one row more than must be entered."""
    chosen = _MUST | {place for place in _NEXT_PLACES if draw(st.booleans())}
    found = {}
    for name, own in IN_ROWS.items():
        entry = ASKED[name]
        if _PLACES[name] not in chosen or ((entry.only_with or entry.optional) and own not in pack):
            continue
        if own == "resting_v":
            found[name] = draw(resting_voltages(pack["chemistry"], int(pack["cells"])))
        else:
            found[name] = pack[own] if own in pack else draw(_within_its_bounds(name))
    return found


# What a thumb on a cold phone, a label in another language or somebody who is in doubt may put into any field.
SLIPS = (
    "", " ", "0", "-1", "-0", "+5", "0.0", "999999999", "1e5", "1e400", "9" * 199, "9" * 201, "nan", "inf", "-Infinity",
    "∞", "½", "٣", "²", "5.0", "5,0", "2,650", "2.650", "2 650", "1,234.5", "1.2.3", "12..5", "..", ",", "-", "+-1", "--5",
    "5.0 Ah", "0,5 Ah", "2650 mAh", "2650mAh.", "3.7V", "3.7 V 3.8 V", "3,70 3,71 3,72", "3.7;3.8|3.9", "3.7/3.8/3.9", "11.1 v",
    "68 F", "68 °F", "-40 f", "20 °C", "14 AWG", "-3 AWG", "4/0 AWG", "99 gauge", "2.5 mm²", "500 mV", "6s", "6 cells", "10 %",
    "lipo", "LIPO", "nimh", "unknown", "mains", "battery", "vehicle", "agm", "<b>5</b>", "'; --", "None",
    "\x00", "\n5\n", "\u00a05\u202f", "\u221212", "5\u200b", "\ud800",
)  # fmt: skip
_WILD = st.sampled_from(SLIPS) | st.text(st.characters(), max_size=30) | numbers(-100, 100_000) | st.sampled_from(CHEMISTRY_KEYS)


@st.composite
def nearly_charges(draw: st.DrawFn) -> Entries:
    """A charge with one to three fields spoilt, left out, or made up."""
    changes = st.dictionaries(_ANY_FIELD, st.none() | _WILD, min_size=1, max_size=3)
    entries = draw(charges()) | draw(changes)
    return {name: text for name, text in entries.items() if text is not None}


def wild_entries() -> SearchStrategy[Entries]:
    """Any text in any field, and fields that nobody asks."""
    return st.dictionaries(_ANY_FIELD | st.text(max_size=5), _WILD, max_size=len(ASKED))


def any_entries() -> SearchStrategy[Entries]:
    return charges() | nearly_charges() | wild_entries()
