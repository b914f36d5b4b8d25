"""Where a number comes from, in one line."""

from __future__ import annotations

import re

from calc.facts.cited import Cited
from calc.facts.loads import PreferredValues
from calc.facts.looks import Look
from calc.facts.sources import SOURCES

# What a title says as it was typed; a figure holds its unit by itself.
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:V|Ah|°C)\b|%)")


def dated(key: str) -> str:
    """Return what a document is called, and its date or edition: for rules that change.

    >>> dated("faa-packsafe")
    'FAA PackSafe, read November 2026'
    """
    source = SOURCES[key]
    return f"{source.short or source.title.split(':')[0]}, {source.edition}"


def source_line(value: Cited | Look | PreferredValues) -> str:
    """Return where a number comes from, in one line: how sure, the document, and the place in it.

    >>> from calc.facts.cited import practice
    >>> source_line(practice(3.8, "about half charged"))
    'common practice, no source: about half charged'
    """
    if value.source == "practice":
        return _held(f"{value.provenance.value}: {value.where}")
    place = f", {value.where}" if value.where else ""
    return _held(f"{SOURCES[value.source].title}{place} ({value.provenance.value})")


def _held(line: str) -> str:
    return _BEFORE_UNIT.sub("\u00a0", line)
