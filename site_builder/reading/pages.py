"""content/pages -> checked pages, in the order of the navigation.

A page is Markdown below TOML front matter between two lines of `+++`. Everything is read and checked before anything is
written: a fault names its file and line, and no page is built.
"""

import json
import re
from collections.abc import Set
from itertools import chain, pairwise
from pathlib import Path

from pydantic import BaseModel, ConfigDict

from calc.answering import calculator, calculator_keys
from calc.facts.sources import SOURCES
from calc.inputs.fields import entries_of
from site_builder.reading.briefing import RULES_PAGE, Question, Screen, after_the_rules, questions_of, screens_of, sources_of
from site_builder.reading.cards import Card, card_of
from site_builder.reading.club import Club, about, merged, pack_names, read_club
from site_builder.reading.drawings import refuse_unshown_drawing
from site_builder.reading.faults import ContentFault, line_of
from site_builder.reading.front_matter import Cases, FrontMatter, PageHead
from site_builder.reading.marks import Words, marked_sources
from site_builder.reading.plainness import refuse_hard_words
from site_builder.reading.rendering import rendered, units_held
from site_builder.reading.shared_rules import RULES_FILE, read_shared_rules, with_shared_rules
from site_builder.reading.tables import read_table

_KEY = re.compile(r"[a-z]+(?:-[a-z]+)*")
_LINK = re.compile(r'href="([^"#]*)(?:#([^"]*))?"')
_FENCE = "+++\n"


class CommonCases(BaseModel):
    """A table to be worked out, with the club's things filled in: see `Cases`."""

    model_config = ConfigDict(frozen=True)

    caption: str
    says_html: str
    shows: str
    entries: dict[str, str]
    rows: tuple[dict[str, str], ...]
    columns: tuple[dict[str, str], ...]


class Page(PageHead):
    """A page, ready for its template. `worked_example` is field name to text as typed; `ids` are those of its headings.

    `asks` is the page where the entries of a card are made.
    """

    key: str
    worked_example: dict[str, str]
    example_about: str
    example_packs: str
    common_cases: tuple[CommonCases, ...]
    screens: tuple[Screen, ...]
    after_screens_html: str
    questions: tuple[Question, ...]
    asks: str | None
    card: Card | None
    sources: tuple[str, ...]
    lead_html: str
    body_html: str
    ids: tuple[str, ...]
    file: Path

    @property
    def heading(self) -> str:
        """Return the title as it stands above the page, where it may take two lines."""
        return units_held(self.title)

    @property
    def address(self) -> str:
        """Return the page's address, relative to every other page's."""
        return f"{self.key}.html"


def read_pages(content: Path) -> tuple[Page, ...]:
    """Return the pages in `content`/pages, in the order of the navigation, with the things of `content`/club.toml filled in.

    Raises:
        ContentFault: a page, a mark, a link or a worked example does not hold.
    """
    folder = content / "pages"
    club = read_club(content / "club.toml")
    pages = tuple(sorted((_page(file, club) for file in sorted(folder.glob("*.md"))), key=lambda page: page.order))
    if not pages:
        raise ContentFault(folder, "There is no page here. Add one as a .md file.")
    pages = tuple(_with_the_numbers_of(page, pages) for page in pages)
    for before, after in pairwise(pages):
        if before.order == after.order:
            sentence = f"`order` is {after.order} here and in {before.file.name}. Give one of them another number."
            raise ContentFault(after.file, sentence)
    sections = {key: title for page in pages for key, title in page.sections.items()}
    for page in pages:
        _check_links(page, pages)
        _check_section(page, sections)
        for name, key in (("onward", page.onward), *(("to_do", one.page) for one in page.to_do)):
            if key and key not in {other.key for other in pages}:
                raise ContentFault(page.file, f"`{name}` is `{key}`, which is no page. Correct it.")
    refuse_unshown_drawing(content)
    return pages


def _page(file: Path, club: Club) -> Page:
    if not _KEY.fullmatch(file.stem):
        raise ContentFault(file, "A page's file name is its address: small letters and hyphens only. Rename it.")
    front, lead, words = _parts(file)
    sources = _sources(front, lead, words)
    refuse_hard_words(lead)
    refuse_hard_words(words)
    body = rendered(words, front.contents or "")
    card = card_of(front.parts, front.stop_at_once, front.changes_pack, front.label_of, file)
    if card:
        sources = tuple(dict.fromkeys((*sources, *card.sources)))
    rules = _parts(file.with_name(f"{RULES_PAGE}.md"))[2] if front.rules else None
    if rules:
        sources = tuple(dict.fromkeys((*sources, *sources_of(front.questions, rules, file))))
    return Page(
        **{name: getattr(front, name) for name in front.model_fields_set & PageHead.model_fields.keys()},
        key=file.stem,
        worked_example=_worked_example(front, club, file),
        example_about=about(front.worked_example, club),
        example_packs=pack_names(front.worked_example, club),
        common_cases=tuple(_common_cases(cases, front, club, file) for cases in front.common_cases),
        screens=screens_of(front.rules, rules, file) if rules else (),
        after_screens_html=rendered(after_the_rules(rules)).html if rules else "",
        questions=questions_of(front.questions, rules, file) if rules else (),
        asks=None,
        card=card,
        sources=sources,
        lead_html=rendered(lead).html,
        body_html=body.html,
        ids=body.ids,
        file=file,
    )


def _parts(file: Path) -> tuple[FrontMatter, Words, Words]:
    shared = read_shared_rules(file.parent.with_name(RULES_FILE))
    text = with_shared_rules(file.read_text(encoding="utf-8"), shared, file)
    above, fence, body = text.removeprefix(_FENCE).partition("\n" + _FENCE)
    if not text.startswith(_FENCE) or not fence:
        raise ContentFault(file, "A page begins with its front matter: TOML between two lines of +++. Add it.", 1)
    front = read_table(FrontMatter, above, file, first_line=2)
    # Text that begins with a line break loses it in TOML, so the words begin one line further down.
    lead_line = line_of(file, r'lead\s*=\s*"""$')
    lead_line = lead_line + 1 if lead_line else line_of(file, r"lead\s*=") or 1
    return front, Words(front.lead, file, lead_line), Words(body, file, above.count("\n") + 4)


def _worked_example(front: FrontMatter, club: Club, file: Path) -> dict[str, str]:
    if front.calculator and not front.worked_example:
        raise ContentFault(file, "A page with a calculator needs a `worked_example` for those without scripts. Add one.")
    line = line_of(file, r"\[?worked_example\b")
    if front.worked_example and not front.calculator:
        raise ContentFault(file, "`worked_example` has no calculator to work it out. Add `calculator`, or take it out.", line)
    try:
        return merged(front.worked_example, club, _asked(front))
    except ValueError as misfit:
        raise ContentFault(file, f"`worked_example` does not fit: {misfit}. Correct it.", line) from misfit


def _asked(front: FrontMatter) -> Set[str]:
    return entries_of(calculator(front.calculator).Inputs).keys() if front.calculator in calculator_keys() else frozenset()


def _common_cases(cases: Cases, front: FrontMatter, club: Club, file: Path) -> CommonCases:
    line = _line_of_caption(cases, file)
    if not front.calculator or not all((*cases.rows, *cases.columns)):
        sentence = "`common_cases` needs a calculator, and an entry in each row and column. Add them, or take it out."
        raise ContentFault(file, sentence, line)
    try:
        entries = merged(cases.entries, club, _asked(front))
    except ValueError as misfit:
        raise ContentFault(file, f"`common_cases` does not fit: {misfit}. Correct it.", line) from misfit
    return CommonCases(
        caption=cases.caption,
        says_html=rendered(_said(cases, file)).html,
        shows=cases.shows,
        entries=entries,
        rows=cases.rows,
        columns=cases.columns,
    )


def _said(cases: Cases, file: Path) -> Words:
    # `says` stands below its caption, and text over several lines begins one further down.
    return Words(cases.says, file, _line_of_caption(cases, file) + 1 + ("\n" in cases.says))


def _line_of_caption(cases: Cases, file: Path) -> int:
    return line_of(file, rf"caption\s*=\s*{re.escape(json.dumps(cases.caption, ensure_ascii=False))}") or 1


def _sources(front: FrontMatter, lead: Words, body: Words) -> tuple[str, ...]:
    for key in front.sources:
        if key not in SOURCES:
            line = line_of(body.file, r"sources\s*=")
            sentence = f"`sources` names `{key}`, which is not in calc/facts/sources.py. Correct it, or add it there."
            raise ContentFault(body.file, sentence, line)
    said = (marked_sources(_said(cases, body.file)) for cases in front.common_cases)
    return tuple(dict.fromkeys((*front.sources, *marked_sources(lead), *chain(*said), *marked_sources(body))))


def _with_the_numbers_of(card: Page, pages: tuple[Page, ...]) -> Page:
    """Return a card with the worked example of the calculator that its numbers are taken from; any other page as it is."""
    if not card.numbers_from:
        if card.fixed_entries:
            raise ContentFault(card.file, "`fixed_entries` are entries of `numbers_from`, and there is none. Add it.", _line_of_fixed(card))
        if card.card and any(step.logs_as for part in card.card.parts for step in part.steps):
            sentence = "`logs_as` goes into the log of the pack that `numbers_from` asks, and there is none. Add it, or take `logs_as` out."
            raise ContentFault(card.file, sentence, line_of(card.file, r"logs_as\s*="))
        return card
    line = line_of(card.file, r"numbers_from\s*=")
    if card.card is None:
        raise ContentFault(card.file, "`numbers_from` fills a card, and there is none. Add `parts`, or take it out.", line)
    asks = next((page for page in pages if page.calculator == card.numbers_from), None)
    if asks is None:
        raise ContentFault(card.file, f"There is no page of a calculator `{card.numbers_from}`. Correct the name.", line)
    _check_fixed_entries(card)
    example = asks.worked_example | card.fixed_entries
    told = {"example_about": asks.example_about, "example_packs": asks.example_packs}
    return card.model_copy(update={"worked_example": example, "asks": asks.key, **told})


def _check_fixed_entries(card: Page) -> None:
    asked = entries_of(calculator(card.numbers_from).Inputs)
    for name, option in card.fixed_entries.items():
        options = asked[name].options if name in asked else None
        if not options or option not in options:
            sentence = f"`{name}` has no option `{option}` in `{card.numbers_from}`. Correct it, or take it out of `fixed_entries`."
            raise ContentFault(card.file, sentence, _line_of_fixed(card))


def _line_of_fixed(card: Page) -> int | None:
    return line_of(card.file, r"\[?fixed_entries\b")


def _check_section(page: Page, sections: dict[str, str]) -> None:
    if bool(page.teaser) != bool(page.section):
        sentence = "A page has `teaser` and `section` together, or neither. Add the one that is missing."
        raise ContentFault(page.file, sentence, line_of(page.file, r"(teaser|section)\s*="))
    if page.section and page.section not in sections:
        sentence = f"`section` is `{page.section}`. The first page has these: {', '.join(sections)}. Correct it, or add it there."
        raise ContentFault(page.file, sentence, line_of(page.file, r"section\s*="))


def _check_links(page: Page, pages: tuple[Page, ...]) -> None:
    ids = {other.address: other.ids for other in pages}
    ids["sources.html"] = (*ids.get("sources.html", ()), *SOURCES)
    for address, anchor in _LINK.findall(page.lead_html + _card_html(page) + page.body_html):
        target = address or page.address
        if ":" in target or (target in ids and (not anchor or anchor in ids[target])):
            continue
        wanted = f"{address}#{anchor}" if anchor else address
        line = line_of(page.file, rf".*\]\({re.escape(wanted)}\)")
        sentence = f"The link to {wanted} leads nowhere. Correct it, or write the page or heading that it names."
        raise ContentFault(page.file, sentence, line)


def _card_html(page: Page) -> str:
    if page.card is None:
        return ""
    return "".join((*page.card.stop_html, *(step.say_html for part in page.card.parts for step in part.steps)))
