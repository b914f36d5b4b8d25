"""A drawing of wired packs: nothing stands outside, and every wire ends where it says."""

from __future__ import annotations

import re

import pytest

from calc.figures.showing import Drawing
from calc.physics.balance_ports import plugs_in_series, ports_of
from calc.telling.wiring import never_like_this, parallel_drawing, series_drawing
from site_builder.engine.wiring import CHARGER, LEFT, MINUS_BUS, PLUS_BUS, Wiring, wired


def series(*cell_counts: int) -> Drawing:
    plugs = plugs_in_series(cell_counts)
    return series_drawing(plugs, ports_of(plugs, ports=8, port_cells=14, joined=False))


EVERY = [series(4, 4), series(*[1] * 8), series(7, 7), series(14, 1), parallel_drawing(8, 14), parallel_drawing(2, 1), *never_like_this()]


def points(path: str) -> list[tuple[float, float]]:
    """The corners of a path of straight lines along the two axes."""
    found: list[tuple[float, float]] = []
    for letter, text in re.findall(r"([MHV])([-\d. ]+)", path):
        numbers = [float(number) for number in text.split()]
        x, y = found[-1] if found else (0.0, 0.0)
        found.append({"M": lambda: tuple(numbers), "H": lambda: (numbers[0], y), "V": lambda: (x, numbers[0])}[letter]())
    return found


@pytest.mark.parametrize("drawing", EVERY, ids=lambda drawing: f"{drawing.caption} {len(drawing.packs)}")
def test_everything_stands_inside_the_drawing(drawing: Drawing) -> None:
    wiring = wired(drawing)
    corners = [point for wire in (*wiring.main, *wiring.balance) for point in points(wire)]
    corners += [(text.x, text.y) for pack in wiring.packs for text in (*pack.cells, *pack.ends, pack.title)]
    corners += [(wiring.right, wiring.charger_bottom), (wiring.left, wiring.charger_top)]
    assert all(0 < x < wiring.width and 0 < y < wiring.height for x, y in corners)


@pytest.mark.parametrize("drawing", EVERY, ids=lambda drawing: f"{drawing.caption} {len(drawing.packs)}")
def test_cells_stand_inside_their_pack_and_none_on_another(drawing: Drawing) -> None:
    wiring = wired(drawing)
    places = [(cell.x, cell.y) for pack in wiring.packs for cell in pack.cells]
    assert len(set(places)) == len(places) == sum(len(plug.cells) for pack in drawing.packs for plug in pack.plugs)
    assert all(wiring.left < x < wiring.joint for x, _ in places)


def heights(wiring: Wiring, sign: str) -> list[float]:
    return [end.y for pack in wiring.packs for end in pack.ends if end.words == sign]


def test_a_series_lead_goes_from_each_plus_to_the_next_minus() -> None:
    wiring = wired(series(3, 3, 3))
    leads = [points(wire) for wire in wiring.main[1:-1]]
    assert [(lead[0], lead[-1]) for lead in leads] == [
        ((LEFT, plus), (LEFT, minus)) for plus, minus in zip(heights(wiring, "+"), heights(wiring, "−")[1:], strict=False)
    ]


def test_the_main_leads_go_from_the_first_minus_and_the_last_plus_to_the_charger() -> None:
    wiring = wired(series(3, 3, 3))
    first, last = points(wiring.main[0]), points(wiring.main[-1])
    assert first[0] == (LEFT, heights(wiring, "−")[0]) and last[0] == (LEFT, heights(wiring, "+")[-1])
    assert first[-1][0] == last[-1][0] == CHARGER


def test_side_by_side_every_minus_meets_every_minus() -> None:
    wiring = wired(parallel_drawing(3, 4))
    for sign, bus in (("−", MINUS_BUS), ("+", PLUS_BUS)):
        assert [y for x, y in wiring.dots if x == bus] == heights(wiring, sign)


def test_a_pack_that_is_turned_has_its_plus_where_the_others_have_their_minus() -> None:
    wiring = wired(never_like_this()[1])
    first, second = ([end.words for end in pack.ends] for pack in wiring.packs)
    assert second == first[::-1]


def test_each_port_is_named_once() -> None:
    assert [port.words for port in wired(series(4, 4)).ports] == ["port 1", "port 2"]
    assert [port.words for port in wired(parallel_drawing(5, 4)).ports] == ["the board"]
