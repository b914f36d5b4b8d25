"""content/plain-words.toml -> the words that mean the same to whoever looks for them."""

import re
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, Field

from site_builder.reading.faults import ContentFault
from site_builder.reading.tables import Strict, read_table

Listed = Annotated[tuple[str, ...], BeforeValidator(str.split), Field(min_length=1, strict=False)]


class Alike(Strict):
    """Words that stand for each other. `leads_to` is the page or heading that is meant by any of them."""

    words: Listed
    leads_to: str | None = None


class Phrases(Strict):
    """Words that mean `leads_to` where they stand side by side."""

    leads_to: str
    said: tuple[str, ...] = Field(min_length=1, strict=False)


class _Table(Strict):
    left_out: Listed
    alike: tuple[Alike, ...] = Field(strict=False)
    phrases: tuple[Phrases, ...] = Field(default=(), strict=False)


@dataclass(frozen=True, slots=True)
class PlainWords:
    """The lists, and the words that say nothing about what is looked for."""

    left_out: tuple[str, ...]
    alike: tuple[Alike, ...]
    phrases: tuple[Phrases, ...]
    file: Path

    def line_of(self, wanted: str) -> int | None:
        """Return the last line on which `wanted` stands."""
        lines = self.file.read_text(encoding="utf-8").splitlines()
        found = re.compile(rf'(?:^|[\s"]){re.escape(wanted)}(?:[\s"]|$)')
        return max((number for number, line in enumerate(lines, 1) if found.search(line)), default=None)


def read_plain_words(file: Path) -> PlainWords:
    """Return the table.

    Raises:
        ContentFault: it does not hold, or a word or a phrase stands in two lists.
    """
    table = read_table(_Table, file.read_text(encoding="utf-8"), file)
    read = PlainWords(left_out=table.left_out, alike=table.alike, phrases=table.phrases, file=file)
    seen: set[str] = set()
    for word in chain(read.left_out, *(group.words for group in read.alike), *(group.said for group in read.phrases)):
        if word in seen:
            raise ContentFault(file, f"“{word}” stands twice. Keep it in one list.", read.line_of(word))
        seen.add(word)
    return read
