"""A supply lead in words: the fuse with its colour and its reason, and the table of lengths."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.calculators.parts.supply_and_leads_lead import fuse_setting, lead_rating, leads_by_length
from calc.inputs.supply import SupplyEntries


def lead(area_mm2: float, length_m: float = 2.0) -> SupplyEntries:
    return SupplyEntries(supply_kind="mains", supply_v=12, supply_current_a=60, lead_length_m=length_m, lead_area_mm2=area_mm2)


def test_the_fuse_is_the_smallest_that_lasts() -> None:
    # 125 % of 10 A is 12.5 A: the next rating is 15 A, and 2.5 mm² may carry 20 A.
    fuse = fuse_setting(lead(2.5), current_a=10)
    assert fuse.figure == "15\N{NO-BREAK SPACE}A, blue"
    assert "125\N{NO-BREAK SPACE}%" in fuse.set_by


def test_half_an_ampere_is_not_lost_on_the_way() -> None:
    assert fuse_setting(lead(2.5), current_a=5.5).figure == "7.5\N{NO-BREAK SPACE}A, brown"


def test_a_fuse_that_is_in_the_lead_and_protects_it_stays() -> None:
    # 125 % of 40 A is 50 A, above any blade fuse; 16 mm² may carry 80 A.
    fuse = fuse_setting(replace(lead(16), lead_fuse_a=60), current_a=40)
    assert fuse.figure == "60\N{NO-BREAK SPACE}A, as fitted"


def test_a_fuse_that_does_not_protect_the_lead_is_to_be_changed() -> None:
    # 2.5 mm² may carry 20 A.
    assert fuse_setting(replace(lead(2.5), lead_fuse_a=30), current_a=16).figure == "20\N{NO-BREAK SPACE}A, yellow"


@pytest.mark.parametrize("current_a", [3, 8, 16])
def test_a_fuse_says_how_near_to_the_battery_it_sits(current_a: float) -> None:
    assert "0.178\N{NO-BREAK SPACE}m" in fuse_setting(lead(2.5), current_a).note


def test_a_lead_s_rating_is_that_of_the_next_thinner_wire() -> None:
    assert str(lead_rating(lead(4)).figure) == "25.0\N{NO-BREAK SPACE}A"
    # Below the thinnest wire of the table the current falls with the area, and what may be carried is never rounded up.
    assert str(lead_rating(lead(0.255)).figure) == "3.0\N{NO-BREAK SPACE}A"


def test_the_table_holds_the_pilot_s_own_length_in_its_place() -> None:
    headings = [row.heading for row in leads_by_length(lead(2.5, length_m=1.25), 10).rows]
    assert headings[2:4] == ["1.25\N{NO-BREAK SPACE}m, as yours", "1.5\N{NO-BREAK SPACE}m"]


def test_a_length_of_the_table_stands_in_it_once() -> None:
    headings = [row.heading for row in leads_by_length(lead(2.5, length_m=2), 10).rows]
    assert len(headings) == 7 and "2.0\N{NO-BREAK SPACE}m, as yours" in headings


def test_a_length_that_no_lead_bridges_is_told_to_go_closer() -> None:
    assert leads_by_length(lead(70, length_m=30), 60).rows[-1].cells[0] == "none: move the charger closer"
