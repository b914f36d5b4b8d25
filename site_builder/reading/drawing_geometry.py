"""What can be reckoned of an SVG before anybody sees it: whether words lie on words or on lines, and whether wires touch that must not.

A wire is what has the class `plus`, `minus` or `balance`. It crosses another on a bridge, an arc, or not at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations, pairwise
from math import cos, hypot, pi, sin
from typing import NamedTuple
from xml.etree.ElementTree import Element

Point = tuple[float, float]
WIRES = frozenset({"plus", "minus", "balance"})
# How wide letters are, in parts of their height: a little wider than those of any typeface that the pages may be shown in.
_NARROW, _WIDE = set("ijlI.,:;!|'()/ ftr"), set("mwMW%")
_ABOVE, _BELOW = 0.74, 0.2
_PARTS_OF_A_CURVE = 12
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?", re.IGNORECASE)
_ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


class Box(NamedTuple):
    """Where words stand."""

    words: str
    left: float
    top: float
    right: float
    bottom: float


class Segment(NamedTuple):
    """A straight piece of a line, and whether it is a piece of a curve."""

    start: Point
    end: Point
    is_curved: bool


def faults_of(svg: Element, text_size: float = 0.0, middle: frozenset[str] = frozenset()) -> list[str]:
    """Return what is wrong with a drawing, a sentence each.

    `text_size` is that of words which name none of their own; those of the classes `middle` stand around their place.
    """
    boxes = list(_boxes(svg, text_size, middle))
    left, top, width, height = map(float, svg.attrib["viewBox"].split())
    frame = Box("", left, top, left + width, top + height)
    lines = [(kind, segment) for kind, one in _lines(svg) for segment in one]
    return [
        *(f"“{one.words}” does not fit into the drawing" for one in boxes if not _holds(frame, one)),
        *(f"“{one.words}” lies on “{other.words}”" for one, other in combinations(boxes, 2) if _overlap(one, other)),
        *(f"A line runs through “{one.words}”" for one in boxes if any(_runs_through(segment, one) for _, segment in lines)),
        *crossings_without_bridge(svg),
    ]


def crossings_without_bridge(svg: Element) -> list[str]:
    """Return a sentence for each place where two wires cross and neither is on a bridge."""
    wires = [(kind, segment) for kind, one in _lines(svg) if kind in WIRES for segment in one]
    return [
        f"A {kind} wire crosses a {other_kind} wire without a bridge at {at[0]:g}, {at[1]:g}"
        for (kind, one), (other_kind, other) in combinations(wires, 2)
        if not (one.is_curved or other.is_curved) and (at := _crossing(one, other))
    ]


def _kind(element: Element) -> str:
    return element.tag.rpartition("}")[2]


def _boxes(element: Element, size: float, middle: frozenset[str], anchor: str = "start", is_bold: bool = False) -> Iterator[Box]:
    size = float(element.get("font-size", size))
    anchor = "middle" if element.get("class") in middle else element.get("text-anchor", anchor)
    is_bold = is_bold or element.get("font-weight") == "700"
    if _kind(element) == "text":
        places = [float(x) for x in element.attrib["x"].split()]
        words = "".join(element.itertext())
        y = float(element.attrib["y"])
        for x, one in zip(places, words, strict=True) if len(places) > 1 else [(places[0], words)]:
            width = width_of(one, size, is_bold=is_bold)
            left = x - width * {"start": 0, "middle": 0.5, "end": 1}[anchor]
            yield Box(one, left, y - _ABOVE * size, left + width, y + _BELOW * size)
    for child in element:
        yield from _boxes(child, size, middle, anchor, is_bold)


def width_of(words: str, size: float, *, is_bold: bool) -> float:
    """Return how wide words stand, at most."""
    letters = sum(0.34 if one in _NARROW else 0.9 if one in _WIDE else 0.66 if one.isupper() or one.isdigit() else 0.55 for one in words)
    return letters * size * (1.06 if is_bold else 1)


def _lines(element: Element, kind: str = "") -> Iterator[tuple[str, list[Segment]]]:
    """The lines of what is drawn as a line: what is filled and has no edge is none, and covers nothing."""
    kind = next((one for one in element.get("class", "").split() if one in WIRES), kind)
    match _kind(element):
        case "rect":
            x, y, width, height = (float(element.get(name, 0)) for name in ("x", "y", "width", "height"))
            yield kind, _straight([(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)])
        case "line":
            x, y, end_x, end_y = (float(element.get(name, 0)) for name in ("x1", "y1", "x2", "y2"))
            yield kind, _straight([(x, y), (end_x, end_y)])
        case "path":
            yield kind, _path(element.attrib["d"])
        case "circle":
            x, y, radius = (float(element.get(name, 0)) for name in ("cx", "cy", "r"))
            yield kind, _curved([(x + radius * cos(2 * pi * part / 24), y + radius * sin(2 * pi * part / 24)) for part in range(25)])
    for child in element:
        yield from _lines(child, kind)


def _straight(points: list[Point]) -> list[Segment]:
    return [Segment(one, other, is_curved=False) for one, other in pairwise(points)]


def _curved(points: list[Point]) -> list[Segment]:
    return [Segment(one, other, is_curved=True) for one, other in pairwise(points)]


def _path(text: str) -> list[Segment]:
    found: list[Segment] = []
    x = y = start_x = start_y = 0.0
    for command, rest in re.findall(r"([A-Za-z])([^A-Za-z]*)", text):
        numbers = [float(one) for one in _NUMBER.findall(rest)]
        name, count = command.upper(), _ARGUMENTS[command.upper()]
        for place in range(0, max(len(numbers), 1), max(count, 1)):
            given = numbers[place : place + count]
            from_x, from_y = (x, y) if command.islower() else (0.0, 0.0)
            if name == "Z":
                end_x, end_y = start_x, start_y
            elif name in "HV":
                end_x, end_y = (from_x + given[0], y) if name == "H" else (x, from_y + given[0])
            else:
                end_x, end_y = from_x + given[-2], from_y + given[-1]
            if name == "M" and place == 0:
                start_x, start_y = end_x, end_y
            elif name in "CQ":
                controls = [(from_x + given[one], from_y + given[one + 1]) for one in range(0, len(given), 2)]
                found += _curved([_on_curve([(x, y), *controls], part / _PARTS_OF_A_CURVE) for part in range(_PARTS_OF_A_CURVE + 1)])
            elif name in "AST":
                # An arc as its height says: a bridge, or a round corner.
                found += _curved([(x, y), *_arch((x, y), (end_x, end_y), given), (end_x, end_y)])
            else:
                found.append(Segment((x, y), (end_x, end_y), is_curved=False))
            x, y = end_x, end_y
    return found


def _on_curve(points: list[Point], part: float) -> Point:
    while len(points) > 1:
        points = [(x + (next_x - x) * part, y + (next_y - y) * part) for (x, y), (next_x, next_y) in pairwise(points)]
    return points[0]


def _arch(start: Point, end: Point, given: list[float]) -> list[Point]:
    """The top of an arc that is a half circle or less."""
    if len(given) != _ARGUMENTS["A"]:
        return []
    radius, half = given[0], hypot(end[0] - start[0], end[1] - start[1]) / 2
    if not half:
        return []
    height = radius - max(0.0, radius**2 - half**2) ** 0.5
    along = ((end[0] - start[0]) / (2 * half), (end[1] - start[1]) / (2 * half))
    side = 1 if given[4] else -1
    return [((start[0] + end[0]) / 2 + along[1] * height * side, (start[1] + end[1]) / 2 - along[0] * height * side)]


def _holds(frame: Box, one: Box) -> bool:
    return one.left >= frame.left and one.top >= frame.top and one.right <= frame.right and one.bottom <= frame.bottom


def _overlap(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


def _runs_through(segment: Segment, box: Box) -> bool:
    """Whether a line passes through the middle of words; it may touch the room above small letters and beside them."""
    inner = Box(box.words, box.left + 1, box.top + 3, box.right - 1, box.bottom - 3)
    (x, y), (end_x, end_y) = segment.start, segment.end
    begins, ends = 0.0, 1.0
    for from_at, change, least, most in ((x, end_x - x, inner.left, inner.right), (y, end_y - y, inner.top, inner.bottom)):
        if not change:
            if not least < from_at < most:
                return False
            continue
        first, second = sorted(((least - from_at) / change, (most - from_at) / change))
        begins, ends = max(begins, first), min(ends, second)
    return begins < ends


def _crossing(one: Segment, other: Segment) -> Point | None:
    """Where two pieces cross within both; where one only ends on the other they are joined."""
    (x, y), (end_x, end_y) = one.start, one.end
    (other_x, other_y), (other_end_x, other_end_y) = other.start, other.end
    across = (end_x - x) * (other_end_y - other_y) - (end_y - y) * (other_end_x - other_x)
    if abs(across) < 1e-9:
        return None
    part = ((other_x - x) * (other_end_y - other_y) - (other_y - y) * (other_end_x - other_x)) / across
    other_part = ((other_x - x) * (end_y - y) - (other_y - y) * (end_x - x)) / across
    near = 1e-6
    if not (near < part < 1 - near and near < other_part < 1 - near):
        return None
    return x + (end_x - x) * part, y + (end_y - y) * part
