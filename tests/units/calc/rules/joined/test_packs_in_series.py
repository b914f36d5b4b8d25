"""Packs one after the other as the entries of one, on two packs that are alike in nothing but their chemistry."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries, PluggedPackEntries
from calc.inputs.refusals import Problem
from calc.rules.joined.joined_packs import SoundPack, sound_packs
from calc.rules.joined.packs_in_series import (
    problems_of_plugs,
    problems_of_series_charger,
    series_current_limits,
    series_pack,
    unlike_capacity,
)
from tests.units.calc.sound_charge import given

FIRST = PackEntries(
    chemistry="lipo", cells=4, capacity_mah=5000, resting_v=(15.2,), pack_degc=25, label_charge_rate_c=2, label_discharge_rate_c=20,
    cell_resistance_mohm=5,
)  # fmt: skip
SECOND = PackEntries(
    chemistry="lipo", cells=3, capacity_mah=4600, resting_v=(11.1,), pack_degc=22, label_charge_rate_c=1, label_discharge_rate_c=30,
    cell_resistance_mohm=8,
)  # fmt: skip

KNOWN = ("chemistry", "cells", "capacity_mah", "resting_v", "pack_degc", "label_charge_rate_c")


def _packs(first: PackEntries = FIRST, second: PackEntries = SECOND) -> tuple[SoundPack, ...]:
    return sound_packs(JoinedPackEntries(packs=(first, second), requested_rate_c=1))


def test_cells_and_voltages_add_up_and_everything_else_is_that_of_the_weaker() -> None:
    one = series_pack(_packs())
    assert (one.cells, one.resting_v) == (7, (pytest.approx(26.3),))
    assert (one.capacity_mah, one.measured_capacity_mah, one.cell_resistance_mohm) == (4600, None, 8)
    assert (one.label_charge_rate_c, one.label_discharge_rate_c, one.pack_degc) == (1, 20, 22)


def test_a_larger_pack_that_has_aged_below_the_smaller_counts_with_what_it_holds() -> None:
    one = series_pack(_packs(replace(FIRST, measured_capacity_mah=4200)))
    assert (one.capacity_mah, one.measured_capacity_mah) == (4600, pytest.approx(4200))


def test_packs_that_took_in_more_than_their_labels_take_what_the_smaller_took() -> None:
    one = series_pack(_packs(replace(FIRST, measured_capacity_mah=5100), replace(SECOND, measured_capacity_mah=4700)))
    assert (one.measured_capacity_mah, one.effective_capacity_mah) == (4700, 4600)
    assert series_pack(_packs(FIRST, replace(SECOND, measured_capacity_mah=4700))).measured_capacity_mah == 4700


def test_cells_of_two_packs_are_as_near_as_those_of_one_must_be_or_are_charged_slowly() -> None:
    bench, level = given(), replace(SECOND, resting_v=(3.77, 3.78, 3.79))

    def because(first: PackEntries) -> list[str]:
        return [one.because for one in series_current_limits(packs=_packs(first, level), charger=bench, supply=bench, requested_rate_c=1)]

    # 30 mV apart is what a healthy pack may be, and a millivolt more is not.
    assert not any("rest" in words for words in because(replace(FIRST, resting_v=(3.80, 3.80, 3.80, 3.80))))
    assert any("rest 0.031\u00a0V apart" in words for words in because(replace(FIRST, resting_v=(3.80, 3.80, 3.80, 3.801))))


def test_a_resistance_that_is_not_known_of_each_is_not_known() -> None:
    assert series_pack(_packs(FIRST, replace(SECOND, cell_resistance_mohm=None))).cell_resistance_mohm is None


def test_every_ceiling_says_what_it_is_and_whose() -> None:
    bench = given(charger_current_a="7", charger_power_w="200")
    found = series_current_limits(packs=_packs(), charger=bench, supply=bench, requested_rate_c=0.5)
    # 1C of 4600 mAh, 0.5 of that, and 200 W over seven cells at 4.20 V.
    assert [(limit.ceiling, limit.because) for limit in found[:6]] == [
        (10.0, "the charge rate on the label (Pack 1)"),
        (4.6, "the charge rate on the label (Pack 2)"),
        (2.3, "half of 1C, since the cells of these packs rest 0.100\u00a0V apart, more than 0.03\u00a0V"),
        (7, "the charger's highest current"),
        (2.3, "the rate you asked for, of the smallest pack"),
        (pytest.approx(200 / 29.4), "the charger's highest power"),
    ]
    assert [limit.because[:10] for limit in found[6:]] == ["the supply", "the charge", "the supply", "the supply"]


def test_each_pack_that_holds_over_a_tenth_less_than_the_largest_is_named_at_what_says_so() -> None:
    small, aged, just = (replace(FIRST, capacity_mah=4499), replace(FIRST, measured_capacity_mah=4400), replace(FIRST, capacity_mah=4500))
    sentence = "This pack holds over a tenth less than the largest. In series it is full first, and empty first. Charge them one by one."
    packs = sound_packs(JoinedPackEntries(packs=(small, FIRST, aged, just), requested_rate_c=1))
    assert unlike_capacity(packs) == [(1, Problem("capacity_mah", sentence)), (3, Problem("measured_capacity_mah", sentence))]


def test_a_first_plug_that_carries_all_cells_leaves_none_for_the_second() -> None:
    packs = [PluggedPackEntries(**{name: getattr(FIRST, name) for name in KNOWN}, first_plug_cells=cells) for cells in (3, 4, 5)]
    sentence = "The first of two balance plugs carries fewer cells than the pack has. Leave it empty if there is only one."
    found = problems_of_plugs(packs)
    assert found == [(2, Problem("first_plug_cells", sentence)), (3, Problem("first_plug_cells", sentence))]


def test_too_many_cells_for_the_charger_or_for_anybody_s_hands_are_told_apart() -> None:
    lipo, charger = CHEMISTRIES["lipo"], given(charger_cells="6")
    assert problems_of_series_charger(6, charger, lipo) == []
    too_many = "These packs together have more cells than the charger takes: charge fewer at once, or one by one."
    assert problems_of_series_charger(7, charger, lipo) == [Problem("charger_cells", too_many)]
    (touched,) = problems_of_series_charger(15, charger, lipo)
    assert touched.field == "" and touched.sentence.endswith("Charge fewer at once, or each by itself.")


def test_the_lower_discharge_rate_counts_whichever_pack_comes_first() -> None:
    assert series_pack(_packs()).label_discharge_rate_c == series_pack(_packs(SECOND, FIRST)).label_discharge_rate_c == 20


def test_no_packs_hold_too_little_for_each_other() -> None:
    assert unlike_capacity(()) == []
