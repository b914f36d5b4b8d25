"""How packs are wired to each other and to the charger, as drawings and in words, and how they must never be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.figures.quantities import CELLS, Figure
from calc.figures.showing import Drawing, Row, Table, WiredPack, WiredPlug
from calc.physics.pack.balance_ports import Plug, plugs_in_series

BOARD = "the board"
_SHOWN_CELLS = 3
_KEY = "Thick with + is plus, thin with − is minus, dashed is balance. A dot joins wires; a bridge leads a wire over another without touching it."


def series_drawing(plugs: Sequence[Plug], ports: Sequence[int]) -> Drawing:
    """Return packs one after the other from the negative end, with each balance plug in its port."""
    last = plugs[-1].pack
    return Drawing(
        caption="Packs one after the other",
        told=(
            f"The charger's minus goes to the minus of Pack 1, the plus of each pack to the minus of the next, and the plus of "
            f"Pack {last} to the charger's plus. The cells are counted from the minus. {_KEY}"
        ),
        packs=_wired(plugs, [f"port {port}" for port in ports]),
        side_by_side=False,
        wires=(
            "Main lead, minus: from the charger to the minus of Pack 1.",
            *(f"Series lead: from the plus of Pack {pack} to the minus of Pack {pack + 1}." for pack in range(1, last)),
            f"Main lead, plus: from the plus of Pack {last} to the charger.",
            *(
                f"Balance plug of Pack {plug.pack} into port {port}: the charger shows {_cells_in_words(plug.cells)}."
                for plug, port in zip(plugs, ports, strict=True)
            ),
        ),
    )


def ports_table(plugs: Sequence[Plug], ports: Sequence[int]) -> Table:
    """Return which balance plug goes into which port, and which cells the charger then shows."""
    return Table(
        caption="Which plug into which port",
        columns=("Pack", "Into", "Cells on the plug", "The charger shows"),
        rows=tuple(
            Row(heading=f"Pack {plug.pack}", cells=(f"port {port}", Figure(len(plug.cells), CELLS), _cells_in_words(plug.cells)))
            for plug, port in zip(plugs, ports, strict=True)
        ),
        notes=(
            (
                "Counted from the minus of Pack 1. If the charger's manual counts its ports from the other end, or asks for another "
                "order, do as it says (common practice, no source)."
            ),
        ),
    )


def own_ports_table(plugs: Sequence[Plug], ports: Sequence[int]) -> Table:
    """Return which of the two balance plugs of one pack goes into which port, and which cells the charger then shows."""
    names = ("First plug, at the minus", "Second plug")
    return Table(
        caption="Which plug into which port",
        columns=("Balance plug", "Into", "Cells on the plug", "The charger shows"),
        rows=tuple(
            Row(heading=name, cells=(f"port {port}", Figure(len(plug.cells), CELLS), _cells_in_words(plug.cells)))
            for name, plug, port in zip(names, plugs, ports, strict=True)
        ),
        notes=(
            "Counted from the minus. If the charger's manual counts its ports from the other end, do as it says (common practice, no source).",
        ),
    )


def parallel_drawing(packs: int, *plug_cells: int) -> Drawing:
    """Return packs side by side on a parallel board, each with one balance plug, or with two that meet on boards of their own."""
    plugs = plugs_in_series([plug_cells])
    by_plug = "" if len(plugs) == 1 else ", the first of each pack on one board and the second on another"
    return Drawing(
        caption="Packs side by side",
        told=(
            f"On the board the minus of every pack meets every minus, plus meets plus, and the balance plugs meet cell by cell{by_plug}. "
            f"From the board they go to the charger, which shows one cell for all that have the same place. {_KEY}"
        ),
        packs=_all_alike([plug_cells] * packs),
        side_by_side=True,
        wires=(
            "First the main leads: the minus of every pack to the minus of the board, the plus to the plus.",
            "Then wait until the packs have come level.",
            *_balance_wires(plugs),
        ),
    )


def _balance_wires(plugs: Sequence[Plug]) -> Iterator[str]:
    if len(plugs) == 1:
        yield f"Then the balance plugs into the board: the charger shows {_cells_in_words(plugs[0].cells)}, each for all packs."
        return
    for order, board, port in (("first", "one board", 1), ("second", "another board", 2)):
        shows = _cells_in_words(plugs[port - 1].cells)
        yield f"Then the {order} balance plug of every pack into {board}, and that board into port {port}: the charger shows {shows}, each for all packs."


def never_like_this() -> tuple[Drawing, ...]:
    """Return the joins that start a fire, each with why."""
    return (
        Drawing(
            caption="A series lead and a parallel board",
            told="Two packs on a series lead, their balance plugs on one parallel board.",
            never=(
                "The board joins the minus of both packs, and the series lead joins the plus of one to the minus of the other: a "
                "short circuit through the thin balance wires."
            ),
            packs=_all_alike([(_SHOWN_CELLS,)] * 2),
            side_by_side=False,
        ),
        Drawing(
            caption="A pack the wrong way round",
            told="Two packs side by side, the plus of the second on the minus of the first.",
            never="Both packs drive the current the same way round the loop, and only their resistance is in it: a short circuit.",
            packs=tuple(
                WiredPack(title=pack.title, plugs=pack.plugs, turned=place == 1)
                for place, pack in enumerate(_all_alike([(_SHOWN_CELLS,)] * 2))
            ),
            side_by_side=True,
        ),
        Drawing(
            caption="Unequal cell counts side by side",
            told="A pack of three cells and a pack of two cells side by side.",
            never="The longer pack forces a current into the shorter one that nothing stops, and lifts its cells far above full.",
            packs=_all_alike([(_SHOWN_CELLS,), (_SHOWN_CELLS - 1,)]),
            side_by_side=True,
        ),
    )


def _wired(plugs: Sequence[Plug], into: Sequence[str]) -> tuple[WiredPack, ...]:
    wired = [(plug.pack, WiredPlug(cells=plug.cells, into=words)) for plug, words in zip(plugs, into, strict=True)]
    numbers = dict.fromkeys(pack for pack, _ in wired)
    return tuple(WiredPack(title=f"Pack {number}", plugs=tuple(plug for pack, plug in wired if pack == number)) for number in numbers)


def _all_alike(plug_cells: Sequence[Sequence[int]]) -> tuple[WiredPack, ...]:
    """Packs whose balance plugs meet on a board, or the first on one and the second on another: each counts its own cells from 1."""
    return tuple(
        WiredPack(
            title=f"Pack {number}",
            plugs=tuple(
                WiredPlug(cells=plug.cells, into=BOARD if len(on_plugs) == 1 else f"port {port}")
                for port, plug in enumerate(plugs_in_series([on_plugs]), 1)
            ),
        )
        for number, on_plugs in enumerate(plug_cells, 1)
    )


def _cells_in_words(cells: Sequence[int]) -> str:
    return f"cell {cells[0]}" if len(cells) == 1 else f"cells {cells[0]} to {cells[-1]}"
