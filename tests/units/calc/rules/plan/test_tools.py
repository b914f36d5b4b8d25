"""What a plan has to charge with: outputs alike and not, and what each may take of what they share."""

from __future__ import annotations

from dataclasses import replace

from calc.inputs.equipment import ChargerEntries
from calc.inputs.fields import part_of
from calc.rules.plan.tools import PlanOutput, Tools, joined_places
from tests.units.calc.sound_charge import given


def output(current_a: float, power_w: float, supply: int = 0, **changes: float) -> PlanOutput:
    charger = replace(part_of(given(), ChargerEntries), charger_current_a=current_a, charger_power_w=power_w, **changes)
    return PlanOutput(charger, supply)


STRONG, WEAK = output(10, 250), output(5, 50)


def tools(*outputs: PlanOutput, all_outputs_w: float | None = None, at_once: int = 3, **changes: str) -> Tools:
    entered = given(**changes)
    return Tools(supplies=(entered,), outputs=outputs, all_outputs_w=all_outputs_w, requested_rate_c=1, at_once=at_once)


def shares(of: Tools, output: PlanOutput) -> list[tuple[float, str]]:
    """What a charge may take on an output, W, and what sets it where the output itself does not."""
    return [(share.power_w, share.because if share.is_capped else "") for share in of.shares(output)]


def test_outputs_alike_may_take_all_or_half_of_what_they_share() -> None:
    alike = tools(STRONG, STRONG, all_outputs_w=201)
    assert shares(alike, STRONG) == [(201, "the power of all outputs together"), (100, "half of the power of all outputs together")]
    assert alike.kinds == {STRONG: None}


def test_beside_a_weak_output_the_strong_one_may_take_what_the_weak_one_cannot() -> None:
    differ = tools(STRONG, WEAK, all_outputs_w=200)
    assert shares(differ, STRONG) == [
        (200, "the power of all outputs together"),
        (150, "what the other output leaves of the power of all outputs together"),
    ]
    assert shares(differ, WEAK) == [(50, ""), (50, "")]
    assert differ.kinds == {STRONG: (0,), WEAK: (1,)}


def test_where_the_other_one_takes_just_half_it_is_half_and_a_share_that_is_all_of_an_output_caps_nothing() -> None:
    half = output(5, 100)
    assert shares(tools(STRONG, half, all_outputs_w=200), STRONG)[1] == (100, "half of the power of all outputs together")
    assert shares(tools(STRONG, half, all_outputs_w=200), half) == [(100, ""), (100, "")]


def test_a_charge_counts_in_whole_watts_and_a_supply_on_which_nothing_hangs_gives_one() -> None:
    assert [tools(STRONG).whole_w(power_w, 0) for power_w in (100.0, 100.1, 400.0)] == [100, 101, 250]
    assert tools(STRONG).on(()).together_w(0) == 1


def test_where_the_supply_is_the_less_it_is_what_is_left_of_the_supply() -> None:
    # 20 A at 13.8 V and 85 %, less what is lost in the lead.
    differ = tools(STRONG, WEAK, supply_current_a="20")
    assert 230 <= differ.together_w(0) <= 234
    assert shares(differ, STRONG)[1] == (differ.together_w(0) - 50, "what the other output leaves of what the supply and its lead can give")
    # 7 A: half of it is more than what the weak one leaves.
    poor = tools(STRONG, WEAK, supply_current_a="7")
    assert shares(poor, STRONG)[1] == (poor.together_w(0) // 2, "half of what the supply and its lead can give")


def test_a_third_output_is_left_room_for_by_each_kind_of_the_others() -> None:
    three = tools(STRONG, WEAK, STRONG, all_outputs_w=200)
    assert [power_w for power_w, _ in shares(three, STRONG)] == [200, 150, 100]
    assert three.kinds == {STRONG: (0, 2), WEAK: (1,)}


def test_what_goes_in_at_once_is_the_most_that_each_output_may_have() -> None:
    differ = tools(STRONG, WEAK)
    charges = [(240, (0,)), (120, (0,)), (48, (1,)), (30, None)]
    assert differ.at_once_w(0, charges) == 240 + 48
    assert differ.at_once_w(0, [(30, None)]) == 60
    assert tools(STRONG, WEAK, all_outputs_w=100).at_once_w(0, charges) == 100
    assert differ.at_once_w(0, []) == 0
    assert tools(STRONG, WEAK, WEAK).at_once_w(0, [(240, (0,)), (48, (1, 2))]) == 240 + 48 + 48


def test_kinds_that_are_all_of_the_outputs_together_are_any() -> None:
    assert joined_places([(0, 2), (1,)], 3) is None
    assert joined_places([None], 2) is None
    assert joined_places([(2,), (0,)], 3) == (0, 2)


def test_a_charger_as_one_output_of_it_is_has_its_current_and_as_much_power_as_is_left() -> None:
    one = WEAK.with_power(20)
    assert (one.charger_current_a, one.charger_power_w, one.charger_cells) == (5, 20, 8)


def test_of_two_chargers_on_one_supply_the_one_that_asks_more_of_it_counts() -> None:
    wasteful = output(5, 50, efficiency_percent=60)
    poor = {"supply_current_a": "5"}
    assert (
        tools(STRONG, wasteful, **poor).together_w(0)
        == tools(wasteful, wasteful, **poor).together_w(0)
        < tools(STRONG, STRONG, **poor).together_w(0)
    )


def test_of_two_lowest_inputs_on_one_supply_the_higher_counts() -> None:
    needy = output(5, 50, charger_input_least_v=13.7)
    thin = {"lead_length_m": "5", "lead_area_mm2": "0.5 mm²"}
    assert (
        tools(STRONG, needy, **thin).together_w(0) == tools(needy, needy, **thin).together_w(0) < tools(STRONG, WEAK, **thin).together_w(0)
    )


def test_outputs_on_a_supply_of_their_own_share_nothing() -> None:
    apart = replace(tools(STRONG), outputs=(STRONG, output(5, 50, supply=1)), supplies=(given(), given(supply_current_a="2")))
    assert shares(apart, apart.outputs[1]) == [(50, "")] and shares(apart, STRONG) == [(250, "")]
    assert apart.kinds == {STRONG: (0,), apart.outputs[1]: (1,)}
    assert 20 < apart.together_w(1) < 25 and apart.together_w(0) == 250
    assert [apart.at_once_w(supply, [(30, (0,)), (20, (1,))]) for supply in (0, 1)] == [30, 20]


def test_where_one_charge_goes_on_at_a_time_it_leaves_nothing_to_another() -> None:
    single = tools(STRONG, WEAK, all_outputs_w=200, at_once=1)
    assert shares(single, STRONG) == [(200, "the power of all outputs together")]
    assert (tools(STRONG, WEAK, at_once=1).own_w(0), tools(STRONG, WEAK, at_once=2).own_w(0)) == (250, 300)
    charges = [(90, (0,)), (40, (1,))]
    assert (tools(STRONG, WEAK, at_once=1).at_once_w(0, charges), tools(STRONG, WEAK, at_once=2).at_once_w(0, charges)) == (90, 130)
