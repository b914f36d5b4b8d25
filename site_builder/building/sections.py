"""The sections of a built page: what stands under each heading that a link can reach. The find page searches in them.

They are read from the HTML that is written, so whatever a template or a drawing adds is found like the words of content.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

_HEADINGS = {"h2", "h3", "h4", "dt"}
_BLOCKS = _HEADINGS | {"h1", "p", "li", "dd", "td", "th", "tr", "caption", "figcaption", "label", "legend", "summary", "div", "section"}
_VOID = {"br", "hr", "img", "input", "link", "meta"}
# What is read aloud by nobody who looks for a word, or says on each page the same.
_LEFT_OUT_TAGS = {"noscript", "select", "script", "svg", "button", "textarea"}
# The screens of the briefing and the poster are the rules of the safety page once more, and a question holds wrong answers too.
_LEFT_OUT_CLASSES = {
    "screens",
    "questions",
    "poster",
    "source",
    "contents",
    "to-do",
    "teasers",
    "cited",
    "hint",
    "problem",
    "unit",
    "optional",
    "unseen",
    "onward",
    "setting-figures",
    "set-by",
    "practice",
    "line-says",
    "line-act",
    "hints",
    "look-out-line",
}
# In a form and in an answer only what things are called is looked for: the numbers there are the worked example's.
_NAMES = {"label", "legend", "summary", "caption", "dt", "h3", "h4"}
_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z0-9“])")


@dataclass(slots=True)
class Section:
    """One target of a link: the page as a whole where `anchor` is empty, else one heading of it.

    `asks` are the labels of its form, `shows` the names of what it answers, `says` its sentences. `is_document` marks an entry
    of the list of sources, `is_word` one of the glossary, `is_card` a part of a job card.
    """

    page: str
    title: str
    anchor: str
    heading: str
    is_document: bool = False
    is_word: bool = False
    is_card: bool = False
    asks: list[str] = field(default_factory=list)
    shows: list[str] = field(default_factory=list)
    says: list[str] = field(default_factory=list)

    @property
    def address(self) -> str:
        """Return where a link to it leads."""
        return f"{self.page}#{self.anchor}" if self.anchor else self.page


def sections_of(address: str, html: str) -> list[Section]:
    """Return the sections of a page, the page as a whole first.

    Args:
        address: the page's own, such as "voltages.html".
        html: the whole page as it is written.
    """
    reader = _Reader(address)
    reader.feed(html)
    return [one for one in reader.sections if one.says or not one.anchor]


@dataclass(frozen=True, slots=True)
class _Open:
    tag: str
    anchor: str
    classes: frozenset[str]
    is_left_out: bool
    holds: str  # "words", or "form" and "answer", where only names are taken


class _Reader(HTMLParser):
    def __init__(self, address: str) -> None:
        super().__init__()
        self.sections: list[Section] = []
        self._address = address
        self._open: list[_Open] = []
        self._words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _BLOCKS:
            self._end_block()
        if tag in _VOID:
            return
        given = {name: value or "" for name, value in attrs}
        above = self._open[-1] if self._open else None
        classes = frozenset(given.get("class", "").split())
        left_out = bool(above and above.is_left_out) or tag in _LEFT_OUT_TAGS or bool(classes & _LEFT_OUT_CLASSES)
        left_out = left_out or given.get("id") == "answer-about"
        holds = above.holds if above else "words"
        if tag == "form":
            holds = "form"
        elif given.get("id") == "answer" or "common" in classes:
            holds = "answer"
        self._open.append(_Open(tag, given.get("id", ""), classes, left_out, holds))

    def handle_endtag(self, tag: str) -> None:
        if tag in _BLOCKS:
            self._end_block()
        while self._open and self._open.pop().tag != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self._open and not self._open[-1].is_left_out and any(one.tag == "main" for one in self._open):
            self._words.append(data)

    def _end_block(self) -> None:
        text = " ".join("".join(self._words).split())
        self._words.clear()
        block = next((one for one in reversed(self._open) if one.tag in _BLOCKS), None)
        if text and block:
            self._take(text, block)

    def _take(self, text: str, block: _Open) -> None:
        anchor = block.anchor or (self._open[-2].anchor if block.tag == "dt" else "")
        if block.tag == "h1":
            self.sections.append(Section(self._address, text, "", text))
        elif not self.sections:
            return  # the tab of the phase stands before the heading, and says nothing to look for
        elif block.holds == "words" and block.tag in _HEADINGS and anchor:
            self.sections.append(Section(self._address, self.sections[0].title, anchor, text, is_document=block.tag == "dt"))
        elif block.holds == "words":
            self.sections[-1].says += _SENTENCE.split(text)
        elif block.tag in _NAMES or "step-title" in block.classes:
            names = self.sections[0].asks if block.holds == "form" else self.sections[0].shows
            if text not in names:
                names.append(text)
