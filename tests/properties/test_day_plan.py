"""No plan breaks a rule, whatever the packs, the outputs, the battery and the hours."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties.own_plan import Line, faults_of, lines_of
from tests.properties.typed_entries import Entries, chargers, supplies

MAINS = {"supply_kind": "mains", "supply_v": "13.8", "supply_current_a": "40", "lead_length_m": "0.5", "lead_area_mm2": "16 mm²"}


CLUB = {
    "charger_current_a": "10", "charger_power_w": "250", "charger_cells": "8", "balance_ports": "2", "port_cells": "6", "current_step_a": "0.1",
    "capacity_step_mah": "100", "charger_input_least_v": "11", "charger_input_most_v": "18", "efficiency_percent": "85",
}  # fmt: skip
BATTERY = {
    "supply_kind": "battery",
    "battery_kind": "flooded",
    "battery_resting_v": "12.6",
    "lead_length_m": "0.5",
    "lead_area_mm2": "16 mm²",
}
_HOURS = st.integers(10 * 60, 16 * 60).map(lambda minutes: f"{minutes // 60}:{minutes % 60:02}")
BATTERIES = st.integers(12, 90).map(lambda ah: BATTERY | {"battery_ah": str(ah)})


@st.composite
def days(draw: st.DrawFn) -> Entries:
    """Two to six packs, most of one kind, on a charger that takes them, from a mains supply or a battery that may be small."""
    cells = draw(st.integers(1, 4))
    day = draw(st.just(CLUB) | st.just(CLUB) | chargers(cells)) | draw(st.just(MAINS) | BATTERIES | BATTERIES | supplies()) | {
        "charger_outputs": draw(st.sampled_from("122")), "watched_charges": draw(st.sampled_from("1224")),
        "aim": draw(st.sampled_from(("soonest", "soonest", "by_hour", "wear"))), "start_clock": "8:00", "by_clock": draw(_HOURS), "day_begun": "new",
        "change_min": draw(st.sampled_from(("0", "3", "5"))), "pack_degc": draw(st.sampled_from(("20", "8"))), "requested_rate_c": "1",
        "balance_plugs_into": draw(st.sampled_from(("ports", "series"))), "join_length_m": "0.15", "join_area_mm2": "3.3",
        "all_outputs_w": draw(st.sampled_from(("", "30", "80"))),
        "joined_by": draw(st.sampled_from(("", "board", "series", "either", "either"))),
    }  # fmt: skip
    day.pop("first_plug_cells", None)  # drawn for one pack: the plan does not ask how the cells of each are shared out
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


@given(days(), st.integers(1, 4), st.integers(0, 40))
def test_a_new_plan_moves_nothing_that_is_on(entries: Entries, begun_lines: int, late_min: int) -> None:
    # Mains and outputs with their own power: what is left of the old plan is then a plan still.
    entries |= MAINS | {"all_outputs_w": "", "aim": "soonest", "charger_outputs": "2", "watched_charges": "2"}
    found = answer("day_plan", entries)
    old = [] if isinstance(found, Refusal) else lines_of(found)
    if len(old) <= begun_lines or any(line.latest_min < line.begin_min or line.latest_min > 19 * 60 for line in old):
        event("too short a day")
        return
    now_min = old[begun_lines].begin_min
    again = {**entries, **_begun(entries, old[:begun_lines], now_min, late_min)}
    new = answer("day_plan", again)
    assert not isinstance(new, Refusal), new
    on = {line.output: line for line in old[:begun_lines] if line.ready_min > now_min}
    gone = {number for line in old[:begun_lines] for number in line.packs}
    lines = lines_of(new)
    event(f"{len(on)} on, {len(lines)} lines left")
    assert not gone & {number for line in lines for number in line.packs}
    assert all(line.begin_min >= on[line.output].ready_min + late_min for line in lines if line.output in on)
    charged = {number for line in lines for number in line.packs}
    if late_min == 0 and charged == {number for line in old[begun_lines:] for number in line.packs}:
        assert max(line.ready_min for line in lines) <= max(line.ready_min for line in old)


def _begun(entries: Entries, lines: list[Line], now_min: int, late_min: int) -> Entries:
    """Where each pack stands at an hour, when these lines were followed and what is on takes a while longer than planned."""
    found = {
        name.replace("_chemistry", "_stands"): "waiting" for name in entries if name.startswith("packs_") and name.endswith("_chemistry")
    }
    found |= {"day_begun": "begun", "start_clock": f"{now_min // 60}:{now_min % 60:02}"}
    for line in lines:
        output = line.output.replace(" ", "_")
        is_on = line.ready_min > now_min
        found |= {f"packs_{number}_stands": output if is_on else "done" for number in line.packs}
        if is_on:
            for kind, minutes in (("ready", line.ready_min + late_min), ("latest", line.latest_min + late_min)):
                found[f"{output}_{kind}_clock"] = f"{minutes // 60}:{minutes % 60:02}"
    for line in lines:
        for number in line.packs:
            found |= {f"packs_{number}_begun_v": entries[f"packs_{number}_resting_v"], f"packs_{number}_resting_v": ""}
    # What is wanted by an hour that has passed, or cannot be kept any more, is left out by the new plan, and not refused.
    return found | {name: "" for name in entries if name.endswith("_wanted_clock")}


def test_the_checker_finds_a_plan_that_breaks_a_rule() -> None:
    entries = {
        "charger_outputs": "1", "watched_charges": "1", "aim": "soonest", "change_min": "3", "charger_power_w": "300", "supply_kind": "mains",
        "charger_current_a": "10", "charger_cells": "8", "balance_ports": "1", "port_cells": "8", "current_step_a": "0.1",
        "capacity_step_mah": "100", "charger_input_least_v": "10", "efficiency_percent": "85", "start_clock": "8:00", "pack_degc": "20",
        "requested_rate_c": "1", "day_begun": "new", **MAINS,
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
