"""Every charge that a plan may choose from keeps to the limits of its own page: of the label, the charger and the supply."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.fields import part_of
from calc.inputs.joined_packs import JoinedPackEntries
from calc.inputs.refusals import Refused
from calc.rules.joined.joined_packs import sound_packs
from calc.rules.plan.charges import PossibleCharge, Together, possible_charges
from calc.rules.plan.joints import JoiningLead
from calc.rules.plan.tools import PlanOutput, Tools
from tests.units.calc.sound_charge import given

# Two packs alike of three cells and 2200 mAh: 2.2 A each by the label, 4.4 A side by side.
PACK = PackEntries(chemistry="lipo", cells=3, capacity_mah=2200, resting_v=(3.70, 3.70, 3.70), pack_degc=25, label_charge_rate_c=1)
STRONG = (10.0, 250.0)


def _charges(
    *outputs: tuple[float, float], packs: tuple[PackEntries, ...] = (PACK, PACK), slower: bool = False, **changes: str
) -> list[PossibleCharge]:
    bench = given(**({"balance_ports": "2"} | changes))
    sound = sound_packs(JoinedPackEntries(packs=packs, requested_rate_c=1))
    lead = JoiningLead(resistance_ohm=Span(0.0207, 0.024, 0.024), area_mm2=2.5)
    charger = part_of(bench, ChargerEntries)
    each = tuple(
        PlanOutput(replace(charger, charger_current_a=current_a, charger_power_w=power_w)) for current_a, power_w in outputs or (STRONG,)
    )
    tools = Tools(supplies=(bench,), outputs=each, all_outputs_w=None, requested_rate_c=1, at_once=2, lead=lead, series=True)
    return possible_charges(sound, tools, slower=slower)


def _currents(found: list[PossibleCharge]) -> list[tuple[tuple[int, ...], str, float]]:
    return [(one.packs, one.together.value, one.current_a) for one in found]


def test_packs_alone_and_together_each_as_their_labels_allow() -> None:
    assert _currents(_charges()) == [
        ((0,), "alone", 2.2), ((1,), "alone", 2.2), ((0, 1), "in parallel", 4.4), ((0, 1), "in series", 2.2),
    ]  # fmt: skip


def test_no_joint_takes_more_than_its_output_gives() -> None:
    # 60 W are 4.7 A at 12.6 V, and 2.3 A at 25.2 V; 1.5 A are 1.5 A.
    for output, beside_a, after_a in (((3, 250), 3.0, 2.2), ((10, 40), 3.1, 1.5), ((1.5, 250), 1.5, 1.5)):
        by_way = {one.together: one.current_a for one in _charges(output)}
        assert (by_way[Together.PARALLEL], by_way[Together.SERIES]) == (beside_a, after_a)


def test_no_joint_takes_more_than_the_supply_gives() -> None:
    # 4 A at 13.8 V and 85 % are a little less than 47 W: 3.7 A at 12.6 V, 1.8 A at 25.2 V.
    by_way = {one.together: one.current_a for one in _charges(supply_current_a="4")}
    assert by_way == {Together.ALONE: 2.2, Together.PARALLEL: pytest.approx(3.7), Together.SERIES: pytest.approx(1.8)}


def test_whoever_has_the_time_may_have_each_at_half_the_rate_too() -> None:
    assert [(one.together.value, one.current_a) for one in _charges(packs=(PACK, replace(PACK, capacity_mah=450)), slower=True)] == [
        ("alone", 2.2), ("alone", 1.1), ("alone", 0.4), ("alone", 0.2),
    ]  # fmt: skip


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
