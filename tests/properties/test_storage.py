"""What holds of every way to storage: in the band nothing is moved, outside it goes the right way, and no limit is passed."""

from __future__ import annotations

from bisect import bisect_right

from hypothesis import assume, event, example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import Figure
from calc.inputs.refusals import Refusal
from tests.properties.test_answers import SMALL_PACK, answered
from tests.properties.typed_entries import CHEMISTRY_KEYS, Entries, charges

# In hundredths of a volt.
_BANDS = {key: (round(100 * one.storage_low_cell_v.value), round(100 * one.storage_high_cell_v.value)) for key, one in CHEMISTRIES.items()}
_STORED = SMALL_PACK | {"goal": "storage"}


def _to_storage(entries: Entries) -> Entries:
    return entries | {"goal": "storage", "pack_degc": "20", "air_degc": "20"}


@given(charges(), st.sampled_from(CHEMISTRY_KEYS), st.data())
def test_a_pack_in_its_band_is_left_alone(entries: Entries, chemistry: str, data: st.DataObject) -> None:
    cells = int(entries["cells"])
    volts = st.integers(*_BANDS[chemistry]).map(lambda count: f"{count / 100:.2f}")
    resting_v = " ".join(data.draw(st.lists(volts, min_size=cells, max_size=cells)))
    found = answered("storage", _to_storage(entries) | {"chemistry": chemistry, "resting_v": resting_v})
    assert found.what_to_do.figure == "Leave it"
    assert found.current is None and found.stop_after is None


@st.composite
def unequal_packs(draw: st.DrawFn) -> Entries:
    """A pack of any chemistry that there is a record of, its cells apart, on a charger that could empty it within the hour."""
    chemistry = draw(st.sampled_from(sorted(CHEMISTRIES)))
    record = CHEMISTRIES[chemistry]
    cells = draw(st.integers(2, 6))
    floor, full = round(100 * record.careful_cutoff_cell_v.value), round(100 * record.full_cell_v.value)
    lowest = draw(st.integers(floor, full))
    above = draw(st.lists(st.integers(0, min(30, full - lowest)), min_size=cells - 1, max_size=cells - 1))
    volts = draw(st.permutations([lowest, *(lowest + more for more in above)]))
    label_mah = draw(st.integers(100, 20_000))
    entries = _STORED | {
        "chemistry": chemistry, "cells": str(cells), "capacity_mah": str(label_mah),
        "resting_v": " ".join(f"{volt / 100:.2f}" for volt in volts), "pack_degc": draw(st.sampled_from(("5", "20", "40"))),
        "air_degc": "20", "requested_rate_c": draw(st.sampled_from(("0.2", "1", "3"))), "label_charge_rate_c": "3",
        "capacity_step_mah": draw(st.sampled_from(("1", "10", "100"))), "current_step_a": "0.01", "discharge_current_a": "60",
        "discharge_power_w": draw(st.sampled_from(("5", "50", "1000"))), "charger_current_a": "60", "charger_power_w": "3000",
    }  # fmt: skip
    held = {} if draw(st.booleans()) else {"measured_capacity_mah": str(max(20, round(0.85 * label_mah)))}
    return entries | held


def _cells_v(entries: Entries) -> list[float]:
    typed = [float(text) for text in entries["resting_v"].split()]
    return typed if len(typed) > 1 else [typed[0] / int(entries["cells"])]


@given(unequal_packs())
@example(_STORED | {"resting_v": "8.40"})
@example(_STORED | {"resting_v": "6.40"})
@example(_STORED | {"resting_v": "3.75 3.90"})
@example(_STORED | {"resting_v": "3.90 3.88"})
def test_every_cell_decides_the_way_and_no_mean_of_them(entries: Entries) -> None:
    found = answered("storage", entries)
    lowest_v, highest_v = min(_cells_v(entries)), max(_cells_v(entries))
    low_v, high_v = (count / 100 for count in _BANDS[entries["chemistry"]])
    # Beside the band a meter may be a little off.
    told = found.what_to_do.figure
    event(told)
    if lowest_v < low_v - 0.03:
        assert told in ("Charge it", "Balance it first")
    if highest_v > high_v + 0.03:
        assert told in ("Discharge it", "Balance it first")
    if highest_v - lowest_v <= 0.03 and not low_v - 0.03 <= lowest_v <= highest_v <= high_v + 0.03:
        assert told != "Balance it first"


def _state(cell_v: tuple[float, ...], rests_v: float) -> float:
    """State of charge of a rested cell on a published curve, by straight lines between its points; worked out here once more."""
    place = min(max(bisect_right(cell_v, rests_v) - 1, 0), len(cell_v) - 2)
    share = (rests_v - cell_v[place]) / (cell_v[place + 1] - cell_v[place])
    return min(max((place + share) / (len(cell_v) - 1), 0.0), 1.0)


def _rests_v(cell_v: tuple[float, ...], state: float) -> float:
    place = min(max(int(state * (len(cell_v) - 1)), 0), len(cell_v) - 2)
    return cell_v[place] + (cell_v[place + 1] - cell_v[place]) * (state * (len(cell_v) - 1) - place)


@given(unequal_packs())
@example(_STORED | {"cells": "4", "capacity_mah": "5000", "resting_v": "4.2 4.2 4.2 4.05"})
@example(_STORED | {"cells": "3", "capacity_mah": "2000", "resting_v": "3.6 3.6 3.72"})
def test_no_cell_passes_the_far_end_of_the_band_on_its_way_whichever_curve_it_follows(entries: Entries) -> None:
    found = answered("storage", entries)
    assume(found.stop_after is not None and isinstance(found.stop_after.figure, Figure))
    goes_up = found.what_to_do.figure == "Charge it"
    low_v, high_v = (count / 100 for count in _BANDS[entries["chemistry"]])
    # Every cell gets or gives the same charge, and may hold as little as the pack was measured to hold.
    held_mah = min(float(entries["capacity_mah"]), float(entries.get("measured_capacity_mah", entries["capacity_mah"])))
    share = float(found.stop_after.figure.number) / held_mah
    event(found.what_to_do.figure)
    for curve in CHEMISTRIES[entries["chemistry"]].resting.curves:
        for read_v in _cells_v(entries):
            for off_v in (-0.02, 0.0, 0.02):
                start = _state(curve.cell_v, read_v + off_v)
                for step in range(21):
                    moved = share * step / 20
                    rests_v = _rests_v(curve.cell_v, start + moved if goes_up else start - moved)
                    assert rests_v <= high_v + 1e-6 if goes_up else rests_v >= low_v - 1e-6, (curve.where, read_v, off_v, moved)


@given(unequal_packs())
@example(_STORED | {"resting_v": "3.76 3.89", "pack_degc": "5", "label_charge_rate_c": "0.2", "current_step_a": "0.01"})
@example(_STORED | {"resting_v": "3.76 3.89", "pack_degc": "5", "label_charge_rate_c": "0.2", "current_step_a": "0.1"})
def test_nothing_is_charged_or_balanced_faster_than_the_same_pack_on_the_way_to_full(entries: Entries) -> None:
    found = answered("storage", entries)
    event(found.what_to_do.figure)
    assert (found.current is None) == (found.what_to_do.figure == "Leave it")
    if found.what_to_do.figure in ("Balance it first", "Charge it"):
        assert found.temperature_stop is not None
        to_full = answer("charge_settings", entries)
        assert not isinstance(to_full, Refusal), "what is not charged is not balanced either"
        assert found.current.figure.value <= to_full.charge_current.figure.value + 1e-9


@given(unequal_packs())
def test_a_voltage_of_one_cell_stands_beside_each_amount_and_lies_on_the_band_s_end(entries: Entries) -> None:
    found = answered("storage", entries)
    assert (found.stop_after is None) == (found.stop_cell is None)
    if found.stop_cell is not None:
        low, high = _BANDS[entries["chemistry"]]
        assert round(100 * float(found.stop_cell.figure.number)) == (high if found.what_to_do.figure == "Charge it" else low)


@given(unequal_packs())
@example(_STORED | {"resting_v": "3.6 3.72", "capacity_step_mah": "1"})
def test_one_more_unequal_cell_never_lets_more_charge_be_moved(entries: Entries) -> None:
    found = answered("storage", entries)
    assume(found.stop_after is not None and isinstance(found.stop_after.figure, Figure))
    volts = _cells_v(entries)
    ends_v = max(volts) if found.what_to_do.figure == "Charge it" else min(volts)
    level = answered("storage", entries | {"resting_v": " ".join([f"{ends_v:.2f}"] * len(volts))})
    assume(level.stop_after is not None and isinstance(level.stop_after.figure, Figure))
    assert found.stop_after.figure.value <= level.stop_after.figure.value + 1e-9


@given(unequal_packs())
@example(_STORED | {"resting_v": "8.40"})
@example(_STORED | {"resting_v": "8.40", "discharge_power_w": "0.5"})
def test_a_discharge_never_passes_the_charger_or_its_power(entries: Entries) -> None:
    found = answered("storage", entries)
    if found.what_to_do.figure != "Discharge it":
        return
    assert float(found.current.figure.number) <= float(entries["discharge_current_a"]) + 1e-8
    flows = found.current.figure if found.real_current is None else found.real_current.least
    # What the terminals show at the end, at the most resistance, is the least that they show.
    power_w = float(entries.get("discharge_power_w", "inf"))
    assert float(flows.number) * found.pack_shows.least.value <= power_w * 1.01 + 0.005 * found.pack_shows.least.value
    assert found.real_current is None or found.real_current.most.value <= float(found.current.figure.number) + 1e-8


@given(charges(), st.integers(5, 600))
def test_an_evening_ends_in_time_and_forgets_no_pack(entries: Entries, time_left_min: int) -> None:
    one_more = {
        "discharge_current_a": entries.get("discharge_current_a", "1"), "time_left_min": str(time_left_min), "charger_outputs": "1",
        "watched_charges": "1", "change_min": "3", "day_begun": "new",
    }  # fmt: skip
    one_more |= {
        name.replace("_chemistry", "_stands"): "waiting" for name in entries if name.startswith("packs_") and name.endswith("_chemistry")
    }
    found = answered("going_home", _to_storage(entries) | one_more)
    packs = len([name for name in entries if name.startswith("packs_") and name.endswith("_chemistry")])
    tables = (found.in_order, found.not_tonight, found.to_balance, found.left_alone)
    assert sum(len(table.rows) for table in tables if table) == packs
    assert found.in_order is None or max(doing.latest_min for doing in found.in_order.doings) <= time_left_min
