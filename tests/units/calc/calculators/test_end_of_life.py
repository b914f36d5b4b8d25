"""End of life: what ends it, what empties a whole pack, and that a harmed one is left as it is."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answering import answer
from calc.inputs.refusals import Problem, Refusal

ENTRIES = {
    "look": "sound", "chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "resting_v": "3.84 3.85 3.84 3.83", "pack_degc": "20",
    "load_kind": "resistor", "emptying_rate_c": "0.2",
}  # fmt: skip
LAMPS = {"load_kind": "lamps", "lamp_v": "12", "lamp_w": "21"}


def retired(**changes: str) -> Any:
    found = answer("end_of_life", ENTRIES | changes)
    assert not isinstance(found, Refusal), found
    return found


def problem(**changes: str) -> Problem:
    refusal = answer("end_of_life", ENTRIES | changes)
    assert isinstance(refusal, Refusal)
    return refusal.problems[0]


@pytest.mark.parametrize(
    "look", ["smoking", "swollen", "leaking", "bent", "soaked", "overcharged", "was-hot", "shorted", "crashed", "rained-on"]
)
def test_a_harmed_pack_is_never_emptied_and_needs_no_other_entry(look: str) -> None:
    [only] = answer("end_of_life", {"look": look}).problems
    assert only.go_to.startswith("pack-in-trouble#")
    assert "do not discharge or charge it" in only.sentence


def test_a_pack_that_was_crashed_or_shorted_once_is_judged_and_gets_no_load() -> None:
    found = retired(look="watched", measured_capacity_mah="3900")
    assert found.life.figure == "Take it out of use"
    assert found.resistor is found.current_at_start is found.time_to_empty is found.stop_at_cell is found.picture is None
    assert [(caution.grave, caution.go_to) for caution in found.cautions] == [(True, "pack-in-trouble#afterwards")]
    assert "is not emptied" in found.cautions[0].sentence


@pytest.mark.parametrize("resting_v, section", [("3.84 2.95 3.84 3.83", "run-too-flat"), ("4.20 4.30 4.20 4.20", "charged-too-far")])
def test_a_cell_outside_its_limits_is_not_emptied(resting_v: str, section: str) -> None:
    refused = problem(resting_v=resting_v)
    assert (refused.field, refused.go_to) == ("resting_v", f"pack-in-trouble#{section}")


@pytest.mark.parametrize(
    "pack_degc, go_to, says", [("-1", "", "too cold"), ("50", "", "too warm"), ("61", "pack-in-trouble#hot-pack", "Get away")]
)
def test_a_cold_or_a_warm_pack_waits_and_a_hot_one_is_left(pack_degc: str, go_to: str, says: str) -> None:
    refused = problem(pack_degc=pack_degc)
    assert (refused.field, refused.go_to) == ("pack_degc", go_to)
    assert says in refused.sentence


def test_a_cell_that_has_dropped_away_ends_the_pack_and_it_is_emptied() -> None:
    assert retired(resting_v="4.15 4.15 3.70 4.15").life.figure == "Take it out of use"


@pytest.mark.parametrize("measured_mah, life", [("4001", "Not at its end"), ("4000", "Take it out of use")])
def test_four_of_five_ampere_hours_end_it(measured_mah: str, life: str) -> None:
    assert retired(measured_capacity_mah=measured_mah).life.figure == life


@pytest.mark.parametrize("kind", ["unknown", "nimh"])
def test_a_kind_that_is_not_worked_out_is_handed_in_and_told_nothing_of_a_charge(kind: str) -> None:
    refused = problem(chemistry=kind)
    assert (refused.field, refused.go_to) == ("chemistry", "handing-in")
    assert "cover its contacts" in refused.sentence.lower()
    assert "mode" not in refused.sentence and "full voltage" not in refused.sentence


def test_a_pack_that_has_not_rested_is_read_again_before_it_is_emptied() -> None:
    assert problem(read_when="flown").field == "read_when"


def test_each_cell_s_resistance_counts_as_on_the_check_page() -> None:
    assert retired(cell_resistances_mohm="5 5 5 10").life.figure == "Take it out of use"


def test_two_loads_tell_the_resistance_of_a_cell() -> None:
    # 0.6 V over 4 A are 150 milliohm for four cells; 37.5 for one, twice 18.75.
    two_loads = {"first_load_v": "15.4", "first_load_a": "1", "second_load_v": "14.8", "second_load_a": "5"}
    assert retired(**two_loads, new_resistance_mohm="18.7").life.figure == "Take it out of use"
    assert retired(**two_loads, new_resistance_mohm="18.8").life.figure == "Not at its end"


def test_what_two_loads_tell_is_shown_to_be_entered_for_the_other_pages() -> None:
    two_loads = {"first_load_v": "15.4", "first_load_a": "1", "second_load_v": "14.8", "second_load_a": "5"}
    shown = retired(**two_loads).by_two_loads
    assert shown.figure.value == pytest.approx(37.5) and "Enter it as the resistance of one cell" in shown.note
    assert retired(cell_resistance_mohm="5").by_two_loads is None


def test_two_loads_tell_the_mean_of_the_cells_and_hide_no_worse_one() -> None:
    # 37.5 milliohm is what the four have on average: one of 80 has doubled, whatever the others make of it.
    two_loads = {"first_load_v": "15.4", "first_load_a": "1", "second_load_v": "14.8", "second_load_a": "5", "new_resistance_mohm": "40"}
    for worst in ({"cell_resistance_mohm": "80"}, {"cell_resistances_mohm": "80 45 45 45"}, {"cell_resistances_mohm": "80 80 80 80"}):
        alone, besides = retired(**worst, new_resistance_mohm="40"), retired(**worst, **two_loads)
        assert (besides.life, besides.ends) == (alone.life, alone.ends)
        assert besides.life.figure == "Take it out of use"
        assert besides.ends.rows[-1].cells[0].number == "200"
        assert besides.by_two_loads.figure.value == pytest.approx(37.5) and "the higher 80.0\u00a0mΩ" in besides.by_two_loads.note


def test_two_loads_the_wrong_way_round_are_asked_for_again() -> None:
    assert problem(first_load_v="15.0", first_load_a="5", second_load_v="15.4", second_load_a="1").field == "second_load_v"


@pytest.mark.parametrize(
    "loads, field, says",
    [
        # 15.36 V at rest, and 0.02 V for each cell that a meter may be off.
        (("15.45", "1", "14.8", "5"), "first_load_v", "This pack rests at 15.36 V, and a load only lowers that: read both again."),
        (("60", "0", "58", "20"), "first_load_v", "This pack rests at 15.36 V, and a load only lowers that: read both again."),
        # One cell's, where the whole pack's are asked.
        (("3.80", "1", "3.65", "5"), "second_load_v", "Enter the voltage of the whole pack, 4 cells: 3.65 V is what one of them may have."),
        (("15.2", "1", "4.25", "5"), "second_load_v", "Enter the voltage of the whole pack, 4 cells: 4.25 V is what one of them may have."),
        # 5.2 V over 0.1 A, and 0.01 V over 18 A.
        (("15.2", "0", "10", "0.1"), "second_load_v", "No cell has so much resistance: read both again, under loads further apart."),
        (("15.20", "2", "15.195", "20"), "second_load_v", "No cell has so little resistance: read both again, under loads further apart."),
    ],
)  # fmt: skip
def test_two_loads_that_cannot_be_of_this_pack_are_asked_for_again(loads: tuple[str, str, str, str], field: str, says: str) -> None:
    names = ("first_load_v", "first_load_a", "second_load_v", "second_load_a")
    refused = problem(**dict(zip(names, loads, strict=True)))
    assert (refused.field, refused.sentence.replace("\u00a0", " ")) == (field, says)


def test_two_loads_just_within_what_this_pack_may_show_are_believed() -> None:
    assert retired(
        first_load_v="15.44", first_load_a="0", second_load_v="4.26", second_load_a="50"
    ).by_two_loads.figure.value == pytest.approx(55.9)


@pytest.mark.parametrize(
    "left_out, says",
    [
        ("first_load_v", "Enter the pack voltage under a small load: two loads count together, or not at all."),
        ("first_load_a", "Enter the current of the small load: two loads count together, or not at all."),
        ("second_load_v", "Enter the pack voltage under a large load: two loads count together, or not at all."),
        ("second_load_a", "Enter the current of the large load: two loads count together, or not at all."),
    ],
)
def test_what_is_missing_of_two_loads_is_asked_for(left_out: str, says: str) -> None:
    two_loads = {"first_load_v": "15.4", "first_load_a": "1", "second_load_v": "14.8", "second_load_a": "5"}
    refused = problem(**two_loads | {left_out: ""})
    assert (refused.field, refused.sentence, refused.missing) == (left_out, says, True)


def test_the_resistor_is_sized_at_the_full_voltage_and_rated_twice() -> None:
    found = retired()
    assert (found.resistor.figure.number, found.resistor_rating.figure.number) == ("18", "32")
    assert "E12" in found.resistor.set_by and "MIL-PRF-26" in found.resistor_rating.set_by


@pytest.mark.parametrize("cell_v, is_there", [("3.00", True), ("3.20", True), ("3.21", False)])
def test_a_pack_that_rests_at_its_stop_already_is_not_sent_to_be_emptied_down_to_it(cell_v: str, is_there: bool) -> None:
    # 12.8 V are four times the careful cutoff of 3.2 V.
    found = retired(resting_v=" ".join([cell_v] * 4))
    assert found.stop_at_pack.figure.number == "12.80"
    said = [caution.sentence.replace("\u00a0", " ") for caution in found.cautions if "hand it in as it is" in caution.sentence]
    rests = f"It rests at {4 * float(cell_v):.2f} V, and by the whole pack you would stop at 12.80 V: hand it in as it is, its contacts covered."
    assert said == ([rests] if is_there else [])


def test_an_aged_pack_is_emptied_by_what_it_holds() -> None:
    # 16.8 V over 0.2 x 3.9 Ah are 21.5 ohm.
    assert retired(measured_capacity_mah="3900").resistor.figure.number == "22"


def test_a_measured_resistance_counts_the_same_in_a_pack_that_holds_half_of_its_label() -> None:
    own = {"cell_resistance_mohm": "200", "resistor_ohm": "10", "resistor_w": "100"}
    aged, small = retired(measured_capacity_mah="2500", **own), retired(capacity_mah="2500", measured_capacity_mah="2500", **own)
    assert aged.current_at_start == small.current_at_start
    assert aged.time_to_empty == small.time_to_empty
    # 15.36 V into 10 ohm and four cells of 400 mΩ, twice what was read.
    assert aged.current_at_start.likely.value == pytest.approx(15.36 / 11.6, rel=0.05)


def test_what_is_at_hand_is_named_so() -> None:
    assert retired(resistor_ohm="33", resistor_w="50").resistor.set_by == "what you have"


def test_the_heat_at_the_start_follows_ohm_s_law() -> None:
    # 15.36 V on 18 ohm are 13.1 W, less a little that is lost inside.
    assert retired().heat_at_start.likely.value == pytest.approx(15.36**2 / 18, rel=0.02)


def test_minutes_lie_where_charge_over_current_puts_them() -> None:
    # About 60 % of 5 Ah, at 3.7 V x 4 / 18 ohm = 0.82 A: some 220 min; an old pack may hold 60 % of its label.
    span = retired().time_to_empty
    assert span.least.value < 110 < 170 < span.likely.value < 240 < span.most.value


def test_a_measured_capacity_makes_the_range_narrower() -> None:
    wide, narrow = retired().time_to_empty, retired(measured_capacity_mah="5000").time_to_empty
    assert narrow.most.value - narrow.least.value < wide.most.value - wide.least.value


def test_it_stops_at_the_floor_of_the_weakest_cell_or_earlier_by_the_pack() -> None:
    found = retired(resting_v="3.84 3.84 3.84 3.84")
    assert (found.stop_at_cell.figure.number, found.stop_at_pack.figure.number) == ("3.00", "12.80")


def test_a_pack_of_unequal_cells_is_stopped_by_its_sum_before_the_lowest_is_below_its_floor() -> None:
    # A hair of 0.02 V in the middle of the curve is a third of a volt at its end: the others stand that much higher.
    for resting_v in ("3.84 3.85 3.84 3.83", "4.15 4.15 3.70 4.15"):
        found = retired(resting_v=resting_v)
        assert found.stop_at_pack.figure.value > 12.80
        assert "when the lowest is at its floor" in found.stop_at_pack.set_by
    assert found.stop_at_pack.figure.value > 3.00 + 3 * 3.6


def test_the_load_sees_the_sum_of_the_cells_and_not_the_lowest_four_times() -> None:
    # 4.15 x 3 + 3.70 = 16.15 V on 18 ohm are 0.90 A, less what is lost inside; four times 3.70 V would be 0.82 A.
    assert 0.85 < retired(resting_v="4.15 4.15 3.70 4.15").current_at_start.likely.value < 0.90


def test_the_pack_s_voltage_to_stop_at_holds_until_every_cell_has_been_read() -> None:
    assert "until every cell has been read" in retired(resting_v="15.4").stop_at_pack.note


def test_lamps_show_how_many_and_no_resistor() -> None:
    found = retired(**LAMPS)
    assert str(found.lamps.figure) == "2\N{NO-BREAK SPACE}lamps"
    assert found.resistor is found.resistor_rating is found.load_temperature is None


def test_the_load_is_hot_enough_to_burn_and_the_page_says_so() -> None:
    found = retired()
    assert found.load_temperature.least.value > 65
    assert any("burns skin at once" in caution.sentence and caution.grave for caution in found.cautions)


def test_the_pilot_is_told_to_stay_and_to_do_it_outside() -> None:
    first = retired().cautions[0].sentence
    assert "outside" in first and "Stay with it" in first


def test_a_pack_that_was_read_as_a_whole_is_watched_cell_by_cell() -> None:
    assert any("every cell" in caution.sentence for caution in retired(resting_v="15.4").cautions)


@pytest.mark.parametrize("degc", ["18", "28"])
def test_what_is_shown_of_a_pack_whose_warmth_is_told_in_a_word_holds_at_both_ends_of_it(degc: str) -> None:
    # In the warm its cells have less resistance: the lowest gets further down before it shows its floor, and the others rest higher above it.
    apart = {"chemistry": "life", "cells": "8", "capacity_mah": "350", "resting_v": "3.33 3.33 3.27 3.29 3.31 3.27 3.27 3.33"}
    load = {"emptying_rate_c": "0.5", "pack_degc": ""}
    told, measured = retired(**apart | load, pack_warmth="normal"), retired(**apart | load | {"pack_degc": degc})
    assert told.stop_at_pack.figure.value >= measured.stop_at_pack.figure.value
    for name in ("time_to_empty", "energy_out", "current_at_start", "heat_at_start"):
        ends, own = getattr(told, name), getattr(measured, name)
        assert ends.least.value <= own.least.value <= own.most.value <= ends.most.value, name
