"""Where a number comes from, in one line."""

from __future__ import annotations

from calc.facts.cited import Cited
from calc.facts.loads import PreferredValues
from calc.facts.looks import Look
from calc.facts.sources import SOURCES


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
        return f"{value.provenance.value}: {value.where}"
    place = f", {value.where}" if value.where else ""
    return f"{SOURCES[value.source].title}{place} ({value.provenance.value})"
