"""No plan breaks a rule, whatever the packs, the outputs, the battery and the hours."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties.own_plan import faults_of, lines_of
from tests.properties.typed_entries import Entries, chargers, supplies

_MAINS = {"supply_kind": "mains", "supply_v": "13.8", "supply_current_a": "40", "lead_length_m": "0.5", "lead_area_mm2": "16 mm²"}


_CLUB = {
    "charger_current_a": "10", "charger_power_w": "250", "charger_cells": "8", "balance_ports": "2", "port_cells": "6", "current_step_a": "0.1",
    "capacity_step_mah": "100", "charger_input_least_v": "11", "charger_input_most_v": "18", "efficiency_percent": "85",
}  # fmt: skip
_BATTERY = {
    "supply_kind": "battery",
    "battery_kind": "flooded",
    "battery_resting_v": "12.6",
    "lead_length_m": "0.5",
    "lead_area_mm2": "16 mm²",
}
_HOURS = st.integers(10 * 60, 16 * 60).map(lambda minutes: f"{minutes // 60}:{minutes % 60:02}")
_BATTERIES = st.integers(12, 90).map(lambda ah: _BATTERY | {"battery_ah": str(ah)})


@st.composite
def days(draw: st.DrawFn) -> Entries:
    """Two to six packs, most of one kind, on a charger that takes them, from a mains supply or a battery that may be small."""
    cells = draw(st.integers(1, 4))
    day = draw(st.just(_CLUB) | st.just(_CLUB) | chargers(cells)) | draw(st.just(_MAINS) | _BATTERIES | _BATTERIES | supplies()) | {
        "charger_outputs": draw(st.sampled_from("122")), "watched_charges": draw(st.sampled_from("1224")),
        "aim": draw(st.sampled_from(("soonest", "soonest", "by_hour", "wear"))), "start_clock": "8:00", "by_clock": draw(_HOURS), "day_begun": "new",
        "change_min": draw(st.sampled_from(("0", "3", "5"))), "pack_degc": draw(st.sampled_from(("20", "8"))), "requested_rate_c": "1",
        "balance_plugs_into": draw(st.sampled_from(("ports", "series"))), "join_length_m": "0.15", "join_area_mm2": "3.3",
        "all_outputs_w": draw(st.sampled_from(("", "30", "80"))),
        "joined_by": draw(st.sampled_from(("", "board", "series", "either", "either"))),
    }  # fmt: skip
    labels = [(str(draw(st.integers(1, cells))), draw(st.sampled_from(("450", "1000", "2200")))) for _ in range(draw(st.integers(1, 2)))]
    rest, rate = draw(st.integers(365, 385)), draw(st.sampled_from("12"))
    for number in range(1, draw(st.integers(2, 6)) + 1):
        own_cells, capacity_mah = draw(st.sampled_from(labels))
        day |= {
            f"packs_{number}_chemistry": "lipo", f"packs_{number}_cells": own_cells, f"packs_{number}_capacity_mah": capacity_mah,
            f"packs_{number}_label_charge_rate_c": rate,
            f"packs_{number}_resting_v": " ".join(f"{(rest + draw(st.integers(0, 2))) / 100:.2f}" for _ in range(int(own_cells))),
            f"packs_{number}_wanted_clock": draw(st.sampled_from(("", "", "", "")) | _HOURS),
        }  # fmt: skip
    return day


@given(days())
def test_no_plan_breaks_a_rule(entries: Entries) -> None:
    found = answer("day_plan", entries)
    if isinstance(found, Refusal):
        event("refused")
        return
    lines = lines_of(found)
    event(f"{len(lines)} lines, joined: {any(line.together != 'alone' for line in lines)}, left out: {found.left_out is not None}")
    if any(line.latest_min < line.begin_min for line in lines):
        event("past midnight")
        return
    faults = faults_of(entries, found)
    assert not faults, "\n".join(faults)


def test_the_checker_finds_a_plan_that_breaks_a_rule() -> None:
    entries = {
        "charger_outputs": "1", "watched_charges": "1", "aim": "soonest", "change_min": "3", "charger_power_w": "300", "supply_kind": "mains",
        "charger_current_a": "10", "charger_cells": "8", "balance_ports": "1", "port_cells": "8", "current_step_a": "0.1",
        "capacity_step_mah": "100", "charger_input_least_v": "10", "efficiency_percent": "85", "start_clock": "8:00", "pack_degc": "20",
        "requested_rate_c": "1", "day_begun": "new", **_MAINS,
    }  # fmt: skip
    for number in (1, 2):
        entries |= {
            f"packs_{number}_chemistry": "lipo", f"packs_{number}_cells": "1", f"packs_{number}_capacity_mah": "1000",
            f"packs_{number}_label_charge_rate_c": "1", f"packs_{number}_resting_v": "3.70",
        }  # fmt: skip
    found = answer("day_plan", entries)
    assert not faults_of(entries, found)
    first, second = found.turns.rows
    for spoilt, told in (
        (replace(second, heading="8:01"), "the hands are on"),
        (replace(second, heading="8:30"), "same output"),
        (replace(second, cells=("Pack 2 alone, at 1.1\u00a0A, by nothing", second.cells[1])), "above its own page"),
        (replace(second, cells=("Pack 1 alone, at 1.0\u00a0A, by it", second.cells[1])), "each pack is charged once"),
        (replace(second, cells=(second.cells[0], "about 9:20, at the latest 9:30")), "takes less than"),
    ):
        broken = replace(found, turns=replace(found.turns, rows=(first, spoilt)))
        assert any(told in fault for fault in faults_of(entries, broken)), told
