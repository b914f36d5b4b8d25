"""A `Drawing` of wired packs as the numbers of an SVG. No style and no words: the template and the style sheet have those.

Each pack is a bar with its two main leads at the left and its balance plugs at the right, the first pack at the top. Series
leads then run straight down from a plus to the next minus, and each balance plug straight across to the charger.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.showing import Drawing, WiredPack

WIDTH = 360
TOP = 30
CELL = 23
TITLE = 20
GAP = 16
FOOT = 26
MINUS_BUS, PLUS_BUS, LEFT, JOINT, CHARGER, RIGHT = 14, 32, 52, 236, 280, 357


@dataclass(frozen=True, slots=True)
class Text:
    """Words and where they stand."""

    x: float
    y: float
    words: str


@dataclass(frozen=True, slots=True)
class DrawnPack:
    """A pack: its title, its bar, its cells, and the signs of its main leads."""

    title: Text
    top: float
    height: float
    cells: tuple[Text, ...]
    ends: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class Wiring:
    """A drawing, ready for the template: wires as paths, dots where wires meet, and the charger with its signs.

    Packs reach from `left` to `joint`, the charger from `charger` to `right`.
    """

    width: int
    height: float
    left: int
    joint: int
    charger: int
    right: int
    packs: tuple[DrawnPack, ...]
    main: tuple[str, ...]
    balance: tuple[str, ...]
    dots: tuple[tuple[float, float], ...]
    ports: tuple[Text, ...]
    charger_top: float
    charger_bottom: float
    signs: tuple[Text, ...]


def wired(drawing: Drawing) -> Wiring:
    """Return where everything in a drawing stands."""
    packs, top = [], float(TOP)
    for pack in drawing.packs:
        packs.append(_pack(pack, top))
        top += packs[-1].height + GAP
    bottom = top - GAP + FOOT
    main, dots = _side_by_side(packs, bottom) if drawing.side_by_side else _one_after_the_other(packs, bottom)
    balance, balance_dots, ports = _balance(drawing, packs)
    charger_top, charger_bottom = TOP - 20, bottom + 6
    return Wiring(
        width=WIDTH,
        height=bottom + 10,
        left=LEFT,
        joint=JOINT,
        charger=CHARGER,
        right=RIGHT,
        packs=tuple(packs),
        main=main,
        balance=balance,
        dots=(*dots, *balance_dots),
        ports=ports,
        charger_top=charger_top,
        charger_bottom=charger_bottom,
        signs=(Text(CHARGER + 9, TOP - 3, "−"), Text(CHARGER + 9, bottom + 1, "+")),
    )


def _pack(pack: WiredPack, top: float) -> DrawnPack:
    rows = len(pack.plugs)
    height = TITLE + rows * (CELL + 4) + 4
    cells = []
    for row, plug in enumerate(pack.plugs):
        numbers = reversed(plug.cells) if pack.turned else plug.cells
        y = top + TITLE + row * (CELL + 4) + CELL / 2
        cells += [Text(LEFT + 16 + place * CELL + CELL / 2, y, str(number)) for place, number in enumerate(numbers)]
    signs = ("+", "−") if pack.turned else ("−", "+")
    ends = tuple(Text(LEFT + 7, y, sign) for y, sign in zip(_ends(top, height), signs, strict=True))
    return DrawnPack(title=Text(LEFT + 16, top + 15, pack.title), top=top, height=height, cells=tuple(cells), ends=ends)


def _ends(top: float, height: float) -> tuple[float, float]:
    """Where the two main leads leave a pack: the upper and the lower."""
    return top + 10, top + height - 10


def _one_after_the_other(packs: list[DrawnPack], bottom: float) -> tuple[tuple[str, ...], list[tuple[float, float]]]:
    ends = [_ends(pack.top, pack.height) for pack in packs]
    series = [
        f"M{LEFT} {lower:g}H{PLUS_BUS}V{upper:g}H{LEFT}" for (_, lower), (upper, _) in zip(ends, ends[1:], strict=False)
    ]
    first = f"M{LEFT} {ends[0][0]:g}H{MINUS_BUS}V{TOP - 8}H{CHARGER}"
    last = f"M{LEFT} {ends[-1][1]:g}H{PLUS_BUS}V{bottom - 4:g}H{CHARGER}"
    return (first, *series, last), []


def _side_by_side(packs: list[DrawnPack], bottom: float) -> tuple[tuple[str, ...], list[tuple[float, float]]]:
    wires, dots = [], []
    ends = [_ends(pack.top, pack.height) for pack in packs]
    for upper, lower in ends:
        wires += [f"M{LEFT} {upper:g}H{MINUS_BUS}", f"M{LEFT} {lower:g}H{PLUS_BUS}"]
        dots += [(MINUS_BUS, upper), (PLUS_BUS, lower)]
    wires.append(f"M{MINUS_BUS} {ends[-1][0]:g}V{TOP - 8}H{CHARGER}")
    wires.append(f"M{PLUS_BUS} {ends[0][1]:g}V{bottom - 4:g}H{CHARGER}")
    return tuple(wires), dots


def _balance(drawing: Drawing, packs: list[DrawnPack]) -> tuple[tuple[str, ...], list[tuple[float, float]], tuple[Text, ...]]:
    """Each plug straight across; those that go into one thing meet before it, and it is named once, in their middle."""
    places: dict[str, list[float]] = {}
    for pack, drawn in zip(drawing.packs, packs, strict=True):
        for row, plug in enumerate(pack.plugs):
            places.setdefault(plug.into, []).append(drawn.top + TITLE + row * (CELL + 4) + CELL / 2)
    wires, dots, ports = [], [], []
    for into, at in places.items():
        middle = (at[0] + at[-1]) / 2
        bar_end = CHARGER - 22
        if len(at) == 1:
            wires.append(f"M{JOINT} {at[0]:g}H{CHARGER}")
        else:
            wires += [*(f"M{JOINT} {y:g}H{bar_end}" for y in at), f"M{bar_end} {at[0]:g}V{at[-1]:g}", f"M{bar_end} {middle:g}H{CHARGER}"]
            dots += [(bar_end, y) for y in at]
        ports.append(Text(CHARGER + 6, middle, into))
    return tuple(wires), dots, tuple(ports)
