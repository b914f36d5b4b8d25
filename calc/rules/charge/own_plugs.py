"""Which balance plug of one pack goes into which port of the charger, and what speaks against it.

A pack of many cells has two plugs. How many cells are on each is asked, and never assumed.
"""

from __future__ import annotations

from collections.abc import Sequence

from calc.inputs.equipment import ChargerEntries
from calc.inputs.refusals import Problem
from calc.physics.pack.balance_ports import Plug, plugs_in_series, ports_of

TOO_MANY_ON_THE_FIRST = "The first of two balance plugs carries fewer cells than the pack has. Leave it empty if there is only one."


def plugs_of_one_pack(cells: float, first_plug_cells: float | None) -> list[Plug]:
    """Return the balance plugs of a pack, from the minus on.

    >>> [plug.cells for plug in plugs_of_one_pack(5, 3)]
    [(1, 2, 3), (4, 5)]
    """
    on_plugs = (cells,) if first_plug_cells is None else (first_plug_cells, cells - first_plug_cells)
    return plugs_in_series([[int(one) for one in on_plugs]])


def needs_two_ports(cells: float, charger: ChargerEntries) -> bool:
    """Whether a pack has more cells than one balance port takes: each of its two plugs then has a port of its own."""
    return cells > charger.port_cells


def ports_of_one_pack(plugs: Sequence[Plug], charger: ChargerEntries) -> list[int] | None:
    """Return the port for each plug, or None where they do not go into the charger's ports."""
    return ports_of(plugs, ports=int(charger.balance_ports), port_cells=int(charger.port_cells), joined=False)


def problems_of_own_plugs(*, cells: float, first_plug_cells: float | None, charger: ChargerEntries) -> list[Problem]:
    """Return why the plugs of a pack do not go into the ports of a charger that takes its cells, or what must be known first."""
    if first_plug_cells is not None and first_plug_cells >= cells:
        return [Problem("first_plug_cells", TOO_MANY_ON_THE_FIRST)]
    if ports_of_one_pack(plugs_of_one_pack(cells, first_plug_cells), charger) is not None:
        return []
    if first_plug_cells is None:
        sentence = (
            "This pack has more cells than one balance port takes: enter how many cells are on its first balance plug. A pack with "
            "only one plug needs another charger."
        )
        return [Problem("first_plug_cells", sentence, missing=True)]
    sentence = (
        "The two balance plugs do not go into this charger's ports: there are fewer than two, or a plug has more cells than a port "
        "takes. Use a charger that balances them all."
    )
    return [Problem("first_plug_cells", sentence)]
