"""The plan of a day: one list in order of time, what it promises, who is left out, and what is refused."""

from __future__ import annotations

import re
from typing import Any

import pytest

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import BATTERY, CHARGER, MAINS

DAY = CHARGER | MAINS | {
    "charger_outputs": "2", "aim": "soonest", "start_clock": "9:00", "change_min": "3", "watched_charges": "2", "pack_degc": "20",
    "requested_rate_c": "1", "balance_plugs_into": "series", "join_length_m": "0.15", "join_area_mm2": "3.3", "day_begun": "new",
}  # fmt: skip


def pack(number: int, **entries: str) -> dict[str, str]:
    sound = {
        "chemistry": "lipo",
        "cells": "3",
        "capacity_mah": "2200",
        "resting_v": "3.70 3.70 3.70",
        "label_charge_rate_c": "1",
        "stands": "waiting",
    }
    return {f"packs_{number}_{name}": text for name, text in (sound | entries).items()}


def packs(count: int) -> dict[str, str]:
    """So many packs of one label, each resting a little above the one before."""
    return {
        name: text
        for number in range(1, count + 1)
        for name, text in pack(number, resting_v=" ".join([f"{3.69 + number / 100:.2f}"] * 3)).items()
    }


def planned(count: int = 4, **changes: str) -> Any:
    found = answer("day_plan", DAY | packs(count) | changes)
    assert not isinstance(found, Refusal), found
    return found


def refused(**changes: str) -> list[tuple[str, str]]:
    found = answer("day_plan", {name: text for name, text in (DAY | packs(3) | changes).items() if text})
    assert isinstance(found, Refusal), "this was answered, and not refused"
    return [(problem.field, problem.sentence) for problem in found.problems]


def test_a_pack_that_one_balance_port_cannot_take_is_named() -> None:
    wide = {"charger_cells": "14", "balance_ports": "2", "port_cells": "7"}
    eight = pack(1, cells="8", resting_v=" ".join(["3.70"] * 8))
    said = [caution.sentence for caution in planned(2, **wide, **eight).cautions]
    assert "More cells than one balance port takes: Pack 1. Its own page asks how many are on each of its plugs." in said
    assert not any("balance port" in caution.sentence for caution in planned(2).cautions)


def test_the_list_goes_by_time_and_starts_with_both_outputs() -> None:
    headings = [row.heading for row in planned().turns.rows]
    assert headings[:2] == ["9:00, output 1", "9:03, output 2"]
    assert [row.cells[0].split(" ")[0] for row in planned().turns.rows].count("Pack") == 4


def test_a_charge_takes_the_current_and_the_minutes_of_its_own_page() -> None:
    entries = DAY | {name.removeprefix("packs_1_"): text for name, text in pack(1).items()} | {"look": "", "read_when": ""}
    alone = answer("charge_settings", {name: text for name, text in entries.items() if text})
    found = planned(2, packs_1_resting_v="3.70 3.70 3.70", packs_2_resting_v="3.70 3.70 3.70")
    row = found.turns.rows[0]
    assert row.cells[0].endswith(f"at {alone.charge_current.figure}, by {alone.charge_current.set_by}")
    hours, minutes = map(int, re.match(r"about (\d+):(\d+)", row.cells[1]).groups())
    # Three minutes to put it on, then the likely charge, rounded up.
    assert 0 <= hours * 60 + minutes - 9 * 60 - 3 - alone.charge_time.likely.value < 1


def test_more_outputs_are_sooner_and_more_hands_than_outputs_are_not() -> None:
    one, two = planned(charger_outputs="1"), planned()
    assert _minutes(one) > _minutes(two)
    assert _minutes(planned(watched_charges="4")) == _minutes(two)
    assert _minutes(planned(watched_charges="1")) == _minutes(one)


def test_what_an_output_more_would_change_is_what_it_changes() -> None:
    one, two = planned(charger_outputs="1"), planned()
    [told] = [str(row.cells[0]) for row in one.what_if.rows if row.heading == "One output more"]
    assert told == f"ready about {_minutes(one) - _minutes(two)}\u00a0min sooner"
    [told] = [str(row.cells[0]) for row in two.what_if.rows if row.heading == "One output more"]
    assert told == "nothing: you watch 2\u00a0charges at once"


def _minutes(found: Any) -> int:
    hours, minutes = map(int, re.search(r"(\d+):(\d+)", found.last_ready.figure).groups())
    return hours * 60 + minutes


def test_without_an_hour_of_the_start_times_count_from_it() -> None:
    found = planned(start_clock="")
    assert found.turns.rows[0].heading == "the start, output 1"
    assert found.last_ready.also.endswith("after the start at the latest")


def test_what_is_wanted_by_an_hour_goes_first_and_is_ready_by_then_at_the_latest() -> None:
    found = planned(charger_outputs="1", packs_4_wanted_clock="10:30")
    assert found.turns.rows[0].cells[0].startswith("Pack 4 alone")
    assert found.left_out is None


def test_what_cannot_be_ready_in_time_is_left_out_and_says_so() -> None:
    found = planned(packs_2_wanted_clock="9:20")
    assert [row.heading.split(":")[0] for row in found.left_out.rows] == ["Pack 2"]
    assert "9:20" in found.left_out.rows[0].cells[0]
    assert str(found.ready.figure).startswith("3 of 4")


def test_as_many_as_can_be_by_an_hour_leaves_out_as_few_as_can_be() -> None:
    # One output, and well over an hour for each pack on its slowest course: two by noon.
    found = planned(aim="by_hour", by_clock="12:00", charger_outputs="1")
    assert len(found.left_out.rows) == 2


def test_a_battery_that_is_too_small_leaves_packs_out_and_a_second_one_would_not() -> None:
    small = BATTERY | {"battery_ah": "30"}
    found = planned(8, **small)
    assert found.left_out and "below it" in found.left_out.rows[0].cells[0]
    assert found.charge_left.least.value >= 50
    [second] = [row for row in found.what_if.rows if row.heading.startswith("A second battery")]
    assert re.match(r"\d packs? more", str(second.cells[0]).replace("\u00a0", " ")) or "more would be ready" in second.cells[0]


def test_a_battery_at_its_floor_charges_nothing_and_says_so() -> None:
    found = planned(2, **BATTERY | {"battery_resting_v": "12.20"})
    assert found.turns is found.timeline is None
    assert all("rests there already" in row.cells[0] for row in found.left_out.rows)


def test_the_least_from_the_battery_takes_no_more_than_the_soonest() -> None:
    large = BATTERY | {"battery_ah": "100"}
    soonest, least = planned(**large), planned(**large, aim="battery")
    assert least.charge_left.least.value >= soonest.charge_left.least.value
    assert _minutes(least) >= _minutes(soonest)


def test_the_least_wear_is_the_slowest_that_still_makes_its_hour() -> None:
    slow, hurried = planned(2, aim="wear"), planned(2, aim="wear", packs_1_wanted_clock="10:50")
    assert [_amperes(row) for row in slow.turns.rows] == [1.1, 1.1]
    assert sorted(map(_amperes, hurried.turns.rows)) == [1.1, 2.2]


def _amperes(row: Any) -> float:
    return float(re.search(r"at ([0-9.]+)\u00a0A", row.cells[0])[1])


def test_packs_go_on_together_only_where_that_is_chosen() -> None:
    alone, together = planned(charger_outputs="1"), planned(charger_outputs="1", joined_by="board")
    assert all(" alone, " in row.cells[0] for row in alone.turns.rows)
    assert any("in parallel" in row.cells[0] for row in together.turns.rows)
    assert _minutes(together) < _minutes(alone)
    series = planned(2, charger_outputs="1", joined_by="series", balance_plugs_into="series")
    assert any("in series" in row.cells[0] for row in series.turns.rows)


def test_a_pack_that_was_read_as_a_whole_goes_on_alone() -> None:
    found = planned(2, charger_outputs="1", joined_by="either", packs_1_resting_v="11.1")
    assert all(" alone, " in row.cells[0] for row in found.turns.rows)
    assert any("Only the whole pack was read: Pack 1" in caution.sentence for caution in found.cautions)


def test_outputs_that_share_their_power_never_take_more_at_once() -> None:
    shared = planned(2, all_outputs_w="40")
    watts = [_amperes(row) * 3 * 4.2 for row in shared.turns.rows]
    overlap = shared.turns.rows[1].heading.startswith("9:03")
    assert sum(watts) <= 40 if overlap else max(watts) <= 40


def test_full_packs_are_named_and_not_charged() -> None:
    found = planned(3, packs_2_resting_v="4.20 4.20 4.20")
    assert any("Full already: Pack 2" in caution.sentence for caution in found.cautions)
    assert len(found.turns.rows) == 2
    full = {f"packs_{number}_resting_v": "4.20 4.20 4.20" for number in (1, 2)}
    nothing = answer("day_plan", DAY | packs(2) | full)
    assert nothing.ready.figure == "Nothing to charge" and nothing.turns is nothing.last_ready is None


BEGUN = {
    "day_begun": "begun", "start_clock": "10:00", "packs_1_stands": "output_1", "packs_1_begun_v": "3.70 3.70 3.70", "packs_1_resting_v": "",
    "packs_2_stands": "done", "packs_2_begun_v": "3.70 3.70 3.70", "packs_2_resting_v": "", "output_1_ready_clock": "10:40",
    "output_1_latest_clock": "11:00",
}  # fmt: skip


def test_a_day_that_has_begun_moves_nothing_and_puts_nothing_on_twice() -> None:
    found = planned(5, **BEGUN)
    headings = {row.cells[0].split(" alone")[0]: row.heading for row in found.turns.rows}
    assert min(name.removeprefix("Pack 1 off, then ") for name in headings) == "Pack 3"
    assert [heading for name, heading in headings.items() if name.startswith("Pack 1 off")] == ["10:40, output 1"]
    assert [bar.words for bar in found.timeline.bars if bar.is_on] == ["Pack 1"]
    assert str(found.ready.figure) == "All that wait, 3\u00a0packs"


def test_what_is_on_or_done_has_taken_its_share_of_the_battery() -> None:
    # Charged from 3.70 V on, two packs of 2.2 Ah take some 30 Wh: over 2 Ah at 12 V of a battery that may give 15.
    small = BATTERY | {"battery_ah": "30"}
    begun, fresh = planned(3, **BEGUN, **small), planned(3, **small)
    assert begun.timeline.level.likely[0] < fresh.timeline.level.likely[0] - 6
    assert begun.charge_left.least.value >= 50


def test_nothing_more_is_put_on_once_all_are_on_or_done() -> None:
    found = planned(2, **BEGUN)
    assert found.ready.figure == "Nothing more to put on" and found.turns is None
    assert found.last_ready.figure == "about 10:40" and found.last_ready.also == "11:00 at the latest"


def test_one_who_watches_one_charge_waits_for_what_is_on() -> None:
    found = planned(3, **BEGUN, watched_charges="1")
    assert [row.heading for row in found.turns.rows] == ["10:40, output 1"]


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"packs_2_resting_v": "2.40 3.70 3.70"}, "packs_2_resting_v"),
        ({"packs_2_wanted_clock": "8:30"}, "packs_2_wanted_clock"),
        ({"aim": "by_hour", "by_clock": "9:00"}, "by_clock"),
        ({"aim": "by_hour"}, "by_clock"),
        ({"aim": "battery"}, "aim"),
        ({"start_clock": "9:75"}, "start_clock"),
        ({"charger_cells": "2"}, "packs_1_cells"),
        (BEGUN | {"start_clock": ""}, "start_clock"),
        (BEGUN | {"output_1_ready_clock": ""}, "output_1_ready_clock"),
        (BEGUN | {"output_1_latest_clock": ""}, "output_1_latest_clock"),
        (BEGUN | {"packs_2_begun_v": ""}, "packs_2_begun_v"),
        (BEGUN | {"packs_2_stands": "output_2", "charger_outputs": "1"}, "charger_outputs"),
    ],
)
def test_what_speaks_against_a_plan_is_named_at_its_entry(changes: dict[str, str], field: str) -> None:
    assert field in [named for named, _ in refused(**changes)]


@pytest.mark.parametrize(("typed", "shown"), [("9:30", "9:30"), ("930", "9:30"), ("9.30", "9:30"), ("9", "9:00"), ("14h05", "14:05")])
def test_an_hour_is_read_as_pilots_write_it(typed: str, shown: str) -> None:
    assert planned(start_clock=typed).turns.rows[0].heading == f"{shown}, output 1"


def test_a_plan_goes_on_after_midnight() -> None:
    assert _minutes(planned(start_clock="23:30")) < 4 * 60


def test_twelve_packs_say_how_far_from_the_best_the_plan_may_be() -> None:
    found = planned(12, **BATTERY, joined_by="either", all_outputs_w="90")
    assert str(found.ready.figure).startswith("All") or "of" in str(found.ready.figure)
    assert re.search("the best order of all|a good order, found without trying every one", found.ready.set_by)


# Some tenths of a watt reach the charger through 30 m of the thinnest lead.
_TINY = {"capacity_mah": "20", "cells": "1", "resting_v": "3.70"}
_THIN_LEAD = {"lead_length_m": "30", "lead_area_mm2": "0.1 mm²", "current_step_a": "0.01", "charger_power_w": "1"}


@pytest.mark.parametrize("supply", [MAINS | {"supply_v": "11.1"}, BATTERY | {"battery_ah": "1"}])
def test_a_supply_that_gives_less_than_a_watt_charges_one_pack_at_a_time(supply: dict[str, str]) -> None:
    day = DAY | supply | _THIN_LEAD | {"charger_input_least_v": "11"} | pack(1, **_TINY) | pack(2, **_TINY)
    found = answer("day_plan", day)
    assert not isinstance(found, Refusal), found
    first, second = found.turns.rows
    begins_min, ready_min = (
        60 * int(hours) + int(minutes)
        for hours, minutes in (re.search(r"(\d+):(\d\d)", text).groups() for text in (second.heading, first.cells[1]))
    )
    # It charges three minutes after it is taken to hand.
    assert begins_min + 3 >= ready_min
