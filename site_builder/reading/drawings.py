"""Drawings in the words: `![What it shows.](drawings/NAME.svg "Caption")` becomes an SVG in the page, described in words.

In place of a file, `curves/KEY` is a chemistry's resting curve, `voltages/KEY` its voltages, and `modes/KEY` what each charger mode
does to it, made from the same facts that calc computes with: so no number of a kind of pack is typed into the words.
"""

import re
from collections.abc import Callable
from functools import partial
from html import escape
from pathlib import Path
from xml.etree import ElementTree

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.showing import Part, Table
from calc.presenting.cell_voltages import nickel_table, one_cell_table
from calc.presenting.resting_curve import resting_curve_picture, resting_curve_table
from calc.presenting.wrong_modes import wrong_modes_table
from site_builder.engine.answer import rendered_parts
from site_builder.reading.drawing_geometry import faults_of
from site_builder.reading.faults import ContentFault
from site_builder.reading.marks import Words

_IMAGE = re.compile(r"<img [^>]*>")
_ALONE = re.compile(r"<p>(<img [^>]*>)</p>")
_SVG = "{http://www.w3.org/2000/svg}"
_ELEMENTS = {"svg", "g", "path", "circle", "ellipse", "line", "polyline", "polygon", "rect", "text", "tspan"}
# What a style sheet of the page gives or the policy forbids, and what could clash with another drawing on the page.
_EDGE = 3
_FORBIDDEN = {"style", "id", "href", "role", "aria-label"}


def with_drawings(html: str, words: Words) -> str:
    """Return a page's HTML with each image made a drawing that is part of the page.

    Args:
        html: the words as HTML.
        words: the words as written; drawings are looked for beside the folder of their file.

    Raises:
        ContentFault: an image without a description, inside a sentence, or of a drawing that is not there or does not fit.
    """
    drawn = _ALONE.sub(lambda image: _figure(ElementTree.fromstring(image[1]).attrib, words), html)
    if left := _IMAGE.search(drawn):
        sentence = "A drawing stands alone, with an empty line above and below it. Give it its own paragraph."
        raise ContentFault(words.file, sentence, _line_of(words, ElementTree.fromstring(left[0]).attrib["src"]))
    return drawn


def refuse_unshown_drawing(content: Path) -> None:
    """Refuse a drawing that nothing in `content` shows.

    Raises:
        ContentFault: it names the drawing.
    """
    written = [file.read_text(encoding="utf-8") for kind in ("*.md", "*.toml") for file in sorted(content.rglob(kind))]
    for drawing in sorted((content / "drawings").glob("*.svg")):
        if not any(f"drawings/{drawing.name}" in text for text in written):
            raise ContentFault(drawing, "No page shows this drawing. Show it, or take it out.")


def _figure(image: dict[str, str], words: Words) -> str:
    address, says = image["src"], image["alt"].strip()
    line = _line_of(words, address)
    if not says:
        raise ContentFault(words.file, f"{address} has no description. Say between the brackets what it shows.", line)
    folder, _, name = address.partition("/")
    if folder in _MADE:
        return _made(folder, name, says, words, line)
    file = words.file.parent.parent / "drawings" / name
    if folder != "drawings" or not file.is_file():
        raise ContentFault(words.file, f"There is no drawing {address}. Draw content/drawings/{name}, or correct the name.", line)
    caption = f"<figcaption>{escape(image['title'])}</figcaption>" if image.get("title") else ""
    return f'<figure class="drawing">{_svg(file, says)}{caption}</figure>'


def _made(folder: str, key: str, says: str, words: Words, line: int | None) -> str:
    kinds = _MADE[folder]
    if key not in kinds:
        raise ContentFault(words.file, f"There is no {folder}/{key}. These are there: {', '.join(kinds)}.", line)
    return rendered_parts(kinds[key](says))


def _curve(key: str, says: str) -> list[Part]:
    return [
        Part("resting-curve", says, "", "picture", (resting_curve_picture(key),)),
        Part("resting-table", says, "", "table", (resting_curve_table(key),)),
    ]


def _one_table(table: Callable[[], Table], says: str) -> list[Part]:
    return [Part("kind-of-pack", says, "", "table", (table(),))]


# What stands in place of a drawing's folder, and for each name in it what makes the parts that are shown.
_MADE: dict[str, dict[str, Callable[[str], list[Part]]]] = {
    "curves": {key: partial(_curve, key) for key in CHEMISTRIES},
    "voltages": {
        **{key: partial(_one_table, partial(one_cell_table, key)) for key in CHEMISTRIES},
        "nickel": partial(_one_table, nickel_table),
    },
    "modes": {key: partial(_one_table, partial(wrong_modes_table, key)) for key in CHEMISTRIES},
}


def _svg(file: Path, says: str) -> str:
    try:
        root = ElementTree.fromstring(file.read_text(encoding="utf-8"))
    except ElementTree.ParseError as fault:
        raise ContentFault(file, f"This is not SVG: {fault}.", fault.position[0]) from fault
    if "viewBox" not in root.attrib:
        raise ContentFault(file, "The drawing has no viewBox, so it cannot grow with the page. Add it.")
    for element in root.iter():
        kind = element.tag.removeprefix(_SVG)
        if kind not in _ELEMENTS:
            raise ContentFault(file, f"<{kind}> is not used in drawings here. Draw it with {', '.join(sorted(_ELEMENTS))}.")
        for name in _FORBIDDEN.intersection(element.attrib):
            raise ContentFault(file, f"`{name}` does not belong into a drawing. Use a class of the style sheet, or leave it out.")
        element.tag = kind
    for sentence in faults_of(root):
        raise ContentFault(file, f"{sentence}. Move one of them.")
    _edge_minus(root)
    root.attrib.update({"role": "img", "aria-label": says})
    return ElementTree.tostring(root, encoding="unicode")


def _edge_minus(element: ElementTree.Element) -> None:
    """Put an edge under each lead that is minus: it is black, and in the dark its edge is what is seen of it."""
    for place, child in reversed(list(enumerate(element))):
        _edge_minus(child)
        if child.get("class") == "minus":
            width = float(child.attrib["stroke-width"]) + _EDGE
            element.insert(place, ElementTree.Element(child.tag, child.attrib | {"class": "edge", "stroke-width": f"{width:g}"}))


def _line_of(words: Words, address: str) -> int | None:
    return next((line for line, text in words.lines() if f"]({address}" in text), None)
