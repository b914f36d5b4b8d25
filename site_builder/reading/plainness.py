"""How plain the words of a page are: its reading grade, the years of school that it takes to read it, how long its sentences are, and
wordings that puzzle.

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
MOST_WORDS = 30  # of one sentence: past it a reader in the sun has lost its beginning; common practice, no source
_FEWEST_WORDS = 10  # fewer say nothing about how hard it is to read: one long word would count as a doctor's thesis

_HYPHENS = Pyphen(lang="en_US")  # its patterns find more syllables than those for British spelling
_SENTENCE_END = re.compile(r"(?<=[.!?:])[\s*\"”)\]]+")
# Riddles and idioms of our own that stood here once: each means something only to whoever wrote it.
_PUZZLING = re.compile(
    r"forget it once|wish of the maker|hides what it|rules? (?:that )?sp(?:o|ea)ks?|drawn on from|at no warning|hungry flight|cooking itself"
    r"|count on more|, or you stop|speaks? against|runs? away from the|takes feeling|must not find the|\bis hope\b|months are long|label lies"
    r"|your thumb|had enough|ask of you|another matter|is kinder|wake it with|pair of eyes|pack is ill|not your page|ends the plan|or the answer is no"
    r"|hides in the sum|far below the dial|tells only so much|is kind to|go closer|is for the balancer|it is trusted with|where it is another|wants you\b|the wire is not|leaving the pack"
    r"|is hopeful|the hands count|page that has the last word|page then has the last word|soon as can be|ever sees it|(?:than|whatever) the dial says|that the sum hides|more is promised|did it go otherwise|on none of them may"
    r"|stands? on (?:its|the|each) (?:label|page)|not one near it|so much takes|went otherwise|follow it no longer|is it this one still|one of them leaks",
    re.IGNORECASE,
)
# What an editor would strike out anywhere: a word that stands twice, an article that does not fit, an "i" for the reader.
_SLIPS = re.compile(
    r"\b([Tt]he|an?|of|to|is|it|and|in) \1\b|\b[Tt]he (?:the|if|when|bring|compare)\b|\ba (?:[aei]\w|hour\b)|\b[Aa]n [bcdfgjkqstvwz]\w|\bi\b"
)
_WORD = re.compile(r"[^\W\d_](?:[\w'’-]*\w)?")


def refuse_hard_words(words: Words) -> None:
    """Refuse a paragraph that takes more years of school than `HIGHEST_GRADE`, that has a sentence too long, or that puzzles.

    Raises:
        ContentFault: it names the line of the paragraph.
    """
    for line, said in _paragraphs(words):
        if fault := fault_of(said):
            raise ContentFault(words.file, fault, line)


def fault_of(said: str) -> str:
    """Return what an editor would send back in a paragraph, and what to do about it; empty if nothing.

    >>> fault_of("The alarm comes at no warning.")
    '“at no warning” puzzles, or is a slip. Say what is meant in plain words.'
    """
    sentences = [found for sentence in _SENTENCE_END.split(said) if (found := _WORD.findall(sentence))]
    longest = max(sentences, key=len, default=[])
    if len(longest) > MOST_WORDS:
        return f"The sentence that begins “{' '.join(longest[:5])}” has {len(longest)} words, and {MOST_WORDS} are the most. Part it."
    grade = reading_grade(sentences)
    if grade > HIGHEST_GRADE and sum(map(len, sentences)) >= _FEWEST_WORDS:
        return (
            f"This paragraph reads at grade {grade:.1f}, and {HIGHEST_GRADE:.0f} is the most. Shorten its sentences, and use plainer words."
        )
    if puzzles := _PUZZLING.search(said) or _SLIPS.search(said):
        return f"“{puzzles[0]}” puzzles, or is a slip. Say what is meant in plain words."
    return ""


def reading_grade(sentences: list[list[str]]) -> float:
    """Return the grade of sentences, each a list of its words; 0 for none."""
    words = [word for sentence in sentences for word in sentence]
    if not words:
        return 0.0
    syllables = sum(len(_HYPHENS.positions(word.lower())) + 1 for word in words)
    return 0.39 * len(words) / len(sentences) + 11.8 * syllables / len(words) - 15.59


def _paragraphs(words: Words) -> list[tuple[int, str]]:
    """Return the first line and the words of each paragraph and list item. Headings, tables and drawings are no sentences."""
    read = []
    for block in words.blocks():
        line, text = block[0]
        if text.lstrip().startswith(("#", "|", "![")):
            continue
        said = " ".join(without_marks(text) for _, text in block)
        if _WORD.search(said):
            read.append((line, said))
    return read
