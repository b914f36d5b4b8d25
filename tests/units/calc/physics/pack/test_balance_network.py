"""What flows through balance plugs on a board, against networks small enough for mesh currents on paper."""

from __future__ import annotations

import pytest

from calc.physics.pack.balance_network import Ladder, flows_on_the_board


def test_two_single_cells_drive_one_current_through_both_cells_and_four_wires() -> None:
    # 0.2 V over two cells of 5 mΩ and four wires of 10 mΩ: 4 A.
    high, low = flows_on_the_board([Ladder((4.0,), 0.005), Ladder((3.8,), 0.005)], wire_ohm=0.010)
    assert (high.cells_a, low.cells_a) == (pytest.approx((-4.0,)), pytest.approx((4.0,)))
    assert [abs(wire_a) for wire_a in (*high.wires_a, *low.wires_a)] == pytest.approx([4.0] * 4)


def test_the_middle_wire_carries_two_cells_that_are_out_of_line_the_other_way_round() -> None:
    # Two meshes of 2 r + 4 w, coupled by 2 w, driven by 0.1 V and -0.1 V: i (2 r + 6 w) = 0.1 V, and 2 i through the middle.
    packs = [Ladder((3.85, 3.75), 0.005), Ladder((3.75, 3.85), 0.005)]
    first, _ = flows_on_the_board(packs, wire_ohm=0.010)
    mesh_a = 0.1 / (2 * 0.005 + 6 * 0.010)
    assert first.cells_a == pytest.approx((-mesh_a, mesh_a))
    assert [abs(wire_a) for wire_a in first.wires_a] == pytest.approx([mesh_a, 2 * mesh_a, mesh_a])


def test_packs_that_rest_alike_as_a_whole_drive_nothing_through_their_main_leads_and_all_through_the_plugs() -> None:
    packs = [Ladder((3.9, 3.7), 0.005), Ladder((3.7, 3.9), 0.005)]
    [with_leads, _], [without, _] = (flows_on_the_board(packs, wire_ohm=0.010, lead_ohm=lead_ohm) for lead_ohm in (0.002, None))
    assert max(map(abs, with_leads.wires_a)) > max(map(abs, without.wires_a)) == pytest.approx(2 * 0.2 / 0.070)


def test_cells_that_rest_alike_in_every_pack_drive_nothing_however_unlike_their_places() -> None:
    packs = [Ladder((3.9, 3.5, 3.7), ohm) for ohm in (0.001, 0.02, 0.3)]
    for flow in flows_on_the_board(packs, wire_ohm=0.010, lead_ohm=0.002):
        assert (*flow.cells_a, *flow.wires_a) == pytest.approx((0.0,) * 7, abs=1e-9)


def test_what_goes_into_a_point_of_the_board_comes_out_of_it() -> None:
    packs = [Ladder((3.9, 3.5, 3.7), 0.001), Ladder((3.8, 3.8, 3.6), 0.02), Ladder((3.7, 3.75, 4.0), 0.3)]
    flows = flows_on_the_board(packs, wire_ohm=0.010)
    for tap in range(4):
        assert sum(flow.wires_a[tap] for flow in flows) == pytest.approx(0.0, abs=1e-9)


def test_main_leads_take_what_whole_packs_have_apart_and_leave_the_plugs_little() -> None:
    packs = [Ladder((3.8,) * 4, 0.005), Ladder((3.9,) * 4, 0.005)]
    with_leads, without = (flows_on_the_board(packs, wire_ohm=0.010, lead_ohm=lead_ohm)[0] for lead_ohm in (0.002, None))
    assert max(map(abs, with_leads.wires_a)) < 0.2 * max(map(abs, without.wires_a))
