"""Which plug goes into which port."""

from __future__ import annotations

from calc.physics.pack.balance_ports import plugs_in_series, ports_of


def ports(cell_counts: list[int], *, ports: int, port_cells: int, joined: bool = False) -> list[int] | None:
    return ports_of(plugs_in_series([[cells] for cells in cell_counts]), ports=ports, port_cells=port_cells, joined=joined)


def test_cells_are_counted_through_from_the_minus() -> None:
    assert [plug.cells for plug in plugs_in_series([[4], [3]])] == [(1, 2, 3, 4), (5, 6, 7)]


def test_a_pack_of_two_plugs_has_the_cells_on_each_that_its_owner_counted() -> None:
    assert [(plug.pack, plug.cells) for plug in plugs_in_series([[6, 2], [3]])] == [(1, (1, 2, 3, 4, 5, 6)), (1, (7, 8)), (2, (9, 10, 11))]


def test_fourteen_cells_of_two_packs_go_to_two_ports() -> None:
    assert ports([7, 7], ports=2, port_cells=7) == [1, 2]


def test_two_plugs_do_not_go_into_one_port_of_their_own() -> None:
    assert ports([2, 2], ports=1, port_cells=6) is None


def test_a_series_balance_lead_puts_neighbours_into_one_port() -> None:
    assert ports([2, 2], ports=1, port_cells=6, joined=True) == [1, 1]
    assert ports([3, 3, 3], ports=2, port_cells=6, joined=True) == [1, 1, 2]


def test_a_plug_that_would_be_one_cell_too_many_goes_to_the_next_port() -> None:
    assert ports([3, 4], ports=2, port_cells=6, joined=True) == [1, 2]


def test_a_plug_is_never_parted_between_two_ports() -> None:
    assert ports([4, 4, 4], ports=2, port_cells=6, joined=True) is None


def test_a_plug_with_more_cells_than_a_port_takes_has_no_port() -> None:
    assert ports([4, 4], ports=2, port_cells=3) is None
