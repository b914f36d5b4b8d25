"""What the lines of a log say: charges so far, days full, what the pack held, and its resistance at one temperature."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.log_lines import LineEntries
from calc.rules.ageing.histories import History, first_of, history_of

DAY = 739_000
HALF_V = 3.793  # 50 % by the likely curve


def history(*lines: LineEntries, cells: int = 2) -> History:
    return history_of(lines, chemistry_key="lipo", cells=cells)


def test_charges_count_themselves_unless_a_line_says_how_many() -> None:
    found = history(
        LineEntries(day=DAY, kind="check"),
        LineEntries(day=DAY + 1, kind="charge"),
        LineEntries(day=DAY + 9, kind="check", charges=7),
        LineEntries(day=DAY + 10, kind="flight"),
    )
    assert [one.charges for one in found.lines] == [0, 1, 8, 8]


def test_lines_are_taken_by_their_days() -> None:
    found = history(LineEntries(day=DAY + 5, kind="flight"), LineEntries(day=DAY, kind="charge"))
    assert [one.entries.kind for one in found.lines] == ["charge", "flight"]
    assert found.last.full_days == 5


def test_a_pack_lies_full_from_its_charge_to_the_flight_or_the_storage_move() -> None:
    found = history(
        LineEntries(day=DAY, kind="charge"),
        LineEntries(day=DAY + 2, kind="check"),
        LineEntries(day=DAY + 3, kind="storage"),
        LineEntries(day=DAY + 90, kind="charge", to_v=(3.85, 3.85)),
        LineEntries(day=DAY + 95, kind="charge"),
        LineEntries(day=DAY + 96, kind="flight"),
    )
    assert found.last.full_days == 4


def test_days_for_which_a_line_stands_for_several_charges_are_not_known() -> None:
    found = history(LineEntries(day=DAY, kind="charge"), LineEntries(day=DAY + 200, kind="check", charges=12))
    assert found.last.full_days == 0


def test_a_charge_from_half_empty_gives_the_capacity_of_the_weakest_cell() -> None:
    assert CHEMISTRIES["lipo"].resting.likely.cell_v[20] == pytest.approx(HALF_V, abs=0.001)
    found = history(LineEntries(day=DAY, kind="charge", put_in_mah=1000, from_v=(3.90, HALF_V - 0.001)))
    assert found.last.capacity_mah == pytest.approx(2000, abs=20)


def test_the_whole_pack_read_alone_counts_as_its_mean_cell() -> None:
    whole = history(LineEntries(day=DAY, kind="charge", put_in_mah=1000, from_v=(7.4,)))
    each = history(LineEntries(day=DAY, kind="charge", put_in_mah=1000, from_v=(3.7, 3.7)))
    assert whole.last.capacity_mah == pytest.approx(each.last.capacity_mah)


@pytest.mark.parametrize(
    "line",
    [
        LineEntries(day=DAY, kind="charge", put_in_mah=500, from_v=(3.90, 3.90)),
        LineEntries(day=DAY, kind="charge", put_in_mah=1000),
        LineEntries(day=DAY, kind="charge", from_v=(3.70, 3.70)),
        LineEntries(day=DAY, kind="storage", put_in_mah=1000, from_v=(3.50, 3.50)),
        LineEntries(day=DAY, kind="charge", put_in_mah=200, from_v=(3.50, 3.50), to_v=(3.75, 3.75)),
    ],
    ids=["from above half", "not read", "not counted", "no charge", "not far enough"],
)
def test_what_tells_too_little_gives_no_capacity(line: LineEntries) -> None:
    assert history(line).last.capacity_mah is None


def test_what_was_measured_counts_before_what_follows_from_a_charge() -> None:
    line = LineEntries(day=DAY, kind="charge", put_in_mah=1500, from_v=(3.60, 3.60), measured_capacity_mah=2100)
    assert history(line).last.capacity_mah == 2100


def test_a_resistance_is_that_of_the_worst_cell_at_25_degrees() -> None:
    # exp(2100 (1/298.15 - 1/283.15)) = 1 / 1.452
    cold = history(LineEntries(day=DAY, kind="check", each_mohm=(5.0, 5.8), line_degc=10))
    assert cold.last.resistance_mohm == pytest.approx(5.8 / 1.452, rel=1e-3)
    assert history(LineEntries(day=DAY, kind="check", each_mohm=(5.0, 5.8))).last.resistance_mohm is None


def test_the_first_of_a_pack_is_the_middle_of_its_first_five_charges() -> None:
    given = [(0.0, 5000.0), (3.0, 5100.0), (5.0, 4900.0), (6.0, 1.0)]
    assert first_of(given, by_charges=True) == 5000
    assert first_of(given, by_charges=False) == 5000


def test_a_cell_that_reads_above_its_curve_is_full_and_no_more() -> None:
    begun = {"day": DAY, "kind": "charge", "put_in_mah": 1000, "from_v": (3.7, 3.7)}
    full, above = (history(LineEntries(**begun, to_v=(cell_v, cell_v))).last.capacity_mah for cell_v in (4.20, 4.24))
    assert above == pytest.approx(full)


@pytest.mark.parametrize(("to_v", "days"), [((8.4,), 10), ((7.7,), 0), ((4.2, 3.9), 10)])
def test_a_charge_ends_full_by_its_mean_cell_or_by_the_highest_that_was_read(to_v: tuple[float, ...], days: int) -> None:
    charged = LineEntries(day=DAY, kind="charge", to_v=to_v)
    assert history(charged, LineEntries(day=DAY + 10, kind="check")).last.full_days == days


def test_nine_tenths_are_full_and_less_is_not() -> None:
    # The curve has 41 points: the 37th is 90 %.
    at_v = CHEMISTRIES["lipo"].resting.likely.cell_v[36]
    days = [
        history(LineEntries(day=DAY, kind="charge", to_v=(to_v, to_v)), LineEntries(day=DAY + 10, kind="check")).last.full_days
        for to_v in (at_v, at_v - 0.01)
    ]
    assert days == [10, 0]


def test_a_pack_that_is_flown_is_followed_by_its_charges_and_one_that_lies_by_its_days() -> None:
    flown = history(*(LineEntries(day=DAY + place, kind="check", charges=charges) for place, charges in ((0, 3), (7, 4), (30, 2))))
    assert flown.goes_by_charges
    assert [flown.place_of(line) for line in flown.lines] == [0, 4, 6]
    lies = history(*(LineEntries(day=DAY + place, kind="check", charges=1) for place in (0, 100, 400)))
    assert not lies.goes_by_charges
    assert [lies.place_of(line) for line in lies.lines] == [0, 100, 400]


def test_a_line_of_one_charge_tells_how_long_the_pack_was_full_and_one_of_two_does_not() -> None:
    days = [
        history(LineEntries(day=DAY, kind="charge"), LineEntries(day=DAY + 8, kind="check", charges=charges)).last.full_days
        for charges in (1, 2)
    ]
    assert days == [8, 0]


def test_the_first_charges_are_counted_from_the_first_line() -> None:
    later = [(40.0, 4000.0), (43.0, 5100.0), (45.0, 4900.0), (46.0, 1.0)]
    assert first_of(later, by_charges=True) == 4900


def test_a_charge_that_ended_below_full_gives_the_capacity_by_what_each_cell_took_in() -> None:
    curve = CHEMISTRIES["lipo"].resting.likely.cell_v
    # From 20 to 80 % and from 30 to 80 %: the first cell took in six tenths.
    before, after = (curve[8], curve[12]), (curve[32], curve[32])
    line = LineEntries(day=DAY, kind="charge", put_in_mah=1200, from_v=before, to_v=after)
    assert history(line).last.capacity_mah == pytest.approx(2000)
    # The lower one of two that went to unlike ends: from 20 to 75 %.
    apart = LineEntries(day=DAY, kind="charge", put_in_mah=1100, from_v=before, to_v=(curve[30], curve[32]))
    assert history(apart).last.capacity_mah == pytest.approx(2000)


def test_a_charge_whose_end_was_read_as_a_whole_counts_each_cell_up_to_the_mean() -> None:
    curve = CHEMISTRIES["lipo"].resting.likely.cell_v
    line = LineEntries(day=DAY, kind="charge", put_in_mah=1200, from_v=(curve[8], curve[12]), to_v=(2 * curve[32],))
    assert history(line).last.capacity_mah == pytest.approx(2000)


def test_half_of_a_cell_is_enough_to_tell_its_capacity() -> None:
    curve = CHEMISTRIES["lipo"].resting.likely.cell_v
    half, less = (
        LineEntries(day=DAY, kind="charge", put_in_mah=1000, from_v=(curve[10], curve[10]), to_v=(curve[end], curve[end]))
        for end in (30, 29)
    )
    assert history(half).last.capacity_mah == pytest.approx(2000)
    assert history(less).last.capacity_mah is None


def test_how_far_cells_are_apart_is_told_by_the_wider_of_both_readings() -> None:
    # A cell that has dropped away in flight was level with the others while they were full.
    landed = LineEntries(day=DAY, kind="flight", from_v=(4.20, 4.20), to_v=(3.80, 3.70))
    assert history(landed).last.spread_v == 0.1
    # As shown, to the hundredth of a millivolt: 3.83 - 3.80 is not 0.03 in the last bit.
    both = LineEntries(day=DAY, kind="charge", from_v=(3.80, 3.83), to_v=(4.20, 4.19))
    after = LineEntries(day=DAY, kind="charge", from_v=(7.63,), to_v=(4.20, 4.19))
    whole = LineEntries(day=DAY, kind="charge", from_v=(7.63,), to_v=(8.39,))
    assert [history(line).last.spread_v for line in (both, after, whole, LineEntries(day=DAY, kind="charge"))] == [0.03, 0.01, None, None]
    assert history(LineEntries(day=DAY, kind="check", to_v=(3.80, 3.81)), cells=2).last.spread_v == 0.01


def test_one_cell_is_its_own_mean() -> None:
    whole = history(LineEntries(day=DAY, kind="charge", put_in_mah=1000, from_v=(HALF_V - 0.001,)), cells=1)
    assert whole.last.capacity_mah == pytest.approx(2000, abs=20)
    assert whole.last.spread_v is None
