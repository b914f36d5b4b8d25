"""A supply lead in words: the fuse with its colour and its reason, and the table of lengths."""

from __future__ import annotations

import pytest

from calc.asking.equipment import SupplyEntries
from calc.telling.leads import fuse_setting, lead_rating, leads_by_length


def lead(area_mm2: float, length_m: float = 2.0) -> SupplyEntries:
    return SupplyEntries(supply_kind="mains", supply_v=12, supply_current_a=60, lead_length_m=length_m, lead_area_mm2=area_mm2)


def test_the_fuse_is_the_smallest_that_lasts() -> None:
    # 125 % of 10 A is 12.5 A: the next rating is 15 A, and 2.5 mm² may carry 20 A.
    fuse = fuse_setting(lead(2.5), current_a=10)
    assert fuse.figure == "15\N{NO-BREAK SPACE}A, blue"
    assert "125\N{NO-BREAK SPACE}%" in fuse.set_by


def test_half_an_ampere_is_not_lost_on_the_way() -> None:
    assert fuse_setting(lead(2.5), current_a=5.5).figure == "7.5\N{NO-BREAK SPACE}A, brown"


def test_where_the_lead_is_too_thin_its_own_fuse_is_named_and_what_it_carries() -> None:
    # 2.5 mm² may carry 20 A, and a fuse of 20 A carries 16 A for hours.
    fuse = fuse_setting(lead(2.5), current_a=20)
    assert fuse.figure == "20\N{NO-BREAK SPACE}A, yellow"
    assert "let it burn" in fuse.set_by and "16.0\N{NO-BREAK SPACE}A" in fuse.note


def test_above_the_largest_blade_fuse_someone_qualified_is_asked() -> None:
    # 16 mm² may carry 80 A; 125 % of 40 A is 50 A.
    fuse = fuse_setting(lead(16), current_a=40)
    assert fuse.figure == "40\N{NO-BREAK SPACE}A, orange" and "someone qualified" in fuse.note


def test_a_wire_thinner_than_any_fuse_gets_none() -> None:
    # 0.08 mm² at 12 A per mm² may carry just under 1 A.
    assert fuse_setting(lead(0.08), current_a=0.5).figure == "none fits"


@pytest.mark.parametrize("current_a", [3, 8, 16, 20, 30])
def test_a_fuse_says_how_near_to_the_battery_it_sits(current_a: float) -> None:
    assert "0.178\N{NO-BREAK SPACE}m" in fuse_setting(lead(2.5), current_a).note


def test_a_lead_s_rating_is_that_of_the_next_thinner_wire() -> None:
    assert str(lead_rating(lead(4)).figure) == "25.0\N{NO-BREAK SPACE}A"


def test_the_table_holds_the_pilot_s_own_length_in_its_place() -> None:
    headings = [row.heading for row in leads_by_length(lead(2.5, length_m=1.25), 10).rows]
    assert headings[2:4] == ["1.25\N{NO-BREAK SPACE}m, as yours", "1.5\N{NO-BREAK SPACE}m"]


def test_a_length_of_the_table_stands_in_it_once() -> None:
    headings = [row.heading for row in leads_by_length(lead(2.5, length_m=2), 10).rows]
    assert len(headings) == 7 and "2.0\N{NO-BREAK SPACE}m, as yours" in headings


def test_a_length_that_no_lead_bridges_is_told_to_go_closer() -> None:
    assert leads_by_length(lead(70, length_m=30), 60).rows[-1].cells[0] == "none: go closer"
