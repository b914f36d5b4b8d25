"""The briefing: the rules of the safety page, one to a screen with a drawing, and questions after them.

The rules are read from that page's own list, so that nobody is told another rule aloud than the one that stands there.
"""

import re
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from site_builder.reading.faults import ContentFault, line_of
from site_builder.reading.marks import Words, marked_sources
from site_builder.reading.plainness import refuse_hard_words
from site_builder.reading.rendering import rendered
from site_builder.reading.tables import Strict

RULES_PAGE = "safety-rules"

_RULE = re.compile(r"\d+\. \*\*(?P<says>[^*]+)\*\*\s*(?P<reason>.*)")
_LETTERS = "ABC"


class DrawnRule(Strict):
    """A rule as the safety page has it, up to the end of its bold words, and the drawing that `shows` it."""

    rule: str
    drawing: str
    shows: str


class Asked(Strict):
    """A question with three answers; `right` is the letter of the one that is right, `rule` the rule that it comes from, as its page has it."""

    rule: str
    asks: str
    answers: Annotated[tuple[str, str, str], Field(strict=False)]
    right: Annotated[str, Field(pattern=f"^[{_LETTERS}]$")]
    because: str


class Screen(BaseModel):
    """One rule, ready for its template."""

    model_config = ConfigDict(frozen=True)

    says_html: str
    reason_html: str
    drawing_html: str


class Question(BaseModel):
    """One question, ready for its template; `rule` is the number of the rule that it comes from."""

    model_config = ConfigDict(frozen=True)

    rule: int
    asks: str
    answers: tuple[tuple[str, str], ...]
    right: tuple[str, str]
    because_html: str


def screens_of(drawn: tuple[DrawnRule, ...], rules: Words, file: Path) -> tuple[Screen, ...]:
    """Return a screen for each rule, in the order of the safety page.

    Args:
        drawn: the rules with their drawings.
        rules: the words of the safety page.
        file: the page of the briefing.

    Raises:
        ContentFault: a rule has no drawing, or a drawing no rule.
    """
    by_rule = {one.rule: one for one in drawn}
    screens = []
    for line, text in rules.lines():
        if not (found := _RULE.match(text)):
            continue
        one = by_rule.pop(found["says"], None)
        if not one:
            sentence = f'The briefing has no drawing for this rule. Add it to {file.name} with `rule = "{found["says"]}"`.'
            raise ContentFault(rules.file, sentence, line)
        screens.append(_screen(one, found, Words("", rules.file, line), file))
    if by_rule:
        sentence = f"“{next(iter(by_rule))}” is no rule of {rules.file.name}. Write it as it stands there."
        raise ContentFault(file, sentence, _line_of(file, next(iter(by_rule))))
    return tuple(screens)


def after_the_rules(rules: Words) -> Words:
    """Return what the safety page says below its list."""
    lines = list(rules.lines())
    last = max(place for place, (_, text) in enumerate(lines) if _RULE.match(text))
    return Words("\n".join(text for _, text in lines[last + 1 :]), rules.file, lines[last][0] + 1)


def questions_of(pool: tuple[Asked, ...], rules: Words, file: Path) -> tuple[Question, ...]:
    """Return the questions with the letters of their answers, and the number of the rule that each comes from.

    Raises:
        ContentFault: one has no rule of that page, two answers alike, no source or hard words; or two ask the same.
    """
    numbers = {found["says"]: number for number, found in enumerate(filter(None, (_RULE.match(text) for _, text in rules.lines())), 1)}
    asked_already = set()
    for asked in pool:
        line = _line_of(file, asked.asks)
        if asked.rule not in numbers:
            raise ContentFault(file, f"“{asked.rule}” is no rule of {rules.file.name}. Write it as it stands there.", line)
        if asked.asks in asked_already:
            raise ContentFault(file, "This is asked twice. Take one out.", line)
        asked_already.add(asked.asks)
    return tuple(_question(asked, numbers[asked.rule], file) for asked in pool)


def _question(asked: Asked, rule: int, file: Path) -> Question:
    line = _line_of(file, asked.asks)
    for words in (asked.asks, *asked.answers, asked.because):
        refuse_hard_words(Words(words, file, line))
        marked_sources(Words(words, file, line))
    if len(set(asked.answers)) < len(asked.answers):
        raise ContentFault(file, "Two of its answers are alike, so neither is the one that is right. Change one.", line)
    if not marked_sources(Words(asked.because, file, line)):
        raise ContentFault(file, "Its reason has no source. Add a mark such as {practice}.", line)
    answers = tuple(zip(_LETTERS, asked.answers, strict=True))
    [right] = [one for one in answers if one[0] == asked.right]
    return Question(rule=rule, asks=asked.asks, answers=answers, right=right, because_html=rendered(Words(asked.because, file, line)).html)


def sources_of(asked: tuple[Asked, ...], rules: Words, file: Path) -> tuple[str, ...]:
    """Return the keys of the sources that the rules and the reasons of the questions name."""
    said = (marked_sources(Words(one.because, file, _line_of(file, one.asks))) for one in asked)
    return (*marked_sources(rules), *(key for keys in said for key in keys))


def _screen(one: DrawnRule, found: re.Match[str], rule: Words, file: Path) -> Screen:
    image = Words(f"![{one.shows}]({one.drawing})", file, _line_of(file, one.rule))
    return Screen(
        says_html=rendered(Words(found["says"], rule.file, rule.first_line)).html.removeprefix("<p>").removesuffix("</p>"),
        reason_html=rendered(Words(found["reason"], rule.file, rule.first_line)).html,
        drawing_html=rendered(image).html,
    )


def _line_of(file: Path, words: str) -> int:
    return line_of(file, f".*{re.escape(words)}") or 1
