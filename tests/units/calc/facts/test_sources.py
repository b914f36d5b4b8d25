"""Every number of `calc.facts` names a document that the sources page prints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from importlib import import_module
from pkgutil import iter_modules

import pytest

from calc import facts
from calc.facts.cited import Cited, Provenance
from calc.facts.sources import SOURCES


def _cited_in(value: object, path: str) -> Iterator[tuple[str, Cited]]:
    if isinstance(value, Cited):
        yield path, value
    elif isinstance(value, dict):
        for key, one in value.items():
            yield from _cited_in(one, f"{path}.{key}")
    elif isinstance(value, tuple):
        for place, one in enumerate(value):
            yield from _cited_in(one, f"{path}.{place}")
    elif is_dataclass(value) and not isinstance(value, type):
        for one in fields(value):
            yield from _cited_in(getattr(value, one.name), f"{path}.{one.name}")


_CITED = [
    found
    for module in iter_modules(facts.__path__)
    for name, value in vars(import_module(f"calc.facts.{module.name}")).items()
    for found in _cited_in(value, f"{module.name}.{name}")
]


@pytest.mark.parametrize("path, cited", _CITED, ids=[path for path, _ in _CITED])
def test_a_number_names_a_source_that_exists(path: str, cited: Cited) -> None:
    assert cited.source in SOURCES, f"{path}: add {cited.source!r} to calc/facts/sources.py"


@pytest.mark.parametrize("path, cited", _CITED, ids=[path for path, _ in _CITED])
def test_only_the_trade_is_called_common_practice(path: str, cited: Cited) -> None:
    assert (cited.source == "practice") == (cited.provenance is Provenance.PRACTICE), f"{path}: use practice(value, why)"


@pytest.mark.parametrize("key", SOURCES)
def test_a_source_has_a_publisher_a_title_and_an_edition(key: str) -> None:
    source = SOURCES[key]
    assert source.publisher and source.title and source.edition
