"""The source marks in the words: `{erg-147}` after a sentence becomes a link to that document on the sources page.

A number that nobody answers for is a fault: in each paragraph, list item or table row that holds one, a mark must stand.
"""

import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from pathlib import Path

from calc.facts.sources import SOURCES
from site_builder.reading.faults import ContentFault

# `{: .act }` is an attribute of the paragraph above it, and no mark.
_MARK = re.compile(r"\{(?!:)([^{}]*)\}")
_ATTRIBUTE = re.compile(r"\{:[^{}]*\}")
_ADDRESS = re.compile(r"\]\([^)]*\)")
_ITEM = re.compile(r"\s*(?:[-*+]|\d+\.)\s+")
_STARTS_A_BLOCK = re.compile(r"\s*(?:[-*+]|\d+\.)\s+|\||#")
_SPELLED = r"one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|forty|fifty|sixty|ninety"
_MEASURED = r"second|minute|hour|day|week|month|year|metre|degree|volt|ampere|third|quarter|fifth|tenth"
_NUMBER = re.compile(rf"\d[\d.,]*|\bhalf\b|\b(?:{_SPELLED})[\s-]+(?:{_MEASURED})s?\b", re.IGNORECASE)

_BY_TRADE = "practice"


@dataclass(frozen=True, slots=True)
class Words:
    """Markdown with its place in a file."""

    text: str
    file: Path
    first_line: int

    def lines(self) -> Iterator[tuple[int, str]]:
        return enumerate(self.text.splitlines(), self.first_line)

    def blocks(self) -> Iterator[list[tuple[int, str]]]:
        """Yield the lines of each paragraph, list item, table row and heading."""
        block: list[tuple[int, str]] = []
        for line, text in self.lines():
            if block and (not text.strip() or _STARTS_A_BLOCK.match(text)):
                yield block
                block = []
            if text.strip():
                block.append((line, text))
        if block:
            yield block


def marked_sources(words: Words) -> tuple[str, ...]:
    """Return the keys of the sources that are marked, each once, in the order of the text.

    Raises:
        ContentFault: a mark is no key of `SOURCES`, or a number stands in a block without a mark.
    """
    keys = []
    for line, text in words.lines():
        for key in _MARK.findall(text):
            if key not in SOURCES:
                near = difflib.get_close_matches(key, SOURCES, 1)
                hint = f"Write {{{near[0]}}}" if near else "Correct it"
                sentence = f"{{{key}}} is not a source. {hint}, or add it to calc/facts/sources.py."
                raise ContentFault(words.file, sentence, line)
            keys.append(key)
    for block in words.blocks():
        _refuse_unmarked_number(block, words.file)
    return tuple(dict.fromkeys(keys))


def number_in(text: str) -> str | None:
    """Return the first number of a text, in digits or in words, or None."""
    found = _NUMBER.search(text)
    return found[0] if found else None


def without_marks(text: str) -> str:
    """Return Markdown without its source marks, attributes and addresses of links: what is read."""
    return _ADDRESS.sub("]", _ATTRIBUTE.sub("", _MARK.sub("", text)))


def linked(text: str) -> str:
    """Return Markdown with every source mark made a link that says whose document it is."""
    # The small sign never begins a line.
    return _MARK.sub(lambda mark: _link(mark[1]), text.replace(f" {{{_BY_TRADE}}}", f"\u00a0{{{_BY_TRADE}}}"))


def _link(key: str) -> str:
    source = SOURCES[key]
    if key == _BY_TRADE:  # so many sentences have it that the screen shows a sign in its place
        return f'<a class="source by-trade" href="sources.html#{key}"><span>{escape(source.short)}</span></a>'
    return f'<a class="source" href="sources.html#{key}">{escape(source.short or source.publisher)}</a>'


def _refuse_unmarked_number(block: list[tuple[int, str]], file: Path) -> None:
    if any(_MARK.search(text) for _, text in block):
        return
    for line, text in block:
        said = _ITEM.sub("", without_marks(text), count=1)
        if number := number_in(said):
            remedy = "Add a mark such as {practice} to its paragraph or list item."
            raise ContentFault(file, f"“{number}” has no source beside it. {remedy}", line)
