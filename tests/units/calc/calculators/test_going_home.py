"""The sheet for going home: order, promise, and what is said once or for each pack."""

from __future__ import annotations

from typing import Any

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import CHARGER, MAINS

EVENING = CHARGER | MAINS | {
    "pack_degc": "20", "requested_rate_c": "1", "time_left_min": "600", "discharge_current_a": "5", "discharge_power_w": "20",
}  # fmt: skip


def pack(number: int, **entries: str) -> dict[str, str]:
    sound = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "resting_v": "12.6", "label_charge_rate_c": "1"}
    return {f"packs_{number}_{name}": text for name, text in (sound | entries).items()}


SMALL_LOW, SMALL_FULL, LARGE_FULL = pack(1, resting_v="11.1"), pack(2), pack(3, cells="6", capacity_mah="5000", resting_v="25.2")


def sheet(**changes: str) -> Any:
    found = answer("going_home", EVENING | SMALL_LOW | SMALL_FULL | LARGE_FULL | changes)
    assert not isinstance(found, Refusal), found
    return found


def refused(**changes: str) -> list[tuple[str, str]]:
    typed = EVENING | SMALL_LOW | SMALL_FULL | LARGE_FULL | changes
    found = answer("going_home", {name: text for name, text in typed.items() if text})
    assert isinstance(found, Refusal), "this was answered, and not refused"
    return [(problem.field, problem.sentence) for problem in found.problems]


def test_the_slowest_pack_starts_first() -> None:
    rows = sheet().in_order.rows
    assert [row.heading.split(":")[0] for row in rows] == ["1. Pack 3", "2. Pack 2", "3. Pack 1"]
    assert rows[0].cells[-1] == "at once"
    assert rows[2].cells[0].startswith("Charge, ")


def test_each_pack_takes_what_the_storage_page_says() -> None:
    alone = answer("storage", EVENING | {name.removeprefix("packs_3_"): text for name, text in LARGE_FULL.items()} | {"goal": "storage"})
    first = sheet().in_order.rows[0]
    assert first.cells[1].number == alone.current.figure.number
    assert first.cells[2] == alone.stop_after.figure
    assert first.cells[3] == alone.stop_cell.figure
    assert first.cells[4] == f"{alone.time.least.number} to {alone.time.most}"


def test_what_does_not_fit_is_named_with_its_day() -> None:
    found = sheet(time_left_min="120")
    assert found.done_tonight.figure.number == "2"
    [row] = found.not_tonight.rows
    assert row.heading.startswith("Pack 3") and "2" in row.cells[2]
    assert found.whole_time.most.value <= 120


def test_an_evening_that_is_too_short_for_any_promises_none() -> None:
    found = sheet(time_left_min="5")
    assert found.done_tonight.figure.number == "0"
    assert found.in_order is found.whole_time is None
    assert len(found.not_tonight.rows) == 3


def test_a_pack_in_its_band_is_left_alone() -> None:
    found = sheet(packs_1_resting_v="11.46")
    assert [row.heading.split(":")[0] for row in found.left_alone.rows] == ["Pack 1"]
    assert len(found.in_order.rows) == 2


APART = "3.75 3.90 3.82"


def test_a_pack_whose_cells_are_too_far_apart_is_balanced_and_not_left_alone() -> None:
    # The mean is 3.823 V, in the band.
    found = sheet(packs_1_resting_v=APART)
    assert [row.heading.split(":")[0] for row in found.to_balance.rows] == ["Pack 1"]
    assert found.left_alone is None and len(found.in_order.rows) == 2


def test_an_evening_of_packs_to_balance_is_not_called_done() -> None:
    found = answer("going_home", EVENING | pack(1, resting_v=APART) | pack(2, resting_v=APART))
    assert found.done_tonight.figure == "Balance it first"


def test_a_cell_s_voltage_and_a_word_on_whole_packs_stand_beside_the_counts() -> None:
    found = sheet()
    assert [row.cells[3].number for row in found.in_order.rows] == ["3.80", "3.80", "3.85"]
    assert any("until every cell has been read" in caution.sentence for caution in found.cautions)


def test_a_pack_with_a_cell_that_dropped_away_goes_nowhere() -> None:
    assert [field for field, _ in refused(packs_2_resting_v="4.2 4.2 3.3")] == ["packs_2_resting_v"]


def test_packs_that_all_rest_in_their_band_need_no_charger_that_discharges() -> None:
    found = answer(
        "going_home",
        CHARGER
        | MAINS
        | {"pack_degc": "20", "requested_rate_c": "1", "time_left_min": "60"}
        | pack(1, resting_v="11.46")
        | pack(2, resting_v="11.46"),
    )
    assert found.done_tonight.figure == "Nothing to do"


def test_packs_that_differ_are_a_warning_and_packs_alike_are_none() -> None:
    assert sheet().cautions[0].grave
    alike = answer("going_home", EVENING | pack(1) | pack(2))
    assert not any(caution.grave for caution in alike.cautions)


def test_what_is_wrong_with_a_pack_names_the_pack() -> None:
    [(field, sentence)] = refused(packs_2_resting_v="5")
    assert field == "packs_2_resting_v" and sentence.startswith("Pack 2: ")


def test_what_is_wrong_with_the_evening_is_said_once() -> None:
    assert [field for field, _ in refused(pack_degc="50")] == ["pack_degc"]
    assert [field for field, _ in refused(discharge_current_a="")] == ["discharge_current_a"]


def test_a_pack_s_fault_and_the_supply_s_are_listed_together() -> None:
    assert [field for field, _ in refused(packs_2_resting_v="5", supply_v="9")] == ["packs_2_resting_v", "supply_v"]


def test_packs_that_nobody_looked_over_are_to_be_looked_over_first_which_is_said_once() -> None:
    (look_first,) = [caution for caution in sheet().cautions if caution.sentence.startswith("Look the pack over first")]
    assert look_first.go_to == "cell-check"
