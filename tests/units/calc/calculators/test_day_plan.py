"""The plan of a day: one list in order of time, what it promises, who is left out, and what is refused."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import pytest

from calc.answering import answer, answer_in_units
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import BATTERY, CHARGER, MAINS

DAY = CHARGER | MAINS | {
    "charger_outputs": "2", "second_charger": "same", "aim": "soonest", "start_clock": "9:00", "change_min": "3", "watched_charges": "2", "pack_degc": "20",
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


def test_the_reason_of_a_current_is_in_the_chosen_unit() -> None:
    found = answer_in_units("day_plan", DAY | packs(2) | {"pack_degc": "8"}, {"temperature": "degf"}).found
    assert all(str(row.cells[0]).endswith("half the current up to 50\u00a0°F") for row in found.turns.rows)


def refused(**changes: str) -> list[tuple[str, str]]:
    found = answer("day_plan", {name: text for name, text in (DAY | packs(3) | changes).items() if text})
    assert isinstance(found, Refusal), "this was answered, and not refused"
    return [(problem.field, problem.sentence) for problem in found.problems]


def test_a_pack_that_one_balance_port_cannot_take_is_named() -> None:
    wide = {"charger_cells": "14", "balance_ports": "2", "port_cells": "7"}
    eight = pack(1, cells="8", resting_v=" ".join(["3.70"] * 8))
    said = [caution.sentence for caution in planned(2, **wide, **eight).cautions]
    assert any(
        one.startswith("Pack 1 has more cells than one balance port takes. Put each of its two balance plugs into a port") for one in said
    )
    assert not any("balance port" in caution.sentence for caution in planned(2).cautions)


def test_packs_with_two_balance_plugs_are_not_put_on_a_board_together() -> None:
    ports = {"charger_cells": "14", "balance_ports": "2", "charger_power_w": "1000", "charger_outputs": "1", "joined_by": "board"}
    eights = {f"packs_{number}_{name}": text for number in (1, 2) for name, text in (("cells", "8"), ("resting_v", " ".join(["3.70"] * 8)))}
    on_one_plug, on_two = (planned(2, **ports, **eights, port_cells=port_cells) for port_cells in ("8", "7"))
    assert [row.cells[0].partition(", at ")[0] for row in on_one_plug.turns.rows] == ["Pack 1 and Pack 2 in parallel"]
    assert all("alone" in row.cells[0] for row in on_two.turns.rows)


def test_each_pack_that_is_too_small_for_the_charger_s_step_is_named_at_its_own_entry() -> None:
    # Of twelve packs "this pack" was none that anybody could find.
    small = {f"packs_{number}_capacity_mah": "350" for number in (2, 3)}
    found = refused(**small, current_step_a="0.5")
    assert [field for field, _ in found] == list(small)
    assert [sentence.partition(":")[0] for _, sentence in found] == ["Pack 2", "Pack 3"]


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


def test_a_second_output_that_gives_less_charges_more_slowly_and_the_first_as_before() -> None:
    found = planned(3, second_output_current_a="1")
    by_output = {
        heading: [row.cells[0] for row in found.turns.rows if row.heading.endswith(heading)] for heading in ("output 1", "output 2")
    }
    assert [text.partition(", at ")[2] for text in by_output["output 1"]] == ["2.2\u00a0A, by the charge rate on the label"] * 2
    assert [text.partition(", at ")[2] for text in by_output["output 2"]] == ["1.0\u00a0A, by the charger's highest current"]
    assert found.timeline.lanes == ("Output 1", "Output 2")
    for bar in found.timeline.bars:
        assert any(f"{bar.words} alone" in text for text in by_output[f"output {bar.lane + 1}"])


def test_a_second_output_counts_by_its_power_too_and_what_is_left_empty_is_as_the_first_has_it() -> None:
    # 12.6 W is 1 A at the full voltage of three cells.
    assert sorted(_amperes(row) for row in planned(3, second_output_power_w="12.6").turns.rows) == [1.0, 2.2, 2.2]
    alike = {"second_output_current_a": CHARGER["charger_current_a"], "second_output_power_w": CHARGER["charger_power_w"]}
    assert planned(4, **alike) == planned(4)
    assert planned(4, second_output_current_a="1", charger_outputs="1") == planned(4, charger_outputs="1")


def test_with_one_output_nothing_is_asked_of_a_second_one() -> None:
    unreadable = dict.fromkeys(("second_output_current_a", "second_output_power_w", "all_outputs_w"), "x")
    assert planned(3, **unreadable, charger_outputs="1") == planned(3, charger_outputs="1")
    assert {field for field, _ in refused(**unreadable)} == unreadable.keys()


def test_a_pack_goes_where_it_is_ready_sooner() -> None:
    # Eight amperes into the large one, and half an ampere at most on the first output: it waits for nothing else.
    large = {"packs_1_capacity_mah": "8000", "packs_1_label_charge_rate_c": "1"}
    found = planned(3, **large, charger_current_a="2", second_output_current_a="10")
    [row] = [row for row in found.turns.rows if row.cells[0].startswith("Pack 1 alone")]
    assert row.heading.endswith("output 2") and _amperes(row) == 8.0


def test_one_who_watches_one_charge_has_it_on_the_output_on_which_all_are_ready_sooner() -> None:
    found = planned(3, watched_charges="1", second_output_current_a="1")
    assert {row.heading.partition(", ")[2] for row in found.turns.rows} == {"output 1"}
    found = planned(3, watched_charges="1", charger_current_a="1", second_output_current_a="10")
    assert {row.heading.partition(", ")[2] for row in found.turns.rows} == {"output 2"}
    assert found.timeline.lanes == ("Output 1", "Output 2") and {bar.lane for bar in found.timeline.bars} == {1}


def test_one_who_watches_one_charge_has_each_pack_on_the_output_that_is_the_better_for_it() -> None:
    # The first is the stronger and takes three cells, the second is weaker and takes six: the pack of six cells goes there.
    six = pack(3, cells="6", resting_v=" ".join(["3.70"] * 6))
    found = planned(3, **six, **ANOTHER, charger_cells="4", second_charger_cells="6", second_output_current_a="1", watched_charges="1")
    assert sorted(row.heading.partition(", ")[2] for row in found.turns.rows) == ["output 1", "output 1", "output 2"]
    assert _is_one_at_a_time(found)


def test_one_who_watches_one_charge_takes_from_two_batteries_in_turn() -> None:
    small = {"battery_ah": "15"}
    entries = BATTERY | small | own_supply(BATTERY, **small)
    one, in_turn, at_once = (planned(6, **given) for given in (BATTERY | small, entries | {"watched_charges": "1"}, entries))
    assert len(one.turns.rows) < len(in_turn.turns.rows) == len(at_once.turns.rows)
    assert {doing.output for doing in in_turn.turns.doings} == {1, 2}
    assert _is_one_at_a_time(in_turn) and not _is_one_at_a_time(at_once)
    # Of a battery from which one charge is fed at a time no more is asked than that.
    assert in_turn.charge_left.likely.value >= at_once.charge_left.likely.value


def test_a_line_of_one_charge_at_a_time_names_the_other_output_that_must_be_ready_first() -> None:
    entries = BATTERY | {"battery_ah": "15"} | own_supply(BATTERY, battery_ah="15")
    in_turn = planned(6, **entries, watched_charges="1").turns
    outputs = [doing.output for doing in in_turn.doings]
    assert {1, 2} <= set(outputs)
    for before, now, row in zip([None, *outputs[:-1]], outputs, in_turn.rows, strict=True):
        named = [int(number) for number in re.findall(r"once output (\d) is ready, ", str(row.cells[0]))]
        assert named == ([before] if before not in (None, now) else [])
    assert in_turn.one_at_a_time and "as soon as the charge before has ended" in in_turn.notes[0]
    at_once = planned(6, **entries).turns
    assert not at_once.one_at_a_time and "as soon as an output is free" in at_once.notes[0]
    assert not any("once output" in str(row.cells[0]) for row in at_once.rows)


@pytest.mark.parametrize(("all_outputs_w", "waits"), [("100", [0, 0, 1]), ("400", [0, 0, 0])])
def test_a_line_for_which_the_supply_has_no_power_yet_names_the_other_output_that_must_be_ready_first(
    all_outputs_w: str, waits: list[int]
) -> None:
    # At 12.6 V the large ones take 63 W each, and the small one 16 W: beside it one of them may charge, and both of them never.
    large = {"capacity_mah": "5000", "label_charge_rate_c": "1", "resting_v": "3.60 3.60 3.60"}
    found = planned(
        3, **pack(1, **large), **pack(2, capacity_mah="1300"), **pack(3, **large), charger_power_w="200", all_outputs_w=all_outputs_w
    ).turns  # fmt: skip
    lines = list(zip(found.doings, found.rows, strict=True))
    assert [doing.waits_for or 0 for doing, _ in lines] == waits
    for doing, row in lines:
        said = re.findall(r"to start once output (\d) is ready, Pack", str(row.cells[0]))
        assert said == ([str(doing.waits_for)] if doing.waits_for else [])
    assert ("only once that is ready, however late" in found.notes[0]) == any(waits)
    # It is put on while the other goes on, and starts with its end.
    ends_min = {doing.output: doing.ready_min for doing, _ in lines[:2]}
    assert all(doing.begin_min + doing.put_on_min == ends_min[doing.waits_for] for doing, _ in lines if doing.waits_for)


def test_where_outputs_share_a_supply_no_page_of_one_charge_raises_the_current_of_a_line() -> None:
    large = {"capacity_mah": "5000", "resting_v": "3.60 3.60 3.60"}
    thin = {"charger_power_w": "200", "lead_area_mm2": "0.75 mm²", "lead_length_m": "1"}
    both = {**pack(1, **large), **pack(2, **large), **thin}

    def most_is_said(found: Any) -> bool:
        return any("never more current than its line here" in caution.sentence for caution in found.cautions)

    # A lead with a fuse of 7.5 A feeds both: by its own page each pack would take nearly all that it carries.
    shared = planned(2, **both)
    alone = answer("charge_settings", DAY | thin | {name.removeprefix("packs_1_"): text for name, text in pack(1, **large).items()})
    amperes = [float(re.search(r"at ([\d.]+)\s", str(row.cells[0])).group(1)) for row in shared.turns.rows]
    assert max(amperes) < alone.charge_current.figure.value and most_is_said(shared)
    for not_shared in (
        planned(2, **both, charger_outputs="1"),
        planned(2, **both, watched_charges="1"),
        planned(2, **both, **own_supply(MAINS)),
    ):
        assert not most_is_said(not_shared)


def _is_one_at_a_time(found: Any) -> bool:
    bars = sorted(found.timeline.bars, key=lambda bar: bar.put_on_min)
    return all(after.put_on_min >= before.ends_min for before, after in pairwise(bars))


def test_an_output_more_is_like_the_first_and_says_so_where_they_differ() -> None:
    headings = [row.heading for row in planned(6, watched_charges="4", second_output_current_a="1").what_if.rows]
    assert headings == ["One output more like output 1"]
    assert [row.heading for row in planned(6, watched_charges="4").what_if.rows] == ["One output more"]


def test_a_pack_that_one_output_cannot_charge_goes_on_the_other_and_one_that_neither_can_is_refused() -> None:
    # A watt is no tenth of an ampere at 12.6 V.
    assert {row.heading.partition(", ")[2] for row in planned(2, second_output_power_w="1").turns.rows} == {"output 1"}
    assert {row.heading.partition(", ")[2] for row in planned(2, charger_power_w="1", second_output_power_w="60").turns.rows} == {
        "output 2"
    }
    assert "the charger's highest power" in " ".join(sentence for _, sentence in refused(charger_power_w="1"))


def test_what_is_on_a_weak_output_stays_and_the_rest_goes_on_as_each_output_can() -> None:
    on_second = {name.replace("output_1", "output_2"): text.replace("output_1", "output_2") for name, text in BEGUN.items()}
    found = planned(5, **on_second, second_output_current_a="1")
    by_output = {(row.heading.partition(", ")[2], _amperes(row)) for row in found.turns.rows}
    assert by_output <= {("output 1", 2.2), ("output 2", 1.0)}
    assert [(bar.words, bar.lane) for bar in found.timeline.bars if bar.is_on] == [("Pack 1", 1)]
    assert all(row.heading.partition(",")[0] >= "10:40" for row in found.turns.rows if "Pack 1 off" in row.cells[0])


def test_unlike_outputs_that_share_their_power_leave_room_for_each_other() -> None:
    # The second takes 12.6 W, so 27.4 W are left of 40 W: 2.1 A for three cells, and not half of it.
    found = planned(3, all_outputs_w="40", second_output_power_w="12.6")
    by_output = {(row.heading.partition(", ")[2], row.cells[0].partition(" at ")[2]) for row in found.turns.rows}
    assert ("output 1", "2.1\u00a0A, by what the other output leaves of the power of all outputs together") in by_output
    assert ("output 2", "1.0\u00a0A, by the charger's highest power") in by_output


ANOTHER = {"second_charger": "another", "second_supply": "same"}


def test_what_is_left_empty_of_another_charger_is_as_the_first_has_it() -> None:
    assert planned(4, **ANOTHER) == planned(4)
    unasked = {"second_charger_cells": "x", "second_efficiency_percent": "x", "second_supply": "x"}
    assert planned(4, **unasked) == planned(4)


def test_a_pack_goes_on_no_charger_that_takes_fewer_cells_and_is_refused_where_neither_takes_it() -> None:
    six = pack(1, cells="6", resting_v=" ".join(["3.70"] * 6))
    found = planned(4, **six, **ANOTHER, second_charger_cells="4")
    [row] = [row for row in found.turns.rows if row.cells[0].startswith(("Pack 1 alone", "Pack 1 off")) or "then Pack 1 " in row.cells[0]]
    assert "output 1" in row.heading
    found = planned(4, **six, **ANOTHER, charger_cells="4", second_charger_cells="8")
    [row] = [row for row in found.turns.rows if "Pack 1 alone" in row.cells[0]]
    assert "output 2" in row.heading
    assert [field for field, _ in refused(**six, **ANOTHER, charger_cells="4", second_charger_cells="5")] == ["packs_1_cells"]


def test_each_charger_is_dialled_in_by_its_own_steps_and_loses_its_own_share() -> None:
    found = planned(2, **ANOTHER, second_current_step_a="0.5")
    assert [text.partition(" at ")[2][:3] for text in _of_output(found, 1)] == ["2.2"]
    assert [text.partition(" at ")[2][:3] for text in _of_output(found, 2)] == ["2.0"]
    wasteful = planned(2, **BATTERY, **ANOTHER, second_efficiency_percent="60")
    assert wasteful.charge_left.likely.value < planned(2, **BATTERY).charge_left.likely.value


def test_each_charger_balances_as_quickly_as_it_can() -> None:
    found = planned(2, **ANOTHER, balance_current_a="0.05", second_balance_current_a="1")
    # On the first, levelling a pack may take longer than two charges on the second.
    assert {doing.output for doing in found.turns.doings} == {2}
    assert {doing.output for doing in planned(2, **ANOTHER, balance_current_a="1", second_balance_current_a="1").turns.doings} == {1, 2}


def test_packs_are_joined_on_the_charger_whose_ports_take_them() -> None:
    # Two of three cells one after the other need six on one board; the first takes no more than four.
    series = {"joined_by": "series", "balance_plugs_into": "series"}
    found = planned(2, **series, **ANOTHER, charger_cells="4", second_charger_cells="8", watched_charges="1")
    assert [(row.heading, "in series" in row.cells[0]) for row in found.turns.rows] == [("9:00, output 2", True)]


def test_the_second_charger_is_held_against_the_supply_that_feeds_it() -> None:
    high = own_supply(MAINS, supply_v="24")
    [(field, sentence)] = refused(**high, second_charger_input_most_v="18")
    assert field == "second_supply_v" and "the charger takes 18.0\u00a0V at most" in sentence
    found = planned(2, **high, charger_input_most_v="18")
    assert any("Read the charger's highest input voltage" in caution.sentence for caution in found.cautions)
    same = [field for field, _ in refused(**ANOTHER, supply_v="24", charger_input_most_v="30", second_charger_input_most_v="18")]
    assert same == ["supply_v"]


def own_supply(supply: dict[str, str], **changes: str) -> dict[str, str]:
    """A supply of its own for the second output."""
    return {"second_charger": "another", "second_supply": "own"} | {f"second_{name}": text for name, text in (supply | changes).items()}


def _of_output(found: Any, number: int) -> list[str]:
    return [row.cells[0] for row in found.turns.rows if row.heading.endswith(f"output {number}")]


def test_on_the_same_supply_nothing_is_asked_of_a_second_one_and_no_number_is_another() -> None:
    typed = {name: "x" for name in own_supply(BATTERY | MAINS) if name != "second_charger"}
    assert planned(4, **typed) == planned(4)
    assert planned(4, **typed, **BATTERY) == planned(4, **BATTERY)
    assert planned(4, **own_supply(MAINS), charger_outputs="1") == planned(4, charger_outputs="1")


def test_a_second_supply_like_the_first_lets_both_outputs_charge_as_one_that_has_enough_for_both() -> None:
    assert planned(4, **own_supply(MAINS)).last_ready == planned(4).last_ready


def test_a_weak_supply_holds_back_what_hangs_on_it_and_nothing_else() -> None:
    # 2 A at 13.8 V and 85 %, less what is lost in the lead, are some 23 W: 1.8 A at 12.6 V.
    weak = {"supply_current_a": "2"}
    found = planned(3, **own_supply(MAINS, **weak))
    assert [text.partition(" at ")[2] for text in _of_output(found, 1)] == ["2.2\u00a0A, by the charge rate on the label"] * 2
    assert [text.partition(" at ")[2] for text in _of_output(found, 2)] == ["1.8\u00a0A, by the supply's highest current"]
    found = planned(3, **weak, **own_supply(MAINS))
    assert {text.partition(" at ")[2][:3] for text in _of_output(found, 1)} == {"1.8"}
    assert {text.partition(" at ")[2][:3] for text in _of_output(found, 2)} == {"2.2"}


def test_each_battery_is_drawn_and_told_and_keeps_its_own_floor() -> None:
    found = planned(4, **BATTERY, **own_supply(BATTERY, supply_kind="vehicle", battery_ah="40"))
    assert [level.panel.title for level in found.timeline.levels] == ["Battery of output 1", "Battery of output 2"]
    assert [level.floor.value for level in found.timeline.levels] == [50, 75]
    assert "The battery of output 1 falls from" in found.timeline.told and "The battery of output 2 falls from" in found.timeline.told
    assert found.charge_left.note.startswith("The one of output 1. From")
    assert found.second_charge_left.note.startswith("From") and "75\u00a0%" in found.second_charge_left.note
    assert found.second_charge_left.least.value >= 75


def test_a_battery_gives_nothing_for_what_hangs_on_the_other() -> None:
    def fallen(found: Any, number: int) -> float:
        likely = found.timeline.levels[number].panel.likely
        return likely[0] - likely[-1]

    one, two = planned(2, **BATTERY), planned(2, **BATTERY, **own_supply(BATTERY))
    assert min(fallen(two, 0), fallen(two, 1)) > 0
    assert abs(fallen(two, 0) + fallen(two, 1) - fallen(one, 0)) < 1


def test_a_battery_beside_a_mains_supply_is_the_only_one_that_falls() -> None:
    found = planned(4, **own_supply(BATTERY))
    assert [level.panel.title for level in found.timeline.levels] == ["Battery of output 2"]
    assert found.charge_left is None and found.second_charge_left is not None
    assert next(row.heading for row in found.what_if.rows) == "A second battery like this one"
    beside = planned(4, **BATTERY, **own_supply(MAINS))
    assert beside.charge_left is not None and beside.second_charge_left is None


def test_what_one_battery_cannot_charge_hangs_on_the_other_and_only_what_neither_can_is_left_out() -> None:
    small = {"battery_ah": "15"}
    one, two = planned(6, **BATTERY | small), planned(6, **BATTERY | small, **own_supply(BATTERY, **small))
    assert len(one.turns.rows) < len(two.turns.rows) < 6
    assert {row.cells[0].partition(" (")[0] for row in two.left_out.rows} == {"the battery's floor, 50\u00a0%"}
    assert all(row.cells[0].endswith(": each battery would fall below it") for row in two.left_out.rows)
    assert next(row.heading for row in two.what_if.rows) == "A second battery like each of these"
    # On one that rests at its floor nothing is charged, and the other gives what it can.
    beside = planned(6, **BATTERY | {"battery_resting_v": "12.20"}, **own_supply(BATTERY, **small))
    assert _of_output(beside, 1) == [] and len(_of_output(beside, 2)) == len(one.turns.rows)
    empty = BATTERY | {"battery_resting_v": "12.20"}
    nothing = planned(2, **empty, **own_supply(empty))
    assert nothing.turns is None and "each battery rests there already" in nothing.left_out.rows[0].cells[0]


def test_floors_that_differ_are_both_named() -> None:
    small = {"battery_ah": "12"}
    found = planned(6, **BATTERY | small, **own_supply(BATTERY, supply_kind="vehicle", **small))
    told = {row.cells[0] for row in found.left_out.rows if "floor" in row.cells[0]}
    cited = "(common practice, no source)"
    assert told == {
        f"the battery's floor, 50\u00a0% {cited} and what the vehicle needs to start, 75\u00a0% {cited}: each battery would fall below its own"
    }


def test_the_least_from_the_battery_is_nothing_where_another_output_hangs_on_the_mains() -> None:
    found = planned(3, **BATTERY, **own_supply(MAINS), aim="battery")
    assert _of_output(found, 1) == [] and len(_of_output(found, 2)) == 3
    assert [field for field, _ in refused(**own_supply(MAINS), aim="battery")] == ["aim"]


def test_what_is_done_on_the_second_output_has_taken_its_share_of_the_second_battery() -> None:
    two = BATTERY | own_supply(BATTERY)
    first, second = planned(5, **BEGUN, **two), planned(5, **BEGUN | {"packs_2_stands": "done_2"}, **two)

    def before(found: Any, number: int) -> float:
        return found.timeline.levels[number].panel.likely[0]

    assert before(first, 0) < before(second, 0) and before(first, 1) > before(second, 1)
    assert planned(5, **BEGUN | {"packs_2_stands": "done_2"}) == planned(5, **BEGUN)


def test_what_is_missing_or_wrong_of_the_second_supply_is_named_at_its_own_entry() -> None:
    own = own_supply(BATTERY)
    missing = [field for field, _ in refused(**own | {"second_battery_ah": "", "second_lead_length_m": ""})]
    assert missing == ["second_battery_ah", "second_lead_length_m"]
    [(field, sentence)] = refused(**own | {"second_battery_resting_v": "14.4"})
    assert field == "second_battery_resting_v" and sentence.startswith("Second charger: no such battery rests above")
    [(field, _)] = refused(**own_supply(MAINS, supply_v="9"))
    assert field == "second_supply_v"


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
    assert begun.timeline.levels[0].panel.likely[0] < fresh.timeline.levels[0].panel.likely[0] - 6
    assert begun.charge_left.least.value >= 50


def test_nothing_more_is_put_on_once_all_are_on_or_done() -> None:
    found = planned(2, **BEGUN)
    assert found.ready.figure == "Nothing more to put on" and found.turns is None
    assert found.last_ready.figure == "about 10:40" and found.last_ready.also == "11:00 at the latest"


def test_on_a_late_day_what_was_wanted_by_an_hour_that_has_passed_is_charged_and_told() -> None:
    found = planned(3, **BEGUN, packs_3_wanted_clock="9:30")
    assert "Pack 3" in found.turns.rows[0].cells[0]
    assert any("Pack 3 was wanted by 9:30, which has passed" in caution.sentence for caution in found.cautions)


def test_after_the_hour_of_all_charges_nothing_more_is_put_on_and_each_says_why() -> None:
    found = planned(4, **BEGUN, aim="by_hour", by_clock="9:45")
    assert found.turns is None
    assert [row.cells for row in found.left_out.rows] == [("no charge ends after 9:45, which has passed",)] * 2


# The start, the hours and what each shift of them is, in minutes: over midnight at the last ones.
_HOURS_OF_A_DAY = {"start_clock": 9 * 60, "packs_1_wanted_clock": 12 * 60, "packs_3_wanted_clock": 22 * 60, "by_clock": 13 * 60}
_HOURS_OF_A_BEGUN_DAY = _HOURS_OF_A_DAY | {
    "packs_3_wanted_clock": 8 * 60, "packs_4_wanted_clock": 14 * 60, "output_1_ready_clock": 9 * 60 + 40, "output_1_latest_clock": 10 * 60
}  # fmt: skip


@pytest.mark.parametrize("begun", [False, True])
@pytest.mark.parametrize("aim", ["soonest", "by_hour"])
def test_a_plan_is_the_same_at_every_hour_of_the_clock(aim: str, begun: bool) -> None:
    hours = _HOURS_OF_A_BEGUN_DAY if begun else _HOURS_OF_A_DAY

    def doings(shift_min: int) -> Any:
        clocks = {name: (clock_min + shift_min) % (24 * 60) for name, clock_min in hours.items()}
        typed = {name: f"{clock_min // 60}:{clock_min % 60:02}" for name, clock_min in clocks.items()}
        found = planned(5, **(BEGUN if begun else {}) | typed, aim=aim)
        return found.turns.doings, found.left_out and len(found.left_out.rows), len(found.cautions)

    first = doings(0)
    for shift_min in (60, 6 * 60 + 7, 11 * 60, 14 * 60 + 30, 15 * 60, 20 * 60):
        assert doings(shift_min) == first


def test_one_who_watches_one_charge_waits_for_what_is_on() -> None:
    found = planned(3, **BEGUN, watched_charges="1")
    assert [row.heading for row in found.turns.rows] == ["10:40, output 1"]


def test_one_who_watches_one_charge_puts_nothing_on_before_all_that_is_on_already_has_ended() -> None:
    both = BEGUN | {"packs_2_stands": "output_2", "output_2_ready_clock": "11:05", "output_2_latest_clock": "11:20"}
    waiting = planned(4, **both, watched_charges="1").turns.rows
    assert [row.heading[:5] for row in waiting][:1] == ["11:05"] and len(waiting) == 2
    assert [row.heading[:5] for row in planned(4, **both, watched_charges="2").turns.rows] == ["10:40", "11:05"]


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


@pytest.mark.parametrize(("start", "wanted"), [("22:00", "17:00"), ("9:00", "8:30"), ("9:00", "9:00")])
def test_an_hour_out_of_the_plan_is_refused_by_how_far_a_plan_reaches(start: str, wanted: str) -> None:
    # 17:00 is nineteen hours after 22:00, and five before it.
    for changes, field in (
        ({"packs_1_wanted_clock": wanted}, "packs_1_wanted_clock"),
        ({"aim": "by_hour", "by_clock": wanted}, "by_clock"),
    ):
        [(named, sentence)] = refused(start_clock=start, **changes)
        assert named == field
        assert "plan reaches 18\u00a0h from the hour at which you begin" in sentence
    assert planned(3, start_clock="22:00", packs_1_wanted_clock="15:30").left_out is None


@pytest.mark.parametrize(("typed", "shown"), [("9:30", "9:30"), ("930", "9:30"), ("9.30", "9:30"), ("9", "9:00"), ("14h05", "14:05")])
def test_an_hour_is_read_as_pilots_write_it(typed: str, shown: str) -> None:
    assert planned(start_clock=typed).turns.rows[0].heading == f"{shown}, output 1"


def test_a_plan_goes_on_after_midnight() -> None:
    assert _minutes(planned(start_clock="23:30")) < 4 * 60


def test_a_day_whose_best_order_is_not_proven_says_how_many_minutes_off_it_may_be() -> None:
    found = planned(12, all_outputs_w="30")
    assert str(found.ready.figure) == "All, 12\u00a0packs"
    said = re.fullmatch(r"a good order, found without trying every one: it ends at most (\d+)\u00a0min after the best", found.ready.set_by)
    assert said and 0 < int(said[1]) < _minutes(found) - 9 * 60


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
