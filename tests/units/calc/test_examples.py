"""Every example in a docstring of calc is run."""

from __future__ import annotations

import doctest
from importlib import import_module
from pkgutil import walk_packages
from types import ModuleType

import pytest

import calc

_MODULES = [import_module(found.name) for found in walk_packages(calc.__path__, "calc.")]
_WITH_EXAMPLES = [module for module in _MODULES if any(test.examples for test in doctest.DocTestFinder().find(module))]


@pytest.mark.parametrize("module", _WITH_EXAMPLES, ids=lambda module: module.__name__)
def test_the_examples_of_a_module_are_true(module: ModuleType) -> None:
    ran = doctest.testmod(module)
    assert ran.failed == 0, f"{module.__name__}: an example in a docstring is not true; run python -m doctest -v on it"


def test_examples_were_found() -> None:
    assert {"calc.figures.units", "calc.physics.pack.packs", "calc.answering"} <= {module.__name__ for module in _WITH_EXAMPLES}
