"""What rests on each source: the numbers of calc that name it, and the pages whose words mark it."""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from importlib import import_module
from itertools import chain
from pkgutil import iter_modules
from typing import Any

from calc import facts
from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE
from calc.facts.cited import Cited, Provenance, Source
from calc.facts.lead_acid import LEAD_ACID
from calc.facts.sources import SOURCES
from calc.figures import quantities
from calc.figures.quantities import Quantity
from site_builder.reading.number_names import NumberNames
from site_builder.reading.pages import Page
from site_builder.reading.rendering import units_held

# What the name of a number ends in, as words, and the sign of that unit. The longest that fits is meant: "w per m2 k" is no "k".
_SIGNS = {one.suffix: one.sign for one in vars(quantities).values() if isinstance(one, Quantity)} | {
    "h": "h",
    "mm": "mm",
    "k": "K",
    "per k": "per\u00a0K",
    "per v": "per\u00a0V",
    "per v2": "per\u00a0V²",
    "times": "times",
    "ohm ah": "Ω\u00a0Ah",
    "ohm mm2 per m": "Ω\u00a0mm²/m",
    "a per mm2": "A/mm²",
    "wh per kg": "Wh/kg",
    "kg per m3": "kg/m³",
    "j per kg k": "J/(kg\u00a0K)",
    "w per m2 k": "W/(m²\u00a0K)",
}
_KINDS = {
    **{key: one.name for key, one in CHEMISTRIES.items()},
    **{key: one.name for key, one in LEAD_ACID.items()},
    "nickel_metal_hydride": NICKEL_METAL_HYDRIDE.name,
}
_ENDS_OF_A_RANGE = ("least", "likely", "most")


@dataclass(frozen=True, slots=True)
class Document:
    """A source as the sources page shows it: how it reached us, a line for each number from it, and the pages that rest on it."""

    source: Source
    how_sure: tuple[str, ...]
    numbers: tuple[str, ...]
    pages: tuple[Page, ...]

    @property
    def title(self) -> str:
        """What the source is called, each number on one line with its unit."""
        return units_held(self.source.title)


@dataclass(frozen=True, slots=True)
class CitedNumber:
    """A number of `calc.facts`, and the way to it by the names of its table, fields and rows: CHEMISTRIES, lipo, full_cell_v."""

    way: tuple[str, ...]
    cited: Cited


def documents(pages: tuple[Page, ...], names: NumberNames) -> dict[str, Document]:
    """Return every source by its key, in the order of the list.

    Raises:
        ContentFault: a number has no name, or a name no number.
    """
    names.must_be_of({part for number in chain(*cited_numbers().values()) for part in number.way})
    return {
        key: Document(
            source=source,
            how_sure=tuple(dict.fromkeys(one.value for one in _provenances(key, source))),
            numbers=_lines(cited_numbers()[key], names),
            pages=tuple(page for page in pages if key in page.sources),
        )
        for key, source in SOURCES.items()
    }


@cache
def cited_numbers() -> dict[str, list[CitedNumber]]:
    """Return, for each source, the numbers that `calc.facts` takes from it."""
    found: dict[str, list[CitedNumber]] = {key: [] for key in SOURCES}
    for module in iter_modules(facts.__path__):
        for name, value in vars(import_module(f"calc.facts.{module.name}")).items():
            if name.isupper() and not name.startswith("_"):  # what is private is taken by what is public
                for number in _cited_in(value, (name.lower(),)):
                    found[number.cited.source].append(number)
    return found


def _provenances(key: str, source: Source) -> list[Provenance]:
    if key == "practice":
        return []  # its title says it
    return [number.cited.provenance for number in cited_numbers()[key]] + ([source.provenance] if source.provenance else [])


def _lines(numbers: list[CitedNumber], names: NumberNames) -> tuple[str, ...]:
    """Return a line for each number, once for all that hold it: "Charge, coldest cell: 0 °C, no charge below [Lithium-polymer, 4.20 V]".

    The values of a table of which nothing else differs stand in one line.
    """
    provenances = {number.cited.provenance for number in numbers}
    holders: dict[tuple[str, str, str, str], list[str]] = {}
    for number in numbers:
        place = f", {number.cited.where}" if number.cited.where else ""
        how = f" ({number.cited.provenance.value})" if len(provenances) > 1 else ""
        one = (_name(number.way, names), f"{number.cited.value:g}", _sign(number), f"{place}{how}")
        holders.setdefault(one, []).extend(_KINDS[part] for part in number.way if part in _KINDS)
    values: dict[tuple[str, str, str, tuple[str, ...]], list[str]] = {}
    for (name, value, sign, place), held_by in holders.items():
        values.setdefault((name, sign, place, tuple(dict.fromkeys(held_by))), []).append(value)
    return tuple(
        f"{name}: {', '.join(listed)}{sign}{place}" + (f" [{'; '.join(held_by)}]" if held_by else "")
        for (name, sign, place, held_by), listed in values.items()
    )


def _name(way: tuple[str, ...], names: NumberNames) -> str:
    """Return what a number is called, and which end of a range it is: "Specific heat of a pack, least"."""
    *above, last = (part for part in way if part not in _KINDS)
    if last in _ENDS_OF_A_RANGE:
        return f"{names.of(above)}, {last}"
    return names.of([*above, last])


def _sign(number: CitedNumber) -> str:
    """Return the sign of the unit in which the name of a number ends, behind a space, or nothing."""
    for part in reversed(number.way):
        words = [word for word in part.split("_") if word not in _ENDS_OF_A_RANGE]
        for first in range(1, len(words)):
            if sign := _SIGNS.get(" ".join(words[first:])):
                return f"\u00a0{(number.cited.value == 1 and sign.removesuffix('s')) or sign}"  # 1 day; and a second stays s
    return ""


def _cited_in(value: Any, way: tuple[str, ...]) -> list[CitedNumber]:
    if isinstance(value, Cited):
        return [CitedNumber(way, value)]
    if isinstance(value, dict):
        return [found for key, one in value.items() for found in _cited_in(one, (*way, key))]
    if isinstance(value, tuple) and len(value) == 2 and isinstance(value[0], int | float):
        return _cited_in(value[1], (*way, f"{value[0]:g}"))  # a row of a table
    if isinstance(value, tuple):
        return [found for one in value for found in _cited_in(one, way)]
    if is_dataclass(value) and not isinstance(value, type):
        return [found for one in fields(value) for found in _cited_in(getattr(value, one.name), (*way, one.name))]
    return []
