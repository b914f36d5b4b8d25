"""A checked page -> the HTML that is sent: its template filled in, with the worked example's answer, and no heavier than a signal allows."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from calc.answering import calculator, calculator_keys
from calc.inputs.entries import is_asked
from calc.inputs.fields import Entry, Group, entries_of
from calc.inputs.inspection import LookEntries
from calc.inputs.log_lines import LineEntries
from site_builder.building.common_cases import typed_in, worked_tables
from site_builder.building.job_cards import card_entries, steps_html
from site_builder.building.own_things import MOST_IN_NAME, MOST_IN_NOTE, kinds_asked, own_thing, takes_packs
from site_builder.building.taps import taps_of
from site_builder.engine.answer import ENVIRONMENT, respond, without_spare_space
from site_builder.reading.cards import LOGGED
from site_builder.reading.faults import ContentFault
from site_builder.reading.pages import Page

ENVIRONMENT.globals["taps_of"] = taps_of
# At the edge of a field's signal, some 50 kbit/s, this takes ten seconds.
MOST_BYTES = 60_000
HAS_ACTS = 'class="act"'  # what to do first, on the page of a pack in trouble
_HEADING = re.compile(r"(?=<h2[ >])")
_PARTS = re.compile(r"(<h2[ >].*?</h2>)(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class WorkedExample:
    """A page's worked example as it is typed in, and the HTML of its answer."""

    typed: dict[str, str]
    html: str


def worked_example(page: Page) -> WorkedExample:
    """Return a page's worked example with its answer.

    Raises:
        ContentFault: it is refused, or there is no such calculator.
    """
    if page.calculator not in calculator_keys():
        raise ContentFault(page.file, f"There is no calculator `{page.calculator}`. Correct the name, or write its module.")
    typed = typed_in(entries_of(calculator(page.calculator).Inputs), page.worked_example)
    response = respond(page.calculator, typed)
    if response.kind != "answer":
        raise ContentFault(page.file, f"`worked_example` is refused: {response.summary} Correct it.")
    return WorkedExample(typed, response.html)


def page_html(page: Page, site: dict[str, Any], example: WorkedExample | None) -> str:
    """Return a page as it is sent; `site` is what all pages know.

    Raises:
        ContentFault: it weighs more than a page may.
    """
    html = without_spare_space(_rendered(page, site, example))
    refuse_heavy_page(page.file, html)
    return html


def _rendered(page: Page, site: dict[str, Any], example: WorkedExample | None) -> str:
    template = ENVIRONMENT.get_template(f"pages/{_template(page)}.html")
    if page.card:
        asks = next((other for other in site["pages"] if other.key == page.asks), None)
        return template.render(page=page, site=site, asks=asks, entries=card_entries(page), steps_html=steps_html(page))
    if page.own:
        own = own_thing(page.own)
        line = entries_of(LineEntries) if page.own == "pack" else {}
        return template.render(
            page=page,
            site=site,
            own=own,
            own_groups=groups_of(own.entries),
            own_asked_at_first=asked_first(own.entries),
            log_groups=groups_of(line),
            most_in_name=MOST_IN_NAME,
            most_in_note=MOST_IN_NOTE,
            log_asked_at_first=asked_first(line),
        )
    if page.key == "cards":
        return template.render(page=page, site=site, logged=LOGGED)
    if example is None:
        return template.render(page=page, site=site, acts=acts_of(page.body_html) if HAS_ACTS in page.body_html else [])
    entries = entries_of(calculator(page.calculator).Inputs)
    return template.render(
        page=page,
        site=site,
        groups=groups_of(entries),
        asked_at_first=asked_first(entries),
        kinds_asked=kinds_asked(entries),
        takes_packs=takes_packs(entries),
        judges=issubclass(calculator(page.calculator).Inputs, LookEntries),
        example_html=example.html,
        example_asked={name: text for name, text in page.worked_example.items() if name in entries and text != entries[name].starts_as},
        tables=worked_tables(page),
        words_html=folded(page.body_html),
    )


def asked_first(entries: Mapping[str, Entry]) -> set[str]:
    """Return the names of what is asked before anything is chosen."""
    return {name for name, entry in entries.items() if is_asked(entry, entries, {})}


def groups_of(entries: Mapping[str, Entry]) -> list[tuple[Group, list[tuple[str, Entry]]]]:
    """Return each group with its entries by name. Groups stand in the order of their first entry; a late one still joins its own."""
    order = {key: place for place, key in enumerate(dict.fromkeys(entry.group.key for entry in entries.values()))}
    by_group = sorted(entries.items(), key=lambda named: order[named[1].group.key])
    return [(group, list(named)) for group, named in groupby(by_group, key=lambda named: named[1].group)]


def _template(page: Page) -> str:
    if page.calculator:
        return "calculator"
    if page.own:
        return "own_things"
    if page.screens:
        return "briefing"
    if page.card:
        return "job_card"
    own = (
        {"index": "home", "cited-numbers": "cited_numbers"}
        | {key: key for key in ("cards", "sources", "licences", "find", "poster")}
        | {"save-and-share": "save_and_share"}
    )
    return own.get(page.key, "words")


def folded(html: str) -> str:
    """Return a body with each of its second-level headings as the line that unfolds what stands below it; what stands above stays open."""
    above, *sections = _HEADING.split(html)
    parts = [found.groups() for section in sections if (found := _PARTS.fullmatch(section))]
    return above + "".join(f'<details class="words-fold"><summary>{heading}</summary>{words}</details>\n' for heading, words in parts)


def acts_of(html: str) -> list[str]:
    """Return what stands above a body's second-level headings, then each heading with what stands below it."""
    return _HEADING.split(html)


def refuse_heavy_page(file: Path, html: str) -> None:
    """Refuse a page whose HTML weighs more than `MOST_BYTES`, its form included.

    Raises:
        ContentFault: it names the page.
    """
    weight = len(html.encode())
    if weight > MOST_BYTES:
        sentence = f"The page weighs {weight / 1000:.1f} kB, and {MOST_BYTES / 1000:.0f} kB is the most. Part it in two, or say less."
        raise ContentFault(file, sentence)
