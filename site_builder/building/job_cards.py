"""A job card -> HTML: its steps, with the figures of its calculator's worked example in them."""

from __future__ import annotations

from markupsafe import Markup

from calc.answering import PartialAnswer, answer_in_units, calculator
from calc.figures.showing import Part, parts_of
from calc.inputs.fields import Entry, entries_of
from calc.inputs.refusals import Refusal
from site_builder.building.common_cases import typed_in
from site_builder.engine.answer import ENVIRONMENT
from site_builder.reading.cards import LIKELY_END, with_figures
from site_builder.reading.faults import ContentFault, line_of
from site_builder.reading.pages import Page

_KINDS = ("verdict", "setting", "range")
# What is compared with the charger while a card of a charge runs, where its answer has all of it.
_ON_TOP = ("full_voltage", "charge_current", "joint_current", "capacity_cutout", "time_cutout", "temperature_stop")


def card_entries(page: Page) -> dict[str, Entry]:
    """Return what the calculator asks that a card takes its numbers from, by name; nothing where it takes none."""
    return dict(entries_of(calculator(page.numbers_from).Inputs)) if page.numbers_from else {}


def steps_html(page: Page) -> str:
    """Return a card's steps, with the worked example's figures in them.

    Raises:
        ContentFault: the worked example's answer has no such figure.
    """
    parts = _parts(page)
    figures = {part.key: part for part in parts if part.kind in _KINDS and len(part.values) == 1}
    asks_for = page.card.asks_for if page.card else ()
    for key in asks_for:
        if key not in figures:
            line = line_of(page.file, rf'.*(figure\s*=\s*"{key}"|<{key}>)')
            sentence = f"The worked example has no setting or range `{key}`. It has {', '.join(figures) or 'none'}."
            raise ContentFault(page.file, sentence, line)
    shown = vars(ENVIRONMENT.get_template("parts/shown.html").module)
    words = {key: str(_figure(part)) for key, part in figures.items()}
    return ENVIRONMENT.get_template("pages/job_card_steps.html").render(
        page=page,
        card=page.card,
        words=words,
        titles={key: f"{part.title} stop" if part.section == "Stop at" else part.title for key, part in figures.items()},
        likely_min=figures[LIKELY_END].values[0].likely.number if LIKELY_END in asks_for else "",
        on_top=[key for key in _ON_TOP if key in figures] if LIKELY_END in asks_for else [],
        figures={key: Markup(shown["figures"](part)) for key, part in figures.items()},
        cautions=[part for part in parts if part.kind == "caution"],
        filled=lambda html: Markup(with_figures(html, words)),
    )


def _figure(part: Part) -> object:
    one = part.values[0]
    return one.figure if part.kind != "range" else f"about {one.likely}" if one.likely else one.ends


def _parts(page: Page) -> list[Part]:
    if not page.numbers_from:
        return []
    found = answer_in_units(page.numbers_from, typed_in(card_entries(page), page.worked_example), {}).found
    # The calculator's own page tells of a refusal, and of what a worked example lacks.
    return [] if isinstance(found, (Refusal, PartialAnswer)) else parts_of(found)
