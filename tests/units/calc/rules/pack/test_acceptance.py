"""Every reason against a charge, in words that say what it means for the pack and what to do next."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.refusals import Problem, Refused
from calc.rules.pack.acceptance import chemistry_of, judged, problems_of_charger, problems_of_supply
from calc.rules.pack.findings import Act
from calc.rules.pack.readings import Reading
from tests.units.calc.sound_charge import BATTERY, given

_TROUBLE = "pack-in-trouble"


def _input(least_v: float, most_v: float | None) -> SimpleNamespace:
    return SimpleNamespace(charger_input_least_v=least_v, charger_input_most_v=most_v)


def _reading(**changes: str) -> Reading:
    return judged(given(**changes), act=Act.CHARGE).reading


def _reading_problems(**changes: str) -> tuple[Problem, ...]:
    with pytest.raises(Refused) as refused:
        _reading(**changes)
    return refused.value.problems


def _temperature_problem(**changes: str) -> Problem:
    (problem,) = _reading_problems(**changes)
    return problem


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_a_lithium_pack_is_charged_in_its_own_mode(key: str) -> None:
    assert chemistry_of(given(chemistry=key)) is CHEMISTRIES[key]


def test_a_pack_of_unknown_chemistry_is_refused_whatever_else_is_known() -> None:
    with pytest.raises(Refused) as refused:
        chemistry_of(given(chemistry="unknown"))
    (problem,) = refused.value.problems
    assert problem.field == "chemistry"
    assert "Do not charge a pack whose chemistry you do not know" in problem.sentence
    assert "Find its label or ask its maker, or take it out of use" in problem.sentence


def test_a_nickel_pack_is_sent_to_the_charger_s_nickel_mode() -> None:
    with pytest.raises(Refused) as refused:
        chemistry_of(given(chemistry="nimh"))
    (problem,) = refused.value.problems
    assert problem.field == "chemistry"
    assert "nickel mode" in problem.sentence
    assert "Never a lithium mode" in problem.sentence


def test_the_whole_pack_s_voltage_is_spread_over_its_cells() -> None:
    reading = _reading(resting_v="11.4")
    assert reading.pack_v == 11.4
    assert reading.mean_cell_v == reading.lowest_cell_v == reading.highest_cell_v == pytest.approx(3.8)
    assert not reading.each_cell


def test_each_cell_s_voltage_gives_the_lowest_and_the_highest() -> None:
    reading = _reading(resting_v="3.80 3.90 3.70")
    assert (reading.lowest_cell_v, reading.highest_cell_v) == (3.7, 3.9)
    assert reading.pack_v == pytest.approx(11.4)
    assert reading.mean_cell_v == pytest.approx(3.8)
    assert reading.each_cell


@pytest.mark.parametrize("cells, uneven", [("3.80 3.82 3.81", False), ("3.80 3.84 3.81", True)])
def test_cells_that_differ_by_more_than_30_millivolts_are_uneven(cells: str, uneven: bool) -> None:
    assert _reading(resting_v=cells).is_uneven is uneven


def test_a_single_cell_is_its_own_pack() -> None:
    assert _reading(cells="1", resting_v="3.8").mean_cell_v == 3.8


def test_a_cell_below_its_floor_is_named_and_leads_to_help() -> None:
    (problem,) = _reading_problems(resting_v="3.80 2.95 3.81")
    assert (problem.field, problem.go_to) == ("resting_v", f"{_TROUBLE}#run-too-flat")
    assert problem.sentence.startswith("Cell 2 rests at 2.950\N{NO-BREAK SPACE}V, below its floor")
    assert problem.sentence.endswith("Take it out of use: do not charge it.")


def test_every_cell_that_is_wrong_is_named_the_one_that_may_burn_first() -> None:
    first, second = _reading_problems(resting_v="2.90 3.80 4.30")
    assert "Cell 3" in first.sentence and "above its full voltage" in first.sentence
    assert "Cell 1" in second.sentence and "below its floor" in second.sentence


@pytest.mark.parametrize("key, floor_v", [("lipo", 3.0), ("lihv", 3.0), ("liion", 2.5), ("life", 2.5)])
def test_a_cell_at_its_floor_is_accepted_and_one_hundredth_below_is_not(key: str, floor_v: float) -> None:
    assert _reading(chemistry=key, cells="1", resting_v=str(floor_v)).lowest_cell_v == floor_v
    (problem,) = _reading_problems(chemistry=key, cells="1", resting_v=f"{floor_v - 0.01:.2f}")
    assert problem.sentence.startswith("The cell rests at") and "below its floor" in problem.sentence


@pytest.mark.parametrize("key, full_v", [("lipo", 4.20), ("lihv", 4.35), ("liion", 4.20), ("life", 3.65)])
def test_a_cell_may_read_a_hundredth_above_full_and_not_three(key: str, full_v: float) -> None:
    assert _reading(chemistry=key, cells="1", resting_v=f"{full_v + 0.01:.2f}").highest_cell_v > full_v
    (problem,) = _reading_problems(chemistry=key, cells="1", resting_v=f"{full_v + 0.03:.2f}")
    assert "above its full voltage" in problem.sentence and "Check the kind of pack" in problem.sentence
    assert problem.go_to == f"{_TROUBLE}#charged-too-far"


def test_the_whole_pack_s_voltage_for_a_single_cell_is_asked_again() -> None:
    (problem,) = _reading_problems(cells="1", resting_v="11.1")
    assert "The cell cannot rest at 11.1 V" in problem.sentence


def test_one_cell_s_voltage_for_a_whole_pack_is_asked_again_and_not_multiplied() -> None:
    (problem,) = _reading_problems(resting_v="3.8")
    assert problem.sentence.startswith("3.8 V is what one cell can have: enter all 3 cells, or the whole pack's voltage")
    assert "do not charge it" in problem.sentence


@pytest.mark.parametrize("reading", ["0", "0.5", "2.9"])
def test_a_pack_that_reads_next_to_nothing_is_not_charged(reading: str) -> None:
    (problem,) = _reading_problems(resting_v=reading)
    assert problem.sentence.startswith(f"{reading} V fits no pack of this chemistry")
    assert (problem.field, problem.go_to) == ("resting_v", _TROUBLE)


@pytest.mark.parametrize("reading, count", [("3.8 3.8", 2), ("3.8 3.8 3.8 3.8", 4)])
def test_too_few_or_too_many_voltages_are_counted(reading: str, count: int) -> None:
    (problem,) = _reading_problems(resting_v=reading)
    assert problem.sentence == f"You entered {count} voltages for 3 cells: enter each cell's, or the whole pack's."


def test_of_a_single_cell_one_voltage_is_asked_for() -> None:
    (problem,) = _reading_problems(cells="1", resting_v="3.85 3.84")
    assert problem.sentence == "You entered 2 voltages for 1 cell: enter one."


@pytest.mark.parametrize("cells", ["6", "7", "8"])
def test_25_2_v_is_accepted_for_each_count_that_it_fits(cells: str) -> None:
    assert _reading(cells=cells, resting_v="25.2").pack_v == 25.2


@pytest.mark.parametrize("cells", ["1", "2", "3", "4", "5", "9", "10", "14"])
def test_25_2_v_is_refused_for_each_count_that_it_does_not_fit(cells: str) -> None:
    (problem,) = _reading_problems(cells=cells, resting_v="25.2")
    assert problem.field == "resting_v"


def test_a_refused_voltage_names_the_counts_that_it_does_fit() -> None:
    (problem,) = _reading_problems(cells="5", resting_v="25.2")
    assert "25.2 V does not fit 5 cells" in problem.sentence
    assert "6 cells at 4.20 V each, 7 cells at 3.60 V each or 8 cells at 3.15 V each" in problem.sentence
    assert "Count the balance plug's wires, less one" in problem.sentence
    assert problem.go_to == _TROUBLE


@pytest.mark.parametrize(
    "cells, reading, state", [("3", "13.0", "it is above its full voltage"), ("4", "11.4", "its cells are below their floor")]
)
def test_a_refused_voltage_says_what_it_means_if_the_count_is_right(cells: str, reading: str, state: str) -> None:
    (problem,) = _reading_problems(cells=cells, resting_v=reading)
    assert f"If the count is right, {state}: do not charge it." in problem.sentence


def test_a_voltage_that_fits_one_count_names_it_alone() -> None:
    (problem,) = _reading_problems(cells="2", resting_v="11.1")
    assert "it fits 3 cells at 3.70 V each. Count" in problem.sentence


@pytest.mark.parametrize("reading", ["60", "5"])
def test_a_voltage_that_fits_no_count_is_refused(reading: str) -> None:
    (problem,) = _reading_problems(resting_v=reading)
    assert problem.sentence == (f"{reading} V fits no pack of this chemistry. Check the reading and the chemistry; do not charge it.")
    assert problem.go_to == _TROUBLE


@pytest.mark.parametrize("pack_degc", ["-40", "-1", "0"])
def test_a_pack_at_freezing_point_or_below_is_warmed_first(pack_degc: str) -> None:
    problem = _temperature_problem(pack_degc=pack_degc, air_degc="20")
    assert problem.field == "pack_degc"
    assert "too cold" in problem.sentence
    assert "Warm it through first" in problem.sentence


@pytest.mark.parametrize("pack_degc", ["45", "46", "59"])
def test_a_pack_at_45_degrees_or_above_cools_first(pack_degc: str) -> None:
    problem = _temperature_problem(pack_degc=pack_degc, air_degc="20")
    assert (problem.field, problem.go_to) == ("pack_degc", "")
    assert "too warm to charge: the charge itself would warm it further. Leave it in the shade until it has cooled" in problem.sentence


@pytest.mark.parametrize("pack_degc", ["60", "61", "100"])
def test_a_pack_at_60_degrees_or_above_is_left_alone(pack_degc: str) -> None:
    problem = _temperature_problem(pack_degc=pack_degc, air_degc="20")
    assert (problem.field, problem.go_to) == ("pack_degc", f"{_TROUBLE}#hot-pack")
    assert "dangerously hot" in problem.sentence and "Get away from it: do not charge it" in problem.sentence


@pytest.mark.parametrize("pack_degc, air_degc", [("1", "20"), ("44", "20"), ("20", "0"), ("20", "40"), ("42", "25")])
def test_within_the_window_nothing_speaks_against_a_charge(pack_degc: str, air_degc: str) -> None:
    assert judged(given(pack_degc=pack_degc, air_degc=air_degc), act=Act.CHARGE).condition.findings == ()


def test_air_below_freezing_point_is_refused_even_for_a_warm_pack() -> None:
    problem = _temperature_problem(pack_degc="20", air_degc="-1")
    assert problem.field == "air_degc"
    assert "charge in a warmer place" in problem.sentence


def test_air_above_40_degrees_is_refused_even_for_a_cool_pack() -> None:
    problem = _temperature_problem(pack_degc="20", air_degc="41")
    assert problem.field == "air_degc"
    assert "go to a cooler place, and never charge in a hot vehicle" in problem.sentence


def test_air_that_was_not_measured_is_taken_as_the_pack_s() -> None:
    assert _temperature_problem(pack_degc="42").field == "pack_degc"


def test_a_pack_with_more_cells_than_the_charger_is_never_charged_as_fewer() -> None:
    (problem,) = problems_of_charger(given(charger_cells="6"), cells=7)
    assert problem.field == "cells"
    assert "more cells than the charger takes: use a larger charger, never another cell count" in problem.sentence


def test_cells_that_no_balance_port_reaches_are_refused() -> None:
    (problem,) = problems_of_charger(given(charger_cells="8", port_cells="6"), cells=7)
    assert problem.field == "port_cells"
    assert "use a charger that balances them all" in problem.sentence


def test_two_balance_ports_take_the_cells_of_both() -> None:
    assert problems_of_charger(given(charger_cells="8", balance_ports="2", port_cells="4"), cells=8) == []


def test_a_third_balance_port_is_no_use_to_a_pack() -> None:
    # It has two balance plugs at most, so nine cells do not go into ports of four, however many there are.
    (problem,) = problems_of_charger(given(charger_cells="12", balance_ports="3", port_cells="4"), cells=9)
    assert problem.field == "port_cells"


def test_a_pack_that_just_fits_the_charger_is_accepted() -> None:
    assert problems_of_charger(given(charger_cells="6", port_cells="6"), cells=6) == []


@pytest.mark.parametrize("battery_resting_v", ["10.5", "11.5", "11.89"])
def test_an_empty_battery_is_too_weak_to_start(battery_resting_v: str) -> None:
    supply = given(**BATTERY | {"battery_resting_v": battery_resting_v})
    (problem,) = problems_of_supply(supply=supply, charger=_input(10, None))
    assert problem.field == "battery_resting_v"
    assert "too weak to start the charger: charge it first, or use another" in problem.sentence


@pytest.mark.parametrize(("kind", "volts"), [("flooded", "11.9"), ("flooded", "12.0"), ("agm", "11.91"), ("agm", "12.1")])
def test_a_battery_above_the_voltage_of_an_empty_one_starts_a_charger_that_takes_it(kind: str, volts: str) -> None:
    supply = given(**BATTERY | {"battery_kind": kind, "battery_resting_v": volts})
    assert problems_of_supply(supply=supply, charger=_input(10, None)) == []


def test_a_battery_at_the_charger_s_lowest_input_is_too_weak_to_start() -> None:
    (problem,) = problems_of_supply(supply=given(**BATTERY | {"battery_resting_v": "12.6"}), charger=_input(12.6, None))
    assert problem.field == "battery_resting_v"
    assert "no higher than the charger's lowest input, too weak to start it: use another supply" in problem.sentence


def test_with_no_charger_known_a_supply_is_held_against_what_no_such_supply_can_have() -> None:
    for volts, words in (("11.5", "is empty"), ("13.4", "No such battery rests above")):
        (problem,) = problems_of_supply(supply=given(**BATTERY | {"battery_resting_v": volts}), charger=None)
        assert problem.field == "battery_resting_v" and words in problem.sentence
    assert problems_of_supply(supply=given(**BATTERY), charger=None) == []
    assert problems_of_supply(supply=given(supply_v="10"), charger=None) == []


def test_a_sealed_battery_is_empty_at_a_higher_voltage() -> None:
    supply = given(**BATTERY | {"battery_kind": "agm", "battery_resting_v": "11.90"})
    assert len(problems_of_supply(supply=supply, charger=_input(10, None))) == 1


# Full at 12.65 V (flooded) and 12.85 V (sealed) at rest; the tables differ by a tenth. 13.0 V is a charge that still stands on the plates.
@pytest.mark.parametrize(
    ("kind", "volts"), [("flooded", "12.81"), ("flooded", "13.0"), ("flooded", "14.4"), ("agm", "12.96"), ("agm", "13.0"), ("agm", "13.6")]
)
def test_a_battery_that_was_charged_not_long_ago_is_not_at_rest(kind: str, volts: str) -> None:
    supply = given(**BATTERY | {"battery_kind": kind, "battery_resting_v": volts})
    (problem,) = problems_of_supply(supply=supply, charger=_input(10, None))
    assert problem.field == "battery_resting_v"
    assert "wait 8\N{NO-BREAK SPACE}h, and measure it again" in problem.sentence


@pytest.mark.parametrize(("kind", "volts"), [("flooded", "12.65"), ("flooded", "12.80"), ("agm", "12.85"), ("agm", "12.95")])
def test_a_full_battery_at_rest_is_accepted(kind: str, volts: str) -> None:
    supply = given(**BATTERY | {"battery_kind": kind, "battery_resting_v": volts})
    assert problems_of_supply(supply=supply, charger=_input(10, None)) == []


@pytest.mark.parametrize("supply_v", ["18.1", "24", "60"])
def test_a_supply_above_the_charger_s_highest_input_is_refused(supply_v: str) -> None:
    (problem,) = problems_of_supply(supply=given(supply_v=supply_v), charger=_input(10, 18))
    assert problem.field == "supply_v"
    assert "the charger takes 18.0\N{NO-BREAK SPACE}V at most" in problem.sentence
    assert "Use a supply of a lower voltage" in problem.sentence


def test_a_supply_at_the_charger_s_highest_input_is_accepted() -> None:
    assert problems_of_supply(supply=given(supply_v="18"), charger=_input(10, 18)) == []


def test_a_battery_above_the_charger_s_highest_input_is_refused() -> None:
    (problem,) = problems_of_supply(supply=given(**BATTERY), charger=_input(10, 12))
    assert problem.field == "battery_resting_v"


def test_a_highest_input_that_is_not_above_the_lowest_is_sent_back() -> None:
    (problem,) = problems_of_supply(supply=given(), charger=_input(11, 11))
    assert problem.field == "charger_input_most_v"


@pytest.mark.parametrize("supply_v", ["9", "10"])
def test_a_mains_supply_at_or_below_the_charger_s_lowest_input_is_too_weak(supply_v: str) -> None:
    (problem,) = problems_of_supply(supply=given(supply_v=supply_v), charger=_input(10, None))
    assert problem.field == "supply_v"
    assert "below the charger's lowest input, too weak to start it: use another supply" in problem.sentence


def test_a_sound_supply_of_either_kind_is_accepted() -> None:
    assert problems_of_supply(supply=given(), charger=_input(10, None)) == []
    assert problems_of_supply(supply=given(**BATTERY), charger=_input(10, None)) == []


_REFUSED_KINDS = {
    "unknown": "Do not charge a pack whose chemistry you do not know: the wrong mode sets it on fire. Find its label or ask its maker, or take it "
    "out of use.",
    "nimh": "A nickel-metal hydride pack has no full voltage to charge to: use the charger's nickel mode and the maker's sheet. Never a lithium "
    "mode.",
}


@pytest.mark.parametrize("kind", _REFUSED_KINDS)
def test_a_kind_that_is_not_charged_here_is_refused_in_whole_sentences(kind: str) -> None:
    with pytest.raises(Refused) as refused:
        chemistry_of(given(chemistry=kind))
    assert refused.value.problems == (Problem("chemistry", _REFUSED_KINDS[kind]),)


def test_a_charger_that_takes_too_few_cells_is_told_in_whole_sentences() -> None:
    too_many = "This pack has more cells than the charger takes: use a larger charger, never another cell count."
    assert problems_of_charger(given(charger_cells="6"), cells=7) == [Problem("cells", too_many)]
    beyond = "This pack has more cells than the charger's balance ports take: use a charger that balances them all."
    assert problems_of_charger(given(charger_cells="8", port_cells="6"), cells=7) == [Problem("port_cells", beyond)]


@pytest.mark.parametrize(
    ("entries", "least_v", "most_v", "field", "sentence"),
    [
        ({}, 11, 11, "charger_input_most_v", "The charger's highest input voltage is not above its lowest: check both on its label."),
        (
            {"supply_v": "10"}, 10, None, "supply_v",
            "This supply's voltage is below the charger's lowest input, too weak to start it: use another supply.",
        ),
        (
            {"supply_v": "24"}, 10, 18, "supply_v",
            ("This supply gives 24.0 V, and the charger takes 18.0 V at most: more destroys it, and can set it on fire. Use a supply of a lower "
            "voltage."),
        ),
        (
            BATTERY | {"battery_resting_v": "13.0"}, 10, None, "battery_resting_v",
            ("No such battery rests above 12.80 V: it was charged not long ago. Switch off its charger or the engine, wait 8 h, and measure it "
            "again. If it still reads this after a night, it is full: enter 12.80 V. An iron phosphate battery rests so high at almost any charge: choose the mains "
            "power supply in its place, with the volts and amperes on its label, and count yourself what you take out."),
        ),
        (
            BATTERY | {"battery_resting_v": "11.89"}, 10, None, "battery_resting_v",
            "This battery is empty, too weak to start the charger: charge it first, or use another.",
        ),
        (
            BATTERY | {"battery_resting_v": "12.6"}, 12.6, None, "battery_resting_v",
            "This battery rests no higher than the charger's lowest input, too weak to start it: use another supply.",
        ),
        (
            BATTERY | {"battery_resting_v": "12.6"}, 10, 12.5, "battery_resting_v",
            "This battery rests above the charger's highest input, which would destroy it: use a charger that is made for 12 V.",
        ),
    ],
)  # fmt: skip
def test_a_supply_that_does_not_suit_is_told_why_and_what_to_do(
    entries: dict[str, str], least_v: float, most_v: float | None, field: str, sentence: str
) -> None:
    (problem,) = problems_of_supply(supply=given(**entries), charger=_input(least_v, most_v))
    assert (problem.field, problem.sentence.replace("\N{NO-BREAK SPACE}", " "), problem.go_to) == (field, sentence, "")


def test_a_battery_at_the_charger_s_highest_input_is_accepted() -> None:
    assert problems_of_supply(supply=given(**BATTERY | {"battery_resting_v": "12.6"}), charger=_input(10, 12.6)) == []


def test_a_pack_that_cannot_be_read_is_refused_with_everything_else_that_is_wrong_with_it() -> None:
    wrong = given(resting_v="3.8 3.8", cell_resistances_mohm="5 5", measured_capacity_mah="3000", look="swollen")
    other = Problem("supply_v", "The supply is off.")
    with pytest.raises(Refused) as refused:
        judged(wrong, also=[other], act=Act.CHARGE)
    fields = [problem.field for problem in refused.value.problems]
    assert fields == ["look", "resting_v", "cell_resistances_mohm", "measured_capacity_mah", "supply_v"]
    assert refused.value.problems[-1] is other


def test_a_pack_that_is_only_judged_is_refused_for_what_cannot_be_and_not_for_its_state() -> None:
    assert judged(given(look="swollen")).condition.verdict.words == "Take it out of use"
    with pytest.raises(Refused) as refused:
        judged(given(look="swollen", cell_resistances_mohm="5 5"))
    assert [problem.field for problem in refused.value.problems] == ["cell_resistances_mohm"]
