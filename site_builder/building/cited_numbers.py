"""What rests on each source: the numbers of calc that name it, and the pages whose words mark it."""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from calc import facts
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.cited import Cited, Provenance, Source
from calc.facts.lead_acid import LEAD_ACID
from calc.facts.sources import SOURCES
from calc.figures import quantities
from calc.figures.quantities import Quantity
from site_builder.reading.pages import Page

# What the name of a number ends in, as words, and the sign of that unit. The longest that fits is meant: "w per m2 k" is no "k".
_SIGNS = {one.suffix: one.sign for one in vars(quantities).values() if isinstance(one, Quantity)} | {
    "h": "h",
    "mm": "mm",
    "k": "K",
    "per k": "per\u00a0K",
    "per v": "per\u00a0V",
    "ohm ah": "Ω\u00a0Ah",
    "ohm mm2 per m": "Ω\u00a0mm²/m",
    "a per mm2": "A/mm²",
    "wh per kg": "Wh/kg",
    "kg per m3": "kg/m³",
    "j per kg k": "J/(kg\u00a0K)",
    "w per m2 k": "W/(m²\u00a0K)",
}
_KINDS = {key: one.name for key, one in CHEMISTRIES.items()} | {key: one.name for key, one in LEAD_ACID.items()}
_ENDS_OF_A_RANGE = ("least", "likely", "most")


@dataclass(frozen=True, slots=True)
class Document:
    """A source as the sources page shows it: how it reached us, a line for each number from it, and the pages that rest on it."""

    source: Source
    how_sure: tuple[str, ...]
    numbers: tuple[str, ...]
    pages: tuple[Page, ...]


def documents(pages: tuple[Page, ...]) -> dict[str, Document]:
    """Return every source by its key, in the order of the list."""
    return {
        key: Document(
            source=source,
            how_sure=tuple(dict.fromkeys(one.value for one in _provenances(key, source))),
            numbers=_lines(cited_numbers()[key]),
            pages=tuple(page for page in pages if key in page.sources),
        )
        for key, source in SOURCES.items()
    }


@cache
def cited_numbers() -> dict[str, list[tuple[str, Cited]]]:
    """Return, for each source, the numbers that `calc.facts` takes from it, each with its path: "chemistries, lipo, full cell v"."""
    found: dict[str, list[tuple[str, Cited]]] = {key: [] for key in SOURCES}
    for module in iter_modules(facts.__path__):
        for name, value in vars(import_module(f"calc.facts.{module.name}")).items():
            if name.isupper() and not name.startswith("_"):  # what is private is taken by what is public
                for path, cited in _cited_in(value, name.lower()):
                    found[cited.source].append((path.replace("_", " "), cited))
    return found


def _provenances(key: str, source: Source) -> list[Provenance]:
    if key == "practice":
        return []  # its title says it
    return [cited.provenance for _, cited in cited_numbers()[key]] + ([source.provenance] if source.provenance else [])


def _lines(numbers: list[tuple[str, Cited]]) -> tuple[str, ...]:
    """Return a line for each number, once for all that hold it: "charge least: 0 °C, no charge below [Lithium-polymer, 4.20 V]"."""
    provenances = {cited.provenance for _, cited in numbers}
    holders: dict[str, list[str]] = {}
    for path, cited in numbers:
        name, held_by = _name_and_holder(path.split(", "))
        place = f", {cited.where}" if cited.where else ""
        how = f" ({cited.provenance.value})" if len(provenances) > 1 else ""
        holders.setdefault(f"{_with_unit(name, cited.value)}{place}{how}", []).extend(held_by)
    return tuple(f"{line} [{'; '.join(dict.fromkeys(by))}]" if by else line for line, by in holders.items())


def _name_and_holder(path: list[str]) -> tuple[list[str], list[str]]:
    """Return what a number is called, in parts of which the first may end in its unit, and the kind or the table that holds it."""
    table, *held_by = path
    kinds = [_KINDS[key] for key in held_by if key in _KINDS]
    if path[-1] in _ENDS_OF_A_RANGE:
        return [[part for part in path[:-1] if part not in _KINDS][-1], path[-1]], kinds
    if path[-1] in _KINDS:
        return [table], kinds
    *words, end = path[-1].split()
    if end in _ENDS_OF_A_RANGE and words[-1] in _SIGNS:
        return [" ".join(words), end], kinds
    return [path[-1]], kinds or ([table] if held_by else [])


def _with_unit(name: list[str], value: float) -> str:
    """Return a name without its unit, and the value with it: "specific heat, least: 830 J/(kg K)"."""
    words = name[0].split()
    for first in range(1, len(words)):
        if sign := _SIGNS.get(" ".join(words[first:])):
            return f"{', '.join([' '.join(words[:first]), *name[1:]])}: {value:g}\u00a0{sign}"
    return f"{', '.join(name)}: {value:g}"


def _cited_in(value: Any, path: str) -> list[tuple[str, Cited]]:
    if isinstance(value, Cited):
        return [(path, value)]
    if isinstance(value, dict):
        return [found for key, one in value.items() for found in _cited_in(one, f"{path}, {key}")]
    if isinstance(value, tuple):
        return [found for one in value for found in _cited_in(one, path)]
    if is_dataclass(value) and not isinstance(value, type):
        return [found for one in fields(value) for found in _cited_in(getattr(value, one.name), f"{path}, {one.name}")]
    return []
