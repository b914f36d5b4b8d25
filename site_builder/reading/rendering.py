"""Markdown -> HTML: headings from h2 down with an id each, source marks as links, a number and its unit on one line."""

import re
from dataclasses import dataclass
from html import escape
from typing import Any

from markdown import Markdown

from site_builder.reading.drawings import with_drawings
from site_builder.reading.faults import ContentFault
from site_builder.reading.marks import Words, linked

_HEADING = re.compile(r"(#+)\s")
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:m|mm|°C|°F|V|A|mAh|Wh|Ω|µF|min|minutes|hours?|litres)\b|%)")


@dataclass(frozen=True, slots=True)
class Rendered:
    """A page's body and the ids of its headings, by which other pages may link into it."""

    html: str
    ids: tuple[str, ...]


def rendered(words: Words, contents: str = "") -> Rendered:
    """Return the body as HTML.

    Args:
        words: the body.
        contents: the question above a list of links to the h2 headings; empty for no list.

    Raises:
        ContentFault: a heading skips a level, is the page's own, or is there twice; a drawing does not hold.
    """
    _check_headings(words)
    markdown = Markdown(extensions=["tables", "attr_list", "sane_lists", "toc"], extension_configs={"toc": {"marker": ""}})
    html = with_drawings(markdown.convert(units_held(linked(words.text))), words)
    tokens = markdown.toc_tokens  # type: ignore[attr-defined]  # the toc extension adds it
    if contents:
        html = _contents(contents, tokens) + html
    return Rendered(html, tuple(_ids(tokens)))


def units_held(text: str) -> str:
    """Return words with each number held on one line with its unit."""
    return _BEFORE_UNIT.sub("\u00a0", text)


def _check_headings(words: Words) -> None:
    above, seen = 1, set()
    for line, text in words.lines():
        heading = _HEADING.match(text)
        if not heading:
            continue
        level = len(heading[1])
        if level == 1:
            raise ContentFault(words.file, "The page's heading is its title in the front matter. Begin the words with ##.", line)
        if level > above + 1:
            raise ContentFault(words.file, f"This heading skips a level. Write it with {'#' * (above + 1)}.", line)
        if text in seen:
            raise ContentFault(words.file, "This heading is there twice, and a link could not tell them apart. Change one.", line)
        seen.add(text)
        above = level


def _contents(question: str, tokens: list[dict[str, Any]]) -> str:
    links = "\n".join(f'<li><a href="#{token["id"]}">{token["name"]}</a></li>' for token in tokens)
    return f'<nav class="contents" aria-labelledby="contents">\n<p id="contents">{escape(question)}</p>\n<ul>\n{links}\n</ul>\n</nav>\n'


def _ids(tokens: list[dict[str, Any]]) -> list[str]:
    return [name for token in tokens for name in (token["id"], *_ids(token["children"]))]
