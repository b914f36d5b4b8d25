"""The whole network of packs on a board, worked out a second time: every node by itself, and nothing of calc's physics.

Kirchhoff: what flows into a node flows out of it (Kuphaldt, Lessons in Electric Circuits, volume I, chapter Network Analysis, whose
network of 28 V, 0 V and 7 V stands below). Each tap of each pack, each point of the balance board and both ends of the main board are
nodes; one matrix, one elimination with the rows exchanged.
"""

from __future__ import annotations

from math import exp

# IEC 60028 for plain copper, the least that a wire has; IEC 60228 class 5 for flexible strands, which have up to so much more.
OHM_MM2_PER_M = 0.017241
STRANDS = 1.16
# Common practice, no source: 15 cm of gauge 22 (0.644 mm across, ASTM B258) to a contact that has 2 mΩ when it is clean.
WIRE_OHM = 0.15 * OHM_MM2_PER_M / (3.14159265 / 4 * 0.6438**2) + 0.002

Edge = tuple[str, str, float, float]


def lead_ohm(length_m: float, area_mm2: float) -> float:
    """There and back, as plain copper."""
    return 2 * length_m * OHM_MM2_PER_M / area_mm2


def least_cell_ohm(mohm: float, degc: float) -> float:
    """A resistance as low as it may be, read near 25 °C or just now: Arrhenius, with 1150 to 3050 K as published cells have."""
    inverse_k = 1 / (degc + 273.15) - 1 / 298.15
    return mohm / 1000 * min(1.0, exp(1150 * inverse_k), exp(3050 * inverse_k))


def currents_a(edges: list[Edge]) -> list[float]:
    """The current along each edge (from, to, ohm, the volts that drive it along), A; the nodes are found by their names."""
    nodes = sorted({name for one in edges for name in one[:2]})[1:]
    place = {name: number for number, name in enumerate(nodes)}
    rows = [[0.0] * (len(nodes) + 1) for _ in nodes]
    for start, end, ohm, volts in edges:
        for here, there, sign in ((start, end, 1), (end, start, -1)):
            if here in place:
                rows[place[here]][place[here]] += 1 / ohm
                rows[place[here]][-1] -= sign * volts / ohm
                if there in place:
                    rows[place[here]][place[there]] -= 1 / ohm
    node_v = dict(zip(nodes, _eliminated(rows), strict=True))
    return [(node_v.get(start, 0.0) - node_v.get(end, 0.0) + volts) / ohm for start, end, ohm, volts in edges]


def _eliminated(rows: list[list[float]]) -> list[float]:
    size = len(rows)
    for column in range(size):
        best = max(range(column, size), key=lambda row: abs(rows[row][column]))
        rows[column], rows[best] = rows[best], rows[column]
        for row in range(column + 1, size):
            if factor := rows[row][column] / rows[column][column]:
                rows[row] = [mine - factor * above for mine, above in zip(rows[row], rows[column], strict=True)]
    found = [0.0] * size
    for row in reversed(range(size)):
        known = sum(rows[row][column] * found[column] for column in range(row + 1, size))
        found[row] = (rows[row][-1] - known) / rows[row][row]
    return found


class Board:
    """Packs on a board: their cells' voltages and resistances, with main leads, with balance plugs, or with both."""

    def __init__(self, cell_v: list[list[float]], cell_ohm: list[float], *, main_ohm: float | None, plugs: bool) -> None:
        self.edges: list[Edge] = []
        self.what: list[tuple[str, int]] = []
        for pack, (cells, ohm) in enumerate(zip(cell_v, cell_ohm, strict=True)):
            for cell, volts in enumerate(cells):
                self._add("cell", pack, (f"{pack} tap {cell}", f"{pack} tap {cell + 1}", ohm, volts))
            if plugs:
                for tap in range(len(cells) + 1):
                    self._add("wire", pack, (f"{pack} tap {tap}", f"balance {tap}", WIRE_OHM, 0.0))
            if main_ohm is not None:
                self._add("minus", pack, (f"{pack} tap 0", "main minus", main_ohm / 2, 0.0))
                self._add("plus", pack, ("main plus", f"{pack} tap {len(cells)}", main_ohm / 2, 0.0))
        self.currents_a = currents_a(self.edges)

    def _add(self, what: str, pack: int, edge: Edge) -> None:
        self.what.append((what, pack))
        self.edges.append(edge)

    def through(self, what: str, pack: int | None = None) -> list[float]:
        """The currents of one kind of edge, of one pack or of all."""
        return [
            current_a for (kind, number), current_a in zip(self.what, self.currents_a, strict=True)
            if kind == what and pack in (None, number)
        ]  # fmt: skip
