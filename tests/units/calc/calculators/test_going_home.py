"""The sheet for going home: order, promise, and what is said once or for each pack."""

from __future__ import annotations

import re
from typing import Any

from calc.answering import answer, answer_in_units
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import BATTERY, CHARGER, MAINS

EVENING = CHARGER | MAINS | {
    "pack_degc": "20", "requested_rate_c": "1", "time_left_min": "600", "discharge_current_a": "5", "discharge_power_w": "20",
    "charger_outputs": "1", "second_charger": "same", "watched_charges": "1", "change_min": "3", "day_begun": "new",
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


def test_a_battery_that_starts_the_charger_now_and_not_at_its_floor_is_not_said_to_rest_too_low() -> None:
    weak_at_last = BATTERY | {"battery_resting_v": "12.6", "charger_input_least_v": "12.3"}
    [(field, sentence)] = refused(**weak_at_last)
    assert field == "battery_resting_v"
    assert sentence.startswith("At its floor this battery rests at 12.24\u00a0V, no higher than the charger's lowest input")
    [(_, too_low)] = refused(**weak_at_last | {"battery_resting_v": "12.3"})
    assert too_low.startswith("This battery rests no higher than the charger's lowest input")


def test_the_pack_and_the_reason_of_its_current_are_in_the_chosen_units() -> None:
    typed = EVENING | SMALL_LOW | SMALL_FULL | {"pack_degc": "8"}
    found = answer_in_units("going_home", typed, {"temperature": "degf", "capacity": "ah"}).found
    [low] = [str(row.cells[0]) for row in found.in_order.rows if "Pack 1:" in row.cells[0]]
    assert "2.20\u00a0Ah. Charge" in low and low.endswith("half the current up to 50\u00a0°F")


def _packs(found: Any) -> list[int]:
    """The packs in the order of the list."""
    return [doing.packs[0] for doing in found.in_order.doings]


def test_an_evening_goes_on_after_midnight() -> None:
    late = sheet(start_clock="22:30", leave_clock="1:00")
    early = sheet(start_clock="20:30", leave_clock="23:00")
    assert late.in_order.doings == early.in_order.doings
    assert late.in_order.until_min == 150


def test_once_the_hour_of_going_has_passed_nothing_more_is_put_on() -> None:
    begun = {"day_begun": "begun", "packs_1_stands": "done", "packs_1_begun_v": "11.1", "packs_1_resting_v": ""}
    found = sheet(**begun, start_clock="20:10", leave_clock="20:00")
    assert found.in_order is None
    assert found.done_tonight.set_by == "the hour at which you go, which has passed"
    assert len(found.not_tonight.rows) == 2


def test_the_slowest_pack_starts_first_where_all_are_done() -> None:
    found = sheet(start_clock="18:00")
    assert _packs(found) == [3, 2, 1]
    rows = found.in_order.rows
    assert rows[0].heading == "18:00"
    assert rows[2].cells[0].startswith("Pack 2 off, then Pack 1: 3\u00a0cells, 2200\u00a0mAh. Charge, ")


WIDE = {"charger_cells": "14", "balance_ports": "2", "port_cells": "7"}


def _sent_to_two_ports(found: Any) -> list[str]:
    return [one.sentence.split(" more cells")[0] for one in found.cautions if "balance port" in one.sentence]


def test_packs_that_one_balance_port_cannot_take_are_named() -> None:
    eight = [pack(number, cells="8", resting_v="33.6") for number in (1, 3)]
    assert _sent_to_two_ports(sheet(**WIDE)) == []
    assert _sent_to_two_ports(sheet(**WIDE, **eight[0])) == ["Pack 1 has"]
    assert _sent_to_two_ports(sheet(**WIDE, **eight[0] | eight[1])) == ["Pack 1 and Pack 3 have"]


def test_a_pack_that_is_left_alone_needs_no_port() -> None:
    assert _sent_to_two_ports(sheet(**WIDE, **pack(1, cells="8", resting_v=" ".join(["3.82"] * 8)))) == []
    # One that is balanced is on the charger as for a charge.
    assert _sent_to_two_ports(sheet(**WIDE, **pack(1, cells="8", resting_v="3.90 3.75" + " 3.82" * 6))) == ["Pack 1 has"]


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


def test_where_all_that_is_left_is_on_already_its_end_is_told() -> None:
    begun = {"day_begun": "begun", "start_clock": "18:00", "output_1_ready_clock": "18:30", "output_1_latest_clock": "18:45"}
    for number, rests in enumerate(("11.1", "12.6", "25.2"), 1):
        begun |= {f"packs_{number}_begun_v": rests, f"packs_{number}_resting_v": "", f"packs_{number}_stands": "done"}
    found = sheet(**begun | {"packs_3_stands": "output_1"})
    assert found.done_tonight.figure == "Nothing more to put on"
    assert (found.last_ready.figure, found.last_ready.also) == ("about 18:30", "18:45 at the latest")
    assert sheet(**begun).last_ready is None


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


def test_what_a_weak_second_output_charges_takes_longer_and_is_promised_so() -> None:
    low = {**pack(2, resting_v="10.8"), **pack(3, resting_v="10.9")}
    two = {"charger_outputs": "2", "watched_charges": "2", "start_clock": "18:00"}
    alike, found = sheet(**low, **two), sheet(**low, **two, second_output_current_a="1")
    amperes = {(row.heading.partition(", ")[2], _amperes(row)) for row in found.in_order.rows}
    assert amperes == {("output 1", 2.2), ("output 2", 1.0)}
    assert found.last_ready.figure > alike.last_ready.figure
    alone = sheet(**low, second_output_current_a="1")
    assert alone == sheet(**low)


def own_supply(supply: dict[str, str], **changes: str) -> dict[str, str]:
    return {"second_charger": "another", "second_supply": "own"} | {f"second_{name}": text for name, text in (supply | changes).items()}


TWO = {"charger_outputs": "2", "watched_charges": "2", "start_clock": "18:00"}
LOW = {**pack(2, resting_v="10.8"), **pack(3, resting_v="10.9")}


ANOTHER = {"second_charger": "another", "second_supply": "same"}


def _outputs(found: Any) -> dict[int, int]:
    """The output that each pack is on."""
    return {doing.packs[0]: doing.output for doing in found.in_order.doings}


def test_one_who_watches_one_pack_puts_it_on_the_other_output_once_the_first_is_ready() -> None:
    weak = {"charger_power_w": "1", "second_output_power_w": "60"}
    found = sheet(**(TWO | weak | {"watched_charges": "1"})).in_order
    assert [doing.output for doing in found.doings] == [1, 1, 2] and found.one_at_a_time
    assert ["once output 1 is ready, Pack" in str(row.cells[0]) for row in found.rows] == [False, False, True]
    assert not any("once output" in str(row.cells[0]) for row in sheet(**TWO, **weak).in_order.rows)


def test_a_pack_for_which_the_supply_has_no_power_yet_starts_once_the_other_output_is_ready() -> None:
    large = {"capacity_mah": "5000", "resting_v": "10.5"}
    low = {**pack(1, **large), **pack(2, capacity_mah="1300", resting_v="10.5"), **pack(3, **large)}
    scarce, enough = (sheet(**TWO, **low, charger_power_w="200", all_outputs_w=watts).in_order for watts in ("70", "400"))
    assert [doing.waits_for for doing in enough.doings] == [None, None, None]
    assert [(doing.packs, doing.waits_for) for doing in scarce.doings] == [((1,), None), ((2,), None), ((3,), 1)]
    assert any("Never charge with more current than a line says" in note for note in enough.notes)
    alone = sheet(**TWO | {"charger_outputs": "1"}, **low).in_order
    assert not any("Never charge with more current" in note for note in alone.notes)
    assert ["to start once output 1 is ready, Pack 3" in str(row.cells[0]) for row in scarce.rows] == [False, False, True]


def test_a_pack_that_only_the_second_charger_takes_goes_on_that() -> None:
    found = sheet(
        **TWO, **ANOTHER, charger_cells="3", second_charger_cells="8", second_discharge_current_a="5", second_discharge_power_w="20"
    )
    assert _outputs(found)[3] == 2
    assert [field for field, _ in refused(**TWO, **ANOTHER, charger_cells="3", second_charger_cells="4")] == ["packs_3_cells"]


def test_a_pack_that_only_the_second_output_can_charge_goes_on_that() -> None:
    # A watt is no tenth of an ampere at 12.6 V.
    assert _outputs(sheet(**TWO, charger_power_w="1", second_output_power_w="60"))[1] == 2
    assert _outputs(sheet(**TWO, second_output_power_w="1"))[1] == 1


def test_what_only_one_charger_discharges_is_discharged_on_that() -> None:
    takes = {"second_discharge_current_a": "5", "second_discharge_power_w": "20"}
    outputs = _outputs(sheet(**TWO, **ANOTHER, **takes, discharge_current_a="", discharge_power_w=""))
    assert (outputs[2], outputs[3]) == (2, 2)
    outputs = _outputs(sheet(**TWO, **ANOTHER))
    assert (outputs[2], outputs[3]) == (1, 1)
    neither = refused(**TWO, **ANOTHER, discharge_current_a="", discharge_power_w="")
    assert [field for field, _ in neither] == ["discharge_current_a"]


def test_each_charger_stops_by_its_own_step_of_capacity() -> None:
    found = sheet(**LOW, **TWO, **ANOTHER, second_capacity_step_mah="50", second_output_current_a="5")
    steps = {row.heading.partition(", ")[2]: float(str(row.cells[1]).split("\u00a0")[0]) for row in found.in_order.rows}
    assert steps["output 1"] % 100 == 0 and steps["output 2"] % 50 == 0


def test_each_supply_holds_back_what_it_charges_and_each_battery_is_drawn() -> None:
    weak = sheet(**LOW, **TWO, **own_supply(MAINS, supply_current_a="1"))
    amperes = {(row.heading.partition(", ")[2], _amperes(row)) for row in weak.in_order.rows}
    assert ("output 1", 2.2) in amperes and all(current_a < 1 for output, current_a in amperes if output == "output 2")
    found = sheet(**LOW, **TWO, **BATTERY, **own_supply(BATTERY, supply_kind="vehicle"))
    assert [(level.panel.title, level.floor.value) for level in found.timeline.levels] == [
        ("Battery of output 1", 50),
        ("Battery of output 2", 75),
    ]


def test_of_two_batteries_the_one_that_is_not_at_its_floor_charges() -> None:
    empty = {"battery_resting_v": "12.20"}
    found = sheet(**LOW, **TWO, **BATTERY | empty, **own_supply(BATTERY))
    assert {row.heading.partition(", ")[2] for row in found.in_order.rows} == {"output 2"}
    neither = sheet(**LOW, **TWO, **BATTERY | empty, **own_supply(BATTERY, **empty))
    assert {row.cells[2].partition(": ")[2] for row in neither.not_tonight.rows} == {"each battery rests there already, or below it"}
    one_falls = sheet(**LOW, **TWO, **BATTERY | empty, **own_supply(BATTERY, battery_resting_v="12.25", battery_ah="5"))
    assert {row.cells[2].partition(": ")[2] for row in one_falls.not_tonight.rows} == {"each battery would fall below it"}
    mains = sheet(**LOW, **TWO, **BATTERY | empty, **own_supply(MAINS), time_left_min="20")
    assert {row.cells[2] for row in mains.not_tonight.rows} == {"the time that is left"}


def test_what_is_wrong_with_the_second_supply_is_said_once_at_its_own_entry() -> None:
    assert [field for field, _ in refused(**TWO, **own_supply(MAINS, supply_v="9"))] == ["second_supply_v"]
    # A first supply that is wrong for every pack is said once too, and so is one that only the second charger must not have.
    assert [field for field, _ in refused(**TWO, **ANOTHER, supply_v="9")] == ["supply_v"]
    high = {"supply_v": "24", "charger_input_most_v": "30", "second_charger_input_most_v": "18"}
    [(field, sentence)] = refused(**TWO, **ANOTHER, **high)
    assert field == "supply_v" and sentence.startswith("Second charger: this supply gives")


def test_a_weak_second_output_discharges_as_the_first_does() -> None:
    two = {"charger_outputs": "2", "watched_charges": "2", "start_clock": "18:00", "packs_1_resting_v": "12.6"}
    assert sheet(**two, second_output_current_a="0.5") == sheet(**two)


def _amperes(row: Any) -> float:
    return float(re.search("at ([0-9.]+)\u00a0A", str(row.cells[0]))[1])


def _watts(found: Any, doing: Any) -> float:
    row = found.in_order.rows[found.in_order.doings.index(doing)]
    cells = 6 if doing.packs[0] == 3 else 3
    return _amperes(row) * cells * 4.2


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
    assert str(first.cells[3]) == f"{alone.time.least.number} to {alone.time.most}"


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
    # A charger that balances charges.
    assert any(caution.sentence.startswith("Stay with each one, awake") for caution in found.cautions)


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
