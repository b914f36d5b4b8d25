"""The tables of common cases: their figures can be reckoned in the head, and each names its limit."""

import pytest

from calc.figures.showing import Row
from site_builder.building.common_cases import worked_tables
from site_builder.harness.content import PAGES

PAGE_BY_KEY = {page.key: page for page in PAGES}
THE_PACK_ALONE, THE_SMALL_CHARGER = worked_tables(PAGE_BY_KEY["charge-settings"])
[MINUTES] = worked_tables(PAGE_BY_KEY["charge-course"])

RATES_C = (0.5, 1, 2)
# The power that a supply of 12.6 V with its lead leaves it is never what binds the small charger: 50 W at 4.20 V for each cell.
POWER_W, CURRENT_A = 50, 5


def figures(row: Row) -> list[float]:
    return [float(str(cell).split("\u00a0")[0]) for cell in row.cells]


def capacity_ah(row: Row) -> float:
    return int(row.heading.split("\u00a0")[0]) / 1000


@pytest.mark.parametrize("row", THE_PACK_ALONE.table.rows, ids=lambda row: row.heading)
def test_the_current_that_a_pack_allows_is_its_rate_times_its_capacity_rounded_down(row):
    for figure, rate_c in zip(figures(row), RATES_C, strict=True):
        assert rate_c * capacity_ah(row) - 0.1 < figure <= rate_c * capacity_ah(row)


def test_the_table_goes_from_the_smallest_pack_to_the_largest_and_names_its_columns():
    assert [THE_PACK_ALONE.table.rows[place].heading for place in (0, -1)] == ["300\u00a0mAh", "10000\u00a0mAh"]
    assert THE_PACK_ALONE.table.columns == ("Capacity on the label", "0.5\u00a0C", "1\u00a0C", "2\u00a0C")


def test_a_limit_that_set_every_current_is_named_once():
    assert THE_PACK_ALONE.table.notes == ("Side by side: charge rate on the label.", "Every one is set by the charge rate on the label.")


@pytest.mark.parametrize("row", THE_SMALL_CHARGER.table.rows, ids=lambda row: row.heading)
def test_on_the_small_charger_each_current_keeps_every_limit_and_names_the_one_that_set_it(row):
    for cell, figure, cells in zip(row.cells, figures(row), (3, 4, 6), strict=True):
        limits = {
            "the charge rate on the label": capacity_ah(row),
            "the charger's highest current": CURRENT_A,
            "the charger's highest power": POWER_W / (cells * 4.20),
        }
        assert cell.partition(", ")[2] == min(limits, key=limits.get)
        assert min(limits.values()) - 0.1 < figure <= min(limits.values())


def test_a_fuller_pack_and_a_faster_charge_take_fewer_minutes():
    ends = [[tuple(map(int, cell.removesuffix("\u00a0min").split(" to "))) for cell in row.cells] for row in MINUTES.table.rows]
    for fuller, emptier in zip(ends[1:], ends, strict=False):
        assert all(one < other for one, other in zip(fuller, emptier, strict=True))
    assert all(slow > middle > fast for slow, middle, fast in ends)


def test_what_was_entered_leaves_out_what_is_varied_and_what_is_not_asked():
    entered = dict(THE_PACK_ALONE.entered)
    assert entered["Highest charge current"] == "60\u00a0A"
    assert not {"Capacity on the label", "Charge rate on the label", "Charge rate you want", "Kind of battery"} & set(entered)
