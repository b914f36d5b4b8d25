"""Every charge that a plan may choose from keeps to the limits of its own page: of the label, the charger and the supply."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.fields import part_of
from calc.inputs.joined_packs import JoinedPackEntries
from calc.inputs.refusals import Refused
from calc.rules.joined.joined_packs import sound_packs
from calc.rules.plan.charges import PossibleCharge, Together, possible_charges
from calc.rules.plan.joints import JoiningLead, balancing_in_series
from calc.rules.plan.tools import PlanOutput, Tools
from tests.units.calc.sound_charge import given

# Two packs alike of three cells and 2200 mAh: 2.2 A each by the label, 4.4 A side by side.
PACK = PackEntries(chemistry="lipo", cells=3, capacity_mah=2200, resting_v=(3.70, 3.70, 3.70), pack_degc=25, label_charge_rate_c=1)
STRONG = (10.0, 250.0)


def _charges(
    *outputs: tuple[float, float],
    packs: tuple[PackEntries, ...] = (PACK, PACK),
    slower: bool = False,
    all_outputs_w: float | None = None,
    **changes: str,
) -> list[PossibleCharge]:
    bench = given(**({"balance_ports": "2"} | changes))
    sound = sound_packs(JoinedPackEntries(packs=packs, requested_rate_c=1))
    lead = JoiningLead(resistance_ohm=Span(0.0207, 0.024, 0.024), area_mm2=2.5)
    charger = part_of(bench, ChargerEntries)
    each = tuple(
        PlanOutput(replace(charger, charger_current_a=current_a, charger_power_w=power_w)) for current_a, power_w in outputs or (STRONG,)
    )
    tools = Tools(supplies=(bench,), outputs=each, all_outputs_w=all_outputs_w, requested_rate_c=1, at_once=2, lead=lead, series=True)
    return possible_charges(sound, tools, slower=slower)


def _currents(found: list[PossibleCharge]) -> list[tuple[tuple[int, ...], str, float]]:
    return [(one.packs, one.together.value, one.current_a) for one in found]


def _by_way(*outputs: tuple[float, float], **asked: Any) -> dict[Together, PossibleCharge]:
    return {one.together: one for one in _charges(*outputs, **asked)}


def test_packs_alone_and_together_each_as_their_labels_allow() -> None:
    assert _currents(_charges()) == [
        ((0,), "alone", 2.2), ((1,), "alone", 2.2), ((0, 1), "in parallel", 4.4), ((0, 1), "in series", 2.2),
    ]  # fmt: skip


def test_no_joint_takes_more_than_its_output_gives() -> None:
    # 60 W are 4.7 A at 12.6 V, and 2.3 A at 25.2 V; 1.5 A are 1.5 A.
    for output, beside_a, after_a in (((3, 250), 3.0, 2.2), ((10, 40), 3.1, 1.5), ((1.5, 250), 1.5, 1.5)):
        by_way = _by_way(output)
        assert (by_way[Together.PARALLEL].current_a, by_way[Together.SERIES].current_a) == (beside_a, after_a)


def test_no_joint_takes_more_than_the_supply_gives() -> None:
    # 4 A at 13.8 V and 85 % are a little less than 47 W: 3.7 A at 12.6 V, 1.8 A at 25.2 V.
    by_way = {one.together: one.current_a for one in _charges(supply_current_a="4")}
    assert by_way == {Together.ALONE: 2.2, Together.PARALLEL: pytest.approx(3.7), Together.SERIES: pytest.approx(1.8)}


def test_whoever_has_the_time_may_have_each_at_half_the_rate_too() -> None:
    assert [(one.together.value, one.current_a) for one in _charges(packs=(PACK, replace(PACK, capacity_mah=450)), slower=True)] == [
        ("alone", 2.2), ("alone", 1.1), ("alone", 0.4), ("alone", 0.2),
    ]  # fmt: skip


def test_packs_together_may_go_at_half_the_rate_too() -> None:
    assert _currents(_charges(slower=True))[4:] == [
        ((0, 1), "in parallel", 4.4), ((0, 1), "in parallel", 2.2), ((0, 1), "in series", 2.2), ((0, 1), "in series", 1.1),
    ]  # fmt: skip


def test_packs_together_take_from_what_two_of_the_fuller_need_to_what_two_of_the_emptier_do() -> None:
    emptier, fuller = PACK, replace(PACK, resting_v=(3.72, 3.72, 3.72))
    alone = [_by_way(packs=(one, one))[Together.ALONE].energy_wh for one in (emptier, fuller)]
    by_way = _by_way(packs=(emptier, fuller))
    for together in (Together.PARALLEL, Together.SERIES):
        energy_wh = by_way[together].energy_wh
        assert (energy_wh.least, energy_wh.most) == pytest.approx((2 * alone[1].least, 2 * alone[0].most))


def test_packs_whose_warmth_was_told_in_a_word_take_together_from_the_least_at_its_warm_end_to_the_most_at_its_cool_end() -> None:
    # A room is from 18 to 28 °C, and at neither end so cold that less flows.
    by_word, cool, warm = (
        _by_way(packs=(one, one))
        for one in (replace(PACK, pack_degc=None, pack_warmth="normal"), replace(PACK, pack_degc=18), replace(PACK, pack_degc=28))
    )
    for together in (Together.PARALLEL, Together.SERIES):
        time_min = by_word[together].time_min
        assert (time_min.least, time_min.most) == (warm[together].time_min.least, cool[together].time_min.most)
        assert time_min.least < cool[together].time_min.least and time_min.most > warm[together].time_min.most


def test_packs_in_series_are_balanced_once_and_not_each_by_itself_as_well() -> None:
    # A balancer of 0.2 A takes twice as long as one of 0.4 A for what the packs are apart, and that alone makes the difference.
    packs = (PACK, replace(PACK, resting_v=(3.72, 3.72, 3.72)))
    slow, quick = (_by_way(packs=packs, balance_current_a=text)[Together.SERIES].time_min for text in ("0.2", "0.4"))
    sound = sound_packs(JoinedPackEntries(packs=packs, requested_rate_c=1))
    apart = balancing_in_series(sound, given(balance_ports="2", balance_current_a="0.4"), series_balance_lead=False)
    assert apart is not None and apart.likely > 10
    assert (slow.likely - quick.likely, slow.most - quick.most) == pytest.approx((apart.likely, apart.most))


def test_a_share_below_the_smallest_step_hides_no_later_one() -> None:
    # Steps of 0.99 A: 25 W are two of them at 12.6 V, the 12 W beside a strong output less than one, the 24 W beside one of 1 W are one.
    found = _charges(STRONG, STRONG, (1.0, 1.0), all_outputs_w=25, current_step_a="0.99")
    assert [one.current_a for one in found if one.packs == (0,)] == [1.98, 0.99]


def test_a_pack_that_no_output_can_charge_is_refused_and_a_joint_is_not_offered() -> None:
    with pytest.raises(Refused):
        _charges(packs=(PACK, replace(PACK, capacity_mah=80)))
    # Far apart they do not go together, and nothing is refused.
    far = _charges(packs=(PACK, replace(PACK, resting_v=(4.05, 4.05, 4.05))))
    assert [one.together for one in far] == [Together.ALONE, Together.ALONE]


def test_a_pack_that_only_the_stronger_output_can_charge_goes_there_alone() -> None:
    weak = (0.05, 250.0)
    assert {one.outputs for one in _charges(STRONG, weak)} == {(0,)}
    assert {one.outputs for one in _charges(STRONG, STRONG)} == {None}
