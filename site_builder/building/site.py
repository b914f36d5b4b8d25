"""content, calc and web -> dist/. Everything is read, checked and rendered first; only then is anything written."""

from __future__ import annotations

import re
import shutil
from dataclasses import fields as dataclass_fields
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from typing import Any

from calc.answering import calculator, calculator_keys
from calc.facts.practice import MEASUREMENT_KEEPS_MIN
from calc.inputs.joined_packs import JoinedPackEntries
from site_builder.building.cited_numbers import documents
from site_builder.building.hosting import write_for_hosts
from site_builder.building.icons import TEAL, write_icons
from site_builder.building.licences import bundled, licence_files
from site_builder.building.loaded_folders import code_files, engine_files, in_folder
from site_builder.building.manifest import write_manifest
from site_builder.building.offline import first_visit_bytes, write_service_worker
from site_builder.building.own_file import SCHEMA, schema_file
from site_builder.building.own_things import club_things
from site_builder.building.packing import write_packed
from site_builder.building.page_html import page_html, worked_example
from site_builder.building.policy import META_POLICY
from site_builder.building.search import search_files
from site_builder.building.sections import Section, sections_of
from site_builder.engine.qr_code import qr_code
from site_builder.reading.cards import ACTS
from site_builder.reading.drawing_questions import refuse_untried_drawing
from site_builder.reading.faults import ContentFault
from site_builder.reading.number_names import read_number_names
from site_builder.reading.pages import Page, read_pages
from site_builder.reading.plain_words import read_plain_words
from site_builder.setting_up.checkout import CONTENT
from site_builder.setting_up.node import node_modules
from site_builder.setting_up.running import say

FIND = "find.html"
BRIEFING = "briefing.html"
GLOSSARY = "glossary.html"


def build(dist: Path, address: str = "") -> None:
    """Write the whole site into `dist`. `address` is where it will be published, for the poster; empty where nobody knows.

    Raises:
        ContentFault: something in content cannot be published. Nothing is written then.
    """
    pages = read_pages(CONTENT)
    refuse_untried_drawing(CONTENT, drawings_made())
    _refuse_missing_page(pages)
    examples = {page.key: worked_example(page) for page in pages if page.calculator}
    code_parts = code_files(node_modules())
    engine_parts = engine_files(node_modules(), [(page.calculator, examples[page.key].typed) for page in pages if page.calculator])
    code, code_in_folder = in_folder("code", code_parts)
    engine, engine_in_folder = in_folder("engine", engine_parts)
    works = bundled(node_modules(), engine_parts)
    site = _known_to_all_pages(pages, address) | {"code": code, "engine": engine, "bundled": works}
    html = {page.address: page_html(page, site, examples.get(page.key)) for page in pages if page.address != FIND}
    sections = [section for page in pages if page.address != FIND for section in _sections(page, html[page.address])]
    find, find_in_folder = in_folder("find", search_files(sections, read_plain_words(CONTENT / "plain-words.toml"), node_modules()))
    site |= {"find": find, "all_pages": _all_pages(sections)}
    html |= {page.address: page_html(page, site, None) for page in pages if page.address == FIND}
    _write(
        dist,
        {address: page.encode() for address, page in html.items()}
        | code_in_folder
        | engine_in_folder
        | find_in_folder
        | licence_files(node_modules(), works)
        | {SCHEMA: schema_file()},
    )
    write_icons(dist / "icons")
    write_manifest(dist, pages)
    write_packed(dist)
    write_for_hosts(dist, address)
    kept = write_service_worker(dist)
    say(f"Built {len(pages)} pages, {len(kept)} files, {first_visit_bytes(dist) / 1e6:.1f} MB to send, in {dist.name}/")


def _known_to_all_pages(pages: tuple[Page, ...], address: str) -> dict[str, Any]:
    return {
        "pages": pages,
        "policy": META_POLICY,
        "theme_colour": TEAL,
        "uses": [page for page in pages if page.in_bar],
        "teasers": {section: [page for page in pages if page.section == section] for section in _home_sections(pages)},
        "sections": _home_sections(pages),
        "documents": documents(pages, read_number_names(CONTENT / "number-names.toml")),
        "screens": [screen for page in pages for screen in page.screens],
        "address": f"{address}{BRIEFING}" if address else "",
        "qr": qr_code(f"{address}{BRIEFING}") if address else "",
        "measured_keeps_min": int(MEASUREMENT_KEEPS_MIN.value),
        "schema": SCHEMA,
        "club_things": club_things(CONTENT),
        "ways": [{"page": page.address, "title": page.title, "calculator": page.calculator} for page in pages if _joins_packs(page)],
    }


def _joins_packs(page: Page) -> bool:
    """Whether a page is that of a way in which several packs are charged as one."""
    return bool(page.calculator) and issubclass(calculator(page.calculator).Inputs, JoinedPackEntries)


def _home_sections(pages: tuple[Page, ...]) -> dict[str, str]:
    """Key to title of the lists on the first page, in their order."""
    return {key: title for page in pages for key, title in page.sections.items()}


def _sections(page: Page, html: str) -> list[Section]:
    """Return a page's sections. The page as a whole begins with what it is for, and the question that its calculator answers."""
    sections = sections_of(page.address, html)
    question = (calculator(page.calculator).__doc__ or "").splitlines()[:1] if page.calculator else []
    sections[0].says[:0] = [*question, page.description]
    if page.card:  # found as a whole, by what its steps are called: their words are those of the page that it leads back to
        titles = [step.title for part in page.card.parts for step in part.steps]
        return [replace(sections[0], is_card=True, says=[page.description, *titles], shows=[], asks=[])]
    if page.key == "cited-numbers":  # each document is found once, on the page of sources
        return sections[:1]
    for section in sections[1:]:
        section.is_word = page.address == GLOSSARY
    return sections


def _all_pages(sections: list[Section]) -> list[tuple[Section, list[Section]]]:
    """Return each page as a whole with its headings, to be read as a list."""
    by_page = groupby(sections, key=lambda section: section.page)
    return [(top, [one for one in parts if not (one.is_document or one.is_word)]) for top, *parts in (list(alike) for _, alike in by_page)]


def _refuse_missing_page(pages: tuple[Page, ...]) -> None:
    shown = {page.calculator for page in pages}
    for key in calculator_keys():
        if key not in shown:
            file = CONTENT / "pages" / f"{key.replace('_', '-')}.md"
            raise ContentFault(file, f"The calculator `{key}` has no page. Write this file.")


def drawings_made() -> list[str]:
    """Return the names of the drawings that no file holds: those of answers, by calculator and field, the curves of cells, the acts of cards."""
    fields = [(key, field) for key in calculator_keys() for field in dataclass_fields(calculator(key).Answer)]
    found = [
        f"{key.replace('_', '-')}.{field.name}" for key, field in fields if re.search(r"\b(Drawing|Picture|Timeline)\b", str(field.type))
    ]
    return [*found, "curves", *(f"act.{act}" for act in ACTS)]


def _write(dist: Path, files: dict[str, bytes]) -> None:
    dist.mkdir(parents=True, exist_ok=True)
    for old in dist.iterdir():
        if old.name == ".gitignore":
            continue
        shutil.rmtree(old) if old.is_dir() else old.unlink()
    for path, content in files.items():
        file = dist / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
