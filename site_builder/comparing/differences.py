"""What differs between two commits' answers to the same questions, line by line as `plain_answers` writes them.

A number is held against the number at the same place. A sentence that only moved, as all do below one that was added, is no
difference.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

Lines = Sequence[Sequence[str]]
# A number in a sentence, with the unit that a no-break space ties to it.
NUMBER = re.compile(r"[-\u2212]?\d+(?:[.,]\d+)*(?:\u00a0[^\s.,;:)]+)?")
_NAME = re.compile(r"\w+")
_FOUND = re.compile(r"\.\w+:type")


@dataclass(frozen=True, slots=True)
class Difference:
    """A line of one answer as it was and as it is; empty where there is none."""

    question: int
    place: str
    kind: str
    was: str
    now: str

    @property
    def changes_a_number(self) -> bool:
        """Whether a number differs, also one inside of a sentence."""
        return self.kind == "number" or Counter(NUMBER.findall(self.was)) != Counter(NUMBER.findall(self.now))

    @property
    def told_with(self) -> tuple[str, ...]:
        """What all differences share that are told as one: a number's place, a sentence's words."""
        if self.kind == "number":
            return re.sub(r"\d+", "", self.place), str(bool(self.was)), str(bool(self.now))
        return NUMBER.sub("0", self.was), NUMBER.sub("0", self.now)


def differences(before: Sequence[Lines], after: Sequence[Lines], renamed: Mapping[str, str]) -> list[Difference]:
    """Return what differs, question by question; `renamed` leads from a name in `before` to the one in `after`."""
    return [
        one
        for question, (was, now) in enumerate(zip(before, after, strict=True))
        if was != now
        for one in _of_one_answer(question, _with_new_names(was, renamed), {place: (kind, text) for place, kind, text in now})
    ]


def _with_new_names(lines: Lines, renamed: Mapping[str, str]) -> dict[str, tuple[str, str]]:
    return {_NAME.sub(lambda name: renamed.get(name[0], name[0]), place): (kind, renamed.get(text, text)) for place, kind, text in lines}


def _of_one_answer(question: int, was: Mapping[str, tuple[str, str]], now: Mapping[str, tuple[str, str]]) -> Iterator[Difference]:
    if turned := _turned(was, now):
        yield Difference(question, "", "number", *turned)
        return
    differ = [place for place in dict.fromkeys([*was, *now]) if was.get(place) != now.get(place)]
    gone = Counter(was[place][1] for place in differ if place in was and was[place][0] == "words")
    come = Counter(now[place][1] for place in differ if place in now and now[place][0] == "words")
    only_moved = gone & come
    for place in differ:
        kind = (was.get(place) or now[place])[0]
        texts = [lines.get(place, ("", ""))[1] for lines in (was, now)]
        if kind == "words":
            texts = ["" if text in only_moved else text for text in texts]
        if any(texts):
            yield Difference(question, place, kind, *texts)


def _turned(was: Mapping[str, tuple[str, str]], now: Mapping[str, tuple[str, str]]) -> tuple[str, str] | None:
    """Return what an answer was and is where one became a refusal, or the other way round: then nothing else need be told."""
    kinds = [{text for place, (_, text) in lines.items() if _FOUND.fullmatch(place)} for lines in (was, now)]
    if kinds[0] == kinds[1] or not all(kinds):
        return None
    words = [next((f", {text}" for place, (_, text) in lines.items() if place.endswith("[0].sentence")), "") for lines in (was, now)]
    return "".join([*kinds[0], words[0]]), "".join([*kinds[1], words[1]])
