"""How plain the words of a safety page are: its reading grade, the years of school that it takes to read it.

Flesch-Kincaid grade: 0.39 x words per sentence + 11.8 x syllables per word - 15.59 (Kincaid and others 1975, US Navy,
Research Branch Report 8-75, as the documentation of a library for R gives the formula). A word has a syllable more than the places where it may be hyphenated.
"""

import re

from pyphen import Pyphen

from site_builder.reading.faults import ContentFault
from site_builder.reading.marks import Words, without_marks

# What everybody must understand is written for grade 6 to 8: common practice, no source. It is asked of each paragraph, since a
# page's mean hides the one that nobody understands.
HIGHEST_GRADE = 8.0
_FEWEST_WORDS = 10  # fewer say nothing about how hard it is to read: one long word would count as a doctor's thesis

_HYPHENS = Pyphen(lang="en_US")  # its patterns find more syllables than those for British spelling
_SENTENCE_END = re.compile(r"(?<=[.!?:])[\s*\"”)\]]+")
_WORD = re.compile(r"[^\W\d_](?:[\w'’-]*\w)?")


def refuse_hard_words(words: Words) -> None:
    """Refuse a paragraph that takes more years of school than `HIGHEST_GRADE`.

    Raises:
        ContentFault: it names the line of the paragraph.
    """
    for line, sentences in _paragraphs(words):
        grade = reading_grade(sentences)
        if grade > HIGHEST_GRADE and sum(map(len, sentences)) >= _FEWEST_WORDS:
            sentence = (
                f"This paragraph reads at grade {grade:.1f}, and on a safety page {HIGHEST_GRADE:.0f} is the most. "
                "Shorten its sentences, and use plainer words."
            )
            raise ContentFault(words.file, sentence, line)


def reading_grade(sentences: list[list[str]]) -> float:
    """Return the grade of sentences, each a list of its words; 0 for none."""
    words = [word for sentence in sentences for word in sentence]
    if not words:
        return 0.0
    syllables = sum(len(_HYPHENS.positions(word.lower())) + 1 for word in words)
    return 0.39 * len(words) / len(sentences) + 11.8 * syllables / len(words) - 15.59


def _paragraphs(words: Words) -> list[tuple[int, list[list[str]]]]:
    """Return the first line and the sentences of each paragraph and list item. Headings, tables and drawings are no sentences."""
    read = []
    for block in words.blocks():
        line, text = block[0]
        if text.lstrip().startswith(("#", "|", "![")):
            continue
        said = " ".join(without_marks(text) for _, text in block)
        sentences = [found for sentence in _SENTENCE_END.split(said) if (found := _WORD.findall(sentence))]
        if sentences:
            read.append((line, sentences))
    return read
