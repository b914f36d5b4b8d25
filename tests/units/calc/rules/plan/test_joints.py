"""Which packs may go on together: in series with one capacity and a port for each, side by side only where every cell was read and is near."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.calculators import charge_settings
from calc.figures.spans import Span
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.physics.cell.forecasting import balancing_minutes
from calc.rules.joined.imbalance import imbalance_ah
from calc.rules.joined.joined_packs import SoundPack, sound_packs
from calc.rules.joined.levelling import coming_level
from calc.rules.joined.moment_of_joining import joining_of
from calc.rules.plan.joints import JoiningLead, balancing_in_series, candidates, wait_side_by_side
from tests.units.calc.sound_charge import given

PACK = PackEntries(chemistry="lipo", cells=3, capacity_mah=2200, resting_v=(3.80, 3.80, 3.80), pack_degc=25, label_charge_rate_c=1)
# 1.5 m of 2.5 mm² there and back, and what that has as plain copper.
LEAD = JoiningLead(resistance_ohm=Span(0.0207, 0.024, 0.024), area_mm2=2.5)


def _sound(*packs: PackEntries) -> tuple[SoundPack, ...]:
    return sound_packs(JoinedPackEntries(packs=packs, requested_rate_c=1))


def _pair(**changes: object) -> tuple[SoundPack, ...]:
    return _sound(PACK, replace(PACK, **changes))


def _charger(**changes: str) -> charge_settings.Inputs:
    return given(**({"balance_ports": "2"} | changes))


def _in_series(packs: tuple[SoundPack, ...], **changes: str) -> Span | None:
    joined = changes.pop("joined", "") == "yes"
    return balancing_in_series(packs, _charger(**changes), series_balance_lead=joined)


def test_packs_in_series_are_balanced_for_as_long_as_the_balancer_takes_for_what_they_are_apart() -> None:
    packs = _pair(resting_v=(3.82, 3.82, 3.82))
    assert _in_series(packs, balance_current_a="0.4") == balancing_minutes(imbalance_ah(packs), 0.4)
    slowest = _in_series(packs)
    assert slowest is not None and slowest.likely > _in_series(packs, balance_current_a="0.4").likely


@pytest.mark.parametrize(
    "changes",
    [
        {"chemistry": "lihv"}, {"capacity_mah": 1900}, {"pack_degc": 36}, {"resting_v": (3.80, 3.80, 3.76)}, {"resting_v": (11.4,)},
        {"resting_v": (4.15, 4.15, 4.15)},
    ],
    ids=["another kind", "a tenth less", "warmer", "uneven", "read as a whole", "far apart"],
)  # fmt: skip
def test_each_thing_alone_that_is_unlike_keeps_packs_out_of_a_series(changes: dict[str, object]) -> None:
    assert _in_series(_pair()) is not None
    assert _in_series(_pair(**changes)) is None


def test_a_series_needs_a_charger_for_all_its_cells_and_hands_that_may_touch_them() -> None:
    assert _in_series(_pair(), charger_cells="6") is not None
    assert _in_series(_pair(), charger_cells="5") is None
    # Fourteen cells are 58.8 V when full, fifteen are more than anybody may touch.
    sevens = replace(PACK, cells=7, resting_v=(3.8,) * 7)
    eights = replace(PACK, cells=8, resting_v=(3.8,) * 8)
    assert _in_series(_sound(sevens, sevens), charger_cells="16") is not None
    assert _in_series(_sound(sevens, eights), charger_cells="16") is None


def test_a_series_needs_a_port_for_each_balance_plug_or_a_lead_that_joins_them() -> None:
    assert _in_series(_pair(), balance_ports="1") is None
    assert _in_series(_pair(), balance_ports="1", joined="yes") is not None


def test_the_nearest_packs_of_one_label_are_judged_first_and_others_never_together() -> None:
    rested = [3.80, 3.86, 3.82, 3.80]
    packs = _sound(*(replace(PACK, resting_v=(cell_v,) * 3) for cell_v in rested), replace(PACK, capacity_mah=5000))
    found = candidates(packs)
    # Two that rest alike, then what lies 0.02 V apart, 0.04 V, 0.06 V.
    assert found[0] == (0, 3)
    assert found[1:3] == [(0, 2, 3), (2, 3)]
    assert set(found[3:]) == {(1, 2), (1, 2, 3), (0, 1, 2, 3)}


def test_the_nearest_packs_are_judged_first_however_full_they_are() -> None:
    # 0.01 V, 0.05 V and 0.06 V apart, and the nearest are the fullest.
    packs = _sound(*(replace(PACK, resting_v=(cell_v,) * 3) for cell_v in (3.80, 3.85, 3.86)))
    assert candidates(packs) == [(1, 2), (0, 1), (0, 1, 2)]


def test_at_most_four_go_together_and_sixteen_sets_are_judged() -> None:
    found = candidates(_sound(*[PACK] * 8))
    # Seven pairs, six threes and five fours are eighteen.
    assert len(found) == 16
    assert max(len(one) for one in found) == 4


def test_packs_that_rest_alike_need_not_come_level_side_by_side() -> None:
    assert wait_side_by_side(_pair(), _charger(), LEAD) == Span(0.0, 0.0, 0.0)
    near = wait_side_by_side(_pair(resting_v=(3.82, 3.82, 3.82)), _charger(), LEAD)
    assert near is not None and 0 < near.least <= near.likely <= near.most


@pytest.mark.parametrize(
    "changes",
    [
        {"chemistry": "lihv"}, {"capacity_mah": 900}, {"cells": 2, "resting_v": (3.80, 3.80)}, {"pack_degc": 36}, {"resting_v": (11.4,)},
        {"resting_v": (3.80, 3.80, 3.76)}, {"resting_v": (4.1, 4.1, 4.1)},
    ],
    ids=["another kind", "less than half", "fewer cells", "warmer", "read as a whole", "uneven", "far apart"],
)  # fmt: skip
def test_each_thing_alone_that_is_unlike_keeps_packs_from_being_joined_side_by_side(changes: dict[str, object]) -> None:
    assert wait_side_by_side(_pair(**changes), _charger(), LEAD) is None


def test_packs_with_more_cells_than_the_charger_or_two_balance_plugs_are_not_joined_side_by_side() -> None:
    assert wait_side_by_side(_pair(), _charger(charger_cells="2"), LEAD) is None
    # Four cells per port, of which there are two: six cells have two plugs.
    six = replace(PACK, cells=6, resting_v=(3.8,) * 6)
    assert wait_side_by_side(_sound(six, six), _charger(), LEAD) is not None
    assert wait_side_by_side(_sound(six, six), _charger(port_cells="4"), LEAD) is None


# 50 mΩ in each cell let little flow: so the practice of 0.10 V for each cell is what binds.
SLOW = replace(PACK, cell_resistance_mohm=50, label_discharge_rate_c=30)


@pytest.mark.parametrize("cell_v", [(3.90, 3.90, 3.90), (3.90, 3.89, 3.89)])
def test_packs_that_rest_exactly_as_far_apart_as_they_may_are_joined_as_on_their_own_page(cell_v: tuple[float, ...]) -> None:
    # As sums 11.70 and 11.40 V are a little more than 0.30 V apart, in the last bit.
    assert wait_side_by_side(_sound(SLOW, replace(SLOW, resting_v=cell_v)), _charger(), LEAD) is not None
    assert wait_side_by_side(_sound(SLOW, replace(SLOW, resting_v=(3.91, 3.90, 3.90))), _charger(), LEAD) is None


def test_packs_are_not_joined_where_only_one_pair_of_cells_rests_too_far_apart() -> None:
    # As a whole they rest 0.29 V apart, of the 0.30 V that they may. Of the 0.10 V for a cell the first two are 0.09 V apart, the third 0.11 V.
    lower, higher = _sound(SLOW, replace(SLOW, resting_v=(3.89, 3.89, 3.91)))
    assert joining_of((lower, higher), lead_ohm=LEAD.resistance_ohm, lead_area_mm2=LEAD.area_mm2).is_level
    assert wait_side_by_side((lower, higher), _charger(), LEAD) is None


def test_packs_are_not_joined_where_every_cell_is_near_and_too_much_would_flow() -> None:
    # Twice three cells of 2 mΩ and a lead of 20.7 mΩ let 2.2 A flow, which is 1C, from 0.117 V on: 0.06 V are less than that, 0.12 V more.
    strong = replace(PACK, cell_resistance_mohm=2)
    assert wait_side_by_side(_sound(strong, replace(strong, resting_v=(3.82, 3.82, 3.82))), _charger(), LEAD) is not None
    assert wait_side_by_side(_sound(strong, replace(strong, resting_v=(3.84, 3.84, 3.84))), _charger(), LEAD) is None


def test_what_would_flow_into_a_cell_through_its_balance_plug_is_judged_once_the_packs_have_come_level() -> None:
    # Small packs of little resistance, 0.01 V a cell apart: at once 0.66 A would flow through the plugs into cells that may take 0.45 A.
    small = replace(PACK, capacity_mah=450, cell_resistance_mohm=5)
    assert wait_side_by_side(_sound(small, replace(small, resting_v=(3.81, 3.81, 3.81))), _charger(), LEAD) is not None


def test_the_wait_lasts_until_each_course_has_come_level() -> None:
    packs = _pair(resting_v=(3.82, 3.82, 3.82))
    courses = coming_level(packs, LEAD.resistance_ohm)
    ends_min = [course[-1].time_min for course in (courses.likely, *courses.corners)]
    wait = wait_side_by_side(packs, _charger(), LEAD)
    assert (wait.least, wait.likely, wait.most) == (min(ends_min), ends_min[0], max(ends_min))
    # At the end a twentieth of the first current is left, and a moment before it was more.
    assert courses.likely[-2].time_min < wait.likely
