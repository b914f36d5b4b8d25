"""The sheet for going home: order, promise, and what is said once or for each pack."""

from __future__ import annotations

import re
from typing import Any

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import BATTERY, CHARGER, MAINS

EVENING = CHARGER | MAINS | {
    "pack_degc": "20", "requested_rate_c": "1", "time_left_min": "600", "discharge_current_a": "5", "discharge_power_w": "20",
    "charger_outputs": "1", "watched_charges": "1", "change_min": "3", "day_begun": "new",
}  # fmt: skip


def pack(number: int, **entries: str) -> dict[str, str]:
    sound = {
        "chemistry": "lipo",
        "cells": "3",
        "capacity_mah": "2200",
        "resting_v": "12.6",
        "label_charge_rate_c": "1",
        "stands": "waiting",
    }
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


def _packs(found: Any) -> list[int]:
    """The packs in the order of the list."""
    return [doing.packs[0] for doing in found.in_order.doings]


def test_the_slowest_pack_starts_first_where_all_are_done() -> None:
    found = sheet(start_clock="18:00")
    assert _packs(found) == [3, 2, 1]
    rows = found.in_order.rows
    assert rows[0].heading == "18:00"
    assert rows[2].cells[0].startswith("Pack 2 off, then Pack 1: 3\u00a0cells, 2200\u00a0mAh. Charge, ")


def test_another_order_is_taken_where_it_brings_more_of_them_home_done() -> None:
    # By the slowest first the two large ones fill the evening: 190 minutes each at most, and 42 for a small one.
    large = pack(2, cells="6", capacity_mah="5000", resting_v="25.2")
    found = sheet(**large, **pack(3, resting_v="12.6"), time_left_min="210")
    assert _packs(found) == [3, 1]
    assert found.done_tonight.figure.number == "2"


def test_of_as_many_packs_the_slower_ones_are_done() -> None:
    # There is time for one of the two, and the quicker one waits.
    found = sheet(
        **pack(1, resting_v="12.0"),
        **pack(3, cells="3", capacity_mah="2200", resting_v="12.6"),
        **pack(2, resting_v="11.46"),
        time_left_min="50",
    )
    assert _packs(found) == [3]


def test_two_outputs_do_two_at_once_and_one_pair_of_hands_puts_them_on() -> None:
    found = sheet(charger_outputs="2", watched_charges="2", start_clock="18:00")
    assert [row.heading for row in found.in_order.rows[:2]] == ["18:00, output 1", "18:03, output 2"]


def test_what_is_on_already_stays_and_what_is_done_is_not_put_on_again() -> None:
    begun = {"day_begun": "begun", "start_clock": "18:00", "output_1_ready_clock": "18:30", "output_1_latest_clock": "18:45"}
    begun |= {"packs_3_begun_v": "25.2", "packs_3_resting_v": "", "packs_1_begun_v": "11.1", "packs_1_resting_v": ""}
    found = sheet(**begun, packs_3_stands="output_1", packs_1_stands="done")
    assert _packs(found) == [2]
    assert found.in_order.rows[0].heading == "18:30" and found.in_order.rows[0].cells[0].startswith("Pack 3 off, then Pack 2")
    assert [
        field for field, _ in refused(**(begun | {"output_1_latest_clock": "", "packs_1_stands": "done"}), packs_3_stands="output_1")
    ] == ["output_1_latest_clock"]


def test_an_hour_to_go_is_as_good_as_the_time_left() -> None:
    found = sheet(start_clock="18:00", leave_clock="20:00")
    assert [row.heading.split(":")[0] for row in found.not_tonight.rows] == ["Pack 3"]
    assert [field for field, _ in refused(leave_clock="20:00")] == ["start_clock"]
    assert [field for field, _ in refused(leave_clock="17:00", start_clock="18:00")] == ["leave_clock"]


def test_a_battery_at_its_floor_charges_nothing_and_still_lets_packs_be_discharged() -> None:
    found = sheet(**BATTERY | {"battery_resting_v": "12.20"})
    assert 1 not in _packs(found)
    [row] = found.not_tonight.rows
    assert row.heading.startswith("Pack 1") and "below it" in row.cells[2]


def test_outputs_that_share_their_power_never_charge_with_more_at_once() -> None:
    found = sheet(
        **pack(2, resting_v="10.8"),
        all_outputs_w="20",
        charger_outputs="2",
        watched_charges="2",
        start_clock="18:00",
        packs_3_resting_v="22.2",
    )
    charges = list(found.in_order.doings)
    assert len(charges) == 3
    for one in charges:
        at_once = [other for other in charges if other.begin_min + 3 <= one.begin_min + 3 < other.ready_min]
        assert sum(_watts(found, other) for other in at_once) <= 20


def _watts(found: Any, doing: Any) -> float:
    row = found.in_order.rows[found.in_order.doings.index(doing)]
    cells = 6 if doing.packs[0] == 3 else 3
    return float(re.search("at ([0-9.]+)\u00a0A", str(row.cells[0]))[1]) * cells * 4.2


def test_one_output_more_says_what_it_would_change() -> None:
    found = sheet(**pack(3), **pack(1), time_left_min="60", watched_charges="2")
    [row] = found.what_if.rows
    assert row.cells[0] == "1\u00a0pack more would be done"


def test_each_pack_takes_what_the_storage_page_says() -> None:
    alone = answer("storage", EVENING | {name.removeprefix("packs_3_"): text for name, text in LARGE_FULL.items()} | {"goal": "storage"})
    first = sheet().in_order.rows[0]
    assert str(first.cells[0]).endswith(f"at {alone.current.figure}, by {alone.current.set_by}")
    assert first.cells[1] == alone.stop_after.figure
    assert first.cells[2] == alone.stop_cell.figure
    assert first.cells[3] == f"{alone.time.least.number} to {alone.time.most}"


def test_what_does_not_fit_is_named_with_its_day() -> None:
    found = sheet(time_left_min="120")
    assert found.done_tonight.figure.number == "2"
    [row] = found.not_tonight.rows
    assert row.heading.startswith("Pack 3") and "2" in row.cells[3]
    assert found.in_order.doings[-1].latest_min <= 120


def test_an_evening_that_is_too_short_for_any_promises_none() -> None:
    found = sheet(time_left_min="5")
    assert found.done_tonight.figure.number == "0"
    assert found.in_order is found.last_ready is found.timeline is None
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
    assert [row.cells[2].number for row in found.in_order.rows] == ["3.80", "3.80", "3.84"]
    assert any("until every cell has been read" in caution.sentence for caution in found.cautions)


def test_a_pack_with_a_cell_that_dropped_away_goes_nowhere() -> None:
    assert [field for field, _ in refused(packs_2_resting_v="4.2 4.2 3.3")] == ["packs_2_resting_v"]


def test_packs_that_all_rest_in_their_band_need_no_charger_that_discharges() -> None:
    found = answer(
        "going_home",
        CHARGER
        | MAINS
        | {name: text for name, text in EVENING.items() if not name.startswith("discharge")}
        | {"time_left_min": "60"}
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
