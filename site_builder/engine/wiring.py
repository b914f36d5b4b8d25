"""A `Drawing` of wired packs as the numbers of an SVG. No style and no words: the template and the style sheet have those.

Each pack is a bar, the first at the top. Side by side, all leads of a pack go straight across to the rails of the board: minus above,
balance in the middle, plus below, and a rail for each of two balance plugs; the board is a box of its own, and what leaves it goes to the charger. One after the other, series
leads run straight down at the left from a plus to the next minus. A wire goes along the two axes only, and where it crosses another
upright wire it goes over a bridge.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from math import ceil
from typing import NamedTuple

from calc.figures.showing import Drawing, WiredPack

WIDTH = 360
TOP = 42
CELL = 23
CELLS_IN_A_ROW = 7
TITLE = 20
GAP = 18  # room for the name of the series lead
FOOT = 20
BRIDGE = 6
EXIT = 32
# Side by side: where a pack ends, the rails of the board, and the charger. One after the other: the leads at the left.
BAR = 182
BESIDE, BESIDE_BOARD, BESIDE_CHARGER = 4, (206, 274), (294, 358)
RAILS = {"minus": 220, "balance": 240, "plus": 260}
TWO_BALANCE_RAILS = (234, 247)  # room for a bridge over each
BEHIND, BEHIND_BOARD, BEHIND_CHARGER = 38, (229, 281), (288, 358)
MINUS_LEAD, SERIES_LEAD, BALANCE_BAR = 10, 24, 255

Point = tuple[float, float]


class Wire(NamedTuple):
    """A wire: plus, minus or balance, and the corners that it goes through."""

    kind: str
    corners: tuple[Point, ...]


class Text(NamedTuple):
    """Words and where they stand."""

    x: float
    y: float
    words: str


class Box(NamedTuple):
    """The board or the charger: its edges, and its name at the top."""

    left: float
    top: float
    right: float
    bottom: float
    title: Text


@dataclass(frozen=True, slots=True)
class DrawnPack:
    """A pack: its title, its bar, its cells, the signs of its main leads, and where its plugs leave it."""

    title: Text
    top: float
    height: float
    cells: tuple[Text, ...]
    ends: tuple[Text, ...]
    plugs: tuple[float, ...]

    @property
    def numbers(self) -> list[tuple[str, float, str]]:
        """The numbers of the cells as few texts: where each figure of a text stands, its height, and the figures."""
        found = []
        for y, row in groupby(self.cells, key=lambda cell: cell.y):
            # Figures that stand alone share a text, each at its own place; a number of two figures is a text of its own.
            for alone, alike in groupby(row, key=lambda cell: len(cell.words) == 1):
                cells = list(alike)
                texts = [cells] if alone else [[cell] for cell in cells]
                found += [(" ".join(f"{one.x:g}" for one in text), y, "".join(one.words for one in text)) for text in texts]
        return found


@dataclass(frozen=True, slots=True)
class Wiring:
    """A drawing, ready for the template: boxes, packs, words, wires by kind as paths, and the joints of wires.

    Packs reach from `left` to `right`.
    """

    width: int
    height: float
    left: float
    right: float
    boxes: tuple[Box, ...]
    packs: tuple[DrawnPack, ...]
    words: tuple[Text, ...]
    signs: tuple[Text, ...]
    wires: tuple[Wire, ...]
    joints: tuple[Point, ...]

    def path(self, kind: str) -> str:
        """All wires of one kind as the path of an SVG, with a bridge over each upright wire that they cross."""
        return "".join(_path(one, crossed_by(one, self.wires)) for one in self.wires if one.kind == kind)


def wired(drawing: Drawing) -> Wiring:
    """Return where everything in a drawing stands."""
    left = BESIDE if drawing.side_by_side else BEHIND
    packs, top = [], float(TOP)
    for pack in drawing.packs:
        packs.append(_pack(pack, left, top, signs_at=left + (BAR - 8 if drawing.side_by_side else 8)))
        top += packs[-1].height + GAP
    bottom = top - GAP
    lay_out = _side_by_side if drawing.side_by_side else _one_after_the_other
    boxes, wires, joints, words, signs = lay_out(drawing, packs, bottom)
    return Wiring(
        width=WIDTH, height=bottom + FOOT + 12, left=left, right=left + BAR, packs=tuple(packs),
        boxes=boxes, wires=wires, joints=joints, words=words, signs=signs,
    )  # fmt: skip


def crossed_by(wire: Wire, wires: Iterable[Wire]) -> list[Point]:
    """Return where a wire crosses the upright parts of others."""
    uprights = [
        (x, *sorted((y, end_y)))
        for other in wires if other is not wire
        for (x, y), (end_x, end_y) in zip(other.corners, other.corners[1:], strict=False) if x == end_x
    ]  # fmt: skip
    return [
        (x, y)
        for (start_x, y), (end_x, end_y) in zip(wire.corners, wire.corners[1:], strict=False) if y == end_y
        for x, upper, lower in uprights if min(start_x, end_x) < x < max(start_x, end_x) and upper < y < lower
    ]  # fmt: skip


def _path(wire: Wire, bridges: list[Point]) -> str:
    (x, y), *corners = wire.corners
    found = f"M{x:g} {y:g}"
    for next_x, next_y in corners:
        if next_x == x:
            found += f"V{next_y:g}"
        else:
            # All wires that cross others lead from the left to the right.
            over = sorted(bridge_x for bridge_x, bridge_y in bridges if bridge_y == y and x < bridge_x < next_x)
            found += "".join(f"H{bridge_x - BRIDGE:g}a{BRIDGE} {BRIDGE} 0 0 1 {2 * BRIDGE} 0" for bridge_x in over) + f"H{next_x:g}"
        x, y = next_x, next_y
    return found


def _pack(pack: WiredPack, left: float, top: float, signs_at: float) -> DrawnPack:
    first_cell = left + (8 if signs_at > left + BAR / 2 else 16)
    cells, plugs, row = [], [], 0
    for plug in pack.plugs:
        numbers = plug.cells[::-1] if pack.turned else plug.cells
        rows = ceil(len(numbers) / CELLS_IN_A_ROW)
        for place, number in enumerate(numbers):
            y = top + TITLE + (row + place // CELLS_IN_A_ROW) * (CELL + 4) + CELL / 2
            cells.append(Text(first_cell + place % CELLS_IN_A_ROW * CELL + CELL / 2, y, str(number)))
        plugs.append(top + TITLE + (row + (rows - 1) / 2) * (CELL + 4) + CELL / 2 - 2)
        row += rows
    height = TITLE + row * (CELL + 4) + 4
    signs = ("+", "−") if pack.turned else ("−", "+")
    ends = tuple(Text(signs_at, y, sign) for y, sign in zip((top + 10, top + height - 8), signs, strict=True))
    return DrawnPack(Text(first_cell, top + 15, pack.title), top, height, tuple(cells), ends, tuple(plugs))


_Laid = tuple[tuple[Box, ...], tuple[Wire, ...], tuple[Point, ...], tuple[Text, ...], tuple[Text, ...]]


def _box(name: str, edges: tuple[float, float], top: float, bottom: float) -> Box:
    return Box(edges[0], top, edges[1], bottom, Text((edges[0] + edges[1]) / 2, top + 16, name))


def _kind(sign: str) -> str:
    return "plus" if sign == "+" else "minus"


def _side_by_side(drawing: Drawing, packs: list[DrawnPack], bottom: float) -> _Laid:
    charger, below = BESIDE_CHARGER[0], bottom + FOOT - 6
    wires, joints, words = [], [], []
    # Each lead goes to the rail of its place: that of a pack that is turned goes to the wrong one, and is drawn as what it is.
    places = [
        ("minus", RAILS["minus"], [(pack.ends[0].y, _kind(pack.ends[0].words)) for pack in packs]),
        ("plus", RAILS["plus"], [(pack.ends[1].y, _kind(pack.ends[1].words)) for pack in packs]),
    ]
    plugs = drawing.packs[0].plugs
    for place, (plug, x) in enumerate(zip(plugs, TWO_BALANCE_RAILS if len(plugs) > 1 else (RAILS["balance"],), strict=True)):
        places.append(("balance", x, [(pack.plugs[place], "balance") for pack in packs]))
        words.append(Text(charger + 5, packs[0].plugs[place] + 4, plug.into if len(plugs) > 1 else "balance"))
    for rail, x, leads in places:
        ys = [y for y, _ in leads]
        wires += [Wire(kind, ((BESIDE + BAR, y), (x, y))) for y, kind in leads]
        joints += [(x, y) for y in ys]
        from_y, out_y = {"minus": (ys[-1], EXIT), "balance": (ys[-1], ys[0]), "plus": (ys[0], below)}[rail]
        wires.append(Wire(rail, ((x, from_y), (x, out_y), (charger, out_y))))
    boards = "board" if len(plugs) == 1 else "boards"
    boxes = (_box(boards, BESIDE_BOARD, 4, bottom + FOOT), _box("charger", BESIDE_CHARGER, 4, bottom + FOOT))
    signs = (Text(charger + 9, EXIT + 5, "−"), Text(charger + 9, below + 5, "+"))
    return boxes, tuple(wires), tuple(joints), tuple(words), signs


def _one_after_the_other(drawing: Drawing, packs: list[DrawnPack], bottom: float) -> _Laid:
    charger, below = BEHIND_CHARGER[0], bottom + FOOT - 6
    minus, plus = ([end.y for pack in packs for end in pack.ends if end.words == sign] for sign in ("−", "+"))
    wires = [Wire("minus", ((BEHIND, minus[0]), (MINUS_LEAD, minus[0]), (MINUS_LEAD, EXIT), (charger, EXIT)))]
    words = []
    for from_y, to_y in zip(plus, minus[1:], strict=False):
        middle = (from_y + to_y) / 2
        wires.append(Wire("plus", ((BEHIND, from_y), (SERIES_LEAD, from_y), (SERIES_LEAD, middle))))
        wires.append(Wire("minus", ((SERIES_LEAD, middle), (SERIES_LEAD, to_y), (BEHIND, to_y))))
        words.append(Text(BEHIND + 6, middle + 4, "series lead"))
    wires.append(Wire("plus", ((BEHIND, plus[-1]), (SERIES_LEAD, plus[-1]), (SERIES_LEAD, below), (charger, below))))
    places: dict[str, list[float]] = {}
    for pack, drawn in zip(drawing.packs, packs, strict=True):
        for plug, y in zip(pack.plugs, drawn.plugs, strict=True):
            places.setdefault(plug.into, []).append(y)
    joints: list[Point] = []
    for at in places.values():
        if len(at) == 1:
            wires.append(Wire("balance", ((BEHIND + BAR, at[0]), (charger, at[0]))))
        else:
            wires += [Wire("balance", ((BEHIND + BAR, y), (BALANCE_BAR, y))) for y in at]
            wires.append(Wire("balance", ((BALANCE_BAR, at[-1]), (BALANCE_BAR, at[0]), (charger, at[0]))))
            joints += [(BALANCE_BAR, y) for y in at]
    boxes = [_box("charger", BEHIND_CHARGER, 4, bottom + FOOT)]
    if drawing.never:
        # Packs in series with all plugs on one board are drawn for no other purpose.
        boxes.append(_box("board", BEHIND_BOARD, TOP, bottom))
    words += [Text(charger + 5, at[0] + 4, "balance" if drawing.never else into) for into, at in places.items()]
    signs = (Text(charger + 9, EXIT + 5, "−"), Text(charger + 9, below + 5, "+"))
    return tuple(boxes), tuple(wires), tuple(joints), tuple(words), signs
