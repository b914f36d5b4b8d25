"""Blade fuses: the ratings that are made, the colour of each, and how large a fuse has to be."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, Provenance


@dataclass(frozen=True, slots=True)
class BladeFuse:
    """A rating of the small and medium blade bodies, and its colour. The largest bodies have other colours."""

    rating_a: Cited
    colour: str


BLADE_FUSES: tuple[BladeFuse, ...] = (
    BladeFuse(Cited(1, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "black"),
    BladeFuse(Cited(2, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "grey"),
    BladeFuse(Cited(3, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "violet"),
    BladeFuse(Cited(4, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "pink"),
    BladeFuse(Cited(5, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "tan"),
    BladeFuse(Cited(7.5, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "brown"),
    BladeFuse(Cited(10, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "red"),
    BladeFuse(Cited(15, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "blue"),
    BladeFuse(Cited(20, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "yellow"),
    BladeFuse(Cited(25, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "clear or white"),
    BladeFuse(Cited(30, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "green"),
    BladeFuse(Cited(35, "iso-8820-3", Provenance.MEMORY, "rating and colour; the lists that were read differ"), "blue-green"),
    BladeFuse(Cited(40, "iso-8820-3", Provenance.SECOND_HAND, "rating and colour"), "orange"),
)

FUSE_OVER_LOAD = Cited(1.25, "nec-210-20", Provenance.SECOND_HAND, "at least 125 % of a load that goes on for hours")
# The law of boats allows 150 % of what the wire may carry. A lead at the field lies in the grass and in the sun: 100 % here.
FUSE_OVER_WIRE_BY_LAW = Cited(1.5, "33-cfr-183-455", Provenance.READ, "at most 150 % of the wire's current, below 50 V; we use 100 %")
FUSE_FROM_SOURCE_M = Cited(0.178, "33-cfr-183-455", Provenance.READ, "at the source, or within 7 inches of it")
