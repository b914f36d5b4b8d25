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
