"""What holds of every way to storage: in the band nothing is moved, outside it goes the right way, and no limit is passed."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st

from tests.properties.test_answers import SMALL_PACK, answered
from tests.properties.typed_entries import CHEMISTRIES, Entries, charges

# The bands, in hundredths of a volt, written down here once more.
_BANDS = {"lipo": (380, 385), "lihv": (380, 385), "liion": (367, 384), "life": (325, 327)}
_STORED = SMALL_PACK | {"goal": "storage"}


def _to_storage(entries: Entries) -> Entries:
    return entries | {"goal": "storage", "pack_degc": "20", "air_degc": "20"}


@given(charges(), st.sampled_from(CHEMISTRIES), st.data())
def test_a_pack_in_its_band_is_left_alone(entries: Entries, chemistry: str, data: st.DataObject) -> None:
    cells = int(entries["cells"])
    volts = st.integers(*_BANDS[chemistry]).map(lambda count: f"{count / 100:.2f}")
    resting_v = " ".join(data.draw(st.lists(volts, min_size=cells, max_size=cells)))
    found = answered("storage", _to_storage(entries) | {"chemistry": chemistry, "resting_v": resting_v})
    assert found.what_to_do.figure == "Leave it"
    assert found.current is None and found.stop_after is None


@given(charges())
@example(_STORED | {"resting_v": "8.40"})
@example(_STORED | {"resting_v": "6.40"})
def test_a_pack_above_its_band_is_discharged_and_one_below_is_charged(entries: Entries) -> None:
    entries = _to_storage(entries) | {"discharge_current_a": entries.get("discharge_current_a", "1")}
    found = answered("storage", entries)
    typed = [float(text) for text in entries["resting_v"].split()]
    mean_v = typed[0] / int(entries["cells"]) if len(typed) == 1 else sum(typed) / len(typed)
    low_v, high_v = (count / 100 for count in _BANDS[entries["chemistry"]])
    # Beside the band a meter may be a little off.
    if mean_v > high_v + 0.03:
        assert found.what_to_do.figure == "Discharge it"
    if mean_v < low_v - 0.03:
        assert found.what_to_do.figure == "Charge it"


@given(charges())
@example(_STORED | {"resting_v": "8.40"})
@example(_STORED | {"resting_v": "8.40", "discharge_power_w": "0.5"})
def test_a_discharge_never_passes_the_charger_or_its_power(entries: Entries) -> None:
    entries = _to_storage(entries) | {"discharge_current_a": entries.get("discharge_current_a", "1")}
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
    one_more = {"discharge_current_a": entries.get("discharge_current_a", "1"), "time_left_min": str(time_left_min)}
    found = answered("going_home", _to_storage(entries) | one_more)
    packs = len([name for name in entries if name.startswith("packs_") and name.endswith("_chemistry")])
    tables = (found.in_order, found.not_tonight, found.left_alone)
    assert sum(len(table.rows) for table in tables if table) == packs
    assert found.whole_time is None or found.whole_time.most.value <= time_left_min + 1e-6
