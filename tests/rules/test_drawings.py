"""Our own drawings: plus and minus are told apart by more than colour, and safety signs have the shapes of ISO 3864-1."""

from __future__ import annotations

import re
from itertools import product
from math import hypot
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest

from site_builder.reading.drawing_geometry import crossings_without_bridge, faults_of
from site_builder.setting_up.checkout import CONTENT
from tests.rules.test_style_sheet import DARK, LIGHT, contrast

DRAWINGS = sorted((CONTENT / "drawings").glob("*.svg"))
each_drawing = pytest.mark.parametrize("file", DRAWINGS, ids=lambda file: file.stem)
SIGNS = ["rule-label", "rule-look", "rule-place", "rule-carry", "warning"]


def drawing(name: str) -> Element:
    return ElementTree.parse(CONTENT / "drawings" / f"{name}.svg").getroot()


def kind(element: Element) -> str:
    return element.tag.rpartition("}")[2]


def sign(name: str) -> Element:
    [found] = [one for one in drawing(name).iter() if one.get("class") == "sign"]
    return found


def widths(svg: Element, wire: str) -> list[float]:
    return [float(one.get("stroke-width", 0)) for one in svg.iter() if one.get("class") == wire and kind(one) == "path"]


@each_drawing
def test_a_plus_lead_is_at_least_half_as_thick_again_as_a_minus_lead_beside_it(file: Path) -> None:
    svg = drawing(file.stem)
    assert not widths(svg, "minus") or min(widths(svg, "plus")) >= 1.5 * min(widths(svg, "minus"))
    assert bool(widths(svg, "plus")) == bool(widths(svg, "minus"))


@pytest.mark.parametrize(
    "name", ["balance-extension", "balance-plug", "label-of-a-pack", "one-lead-at-a-time", "rule-balance", "rule-look"]
)
def test_leads_that_somebody_will_touch_have_their_signs(name: str) -> None:
    words = "".join(text.text or "" for text in drawing(name).iter() if kind(text) == "text")
    assert "+" in words and "−" in words


@pytest.mark.parametrize("name", ["charging-place", "rule-balance", "rule-stay"])
def test_each_pack_that_is_drawn_on_a_charger_has_its_balance_lead_plugged_in(name: str) -> None:
    assert [one for one in drawing(name).iter() if one.get("class") == "balance"]


@each_drawing
def test_only_safety_signs_have_colours_of_their_own_and_all_else_follows_the_page(file: Path) -> None:
    svg = drawing(file.stem)
    for one in svg.iter():
        if one.get("class") == "sign":
            one.clear()
    assert re.findall("#[0-9a-f]{3,6}", ElementTree.tostring(svg, encoding="unicode")) == []


@each_drawing
def test_no_words_lie_on_others_and_no_wires_cross(file: Path) -> None:
    assert faults_of(drawing(file.stem)) == []


def test_wires_that_cross_and_words_on_words_are_found() -> None:
    crossed = '<svg viewBox="0 0 9 9"><path class="plus" d="M0 4H8"/><path class="minus" d="M4 0V8"/></svg>'
    bridged = crossed.replace("M0 4H8", "M0 4H2a2 2 0 0 1 4 0H8")
    assert len(crossings_without_bridge(ElementTree.fromstring(crossed))) == 1
    assert crossings_without_bridge(ElementTree.fromstring(bridged)) == []
    words = '<svg viewBox="0 0 99 99"><text x="9" y="40" font-size="9">one</text><text x="12" y="44" font-size="9">two</text></svg>'
    assert faults_of(ElementTree.fromstring(words)) == ["“one” lies on “two”"]
    framed = '<svg viewBox="0 0 99 99"><rect x="9" y="9" width="50" height="50"/><text x="50" y="40" font-size="9">three</text></svg>'
    assert faults_of(ElementTree.fromstring(framed)) == ["A line runs through “three”"]


@pytest.mark.parametrize("name", SIGNS)
def test_a_safety_sign_has_a_light_rim_round_its_dark_one(name: str) -> None:
    outer, *inner = [one for one in sign(name).iter() if kind(one) in ("circle", "path")]
    rim = outer.get("stroke") or outer.get("fill")
    assert contrast(rim, DARK["--paper"]) >= 3
    dark = {colour for one in inner for colour in (one.get("fill"), one.get("stroke")) if re.fullmatch("#[0-9a-f]{3,6}", colour or "")}
    assert max(contrast(colour, LIGHT["--paper"]) for colour in dark) >= 3


@pytest.mark.parametrize("name", ["rule-look", "rule-carry"])
def test_at_least_35_percent_of_a_prohibition_sign_is_red_and_its_bar_falls_to_the_right(name: str) -> None:
    disc, *_, ring, bar = [one for one in sign(name).iter() if kind(one) in ("circle", "path")]
    x, y, radius = (float(disc.attrib[one]) for one in ("cx", "cy", "r"))
    start_x, start_y, end_x, end_y = map(float, re.findall(r"[\d.]+", bar.attrib["d"]))
    assert start_x < end_x and start_y < end_y and (end_x - start_x) == pytest.approx(end_y - start_y, abs=0.5)
    half_bar, half_ring = float(bar.attrib["stroke-width"]) / 2, float(ring.attrib["stroke-width"]) / 2
    places = [(one * radius / 100, other * radius / 100) for one, other in product(range(-100, 101), repeat=2)]
    inside = [(one, other) for one, other in places if hypot(one, other) <= radius]
    red = [
        place for place in inside
        if abs(hypot(*place) - float(ring.attrib["r"])) <= half_ring or abs(place[0] - place[1]) / 2**0.5 <= half_bar
    ]  # fmt: skip
    assert len(red) / len(inside) >= 0.35
    assert half_bar / half_ring == pytest.approx(0.8, abs=0.02)
    assert (x, y) == (float(ring.attrib["cx"]), float(ring.attrib["cy"]))


@pytest.mark.parametrize("name", ["rule-place", "warning"])
def test_a_warning_sign_is_a_triangle_of_equal_sides_and_at_least_half_yellow(name: str) -> None:
    _, black, *_ = [one for one in sign(name).iter() if kind(one) in ("circle", "path")]
    top_x, top_y, right_x, bottom_y, left_x = map(float, re.findall(r"[\d.]+", black.attrib["d"]))
    side = right_x - left_x
    assert hypot(right_x - top_x, bottom_y - top_y) == pytest.approx(side, rel=0.03)
    # Within the black rim, less what the symbol can cover at most.
    rim = float(black.attrib["stroke-width"])
    outer = (side + 3**0.5 * rim) ** 2
    inner = (side - 3**0.5 * rim) ** 2
    assert black.attrib["fill"] == "#f9a800" and inner / outer - 0.15 >= 0.5
