"""A sentence that knows the figures in it, so that they can be shown in the units that the pilot chose.

It is text like any other: whoever only prints it sees the standard units.
"""

from __future__ import annotations

from collections.abc import Sequence

from calc.figures.quantities import Band, Figure


class Sentence(str):
    """Text made of a pattern and its figures. `pattern` has a `{}` for each of `figures`: a figure, words, or a further sentence."""

    __slots__ = ("figures", "pattern")

    pattern: str
    figures: tuple[Figure | Band | str, ...]

    def __new__(cls, pattern: str, figures: tuple[Figure | Band | str, ...]) -> Sentence:
        """Make the text, and keep what it is made of."""
        sentence = super().__new__(cls, pattern.format(*figures))
        sentence.pattern = pattern
        sentence.figures = figures
        return sentence

    def __reduce__(self) -> tuple[type[Sentence], tuple[str, tuple[Figure | Band | str, ...]]]:
        """What a copy is made from."""
        return Sentence, (self.pattern, self.figures)

    def __add__(self, other: str) -> Sentence:
        """Go on with more words, without losing the figures."""
        return Sentence("{}{}", (self, other))


def worded(pattern: str, *figures: Figure | Band | str) -> Sentence:
    """Return a sentence: text in the standard units, with a figure or words for each `{}` of the pattern, and the figures still in it.

    >>> from calc.figures.quantities import DEGREES_CELSIUS
    >>> worded("It lands at {}.", Figure(41, DEGREES_CELSIUS)) == "It lands at 41\\u00a0°C."
    True
    """
    return Sentence(pattern, figures)


def joined_with_and(words: Sequence[str]) -> str:
    """Return words as a sentence lists them: with commas, and "and" before the last.

    >>> joined_with_and(["Pack 1"]), joined_with_and(["Pack 1", "Pack 2", "Pack 4"])
    ('Pack 1', 'Pack 1, Pack 2 and Pack 4')
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
