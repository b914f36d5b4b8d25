"""Packs that come level: on which curve and with which resistance each course runs, and where the cells then rest."""

from __future__ import annotations

import pytest

from calc.figures.spans import Span
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.rules.joined.joined_packs import SoundPack, sound_packs
from calc.rules.joined.levelling import coming_level

LEAD_OHM = Span(0.004, 0.005, 0.006)


def _pair() -> tuple[SoundPack, ...]:
    """Two cells of 2 Ah and of 4 Ah, 0.15 V apart. A reading of 5 mΩ counts 5, 10 or 20 mΩ, one of 4 mΩ counts 4, 8 or 16."""
    low, high = (
        PackEntries(
            chemistry="lipo", cells=1, capacity_mah=capacity_mah, resting_v=(cell_v,), pack_degc=25, label_charge_rate_c=1,
            cell_resistance_mohm=mohm,
        )
        for capacity_mah, cell_v, mohm in ((2000, 3.75, 5), (4000, 3.90, 4))
    )  # fmt: skip
    return sound_packs(JoinedPackEntries(packs=(low, high), requested_rate_c=1))


def test_each_course_begins_with_the_difference_over_its_resistances_and_both_leads() -> None:
    coming = coming_level(_pair(), LEAD_OHM)
    first_a = [course[0].currents_a[0] for course in (coming.likely, *coming.corners)]
    likely_a, slow_a, quick_a = (0.15 / ohm for ohm in (0.010 + 0.008 + 2 * 0.005, 0.020 + 0.016 + 2 * 0.006, 0.005 + 0.004 + 2 * 0.004))
    assert first_a == pytest.approx([likely_a, slow_a, quick_a, slow_a, quick_a])


def test_the_cells_rest_afterwards_where_each_course_ends() -> None:
    coming = coming_level(_pair(), LEAD_OHM)
    assert [rested.cell_v for rested in coming.afterwards] == [course[-1].cell_v for course in (coming.likely, *coming.corners)]
    # Of the three ends of a resistance 0 is the most, 1 the likely and 2 the least.
    assert [rested.end for rested in coming.afterwards] == [1, 0, 2, 0, 2]


def test_the_larger_pack_moves_half_as_far_as_the_smaller() -> None:
    # What the one of 2 Ah takes, the one of 4 Ah gives: half as much of its capacity.
    last = coming_level(_pair(), LEAD_OHM).likely[-1]
    assert last.taken_ah[0] == pytest.approx(-last.taken_ah[1])
    assert last.taken_ah[0] > 0
