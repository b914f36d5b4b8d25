"""Packs side by side: what flows when they are joined, how far apart they may be, and what charges them all."""

from __future__ import annotations

import pytest

from tests.units.calc.joined_charge import joined, problems

KEY = "packs_in_parallel"
# Copper there and back, a tenth and a half of a metre of 3.3 mm², a sixth more for strands: 1.82 mΩ.
LEAD_OHM = 2 * 0.15 * 0.017241 * 1.16 / 3.3
APART = ({"resting_v": "15.00"}, {"resting_v": "15.60"})


def test_the_highest_current_is_the_difference_over_both_packs_as_they_were_measured() -> None:
    # Four cells of 5 mΩ and their lead, twice, under 0.6 V; a reading is the lowest that the resistance may be.
    answer = joined(KEY, *APART)
    assert answer.joining_current.most.value == pytest.approx(0.6 / (2 * (0.020 + LEAD_OHM)))
    assert answer.joining_current.likely.value == pytest.approx(0.6 / (2 * (0.040 + LEAD_OHM)))


def test_the_largest_difference_is_that_at_which_a_pack_is_charged_as_fast_as_its_label_says() -> None:
    answer = joined(KEY)
    assert answer.largest_difference.figure.value == pytest.approx(5 * 2 * (0.020 + LEAD_OHM), abs=0.01)
    assert "faster than its label says" in answer.largest_difference.set_by


def test_common_practice_binds_where_the_label_would_allow_more() -> None:
    fast = {"label_charge_rate_c": "10", "label_discharge_rate_c": "50"}
    answer = joined(KEY, fast, fast, join_area_mm2="16 mm²")
    assert answer.largest_difference.figure.number == "0.40"
    assert answer.largest_difference.set_by.startswith("common practice, no source")


def test_a_thin_lead_binds_where_it_carries_less_than_the_packs() -> None:
    fast = {"label_charge_rate_c": "10", "label_discharge_rate_c": "50"}
    assert joined(KEY, fast, fast, join_area_mm2="0.5").largest_difference.set_by.startswith("the lead of Pack")


def test_a_cold_pack_may_rest_half_as_far_apart() -> None:
    # At 10 °C its charge current is halved, and its resistance has risen: less than the half of both, more than the half of one.
    warm, cold = (joined(KEY, {"pack_degc": degc}, {"pack_degc": degc}).largest_difference.figure.value for degc in ("11", "10"))
    assert cold < 0.6 * warm


def test_packs_that_are_too_far_apart_get_no_setting_but_the_way_to_bring_them_level() -> None:
    answer = joined(KEY, *APART)
    assert answer.join.figure.startswith("Not yet")
    assert answer.cautions[0].grave and "Do not join" in answer.cautions[0].sentence
    assert answer.joint_current is answer.picture is answer.wait is answer.charge_time is None
    assert [row.cells[2] for row in answer.level_first.rows][1] == "nothing"


def test_the_difference_that_is_shown_as_allowed_is_allowed_and_a_hundredth_more_is_not() -> None:
    largest_v = float(joined(KEY).largest_difference.figure.number)
    assert joined(KEY, {}, {"resting_v": f"{15.2 + largest_v:.2f}"}).join.figure.startswith("Yes")
    assert joined(KEY, {}, {"resting_v": f"{15.2 + largest_v + 0.01:.2f}"}).join.figure.startswith("Not yet")


def test_through_the_balance_plugs_the_thin_wires_stand_in_the_way_too() -> None:
    # Gauge 22 is 0.326 mm²: 0.15 m there and back are 18.4 mΩ a pack, in place of the lead's.
    answer = joined(KEY, *APART)
    assert answer.by_the_balance_plugs.most.value == pytest.approx(0.6 / (2 * (0.020 + 0.0184)), rel=0.01)


def test_a_current_above_what_a_balance_plug_is_made_for_is_warned_of_gravely() -> None:
    def main_leads_first(*packs: dict[str, str]) -> bool:
        [caution] = [one for one in joined(KEY, *packs).cautions if one.sentence.startswith("Main leads first")]
        return caution.grave

    assert main_leads_first(*APART)
    assert not main_leads_first({}, {"resting_v": "15.22"})


def test_after_joining_two_alike_packs_rest_between_where_they_were() -> None:
    answer = joined(KEY, {}, {"resting_v": "15.30"})
    assert 15.2 / 4 < answer.rests_at.likely.value < 15.3 / 4
    assert answer.wait.least.value < answer.wait.likely.value < answer.wait.most.value


def test_packs_that_rest_alike_have_nothing_to_wait_for() -> None:
    answer = joined(KEY)
    assert answer.wait is answer.picture is None
    assert (answer.joining_current.most.number, answer.difference.figure.number) == ("0.0", "0.00")


def test_cells_and_a_whole_pack_that_differ_by_less_than_a_meter_shows_can_still_be_drawn() -> None:
    # Ten times 2.51 V added up are a hair less than 25.10 V in binary.
    alike = {"chemistry": "liion", "cells": "10"}
    picture = joined(KEY, alike | {"resting_v": "2.51 " * 10}, alike | {"resting_v": "25.10"}, charger_cells="10", port_cells="10").picture
    assert picture is None or picture.times[-1].value > 0


def test_capacities_add_up_and_so_do_the_currents() -> None:
    answer = joined(KEY, {}, {"capacity_mah": "2500", "cell_resistance_mohm": "10"}, join_length_m="0.02", join_area_mm2="35 mm²")
    assert answer.capacity_setting.figure.number == "7500"
    # Twice the resistance for half of the capacity, and next to no lead: both take their share by capacity.
    assert answer.joint_current.figure.number == "7.4"
    assert answer.full_voltage.figure.number == "16.80"


def test_the_slowest_label_counts_for_all() -> None:
    answer = joined(KEY, {}, {"label_charge_rate_c": "0.5"})
    assert answer.joint_current.figure.value <= 0.5 * 10


def test_a_pack_of_low_resistance_takes_more_at_first_and_so_binds() -> None:
    answer = joined(KEY, {"cell_resistance_mohm": "2"}, {"cell_resistance_mohm": "20"})
    assert answer.joint_current.figure.value < 0.6 * 10
    assert "Pack 1" in answer.joint_current.set_by and "low resistance" in answer.joint_current.set_by


def test_if_one_plug_slips_out_the_others_take_its_part() -> None:
    slips = joined(KEY).if_one_slips
    assert slips.figure.number == "2.00" and slips.note.startswith("More than the label of Pack 2 allows")
    assert "More than" not in joined(KEY, {"label_charge_rate_c": "2"}, {"label_charge_rate_c": "2"}).if_one_slips.note


def test_unequal_cell_counts_are_forbidden() -> None:
    [problem] = problems(KEY, {}, {"cells": "3", "resting_v": "11.4"})
    assert problem.field == "packs_2_cells" and "Never join" in problem.sentence


def test_two_kinds_of_pack_are_refused() -> None:
    assert [problem.field for problem in problems(KEY, {}, {"chemistry": "life", "resting_v": "13.2"})] == ["packs_2_chemistry"]


def test_a_series_lead_is_refused() -> None:
    [problem] = problems(KEY, main_leads_into="series")
    assert problem.field == "main_leads_into" and "short circuit" in problem.sentence


def test_more_cells_than_the_charger_takes_are_refused() -> None:
    assert [problem.field for problem in problems(KEY, charger_cells="3")] == ["packs_1_cells"]


def test_less_than_a_step_of_the_charger_is_said_of_the_smallest_pack() -> None:
    small = {"capacity_mah": "20", "cell_resistance_mohm": "500"}
    [problem] = problems(KEY, {"capacity_mah": "25", "cell_resistance_mohm": "500"}, small, current_step_a="1")
    assert problem.field == "packs_2_capacity_mah" and problem.sentence.startswith("Pack 2: this pack is too small")
