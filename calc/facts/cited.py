"""A number that we did not work out, with where it comes from and how sure we are of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Provenance(Enum):
    """How a number reached us. Printed beside it on the sources page."""

    READ = "read in the source"
    SECOND_HAND = "read in a text that reproduces the source"
    COMPUTED = "computed from the source"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Source:
    """A document: who published it, what it is called, and its year or edition.

    The title names the clause or the table, where all that we take stands in one. `short` is what a mark beside a sentence calls
    it, where the publisher's name is too long or names more than one. `provenance` is said here where no number of calc says it.
    """

    publisher: str
    title: str
    edition: str
    short: str = ""
    provenance: Provenance | None = None


@dataclass(frozen=True, slots=True)
class Cited:
    """A value, a key of `SOURCES`, how sure, and where in the source or why this value."""

    value: float
    source: str
    provenance: Provenance
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """The least, the likely and the most of a number that is not known well."""

    least: Cited
    likely: Cited
    most: Cited


def practice(value: float, why: str) -> Cited:
    """Return a fact of the trade that no document states, in the unit of the field that holds it, with the reason that the trade gives.

    Source: common practice, no source.

    >>> practice(3.20, "leaves a margin under load").provenance.value
    'common practice, no source'
    """
    return Cited(value, "practice", Provenance.PRACTICE, why)
