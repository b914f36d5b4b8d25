"""Turn typed entries into the HTML of an answer. Runs at build time and in the browser: the same code, one set of numbers.

Imports only calc and jinja2, since nothing else is carried into the browser.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from itertools import groupby
from types import MappingProxyType

from jinja2 import Environment, PackageLoader, StrictUndefined

from calc.answering import AnswerInUnits, PartialAnswer, answer_in_units, calculator, standing_of
from calc.figures.quantities import KINDS_OF_UNIT, Quantity, units_beside
from calc.figures.showing import Part, parts_of
from calc.inputs.entries import cells_as_read
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal, within_sentence
from calc.rules.pack.findings import Standing
from site_builder.engine.drawing import drawn
from site_builder.engine.timeline import drawn_timeline
from site_builder.engine.wiring import wired

# The templates stand in a folder at build time and in an archive in the browser.
ENVIRONMENT = Environment(
    loader=PackageLoader("site_builder"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,  # in the browser there is no file to compare with
)
ENVIRONMENT.globals |= {
    "drawn": drawn,
    "drawn_timeline": drawn_timeline,
    "wired": wired,
    "units_beside": units_beside,
    "kinds_of_unit": KINDS_OF_UNIT,
}

NO_CHOICE: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Response:
    """What the page shows.

    `kind` is "answer", "partial" or "refusal", `html` goes into the answer's place, `summary` is the line that is read out, and
    `problems` holds a sentence for each entry that was typed and cannot stand, by field name. `readings` holds what was read of
    each cell, as one text, for each entry of readings that has a place for every cell. `may_start` says whether a card may be started
    by it. `standing` is what it says of the pack beyond today.
    """

    kind: str
    html: str
    summary: str
    problems: dict[str, str]
    may_start: bool
    readings: dict[str, str]
    standing: Standing = field(default_factory=Standing)


def respond(key: str, entries: Mapping[str, str], units: Mapping[str, str] = NO_CHOICE) -> Response:
    """Return the HTML of a calculator's answer to these entries, or of its refusal, in the units that were chosen.

    Any exception but a refusal is a fault of ours: it passes through, and the page says so in plain words.
    """
    answered = answer_in_units(key, entries, units)
    found = answered.found
    readings = cells_as_read(calculator(key).Inputs, entries)
    if isinstance(found, Refusal):
        response = _refusal(key, found, readings)
    elif isinstance(found, PartialAnswer):
        response = _partial(found, answered, readings)
    else:
        response = Response("answer", *_shown(parts_of(found), answered), {}, True, readings)
    return replace(response, html=without_spare_space(response.html), standing=standing_of(found))


def without_spare_space(html: str) -> str:
    """Return HTML without the lines that a template leaves empty where it has nothing to say, and without indents."""
    return "\n".join(filter(None, map(str.strip, html.split("\n"))))


def respond_in_json(key: str, entries_json: str, units_json: str = "{}") -> str:
    """Return `respond` as text for entries and units as text: what crosses between the browser's worker and Python."""
    return json.dumps(asdict(respond(key, json.loads(entries_json), json.loads(units_json))), ensure_ascii=False)


def rendered_parts(parts: list[Part], partial: PartialAnswer | None = None) -> str:
    """Return parts as HTML, under the headings of their sections; of a `partial` answer, what is not counted yet stands among them."""
    sections = [(title, list(alike)) for title, alike in groupby(parts, key=lambda part: part.section)]
    return ENVIRONMENT.get_template("answers/answer.html").render(sections=sections, partial=partial)


def _shown(parts: list[Part], answered: AnswerInUnits, partial: PartialAnswer | None = None) -> tuple[str, str]:
    """The HTML of parts, above the units that they are shown in, and the line that is read out."""
    # Two that are shown in one unit need one sign to tap: A and C, once both are in C.
    units: dict[str, tuple[Quantity, Quantity]] = {}
    for quantity, shown in answered.units:
        units.setdefault(shown.suffix, (quantity, shown))
    bar = ENVIRONMENT.get_template("answers/units.html").render(units=units.values(), remarks=answered.remarks)
    html = rendered_parts(parts, partial) + bar
    settings = [
        f"{part.title} {part.values[0].figure}, set by {part.values[0].set_by}." for part in parts if part.kind in ("verdict", "setting")
    ]
    return html, settings[0] if settings else f"{parts[0].title}: ready."


def _partial(partial: PartialAnswer, answered: AnswerInUnits, readings: dict[str, str]) -> Response:
    parts, first = _shown(parts_of(partial.known), answered, partial)
    html = ENVIRONMENT.get_template("answers/partial.html").render(partial=partial, parts_html=parts)
    return Response("partial", html, f"{partial.basis}: {within_sentence(first)} {partial.not_counted}", {}, partial.may_start, readings)


def _labels(key: str) -> dict[str, str]:
    return {name: entry.label for name, entry in entries_of(calculator(key).Inputs).items()}


def _refusal(key: str, refusal: Refusal, readings: dict[str, str]) -> Response:
    labels = _labels(key)
    typed = [problem for problem in refusal.problems if not problem.missing]
    missing = len(refusal.problems) - len(typed)
    summary = typed[0].sentence if typed else f"{missing} more to enter." if missing > 1 else refusal.problems[0].sentence
    html = ENVIRONMENT.get_template("answers/refusal.html").render(problems=refusal.problems, labels=labels, only_missing=not typed)
    return Response(
        "refusal", html, summary, {problem.field: problem.sentence for problem in typed if problem.field in labels}, False, readings
    )
