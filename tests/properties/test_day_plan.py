"""No plan breaks a rule, whatever the packs, the outputs, the battery and the hours."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.refusals import Refusal
from tests.properties.own_condition import FULL_CELL_V
from tests.properties.own_plan import Line, faults_of, lines_of
from tests.properties.typed_entries import CHEMISTRY_KEYS, Entries, chargers, supplies

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
# For packs of more cells than the club has.
TALL = CLUB | {"charger_cells": "16", "port_cells": "8", "charger_power_w": "1000"}
# Between how many hundredths of a volt packs of each kind rest that are worth a charge, and how far the cells of one are apart.
_RESTS = {
    key: (round(100 * one.end_of_flight_resting_cell_v.value) - 5, round(100 * FULL_CELL_V[key]) - 35) for key, one in CHEMISTRIES.items()
}
# What the second output has of its own, as often as not nothing.
SECOND_A, SECOND_W = ("", "", "0.5", "1", "20"), ("", "", "", "8", "30")
APART = (0, 2, 2, 2, 3, 4, 10)
# One pack in many is longer than a model's.
CELLS = {key: (1, 2, 3, 4, 6, one.most_cells) for key, one in CHEMISTRIES.items()}
BATTERIES = st.integers(12, 90).map(lambda ah: BATTERY | {"battery_ah": str(ah)})


# What a second charger has of its own, as often as not nothing: fewer cells and ports, coarser steps, and more lost in it.
_SECOND = {
    "second_charger_cells": ("", "3"), "second_port_cells": ("", "", "3"), "second_balance_ports": ("", "1"), "second_current_step_a": ("", "0.5"),
    "second_efficiency_percent": ("", "70"), "second_charger_input_least_v": ("", "11.5"), "second_charger_input_most_v": ("", "18"),
    "second_balance_current_a": ("", "0.3"), "second_discharge_current_a": ("", "2"), "second_discharge_power_w": ("", "10"),
}  # fmt: skip
_SMALL_MAINS = st.sampled_from(("2", "8", "40")).map(lambda amperes: MAINS | {"supply_current_a": amperes})


@st.composite
def second_chargers(draw: st.DrawFn) -> Entries:
    """Whose a second output is: the first charger's, or another's on the same supply or on one of its own that may be small."""
    if draw(st.booleans()):
        return {"second_charger": "same"}
    found = {"second_charger": "another", "second_supply": draw(st.sampled_from(("same", "own", "own")))}
    found |= {name: draw(st.sampled_from(texts)) for name, texts in _SECOND.items()}
    return found | {f"second_{name}": text for name, text in draw(_SMALL_MAINS | BATTERIES).items()}


@st.composite
def days(draw: st.DrawFn) -> Entries:
    """Two to six packs, most of one kind, on a charger that takes them, from a mains supply or a battery that may be small."""
    kinds = [draw(st.sampled_from(CHEMISTRY_KEYS)) for _ in range(draw(st.sampled_from((1, 1, 2))))]
    labels = [
        (kind, draw(st.sampled_from(CELLS[kind])), draw(st.sampled_from(("450", "1000", "2200"))))
        for kind in kinds * (2 if len(kinds) == 1 else 1)
    ]
    cells = max(cells for _, cells, _ in labels)
    club = st.just(CLUB if cells <= int(CLUB["charger_cells"]) else TALL)
    day = draw(club | club | chargers(cells)) | draw(st.just(MAINS) | BATTERIES | BATTERIES | supplies()) | {
        "charger_outputs": draw(st.sampled_from("122")), "watched_charges": draw(st.sampled_from("1224")),
        "aim": draw(st.sampled_from(("soonest", "soonest", "by_hour", "wear", "battery"))), "start_clock": "8:00", "by_clock": draw(_HOURS), "day_begun": "new",
        "change_min": draw(st.sampled_from(("0", "3", "5"))), "pack_degc": draw(st.sampled_from(("20", "8"))), "requested_rate_c": "1",
        "balance_plugs_into": draw(st.sampled_from(("ports", "series"))), "join_length_m": "0.15", "join_area_mm2": "3.3",
        "all_outputs_w": draw(st.sampled_from(("", "30", "80"))),
        "joined_by": draw(st.sampled_from(("", "board", "series", "either", "either"))),
        "second_output_current_a": draw(st.sampled_from(SECOND_A)), "second_output_power_w": draw(st.sampled_from(SECOND_W)),
    }  # fmt: skip
    day |= draw(second_chargers())
    if day["aim"] == "battery" and day["supply_kind"] == "mains":
        day["aim"] = "soonest"  # a mains supply does not run down
    day.pop("first_plug_cells", None)  # drawn for one pack: the plan does not ask how the cells of each are shared out
    rests, rate = {kind: draw(st.integers(*_RESTS[kind])) for kind in kinds}, draw(st.sampled_from("12"))
    for number in range(1, draw(st.integers(2, 6)) + 1):
        kind, own_cells, capacity_mah = draw(st.sampled_from(labels))
        apart = draw(st.sampled_from(APART))
        day |= {
            f"packs_{number}_chemistry": kind, f"packs_{number}_cells": str(own_cells), f"packs_{number}_capacity_mah": capacity_mah,
            f"packs_{number}_label_charge_rate_c": rate,
            f"packs_{number}_resting_v": " ".join(f"{(rests[kind] + draw(st.integers(0, apart))) / 100:.2f}" for _ in range(own_cells)),
            f"packs_{number}_wanted_clock": draw(st.sampled_from(("", "", "", "")) | _HOURS),
        }  # fmt: skip
    return day


# A long lead at a charger's lowest input leaves 0.03 A for fourteen cells: the plan goes on until the afternoon of the next day.
LONG = MAINS | {
    "supply_v": "11.1", "supply_current_a": "2", "lead_length_m": "3.51", "lead_area_mm2": "0.75", "charger_current_a": "0.5",
    "charger_power_w": "50", "charger_cells": "14", "balance_ports": "1", "port_cells": "14", "current_step_a": "0.01",
    "capacity_step_mah": "100", "charger_input_least_v": "11", "charger_input_most_v": "", "efficiency_percent": "40",
    "charger_outputs": "1", "watched_charges": "1", "aim": "soonest", "start_clock": "8:00", "by_clock": "10:00", "day_begun": "new",
    "change_min": "0", "pack_degc": "20", "requested_rate_c": "1", "balance_plugs_into": "ports", "join_length_m": "0.15",
    "join_area_mm2": "3.3", "all_outputs_w": "", "joined_by": "", "second_output_current_a": "", "second_output_power_w": "",
} | {
    f"packs_{number}_{name}": text
    for number, cells, capacity_mah in ((1, 14, "1000"), (2, 1, "450"))
    for name, text in (
        ("chemistry", "lipo"), ("cells", str(cells)), ("capacity_mah", capacity_mah), ("label_charge_rate_c", "1"),
        ("resting_v", " ".join(["3.65"] * cells)), ("wanted_clock", ""),
    )
}  # fmt: skip
# Four packs in the cold, one after the other: the last is ready at 0:04 at the latest.
LATE = CLUB | MAINS | {
    "charger_outputs": "1", "watched_charges": "1", "aim": "soonest", "start_clock": "8:00", "by_clock": "10:00", "day_begun": "new",
    "change_min": "0", "pack_degc": "8", "requested_rate_c": "1", "balance_plugs_into": "ports", "join_length_m": "0.15",
    "join_area_mm2": "3.3", "all_outputs_w": "", "joined_by": "", "second_output_current_a": "", "second_output_power_w": "",
} | {
    f"packs_{number}_{name}": text
    for number in (1, 2, 3, 4)
    for name, text in (
        ("chemistry", "liion"), ("cells", "1"), ("capacity_mah", "450"), ("label_charge_rate_c", "1"), ("resting_v", "3.45"), ("wanted_clock", ""),
    )
}  # fmt: skip


@given(days())
@example(LONG)
@example(LATE)
def test_no_plan_breaks_a_rule(entries: Entries) -> None:
    found = answer("day_plan", entries)
    if isinstance(found, Refusal):
        event("refused")
        return
    lines = lines_of(found)
    event(f"{len(lines)} lines, joined: {any(line.together != 'alone' for line in lines)}, left out: {found.left_out is not None}")
    faults = faults_of(entries, found)
    assert not faults, "\n".join(faults)


@given(days(), st.integers(1, 4), st.integers(0, 40), st.booleans())
def test_a_new_plan_moves_nothing_that_is_on(entries: Entries, begun_lines: int, late_min: int, is_plain: bool) -> None:
    entries |= {"aim": "soonest", "charger_outputs": "2", "watched_charges": "2"}
    if is_plain:  # mains and outputs with their own power: what is left of the old plan is then a plan still
        entries |= MAINS | {"all_outputs_w": "", "second_charger": "same"}
    found = answer("day_plan", entries)
    old = [] if isinstance(found, Refusal) else lines_of(found)
    if len(old) <= begun_lines or any(line.latest_min > 19 * 60 for line in old):
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
    if is_plain and late_min == 0 and charged == {number for line in old[begun_lines:] for number in line.packs}:
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
        found |= {f"packs_{number}_stands": output if is_on else "done_2" if output == "output_2" else "done" for number in line.packs}
        if is_on:
            for kind, minutes in (("ready", line.ready_min + late_min), ("latest", line.latest_min + late_min)):
                found[f"{output}_{kind}_clock"] = f"{minutes // 60}:{minutes % 60:02}"
    for line in lines:
        for number in line.packs:
            found |= {f"packs_{number}_begun_v": entries[f"packs_{number}_resting_v"], f"packs_{number}_resting_v": ""}
    return found


def test_the_checker_finds_a_plan_that_breaks_a_rule() -> None:
    entries = {
        "charger_outputs": "1", "second_charger": "same", "watched_charges": "1", "aim": "soonest", "change_min": "3", "charger_power_w": "300", "supply_kind": "mains",
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
        (replace(second, cells=(second.cells[0], second.cells[1].partition("latest ")[0] + "latest 9:30")), "takes less than"),
    ):
        broken = replace(found, turns=replace(found.turns, rows=(first, spoilt)))
        assert any(told in fault for fault in faults_of(entries, broken)), told
    assert any("outputs of one supply take too much" in fault for fault in faults_of(entries | {"supply_current_a": "0.2"}, found))
    both = entries | {"charger_outputs": "2", "watched_charges": "2"}
    alike = answer("day_plan", both)
    assert not faults_of(both, alike)
    assert any("above its own page" in fault for fault in faults_of(both | {"second_output_current_a": "0.5"}, alike))
    assert any("more than its output has" in fault for fault in faults_of(both | {"second_output_power_w": "2"}, alike))
    assert any("the battery of the output gives" in fault for fault in faults_of(entries | BATTERY | {"battery_ah": "1"}, found))
    own = (
        both
        | {"second_charger": "another", "second_supply": "own"}
        | {f"second_{name}": text for name, text in (BATTERY | {"battery_ah": "60"}).items()}
    )
    apart = answer("day_plan", own)
    assert not faults_of(own, apart)
    assert any("output 2 gives" in fault for fault in faults_of(own | {"second_battery_ah": "1", "second_supply_kind": "vehicle"}, apart))
    weak = own | {f"second_{name}": text for name, text in (MAINS | {"supply_current_a": "0.2"}).items()}
    assert any("outputs of one supply take too much" in fault for fault in faults_of(weak, apart))
    assert any("above its own page" in fault for fault in faults_of(weak, apart))
