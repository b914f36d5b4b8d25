"""The moment of joining, on two packs that are alike in nothing: every current over the sum of what it flows through."""

from __future__ import annotations

from dataclasses import replace
from math import exp

import pytest

from calc.figures.spans import Span
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.rules.joined.joined_packs import SoundPack, sound_packs
from calc.rules.joined.moment_of_joining import PlugsIn, Rested, joining_of, plugs_in, widest_place

# Leads of which each end is known: 4 mΩ at least, most likely 5, and 6 at most.
LEAD_OHM = Span(0.004, 0.005, 0.006)
# 0.15 m of a wire of gauge 22, 0.3255 mm², one way, as plain copper or with a sixth more for strands, and a contact of 2, 5 or 20 mΩ.
PLAIN_OHM = 0.15 * 0.017241 / 0.3255
MOST_OHM, LIKELY_OHM, LEAST_OHM = (1.16 * PLAIN_OHM + 0.020, 1.16 * PLAIN_OHM + 0.005, PLAIN_OHM + 0.002)


def _pack(
    capacity_mah: float, cell_v: tuple[float, ...], mohm: float, discharge_c: float | None = None, charge_c: float = 1
) -> PackEntries:
    return PackEntries(
        chemistry="lipo", cells=len(cell_v), capacity_mah=capacity_mah, resting_v=cell_v, pack_degc=25, label_charge_rate_c=charge_c,
        label_discharge_rate_c=discharge_c, cell_resistance_mohm=mohm,
    )  # fmt: skip


def _joined(*packs: PackEntries) -> tuple[SoundPack, ...]:
    return sound_packs(JoinedPackEntries(packs=packs, requested_rate_c=1))


# Two cells each: a reading of 5 mΩ counts 5, 10 or 20 mΩ, one of 4 mΩ counts 4, 8 or 16.
PAIR = _joined(_pack(2000, (3.75, 3.75), 5), _pack(4000, (3.90, 3.90), 4, discharge_c=20))


def test_the_current_is_the_difference_over_all_cells_and_both_leads() -> None:
    joining = joining_of(PAIR, lead_ohm=LEAD_OHM, lead_area_mm2=2.5)
    assert joining.difference_v == pytest.approx(0.3)
    most_a, likely_a, least_a = (
        0.3 / (2 * (one + other) + 2 * lead) for one, other, lead in ((0.005, 0.004, 0.004), (0.010, 0.008, 0.005), (0.020, 0.016, 0.006))
    )
    assert (joining.main_a.least, joining.main_a.likely, joining.main_a.most) == pytest.approx((least_a, likely_a, most_a))
    # The emptier pack of 2 Ah takes it.
    assert joining.taker is PAIR[0]
    assert joining.taken_c == pytest.approx(most_a / 2)


def test_a_resistance_may_have_been_read_in_the_cold_and_is_then_no_higher_there() -> None:
    # Nobody says how warm the pack was when it was read. At 5 °C the highest current counts the 5 and 4 mΩ as they stand.
    cold = [replace(one.entries, pack_degc=5) for one in PAIR]
    joining = joining_of(_joined(*cold), lead_ohm=LEAD_OHM, lead_area_mm2=2.5)
    assert joining.main_a.most == pytest.approx(0.3 / (2 * (0.005 + 0.004) + 2 * 0.004))
    # Warm cells have less than what was read in the cool: by Arrhenius's law with 3050 K at 35 °C.
    warm = [replace(one.entries, pack_degc=35) for one in PAIR]
    share = exp(3050 * (1 / 308.15 - 1 / 298.15))
    assert joining_of(_joined(*warm), lead_ohm=LEAD_OHM, lead_area_mm2=2.5).main_a.most == pytest.approx(
        0.3 / (2 * (0.005 + 0.004) * share + 2 * 0.004)
    )


def test_where_each_cell_was_read_the_lowest_counts_and_not_the_highest_alone() -> None:
    # The form asks for the highest of the cells. A loop of lower ones passes more.
    packs = [replace(one.entries, cell_resistances_mohm=(3.6, 4.0)) for one in PAIR]
    assert joining_of(_joined(*packs), lead_ohm=LEAD_OHM, lead_area_mm2=2.5).main_a.most == pytest.approx(0.3 / (4 * 0.0036 + 2 * 0.004))


def test_the_lowest_of_warm_cells_has_less_than_the_meter_showed_of_it() -> None:
    # By Arrhenius's law with 3050 K at 35 °C, as above; the highest of the cells alone would make the loop seem stiffer.
    warm = [replace(one.entries, pack_degc=35, cell_resistances_mohm=(3.6, 4.0)) for one in PAIR]
    share = exp(3050 * (1 / 308.15 - 1 / 298.15))
    assert joining_of(_joined(*warm), lead_ohm=LEAD_OHM, lead_area_mm2=2.5).main_a.most == pytest.approx(
        0.3 / (4 * 0.0036 * share + 2 * 0.004)
    )


def test_every_largest_difference_is_a_current_over_the_lowest_resistance_of_the_loop_and_says_whose() -> None:
    # 2 x 5 mΩ, 2 x 4 mΩ and two leads of 4 mΩ are 26 mΩ; 2.5 mm² may carry 20 A.
    limits = joining_of(PAIR, lead_ohm=LEAD_OHM, lead_area_mm2=2.5).limits
    assert [limit.ceiling for limit in limits] == pytest.approx(
        [2 * 0.1, 2 * 0.026, 2 * 0.026, 20 * 0.026, 4 * 0.026, 80 * 0.026, 20 * 0.026]
    )
    assert [limit.because.replace("\N{NO-BREAK SPACE}", " ") for limit in limits] == [
        "common practice, no source: 0.10 V for each cell",
        "the fastest charge that Pack 1 may have, by its label, its condition and the cold",
        "the charge rate of Pack 1: it must not give more than it may take, since no discharge rate is entered",
        "the lead of Pack 1: the current that a wire this thin may carry",
        "the fastest charge that Pack 2 may have, by its label, its condition and the cold",
        "the discharge rate on the label of Pack 2",
        "the lead of Pack 2: the current that a wire this thin may carry",
    ]


def test_of_three_packs_the_two_others_stand_side_by_side() -> None:
    one = _pack(2000, (3.80,), 5)
    limits = joining_of(_joined(one, one, one), lead_ohm=LEAD_OHM, lead_area_mm2=2.5).limits
    # 9 mΩ on each way: one way and half of one.
    assert limits[1].ceiling == pytest.approx(2 * 0.0135)


@pytest.mark.parametrize(("apart_v", "flows"), [(0.0004, False), (0.0006, True)])
def test_packs_that_are_apart_by_less_than_half_a_step_of_a_meter_drive_no_current(apart_v: float, flows: bool) -> None:
    assert (
        joining_of(_joined(_pack(2000, (3.8,), 5), _pack(2000, (3.8 + apart_v,), 5)), lead_ohm=LEAD_OHM, lead_area_mm2=2.5).flows is flows
    )


def test_the_place_at_which_cells_are_furthest_apart_is_named_with_both_packs() -> None:
    packs = _joined(_pack(2000, (3.80, 3.83), 5), _pack(2000, (3.79, 3.82), 5), _pack(2000, (3.81, 3.80), 5))
    place = widest_place(packs)
    assert (place.cell, place.highest, place.lowest, place.difference_v) == (2, packs[0], packs[2], 0.03)


def test_where_two_places_are_as_wide_the_first_is_named() -> None:
    assert widest_place(_joined(_pack(2000, (3.80, 3.80), 5), _pack(2000, (3.82, 3.82), 5))).cell == 1


def _single(**how: object) -> tuple[tuple[SoundPack, ...], PlugsIn]:
    packs = _joined(_pack(2000, (3.75,), 5), _pack(4000, (3.90,), 4, discharge_c=1))
    return packs, plugs_in(packs, LEAD_OHM, **how)


def test_plugs_that_come_first_take_all_of_the_current_through_four_wires() -> None:
    _, found = _single()
    ends = ((0.036, MOST_OHM), (0.018, LIKELY_OHM), (0.009, LEAST_OHM))
    assert (found.before_a.least, found.before_a.likely, found.before_a.most) == pytest.approx(
        tuple(0.15 / (cells_ohm + 4 * wire_ohm) for cells_ohm, wire_ohm in ends), rel=2e-3
    )


def test_plugs_beside_the_main_leads_take_what_their_wires_let_through() -> None:
    # On each side half of a lead lies beside a wire, in both packs. Most goes through the wire where it has the least and the lead the most.
    def contact_a(cells_ohm: float, wire_ohm: float, lead_ohm: float) -> float:
        half_ohm = lead_ohm / 2
        side_by_side_ohm = half_ohm * wire_ohm / (half_ohm + wire_ohm)
        return 0.15 / (cells_ohm + 4 * side_by_side_ohm) * half_ohm / (half_ohm + wire_ohm)

    _, found = _single()
    assert (found.after_a.least, found.after_a.likely, found.after_a.most) == pytest.approx(
        (contact_a(0.036, MOST_OHM, 0.004), contact_a(0.018, LIKELY_OHM, 0.005), contact_a(0.009, LEAST_OHM, 0.006)), rel=2e-3
    )


def test_what_passes_a_ceiling_is_told_with_the_current_the_ceiling_and_the_place() -> None:
    _, found = _single()
    side_by_side_ohm = 0.002 * LEAST_OHM / (0.002 + LEAST_OHM)
    cell_a = 0.15 / (0.009 + 4 * side_by_side_ohm)
    # 1C of 2 Ah may be taken, and 1C of 4 Ah given.
    assert [(one.ceiling_a, one.because) for one in found.passed] == [(2.0, "into a cell of Pack 1"), (4.0, "out of a cell of Pack 2")]
    assert [one.current_a for one in found.passed] == pytest.approx([cell_a, cell_a], rel=2e-3)


def test_a_contact_that_gets_more_than_it_bears_is_told_whatever_the_cells_bear() -> None:
    # 0.4 V over 2 x 0.5 mΩ and 30 m of leads, which leave nearly all to the plugs; the labels would allow hundreds of amperes.
    strong = [_pack(20_000, (cell_v,), 0.5, discharge_c=50, charge_c=20) for cell_v in (3.60, 4.00)]
    found = plugs_in(_joined(*strong), Span(1.0, 1.0, 1.0))
    assert [(one.ceiling_a, one.because) for one in found.passed] == [(3, "through a contact of a balance plug")]
    assert found.passed[0].current_a == found.after_a.most


def test_cells_that_came_level_during_the_wait_pass_nothing_and_the_contact_counts_from_the_first_moment() -> None:
    _, at_once = _single()
    _, waited = _single(come_level=[Rested(((3.8,), (3.8,)), end) for end in range(3)])
    assert waited.passed == ()
    assert waited.after_a == at_once.after_a
