"""A drawing of wired packs: nothing stands outside, and every wire ends where it says."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from calc.figures.showing import Drawing, Part
from calc.physics.pack.balance_ports import plugs_in_series, ports_of
from calc.presenting.wiring import never_like_this, parallel_drawing, series_drawing
from site_builder.engine.answer import rendered_parts
from site_builder.engine.wiring import BRIDGE, RAILS, TWO_BALANCE_RAILS, Wire, Wiring, crossed_by, wired
from site_builder.reading.drawing_geometry import crossings_without_bridge, faults_of
from site_builder.setting_up.checkout import WEB


def series(*cell_counts: int) -> Drawing:
    plugs = plugs_in_series([[cells] for cells in cell_counts])
    return series_drawing(plugs, ports_of(plugs, ports=8, port_cells=16, joined=False))


EVERY = [
    series(4, 4), series(*[1] * 8), series(7, 7), series(14, 1), parallel_drawing(8, 16), parallel_drawing(2, 1), parallel_drawing(3, 4),
    parallel_drawing(2, 5, 3), parallel_drawing(8, 8, 8), parallel_drawing(2, 1, 1), *never_like_this(),
]  # fmt: skip
each_drawing = pytest.mark.parametrize("drawing", EVERY, ids=lambda drawing: f"{drawing.caption} {len(drawing.packs)}")


@each_drawing
def test_everything_stands_inside_the_drawing(drawing: Drawing) -> None:
    wiring = wired(drawing)
    corners = [point for wire in wiring.wires for point in wire.corners]
    corners += [(text.x, text.y) for pack in wiring.packs for text in (*pack.cells, *pack.ends, pack.title)]
    corners += [(text.x, text.y) for text in (*wiring.words, *wiring.signs)]
    corners += [corner for box in wiring.boxes for corner in ((box.left, box.top), (box.right, box.bottom))]
    assert all(0 < x < wiring.width and 0 < y < wiring.height for x, y in corners)


@each_drawing
def test_cells_stand_inside_their_pack_and_none_on_another(drawing: Drawing) -> None:
    wiring = wired(drawing)
    places = [(cell.x, cell.y) for pack in wiring.packs for cell in pack.cells]
    assert len(set(places)) == len(places) == sum(len(plug.cells) for pack in drawing.packs for plug in pack.plugs)
    for pack in wiring.packs:
        assert all(wiring.left < cell.x < wiring.right and pack.top < cell.y < pack.top + pack.height for cell in pack.cells)


@each_drawing
def test_a_wire_that_crosses_another_goes_over_it_on_a_bridge(drawing: Drawing) -> None:
    wiring = wired(drawing)
    crossings = sum(len(crossed_by(wire, wiring.wires)) for wire in wiring.wires)
    bridges = sum(wiring.path(kind).count(f"a{BRIDGE} ") for kind in ("plus", "minus", "balance"))
    assert bridges == crossings


@each_drawing
def test_wires_of_two_kinds_meet_nowhere_unless_it_is_drawn_as_forbidden(drawing: Drawing) -> None:
    wiring = wired(drawing)
    plus, minus, balance = (_corners(wiring, kind) for kind in ("plus", "minus", "balance"))
    # A series lead is plus at one end and minus at the other: it changes halfway.
    halfway = (len(drawing.packs) - 1) * (not drawing.side_by_side)
    assert (len(plus & minus) == halfway and not balance & (plus | minus)) or drawing.never


def _corners(wiring: Wiring, kind: str) -> set[tuple[float, float]]:
    return {point for wire in wiring.wires if wire.kind == kind for point in wire.corners}


def test_a_bridge_leads_over_an_upright_wire_and_a_wire_that_ends_there_needs_none() -> None:
    level, upright, ending = Wire("plus", ((0, 10), (50, 10))), Wire("minus", ((20, 0), (20, 40))), Wire("minus", ((30, 10), (30, 40)))
    assert crossed_by(level, [level, upright, ending]) == [(20, 10)]


def heights(wiring: Wiring, sign: str) -> list[float]:
    return [end.y for pack in wiring.packs for end in pack.ends if end.words == sign]


def test_a_series_lead_goes_from_each_plus_to_the_next_minus() -> None:
    wiring = wired(series(3, 3, 3))
    halves = [wire for wire in wiring.wires if wire.kind != "balance"][1:-1]
    leads = [(upper.corners[0], lower.corners[-1]) for upper, lower in zip(halves[::2], halves[1::2], strict=True)]
    assert [(start[1], end[1]) for start, end in leads] == list(zip(heights(wiring, "+"), heights(wiring, "−")[1:], strict=False))
    assert all(upper.corners[-1] == lower.corners[0] for upper, lower in zip(halves[::2], halves[1::2], strict=True))


def test_the_main_leads_go_from_the_first_minus_and_the_last_plus_to_the_charger() -> None:
    wiring = wired(series(3, 3, 3))
    first, *_, last = (wire for wire in wiring.wires if wire.kind != "balance")
    [charger] = wiring.boxes
    assert (first.kind, first.corners[0][1]) == ("minus", heights(wiring, "−")[0])
    assert (last.kind, last.corners[0][1]) == ("plus", heights(wiring, "+")[-1])
    assert first.corners[-1][0] == last.corners[-1][0] == charger.left


def test_side_by_side_the_main_leads_go_through_the_board_where_every_minus_meets_every_minus() -> None:
    wiring = wired(parallel_drawing(3, 4))
    board, charger = wiring.boxes
    assert (board.title.words, charger.title.words) == ("board", "charger") and board.right < charger.left
    for sign, kind in (("−", "minus"), ("+", "plus")):
        assert board.left < RAILS[kind] < board.right
        assert [y for x, y in wiring.joints if x == RAILS[kind]] == heights(wiring, sign)
        assert [wire.kind for wire in wiring.wires if wire.corners[-1][0] == charger.left].count(kind) == 1


def test_two_balance_plugs_of_each_pack_meet_on_two_rails_and_each_leads_to_a_port_of_its_own() -> None:
    wiring = wired(parallel_drawing(3, 5, 3))
    board, charger = wiring.boxes
    assert board.title.words == "boards" and [text.words for text in wiring.words] == ["port 1", "port 2"]
    first, second = TWO_BALANCE_RAILS
    for place, x in enumerate((first, second)):
        assert [y for at, y in wiring.joints if at == x] == [pack.plugs[place] for pack in wiring.packs]
    out = [wire.corners[-1][1] for wire in wiring.wires if wire.kind == "balance" and wire.corners[-1][0] == charger.left]
    assert tuple(out) == wiring.packs[0].plugs


def test_a_pack_that_is_turned_has_its_plus_where_the_others_have_their_minus() -> None:
    wiring = wired(never_like_this()[1])
    first, second = ([end.words for end in pack.ends] for pack in wiring.packs)
    assert second == first[::-1]
    onto_minus = [wire.kind for wire in wiring.wires if wire.corners[-1][0] == RAILS["minus"] and wire.corners[0][0] == wiring.right]
    assert onto_minus == ["minus", "plus"]


def svg_of(drawing: Drawing) -> ElementTree.Element:
    """The drawing as the template writes it, as XML."""
    html = rendered_parts([Part("wiring", "Wiring", "", "drawing", (drawing,))])
    return ElementTree.fromstring(re.search(r"<svg.*?</svg>", html, re.DOTALL)[0])


@each_drawing
def test_no_words_lie_on_others_or_on_a_wire_and_no_wires_cross_without_a_bridge(drawing: Drawing) -> None:
    sheet = (WEB / "fieldslate.css").read_text(encoding="utf-8")
    for size in re.search(r"\.wiring text {[^}]*font-size: clamp\(([\d.]+)px, [\d.]+rem, (\d+)px\)", sheet).groups():
        assert faults_of(svg_of(drawing), float(size), frozenset({"name", "sign", "cells"})) == []


def test_the_look_for_wires_that_cross_finds_a_bridge_that_was_taken_out() -> None:
    svg = svg_of(parallel_drawing(2, 4))
    [plus] = (path for path in svg.iter("path") if path.get("class") == "plus")
    plus.attrib["d"] = re.sub(r"H[\d.]+a6 6 0 0 1 12 0", "", plus.attrib["d"])
    assert len(crossings_without_bridge(svg)) == 2
