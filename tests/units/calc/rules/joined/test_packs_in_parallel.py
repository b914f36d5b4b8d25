"""Packs side by side as the entries of one, and every ceiling on the current of all, on packs that differ."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.figures.spans import Span
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries, LabelledPluggedPack
from calc.inputs.refusals import Problem
from calc.rules.joined.joined_packs import SoundPack, sound_packs
from calc.rules.joined.packs_in_parallel import (
    parallel_current_limits,
    parallel_label,
    parallel_limits_so_far,
    parallel_pack,
    problems_of_plugs_side_by_side,
    unequal_cells,
    unlike_size,
)
from tests.units.calc.sound_charge import given

FIRST = PackEntries(
    chemistry="lipo", cells=2, capacity_mah=2000, resting_v=(7.60,), pack_degc=25, label_charge_rate_c=1, label_discharge_rate_c=20,
    cell_resistance_mohm=5,
)  # fmt: skip
SECOND = PackEntries(
    chemistry="lipo", cells=2, capacity_mah=4000, resting_v=(7.64,), pack_degc=22, label_charge_rate_c=2, label_discharge_rate_c=30,
    cell_resistance_mohm=4,
)  # fmt: skip


def _packs(*packs: PackEntries) -> tuple[SoundPack, ...]:
    return sound_packs(JoinedPackEntries(packs=packs or (FIRST, SECOND), requested_rate_c=1))


def test_capacities_and_conductances_add_up_and_the_rest_is_that_of_the_weaker() -> None:
    one = parallel_pack(_packs())
    assert (one.cells, one.capacity_mah, one.measured_capacity_mah) == (2, 6000, None)
    assert one.resting_v == (pytest.approx(7.62),)
    # 1/5 and 1/4 are 9/20.
    assert one.cell_resistance_mohm == pytest.approx(20 / 9)
    assert (one.label_charge_rate_c, one.label_discharge_rate_c, one.pack_degc) == (1, 20, 22)


def test_one_aged_pack_makes_all_of_them_hold_less_than_their_labels() -> None:
    one = parallel_pack(_packs(FIRST, replace(SECOND, measured_capacity_mah=3500)))
    assert (one.capacity_mah, one.measured_capacity_mah) == (6000, pytest.approx(5500))


def test_a_pack_that_took_in_more_than_its_label_is_not_aged_and_takes_that_beside_another_too() -> None:
    one = parallel_pack(_packs(FIRST, replace(SECOND, measured_capacity_mah=4100)))
    assert (one.measured_capacity_mah, one.effective_capacity_mah) == (pytest.approx(6100), 6000)


def test_a_resistance_that_is_not_known_of_each_is_not_known() -> None:
    assert parallel_pack(_packs(FIRST, replace(SECOND, cell_resistance_mohm=None))).cell_resistance_mohm is None


def test_every_ceiling_says_what_it_is_and_whose() -> None:
    bench = given(charger_current_a="7", charger_power_w="200")
    # At 25 °C a resistance counts as it was read: 10 and 8 mΩ most likely over a whole charge.
    found = parallel_current_limits(
        packs=_packs(FIRST, replace(SECOND, pack_degc=25)),
        charger=bench,
        supply=bench,
        requested_rate_c=0.5,
        lead_ohm=Span(0.004, 0.005, 0.006),
    )
    # By capacity 6 Ah over 2 or 4. By resistance two cells each and 5 mΩ of lead: 25 and 21 mΩ.
    assert [limit.because for limit in found[:7]] == [
        "the charge rate on the label (Pack 1, its share by capacity)",
        "the charge rate on the label (Pack 1, whose low resistance takes more at first)",
        "the charge rate on the label (Pack 2, its share by capacity)",
        "the charge rate on the label (Pack 2, whose low resistance takes more at first)",
        "the charger's highest current",
        "the rate you asked for, of all packs together",
        "the charger's highest power",
    ]
    assert [limit.ceiling for limit in found[:7]] == pytest.approx(
        [2 * 6 / 2, 2 * (1 + 25 / 21), 8 * 6 / 4, 8 * (1 + 21 / 25), 7, 3, 200 / 8.4]
    )


def test_each_pack_of_another_cell_count_than_the_first_is_named() -> None:
    packs = _packs(FIRST, replace(SECOND, cells=3, resting_v=(11.4,)), FIRST)
    sentence = (
        "Its cell count is not that of Pack 1. Never join such packs side by side: the one with more cells forces a current into the "
        "other that nothing stops, and it burns."
    )
    assert unequal_cells(packs) == [(2, Problem("cells", sentence))]


@pytest.mark.parametrize(("small_mah", "numbers"), [(2000, []), (1999, [2])])
def test_a_pack_of_less_than_half_of_the_largest_is_charged_apart(small_mah: float, numbers: list[int]) -> None:
    found = unlike_size(_packs(SECOND, replace(FIRST, capacity_mah=small_mah), SECOND))
    assert [number for number, _ in found] == numbers
    sentence = (
        "Pack 1 holds more than twice what this one does. If the plug of Pack 1 slips, this one gets the whole current, and nothing stops it. "
        "Charge it by itself."
    )
    assert all(problem == Problem("capacity_mah", sentence) for _, problem in found)


def test_before_a_reading_labels_charger_and_supply_set_the_ceilings_and_what_is_not_known_sets_none() -> None:
    bench = given(charger_current_a="7", supply_current_a="11")
    whole, no_supply, no_charger = (
        {limit.because: limit.ceiling for limit in parallel_limits_so_far(packs=_packs(), requested_rate_c=1, **known)}
        for known in ({"charger": bench, "supply": bench}, {"charger": bench, "supply": None}, {"charger": None, "supply": bench})
    )
    assert whole["the charger's highest current"] == no_supply["the charger's highest current"] == 7
    # 11 A at 13.8 V and 85 % are a little less than 129 W, which are 15.4 A at 8.4 V.
    assert whole["the supply's highest current"] == pytest.approx(15.3, abs=0.1)
    assert set(whole) - set(no_supply) >= {"the supply's highest current"}
    assert not {"the charger's highest current", "the supply's highest current"} & set(no_charger)
    assert len(no_charger) == 3


def test_plugs_that_carry_other_cells_are_told_as_the_short_circuit_that_they_would_make() -> None:
    first, other = (
        LabelledPluggedPack(chemistry="lipo", cells=6, capacity_mah=2000, label_charge_rate_c=1, first_plug_cells=n) for n in (3, 2)
    )
    [(number, problem)] = problems_of_plugs_side_by_side((first, other), None)
    assert (number, problem.field) == (2, "first_plug_cells")
    assert problem.sentence == (
        "Its balance plugs carry other cells than those of Pack 1. On one board they join places that are not alike: a short circuit through "
        "the thin wires. Charge these packs one by one."
    )
    assert problems_of_plugs_side_by_side((first, first), None) == []


def test_several_labels_side_by_side_are_one_of_all_their_capacity_at_the_lowest_rate() -> None:
    label = parallel_label(_packs())
    assert (label.chemistry, label.cells, label.capacity_mah, label.label_charge_rate_c) == ("lipo", 2, 6000, 1)
