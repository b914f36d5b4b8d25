"""Packs side by side: what flows when they are joined, how far apart they may be, and what charges them all."""

from __future__ import annotations

import re

import pytest

from calc.answering import answer as answer_to
from tests.units.calc.joined_charge import entries, joined, problems, resting

KEY = "packs_in_parallel"
# Copper there and back, a tenth and a half of a metre of 3.3 mm²: 1.57 mΩ at least, and a sixth more for strands.
LEAST_LEAD_OHM = 2 * 0.15 * 0.017241 / 3.3
LEAD_OHM = 1.16 * LEAST_LEAD_OHM
APART = (resting(3.75), resting(3.90))


def test_the_highest_current_is_the_difference_over_both_packs_as_they_were_measured() -> None:
    # Four cells of 5 mΩ and their lead, twice, under 0.6 V; a reading is the lowest that the resistance may be.
    answer = joined(KEY, *APART)
    assert answer.joining_current.most.value == pytest.approx(0.6 / (2 * (0.020 + LEAST_LEAD_OHM)))
    assert answer.joining_current.likely.value == pytest.approx(0.6 / (2 * (0.040 + LEAD_OHM)))
    assert answer.joining_current.because.startswith("the resistance of cells and leads; ")


def test_the_largest_difference_is_that_at_which_a_pack_is_charged_as_fast_as_its_label_says() -> None:
    answer = joined(KEY)
    assert answer.largest_difference.figure.value == pytest.approx(5 * 2 * (0.020 + LEAST_LEAD_OHM), abs=0.01)
    assert answer.largest_difference.set_by.startswith("the fastest charge that Pack")


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


def test_packs_that_must_wait_are_not_shown_how_they_would_be_joined() -> None:
    answer = joined(KEY, *APART)
    assert (answer.wiring, answer.when_joining) == (None, ())
    assert answer.never
    together = joined(KEY)
    assert together.wiring and together.when_joining
    no_supply_yet = {name: text for name, text in entries(*APART).items() if not name.startswith("supply_")}
    assert answer_to(KEY, no_supply_yet).known.wiring is None


def test_what_an_empty_pack_takes_is_one_number_where_every_curve_has_it_alike() -> None:
    # An iron phosphate cell: 2.50 V is empty and 3.42 V nearly full, whichever curve it follows.
    small = {"chemistry": "life", "cells": "4", "capacity_mah": "350"}
    answer = joined(KEY, small | {"resting_v": "3.42 " * 4}, small | {"resting_v": "2.50 " * 4})
    assert re.fullmatch(r"3\d\d\smAh", str(answer.level_first.rows[1].cells[2]))


def test_the_difference_that_is_shown_as_allowed_is_allowed_and_a_hundredth_more_is_not() -> None:
    largest_v = float(joined(KEY).largest_difference.figure.number)
    assert joined(KEY, {}, resting(3.8 + largest_v / 4)).join.figure.startswith("Yes")
    assert joined(KEY, {}, resting(3.8 + (largest_v + 0.01) / 4)).join.figure.startswith("Not yet")


def test_through_the_balance_plugs_the_thin_wires_stand_in_the_way_too() -> None:
    # Gauge 22 is 0.326 mm²: 0.15 m are 7.9 mΩ at least, and a clean contact has 2 mΩ. With one cell two wires of each pack stand in the way.
    one_cell = {"cells": "1"}
    answer = joined(KEY, one_cell | {"resting_v": "3.80"}, one_cell | {"resting_v": "3.85"})
    assert answer.by_the_balance_plugs.most.value == pytest.approx(0.05 / (2 * 0.005 + 4 * (0.0079 + 0.002)), rel=0.01)


def test_a_current_above_what_a_balance_plug_is_made_for_is_warned_of_gravely() -> None:
    def main_leads_first(*packs: dict[str, str]) -> bool:
        [caution] = [one for one in joined(KEY, *packs, join_area_mm2="16 mm²").when_joining if one.sentence.startswith("Main leads first")]
        return caution.grave

    fast = {"label_charge_rate_c": "10", "label_discharge_rate_c": "50"}
    assert main_leads_first(fast, fast | resting(3.89))
    assert not main_leads_first(fast, fast | resting(3.805))


def test_after_joining_two_alike_packs_rest_between_where_they_were() -> None:
    answer = joined(KEY, {}, resting(3.825))
    assert 15.2 / 4 < answer.rests_at.likely.value < 15.3 / 4
    assert answer.wait.least.value < answer.wait.likely.value < answer.wait.most.value


def test_packs_that_rest_alike_have_nothing_to_wait_for() -> None:
    answer = joined(KEY)
    assert answer.wait is answer.picture is None
    assert (answer.joining_current.most.number, answer.difference.figure.number) == ("0.0", "0.00")


def test_cells_and_a_whole_pack_that_differ_by_less_than_a_meter_shows_have_nothing_to_draw() -> None:
    # Ten times 2.51 V added up are a hair less than 25.10 V in binary.
    alike = {"chemistry": "liion", "cells": "10"}
    answer = joined(KEY, alike | {"resting_v": "2.51 " * 10}, alike | {"resting_v": "25.10"}, charger_cells="10", port_cells="10")
    assert answer.picture is answer.wait is None


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
    [problem] = problems(KEY, {}, {"cells": "3"} | resting(3.8, 3.8, 3.8))
    assert problem.field == "packs_2_cells" and "Never join" in problem.sentence


def test_two_kinds_of_pack_are_refused() -> None:
    assert [problem.field for problem in problems(KEY, {}, {"chemistry": "life"} | resting(3.3))] == ["packs_2_chemistry"]


# Eight cells of each, and a charger whose balance ports take six.
LONG = {"cells": "8", "resting_v": "3.80 " * 8}
TWO_PORTS = {"charger_cells": "8", "port_cells": "6", "balance_ports": "2"}


def test_two_plugs_of_each_pack_meet_on_two_boards_and_the_charger_shows_each_from_a_port_of_its_own() -> None:
    five = LONG | {"first_plug_cells": "5"}
    answer = joined(KEY, five, five, **TWO_PORTS)
    assert [[(plug.cells, plug.into) for plug in pack.plugs] for pack in answer.wiring.packs] == [
        [((1, 2, 3, 4, 5), "port 1"), ((6, 7, 8), "port 2")]
    ] * 2
    assert (
        "port 1: the charger shows cells 1 to 5," in answer.wiring.wires[2]
        and "port 2: the charger shows cells 6 to 8," in answer.wiring.wires[3]
    )
    [caution] = [one for one in answer.when_joining if "two balance plugs" in one.sentence]
    assert caution.grave and "short circuit" in caution.sentence


def test_packs_with_one_plug_each_are_told_nothing_of_a_second() -> None:
    answer = joined(KEY)
    assert len(answer.wiring.wires) == 3 and "own" not in answer.wiring.wires[2]
    assert not [one for one in answer.when_joining if "two balance plugs" in one.sentence]


def test_how_many_cells_are_on_each_plug_is_asked_of_each_pack_and_never_assumed() -> None:
    asked = problems(KEY, LONG, LONG, **TWO_PORTS)
    assert [(one.field, one.missing) for one in asked] == [("packs_1_first_plug_cells", True), ("packs_2_first_plug_cells", True)]


def test_packs_whose_plugs_share_out_their_cells_unlike_never_meet_on_a_board() -> None:
    [problem] = problems(KEY, LONG | {"first_plug_cells": "5"}, LONG | {"first_plug_cells": "4"}, **TWO_PORTS)
    assert problem.field == "packs_2_first_plug_cells" and "short circuit" in problem.sentence
    [problem] = problems(KEY, LONG, LONG | {"first_plug_cells": "4"}, **TWO_PORTS | {"port_cells": "8"})
    assert problem.field == "packs_2_first_plug_cells" and "short circuit" in problem.sentence


def test_two_plugs_are_refused_where_the_charger_has_one_port() -> None:
    four = LONG | {"first_plug_cells": "4"}
    found = problems(KEY, four, four, **TWO_PORTS | {"port_cells": "8", "balance_ports": "1"})
    assert [one.field for one in found] == ["packs_1_first_plug_cells", "packs_2_first_plug_cells"]
    assert all("there are fewer than two" in one.sentence for one in found)


def test_a_series_lead_is_refused() -> None:
    [problem] = problems(KEY, main_leads_into="series")
    assert problem.field == "main_leads_into" and "short circuit" in problem.sentence


def test_more_cells_than_the_charger_takes_are_refused() -> None:
    assert [problem.field for problem in problems(KEY, charger_cells="3")] == ["packs_1_cells"]


def test_less_than_a_step_of_the_charger_is_said_of_the_smallest_pack() -> None:
    small = {"capacity_mah": "20", "cell_resistance_mohm": "500"}
    [problem] = problems(KEY, {"capacity_mah": "25", "cell_resistance_mohm": "500"}, small, current_step_a="1")
    assert problem.field == "packs_2_capacity_mah" and problem.sentence.startswith("Pack 2: this pack is too small")


def test_packs_that_rest_alike_as_a_whole_are_not_joined_while_their_cells_rest_apart() -> None:
    # The sums are equal, and no main lead would carry anything.
    answer = joined(KEY, resting(3.88, 3.88, 3.79, 3.79), resting(3.79, 3.79, 3.88, 3.88))
    assert answer.difference.figure.number == "0.00"
    assert answer.join.figure == "Not yet: balance Pack 1 and Pack 2 by themselves first"
    assert "rests at 3.79 V in Pack 2 and at 3.88 V in Pack 1" in answer.join.set_by.replace("\u00a0", " ")
    assert answer.through_a_contact.most.value > 3
    assert answer.joint_current is answer.picture is answer.charge_time is None


def test_the_cell_that_is_out_of_line_is_named_with_its_pack_and_what_to_do() -> None:
    answer = joined(KEY, resting(3.87, 3.87, 3.68, 3.87), resting(3.81))
    assert "cell 3 rests at" in answer.join.set_by and "a contact of a balance plug, and 3.0 A may" in answer.join.set_by.replace(
        "\u00a0", " "
    )
    assert answer.join.figure == "Not yet: balance Pack 1 by itself first"
    assert answer.cautions[0].grave and "their cells are too far apart" in answer.cautions[0].sentence


def test_a_pack_whose_own_cells_are_uneven_is_balanced_by_itself_before_it_meets_another() -> None:
    # Far less flows than a contact bears: what binds is that the pack is not level in itself.
    answer = joined(KEY, resting(3.80, 3.80, 3.80, 3.84), resting(3.81))
    assert answer.through_a_contact.most.value < 3
    assert answer.join.figure == "Not yet: balance Pack 1 by itself first"
    assert "the cells of Pack 1 rest 0.04 V apart" in answer.join.set_by.replace("\u00a0", " ")
    assert "balance it alone" in answer.level_first.rows[0].cells[1] and answer.level_first.rows[1].cells[2] == "nothing"


def test_a_tenth_of_a_volt_between_cells_of_one_place_is_the_most_whatever_flows() -> None:
    # Cells of 100 mΩ let little flow: what binds is the practice alone.
    slow = {"cell_resistance_mohm": "100", "label_charge_rate_c": "5"}
    allowed = joined(KEY, slow | resting(3.80, 3.80, 3.83, 3.83), slow | resting(3.83, 3.83, 3.80, 3.80))
    assert allowed.join.figure.startswith("Yes")
    apart = joined(KEY, slow | resting(3.90, 3.90, 3.79, 3.79), slow | resting(3.79, 3.79, 3.90, 3.90))
    assert apart.through_a_contact.most.value < 3
    assert apart.join.figure.startswith("Not yet") and "0.10 V is the most" in apart.join.set_by.replace("\u00a0", " ")


def test_a_cell_of_a_small_pack_is_not_charged_through_the_plugs_faster_than_its_label_says() -> None:
    # 1C of 400 mAh is 0.4 A, far below what a contact bears; it may give ten times as much.
    small = {"capacity_mah": "400", "label_discharge_rate_c": "10"}
    answer = joined(KEY, small | resting(3.82, 3.82, 3.79, 3.79), small | resting(3.79, 3.79, 3.82, 3.82))
    assert answer.through_a_contact.most.value < 3
    assert answer.join.figure.startswith("Not yet") and "would flow into a cell of Pack" in answer.join.set_by


def test_a_current_that_is_too_much_never_reads_as_what_may_flow() -> None:
    # A hair above 1C of 1000 mAh.
    small = {"capacity_mah": "1000", "label_discharge_rate_c": "10"}
    found = joined(KEY, small | resting(3.82, 3.82, 3.80, 3.80), small | resting(3.80, 3.80, 3.82, 3.82))
    told = re.search(r"up to ([0-9.]+) A would flow .*, and ([0-9.]+) A may", found.join.set_by.replace("\u00a0", " "))
    assert told and float(told[1]) > float(told[2])


@pytest.mark.parametrize("whole", [1, 2])
def test_a_pack_that_was_read_as_a_whole_is_joined_only_once_each_of_its_cells_has_been_read(whole: int) -> None:
    packs = [{}, {}]
    packs[whole - 1] = {"resting_v": "15.20"}
    answer = joined(KEY, *packs)
    assert answer.join.figure == "Not yet: read every cell first"
    assert answer.join.set_by.startswith(f"Pack {whole}: measured as a whole")
    assert answer.joint_current is answer.through_a_contact is answer.level_first is None
    assert answer.cautions[0].grave and "not every cell" in answer.cautions[0].sentence


def test_a_single_cell_is_a_cell_that_was_read() -> None:
    assert joined(KEY, {"cells": "1", "resting_v": "3.80"}, {"cells": "1", "resting_v": "3.81"}).join.figure.startswith("Yes")


def test_the_largest_difference_of_whole_packs_is_told_for_one_cell_too() -> None:
    fast = {"label_charge_rate_c": "10", "label_discharge_rate_c": "50"}
    note = joined(KEY, fast, fast, join_area_mm2="16 mm2").largest_difference.note
    assert note == "For one cell 0.10\u00a0V."
    assert joined(KEY, fast, fast, join_area_mm2="16 mm2").largest_cell_difference.figure.number == "0.10"


@pytest.mark.parametrize("other", ["12.19", "4.13 3.99 4.07", "3.99 4.07 4.13"])
def test_packs_that_a_meter_cannot_tell_apart_are_level_and_draw_no_picture(other: str) -> None:
    # 4.07 + 3.99 + 4.13 is not 12.19 in binary, nor the same in every order.
    packs = [{"cells": "3", "resting_v": "4.07 3.99 4.13"}, {"cells": "3", "resting_v": other}]
    answer = joined(KEY, *packs)
    assert answer.difference.set_by == "your readings: all rest alike"
    assert answer.picture is answer.wait is answer.moved is None


def test_a_current_that_reads_as_nothing_is_not_drawn() -> None:
    # A millivolt over two packs of 500 mΩ a cell is a quarter of a milliampere.
    weak = {"cell_resistance_mohm": "500"}
    assert joined(KEY, weak | resting(3.8), weak | {"resting_v": "3.801 3.8 3.8 3.8"}).picture is None


def test_packs_of_which_one_holds_more_than_twice_the_other_are_charged_apart() -> None:
    # At 9 A for both a plug of the large one that slips would leave the small one with 18C.
    [problem] = problems(KEY, {"capacity_mah": "500"}, {"capacity_mah": "10000"})
    assert problem.field == "packs_1_capacity_mah" and "more than twice" in problem.sentence
    assert joined(KEY, {"capacity_mah": "2500"}, {}).join.figure.startswith("Yes")
    aged = problems(KEY, {}, {"capacity_mah": "10000"}, {"measured_capacity_mah": "4900"})
    assert [problem.field for problem in aged] == ["packs_3_capacity_mah"]


def test_the_supply_binds_the_current_of_all_together() -> None:
    # 24 V and 3 A at 85 %, less what the lead loses, over four cells at 4.20 V: 3.6 A.
    answer = joined(KEY, supply_current_a="3")
    assert answer.joint_current.figure.value == pytest.approx(3 * 24 * 0.85 / 16.8, abs=0.1)
    assert "supply" in answer.joint_current.set_by


def test_the_power_of_the_charger_binds_the_current_of_all_together() -> None:
    # 84 W over four cells at 4.20 V are 5 A.
    answer = joined(KEY, charger_power_w="84")
    assert (answer.joint_current.figure.number, answer.joint_current.set_by) == ("5.0", "the charger's highest power")


def test_what_a_pack_may_give_binds_where_it_is_less_than_the_other_may_take() -> None:
    # 2C may be taken, 1C given: 5 A over two packs of four cells of 5 mΩ and their leads.
    takes = {"label_charge_rate_c": "2", "label_discharge_rate_c": "1"}
    answer = joined(KEY, takes, takes)
    assert answer.largest_difference.figure.value == pytest.approx(5 * 2 * (0.020 + LEAST_LEAD_OHM), abs=0.01)
    assert answer.largest_difference.set_by.startswith("the discharge rate on the label of Pack")


def test_a_measured_resistance_is_that_of_the_cell_however_much_it_has_aged() -> None:
    aged = {"measured_capacity_mah": "4500"}
    new, old = (joined(KEY, one | resting(3.8), one | resting(3.82)).joining_current for one in ({}, aged))
    assert (old.least.value, old.most.value) == (pytest.approx(new.least.value), pytest.approx(new.most.value))


def test_cells_of_no_known_resistance_are_judged_by_the_lowest_that_their_kind_has() -> None:
    # From memory, no source: new packs for high rates have 0.004 Ω Ah. 0.016 V lie between two of four cells of 5 Ah.
    unknown = {"cell_resistance_mohm": ""}
    highest_a = joined(KEY, unknown | resting(3.80), unknown | resting(3.804)).joining_current.most.value
    assert highest_a == pytest.approx(0.016 / (2 * (4 * 0.004 / 5 + LEAST_LEAD_OHM)), rel=0.001)


@pytest.mark.parametrize("rate_c", ["", "1", "5", "20", "40"])
def test_a_modest_discharge_rate_on_the_label_says_nothing_of_the_least_resistance(rate_c: str) -> None:
    # From memory, no source: 0.004 Ω Ah. 3 x 0.08 V lie between two of three cells of 2.2 Ah, whose labels allow a charge at 1C.
    small = {"cells": "3", "capacity_mah": "2200", "cell_resistance_mohm": "", "label_discharge_rate_c": rate_c}
    answer = joined(KEY, small | {"resting_v": "3.80 3.80 3.80"}, small | {"resting_v": "3.88 3.88 3.88"})
    loop_ohm = 2 * (3 * 0.004 / 2.2 + LEAST_LEAD_OHM)
    assert answer.join.figure.startswith("Not yet")
    assert answer.joining_current.most.value == pytest.approx(0.24 / loop_ohm, rel=0.001)
    assert answer.largest_difference.figure.value == pytest.approx(2.2 * loop_ohm, abs=0.01)


def test_the_coldest_pack_makes_the_charge_of_all_slow() -> None:
    # Both are above where the current is halved, and half of 1C binds for all: nothing but the resistance differs.
    mixed, cold, warm = (
        joined(KEY, {"pack_degc": first}, {"pack_degc": second}, requested_rate_c="0.5").charge_time.most.value
        for first, second in (("20", "11"), ("11", "11"), ("20", "20"))
    )
    assert mixed == pytest.approx(cold) and mixed > warm


def test_packs_that_are_over_ten_degrees_apart_wait_until_they_are_alike() -> None:
    [problem] = problems(KEY, {"pack_degc": "31"}, {"pack_degc": "20"})
    assert problem.field == "packs_1_pack_degc" and "Wait until they are equally warm" in problem.sentence
    assert joined(KEY, {"pack_degc": "30"}, {"pack_degc": "20"}).join.figure.startswith("Yes")


def test_cold_air_is_entered_of_one_pack_and_counts_for_all() -> None:
    # The second pack has the lower resistance, and takes most at first: in air of which only the first one's entries told.
    by_first, by_each = (
        joined(KEY, {"air_degc": "5", "cell_resistance_mohm": "20"}, {"air_degc": second, "cell_resistance_mohm": "4"}).joint_current.figure
        for second in ("", "5")
    )
    assert by_first == by_each


def test_the_coldest_pack_halves_the_current_and_the_warmest_is_watched_for_the_heat() -> None:
    # 5C of 5 Ah, and half of 1C at 10 °C: the cold pack's 2.5 A is half of all, whatever the warm one would take.
    fast = {"label_charge_rate_c": "5"}
    cold = joined(KEY, fast | {"pack_degc": "10"}, fast | {"pack_degc": "20"}, requested_rate_c="5")
    assert cold.joint_current.figure.value <= 2 * 2.5 and "cold pack" in cold.joint_current.set_by
    hot = joined(KEY, *(fast | {"pack_degc": degc, "air_degc": "35"} for degc in ("35", "44.5")), requested_rate_c="5")
    assert any("warm the pack past its stop" in one.sentence and one.grave for one in hot.cautions)


def test_cold_air_halves_the_current_of_warm_packs() -> None:
    fast = {"label_charge_rate_c": "5", "pack_degc": "12"}
    answer = joined(KEY, fast, fast | {"air_degc": "1"}, requested_rate_c="5")
    assert answer.joint_current.figure.value <= 2 * 2.5 and "cold air" in answer.joint_current.set_by


def test_packs_that_must_wait_get_no_word_of_settings_that_hold() -> None:
    cautions = [one.sentence for one in joined(KEY, {}, {"resting_v": "15.20"}).cautions]
    assert not any("settings" in sentence for sentence in cautions)


def test_who_does_not_wait_sends_a_part_of_the_first_current_through_the_plugs() -> None:
    # Half of 0.03 V for each of two single cells; beside the main leads lie two wires of 7.9 mΩ with contacts of 2 mΩ. Most goes through
    # these where the leads have the most that they may.
    one_cell = {"cells": "1"}
    answer = joined(KEY, one_cell | {"resting_v": "3.80"}, one_cell | {"resting_v": "3.83"})
    wires_ohm = 2 * (0.0079 + 0.002)
    side_by_side_ohm = LEAD_OHM * wires_ohm / (LEAD_OHM + wires_ohm)
    first_a = 0.015 / (0.005 + side_by_side_ohm)
    assert answer.through_a_contact.most.value == pytest.approx(first_a * LEAD_OHM / (LEAD_OHM + wires_ohm), rel=0.01)


def test_the_cells_are_judged_after_the_wait_since_the_first_current_has_limits_of_its_own() -> None:
    # On long leads the plugs would take as much as the leads at first, and more than half of 1C would flow; 0.5 A are left of it.
    slow = {"label_charge_rate_c": "0.5"}
    answer = joined(KEY, slow | resting(3.80), slow | resting(3.86), join_length_m="3")
    assert answer.join.figure.startswith("Yes")


def test_a_cell_gives_no_more_through_the_plugs_than_its_label_says() -> None:
    small = {"capacity_mah": "400", "label_charge_rate_c": "10", "label_discharge_rate_c": "0.5"}
    answer = joined(KEY, small | resting(3.82, 3.82, 3.79, 3.79), small | resting(3.79, 3.79, 3.82, 3.82))
    assert answer.join.figure.startswith("Not yet") and "would flow out of a cell of Pack" in answer.join.set_by


def test_a_hundredth_of_a_volt_a_cell_is_a_difference_that_flows_and_dies_away() -> None:
    answer = joined(KEY, resting(3.80), resting(3.81))
    assert answer.difference.figure.number == "0.04" and answer.wait.most.value > 0 and answer.picture is not None


def test_cells_that_differ_stay_as_far_apart_as_they_were_when_the_packs_have_come_level() -> None:
    answer = joined(KEY, resting(3.80, 3.80, 3.83, 3.83), resting(3.835))
    assert answer.join.figure.startswith("Yes")
    assert answer.rests_at.least.value < 3.815 < 3.835 < answer.rests_at.most.value
