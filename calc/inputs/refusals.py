"""How we say no: a sentence that says what to do, and never a number to dial in beside it."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.sentences import Sentence


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that stands in the way of an answer.

    `field` is the name of the entry that it is about, or empty if it is about the whole. `go_to` is the key of the page
    that helps when typing cannot mend it (a cell below its floor). One that `lasts` takes the pack out of use, whatever is read of it later.
    """

    field: str
    sentence: str
    go_to: str = ""
    missing: bool = False
    lasts: bool = False


class Refused(Exception):
    """No safe number exists. Raised in `calc`, caught by `answering.answer` alone."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__(" ".join(problem.sentence for problem in problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Refusal:
    """What a page gets instead of an answer: the problems, all at once."""

    problems: tuple[Problem, ...]


def within_sentence(words: str) -> str:
    """Return words as they stand further on in a sentence, with a small first letter; a first word with more capitals keeps them.

    >>> within_sentence("Capacity on the label"), within_sentence("LiPo mode")
    ('capacity on the label', 'LiPo mode')
    """
    if isinstance(words, Sentence):
        return Sentence(within_sentence(words.pattern), words.figures)
    first = words.split(" ", 1)[0]
    return words[:1].lower() + words[1:] if first[1:] == first[1:].lower() else words
