"""Packs one after the other: who may be joined, which label binds, how long balancing takes, and which plug goes where."""

from __future__ import annotations

import re

import pytest

from calc.answering import PartialAnswer, answer, standing_of
from tests.units.calc.joined_charge import PACK, REST, entries, joined, problems, resting

KEY = "packs_in_series"


def test_the_weakest_label_of_all_sets_the_current() -> None:
    answer = joined(KEY, {"label_charge_rate_c": "2"}, {"label_charge_rate_c": "1"}, requested_rate_c="5")
    assert (answer.joint_current.figure.number, answer.joint_current.set_by) == ("5.0", "the charge rate on the label (Pack 2)")


def test_an_aged_pack_counts_with_what_it_still_holds() -> None:
    answer = joined(KEY, {}, {"measured_capacity_mah": "4600"})
    assert answer.joint_current.figure.number == "4.6"
    assert "last measured (Pack 2)" in answer.joint_current.ceilings[0].because


def test_the_rate_that_is_asked_for_counts_from_what_the_smallest_pack_still_holds() -> None:
    fast = {"label_charge_rate_c": "5"}
    answer = joined(KEY, fast, fast | {"measured_capacity_mah": "4600"})
    assert (answer.joint_current.figure.number, answer.joint_current.also.number) == ("4.6", "1.00")
    assert answer.joint_current.set_by == "the rate you asked for, of the smallest pack"


def test_packs_that_rest_alike_but_hold_unlike_are_apart_too() -> None:
    # At 3.80 V 52 % are in it, so each lacks 48 %: of 5000 and of 4600 mAh.
    answer = joined(KEY, {}, {"measured_capacity_mah": "4600"})
    assert answer.to_burn_off.likely.value == pytest.approx(0.48 * 400, abs=2)


def test_power_counts_at_the_full_voltage_of_all_cells() -> None:
    # 84 W over 8 cells at 4.20 V are 2.5 A.
    answer = joined(KEY, charger_power_w="84")
    assert (answer.joint_current.figure.number, answer.joint_current.set_by) == ("2.5", "the charger's highest power")


def test_cells_and_voltages_add_up_and_the_capacity_does_not() -> None:
    answer = joined(KEY)
    shown = [str(one.figure) for one in (answer.cells, answer.full_voltage, answer.capacity_setting)]
    assert shown == ["8\u00a0cells", "33.60\u00a0V", "5000\u00a0mAh"]


def test_the_cells_that_the_charger_must_show_are_a_whole_number() -> None:
    assert "must show 8\u00a0cells, each" in str(next(one.sentence for one in joined(KEY).when_joining)).replace("\\xa0", "\u00a0")


def test_a_third_of_the_capacity_keeps_a_balancer_busy_for_hours() -> None:
    # A third of 5 Ah at 0.2 to 0.5 A: three to eight hours, and wider by what a voltage does not tell.
    answer = joined(KEY, resting(3.75), resting(3.90))
    assert answer.to_burn_off.likely.value == pytest.approx(5000 / 3, rel=0.02)
    hours = answer.balancing_time
    assert hours.least.value < 3.3 and 3.3 < hours.likely.value < 8.3 and hours.most.value > 8.3


def test_a_known_balance_current_is_counted_with() -> None:
    answer = joined(KEY, resting(3.75), resting(3.90), balance_current_a="1")  # under two hours: in minutes
    assert answer.balancing_time.likely.value == pytest.approx(answer.to_burn_off.likely.value / 1000 * 60)


def test_packs_that_are_far_apart_get_no_setting_but_the_way_to_bring_them_level() -> None:
    answer = joined(KEY, resting(3.75), resting(3.90))
    assert answer.join.figure.startswith("Not yet")
    assert answer.joint_current is answer.capacity_cutout is answer.charge_time is None
    low, high = answer.level_first.rows
    assert "3.90" in low.cells[1] and high.cells[2] == "nothing"
    least_mah, most_mah, likely_mah = (float(number) for number in re.findall(r"\d+", low.cells[2]))
    assert least_mah < likely_mah < most_mah and likely_mah == pytest.approx(5000 / 3, rel=0.02)


def test_packs_that_must_wait_are_not_shown_how_they_would_be_joined() -> None:
    no_supply_yet = {name: text for name, text in entries({}, resting(3.95)).items() if not name.startswith("supply_")}
    for waiting in (joined(KEY, {}, resting(3.95)), answer(KEY, no_supply_yet).known):
        assert waiting.join.figure.startswith("Not yet")
        assert waiting.wiring is waiting.ports is None
    assert joined(KEY, {}, resting(3.95)).when_joining == ()
    assert joined(KEY).wiring and joined(KEY).ports and joined(KEY).when_joining


@pytest.mark.parametrize("balance_current_a", ["", "0.1", "0.5"])
@pytest.mark.parametrize("cell_v", ["3.20", "3.80", "4.10"])
def test_the_time_cutout_is_that_of_the_same_cells_in_one_pack(cell_v: str, balance_current_a: str) -> None:
    known = {"balance_current_a": balance_current_a} if balance_current_a else {}
    in_series = joined(KEY, {"resting_v": " ".join([cell_v] * 4)}, {"resting_v": " ".join([cell_v] * 4)}, **known)
    one_pack = REST | PACK | {"cells": "8", "resting_v": " ".join([cell_v] * 8)} | known
    alone = answer("charge_settings", one_pack)
    assert in_series.joint_current.figure.value == alone.charge_current.figure.value
    assert in_series.time_cutout.figure == alone.time_cutout.figure
    assert in_series.capacity_cutout.figure == alone.capacity_cutout.figure


def test_a_levelling_that_may_outlast_the_time_cutout_is_told_beside_it() -> None:
    found = joined(KEY, resting(3.80), resting(3.82), balance_current_a="0.1")
    assert found.time_cutout.figure.value < found.charge_time.most.value + found.balancing_time.most.value * 60
    assert "level may take longer than that" in found.time_cutout.note


def test_packs_of_two_kinds_are_refused() -> None:
    [problem] = problems(KEY, {}, {"chemistry": "life"} | resting(3.3))
    assert problem.field == "packs_2_chemistry" and "one by one" in problem.sentence


def test_a_pack_that_holds_over_a_tenth_less_is_refused_and_one_of_just_a_tenth_is_not() -> None:
    assert [problem.field for problem in problems(KEY, {}, {"capacity_mah": "4400"})] == ["packs_2_capacity_mah"]
    assert [problem.field for problem in problems(KEY, {}, {"measured_capacity_mah": "4400"})] == ["packs_2_measured_capacity_mah"]
    assert joined(KEY, {}, {"capacity_mah": "4500"}).join.figure == "Yes"


def test_more_cells_than_the_charger_takes_are_refused() -> None:
    assert [problem.field for problem in problems(KEY, {}, {}, {})] == ["charger_cells"]


def test_a_parallel_board_is_refused() -> None:
    [problem] = problems(KEY, balance_plugs_into="board")
    assert problem.field == "balance_plugs_into" and "short circuit" in problem.sentence


def test_plugs_without_a_port_are_refused_and_a_balance_lead_in_series_helps() -> None:
    assert [problem.field for problem in problems(KEY, balance_ports="1")] == ["port_cells"]
    answer = joined(KEY, balance_ports="1", balance_plugs_into="series")
    assert [row.cells[0] for row in answer.ports.rows] == ["port 1", "port 1"]


def test_each_plug_is_told_its_port_and_the_cells_that_the_charger_shows() -> None:
    rows = [[str(cell) for cell in row.cells] for row in joined(KEY).ports.rows]
    assert rows == [["port 1", "4\u00a0cells", "cells 1 to 4"], ["port 2", "4\u00a0cells", "cells 5 to 8"]]


def test_a_pack_that_must_not_be_charged_alone_is_named() -> None:
    [problem] = problems(KEY, {}, {"resting_v": "3.8 3.8 2.9 3.8"})
    assert problem.field == "packs_2_resting_v" and problem.sentence.startswith(
        "Pack 2: cell 3 rests at 2.900\N{NO-BREAK SPACE}V, below its floor"
    )


def test_wrong_joins_are_drawn_as_forbidden() -> None:
    assert all(drawing.never for drawing in joined(KEY).never)
    assert not joined(KEY).wiring.never


def test_the_smallest_label_is_the_capacity_of_packs_in_series() -> None:
    answer = joined(KEY, {}, {"capacity_mah": "4600"})
    assert (answer.capacity_setting.figure.number, answer.capacity_setting.set_by.split(",")[0]) == ("4600", "the smallest label")


def test_an_eighth_of_the_capacity_apart_is_too_far_and_a_sixteenth_is_not() -> None:
    def apart(cell_v: float) -> tuple[float, str]:
        answer = joined(KEY, resting(3.80), resting(cell_v))
        return answer.to_burn_off.likely.value / 5000, answer.join.figure

    near, far = apart(3.82), apart(3.86)
    assert near[0] < 0.1 and near[1] == "Yes"
    assert 0.1 < far[0] < 0.2 and far[1].startswith("Not yet")


def test_one_low_cell_among_full_ones_is_what_the_balancer_must_wait_for() -> None:
    # The means are alike, and the lowest cell of all is a tenth of a volt below the highest.
    uneven = joined(KEY, resting(3.83, 3.83, 3.83, 3.73), resting(3.805))
    even = joined(KEY, resting(3.73), resting(3.83))
    assert uneven.to_burn_off.likely.value == pytest.approx(even.to_burn_off.likely.value)


def test_cold_air_is_entered_of_one_pack_and_counts_for_all() -> None:
    # Half of the second label is less than half of 1C, and nobody had told that it lies in the cold beside the first.
    unlike = {"air_degc": "5", "label_charge_rate_c": "5"}, {"label_charge_rate_c": "0.6"}
    by_first, by_each = (joined(KEY, unlike[0], unlike[1] | {"air_degc": second}).joint_current for second in ("", "5"))
    assert (str(by_first.figure), by_first.set_by) == (str(by_each.figure), by_each.set_by)
    unread = {"resting_v": "", "pack_degc": ""}
    so_far = answer(KEY, entries(unlike[0] | unread, unlike[1] | unread)).known.joint_current
    assert so_far.set_by == by_each.set_by


def test_a_pack_that_warms_too_much_by_its_own_resistance_is_told_of_though_that_of_the_other_is_not_known() -> None:
    warm = {"pack_degc": "36", "air_degc": "36", "label_charge_rate_c": "3", **resting(3.60)}

    def warns(first_mohm: str, second_mohm: str) -> bool:
        found = joined(
            KEY,
            warm | {"cell_resistance_mohm": first_mohm},
            warm | {"cell_resistance_mohm": second_mohm},
            requested_rate_c="3",
            charger_power_w="1000",
            supply_current_a="100",
        )
        return any("the charge itself" in one.sentence for one in found.cautions)

    assert [warns(*mohm) for mohm in (("", ""), ("12", ""), ("", "12"), ("12", "12"))] == [False, True, True, True]


def test_the_coldest_pack_makes_the_charge_of_all_slow() -> None:
    mixed, cold, warm = (
        joined(KEY, {"pack_degc": first}, {"pack_degc": second}).charge_time.most.value
        for first, second in (("20", "11"), ("11", "11"), ("20", "20"))
    )
    assert mixed == pytest.approx(cold) and mixed > warm


def test_a_pack_whose_own_cells_are_uneven_is_balanced_by_itself_before_it_is_charged_in_series() -> None:
    answer = joined(KEY, resting(3.80, 3.80, 3.80, 3.84), resting(3.81))
    assert answer.join.figure == "Not yet: balance Pack 1 by itself first" and answer.joint_current is None


def test_packs_that_make_more_than_anybody_may_touch_are_refused_whatever_the_charger_takes() -> None:
    eight = {"cells": "8", "resting_v": "3.8 " * 8}
    [problem] = problems(KEY, eight, eight, charger_cells="16", port_cells="8")
    assert "67.20 V" in problem.sentence.replace("\u00a0", " ") and "14 cells are the most" in problem.sentence.replace("\u00a0", " ")
    seven = {"cells": "7", "resting_v": "3.8 " * 7}
    assert joined(KEY, seven, seven, charger_cells="14", port_cells="7").join.figure == "Yes"


def test_iron_phosphate_goes_to_sixteen_cells() -> None:
    eight = {"chemistry": "life", "cells": "8", "resting_v": "3.3 " * 8}
    assert joined(KEY, eight, eight, charger_cells="16", port_cells="8").cells.figure.number == "16"


def test_a_long_pack_has_one_plug_unless_its_owner_says_how_its_cells_are_parted() -> None:
    long = {"cells": "8", "resting_v": "3.8 " * 8}
    charger = {"charger_cells": "14", "balance_ports": "3", "port_cells": "6"}
    short = {"cells": "6", "resting_v": "3.8 " * 6}
    [problem] = problems(KEY, long, short, **charger)
    assert problem.field == "port_cells" and "how many cells the first one has" in problem.sentence
    rows = [[str(cell) for cell in row.cells] for row in joined(KEY, long | {"first_plug_cells": "5"}, short, **charger).ports.rows]
    assert [row[2] for row in rows] == ["cells 1 to 5", "cells 6 to 8", "cells 9 to 14"]


def test_a_first_plug_with_all_cells_is_sent_back() -> None:
    [problem] = problems(KEY, {}, {"first_plug_cells": "4"})
    assert problem.field == "packs_2_first_plug_cells"


def test_packs_that_were_read_as_a_whole_go_in_series_once_every_cell_has_been_read() -> None:
    answer = joined(KEY, {}, {"resting_v": "15.20"})
    assert answer.join.figure == "Yes, once every cell has been read"
    assert any("hold until every cell has been read" in one.sentence for one in answer.cautions)


def test_packs_that_are_over_ten_degrees_apart_wait_until_they_are_alike() -> None:
    [problem] = problems(KEY, {"pack_degc": "31"}, {"pack_degc": "20"})
    assert problem.field == "packs_1_pack_degc" and "Wait until they are equally warm" in problem.sentence
    assert joined(KEY, {"pack_degc": "30"}, {"pack_degc": "20"}).join.figure == "Yes"


def _alike(count: str, *resting: str) -> dict[str, str]:
    """The shortest entries for packs alike: one label, how many, and what was read on each."""
    label = {f"packs_1_{name}": PACK[name] for name in ("chemistry", "cells", "capacity_mah", "label_charge_rate_c")}
    read = {f"packs_{number}_resting_v": text for number, text in enumerate(resting, 1)}
    degc = {f"packs_{number}_pack_degc": "25" for number in range(1, len(resting) + 1)}
    return REST | label | read | degc | {"alike_packs": count}


def test_packs_alike_are_entered_by_one_label_and_what_was_read_on_each() -> None:
    found = answer(KEY, _alike("2", "3.80 3.80 3.80 3.80", "3.81 3.81 3.81 3.81"))
    assert str(found.cells.figure) == "8\u00a0cells"
    each = {name: PACK[name] for name in ("chemistry", "cells", "capacity_mah", "label_charge_rate_c", "pack_degc")}
    long = {f"packs_{number}_{name}": text for number in (1, 2) for name, text in each.items()}
    long |= {"packs_1_resting_v": "3.80 3.80 3.80 3.80", "packs_2_resting_v": "3.81 3.81 3.81 3.81"}
    assert found == answer(KEY, REST | long)


def test_what_stands_in_another_row_s_label_does_not_count_where_all_are_alike() -> None:
    left_over = {"packs_2_cells": "3", "packs_2_label_charge_rate_c": "9"}
    entries = _alike("2", "3.80 3.80 3.80 3.80", "3.81 3.81 3.81 3.81")
    assert answer(KEY, entries | left_over) == answer(KEY, entries)


def test_of_three_alike_the_third_is_asked_for_its_readings() -> None:
    entries = _alike("3", "3.80 3.80 3.80 3.80", "3.81 3.81 3.81 3.81")
    found = answer(KEY, entries | {"charger_cells": "14", "balance_ports": "3"})
    assert isinstance(found, PartialAnswer) and not found.may_start
    assert "the voltages and the temperature of Pack 3" in found.not_counted


@pytest.mark.parametrize("count", ["1", "9", "2.5", "two"])
def test_a_count_of_packs_that_cannot_be_is_sent_back(count: str) -> None:
    refusal = answer(KEY, _alike(count, "3.80 3.80 3.80 3.80", "3.81 3.81 3.81 3.81"))
    assert "alike_packs" in {one.field for one in refusal.problems}


def test_each_pack_below_its_floor_is_taken_out_of_use_by_its_row_and_no_other_is() -> None:
    low = {"resting_v": "3.70 3.70 2.10 3.70"}
    found = standing_of(answer(KEY, entries({}, low, low)))
    assert (found.taken_out, sorted(found.rows_taken_out)) == ("", ["2", "3"])
    assert all(sentence.startswith("Cell 3 rests at 2.") for sentence in found.rows_taken_out.values())
