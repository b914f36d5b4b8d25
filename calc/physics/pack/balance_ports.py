"""Which balance plug goes into which port of the charger when packs stand one after the other, and which cells it then shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Plug:
    """A balance plug: the pack that it belongs to, and the numbers of its cells on the charger, from the negative end."""

    pack: int
    cells: tuple[int, ...]


def plugs_in_series(plug_cells: Sequence[Sequence[int]]) -> list[Plug]:
    """Return the balance plugs of packs that stand one after the other, from the negative end, their cells counted through.

    Each pack is the cells on each of its plugs, from the minus on: [2, 1] has two plugs.

    Source: common practice, no source.

    >>> [(plug.pack, plug.cells) for plug in plugs_in_series([[2], [2, 1]])]
    [(1, (1, 2)), (2, (3, 4)), (2, (5,))]
    """
    found: list[Plug] = []
    first = 1
    for pack, on_plugs in enumerate(plug_cells, 1):
        for cells in on_plugs:
            found.append(Plug(pack, tuple(range(first, first + cells))))
            first += cells
    return found


def ports_of(plugs: Sequence[Plug], *, ports: int, port_cells: int, joined: bool) -> list[int] | None:
    """Return the port for each plug, from 1 and in order, or None where they do not go into the charger's ports.

    `joined` says that a series balance lead joins the plugs of neighbours, which then take as few ports as these packs need in this
    order; else each plug has a port of its own. The plugs come in order from the negative end.

    Source: arithmetic.

    >>> plugs = plugs_in_series([[2], [2], [2], [2]])
    >>> ports_of(plugs, ports=2, port_cells=6, joined=True), ports_of(plugs, ports=2, port_cells=6, joined=False)
    ([1, 1, 1, 2], None)
    """
    found: list[int] = []
    port, held = 1, 0
    for plug in plugs:
        cells = len(plug.cells)
        if held and (not joined or held + cells > port_cells):
            port, held = port + 1, 0
        held += cells
        if held > port_cells or port > ports:
            return None
        found.append(port)
    return found
