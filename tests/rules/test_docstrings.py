"""A formula or a fact says its units, where it comes from, and computes one example; a module says what it is for."""

from __future__ import annotations

import ast
import re

import pytest

from calc.figures import quantities
from tests.rules.source_trees import Module, listed, modules, public_functions

# What is not printed behind a number on the screen, and still says in what a function counts.
OTHER_UNITS = {"J", "W/K", "1/h", "per Ah", "mm", "fraction", "fractions", "minutes", "hours", "unit"}
SIGNS = {one.sign for one in vars(quantities).values() if isinstance(one, quantities.Quantity) and one.sign} | OTHER_UNITS
UNIT = re.compile("|".join(rf"(?<![\w]){re.escape(sign)}(?![\w])" for sign in sorted(SIGNS, key=len, reverse=True)))
FORMULAS_AND_FACTS = [module for module in modules("calc/physics") + modules("calc/facts") if module.tree.body]
RULES = [module for module in modules("calc/rules") if module.tree.body]


def faults_of(module: Module) -> list[str]:
    faults = []
    for name, function in public_functions(module):
        text = ast.get_docstring(function) or ""
        # An article at the beginning of a sentence is no ampere, and an example says no units.
        said = re.sub(r"^>>> .*|(?:^|[.:]\s+)A (?=[a-z])", "", text, flags=re.MULTILINE)
        missing = [
            what
            for what, is_there in (
                ("its units", UNIT.search(said)),
                ("a line 'Source: ...'", re.search(r"^Source: (?!none)\S", text, re.MULTILINE)),
                ("an example that computes", re.search(r"^>>> (?!from |import )", text, re.MULTILINE)),
            )
            if not is_there
        ]
        faults += [f"{module.place(function)} {name}: the docstring lacks {', '.join(missing)}"] if missing else []
    return faults


@pytest.mark.parametrize("module", FORMULAS_AND_FACTS, ids=lambda module: module.name)
def test_a_public_formula_or_fact_says_its_units_and_its_source_and_computes_an_example(module: Module) -> None:
    faults = faults_of(module)
    assert not faults, listed(faults)


@pytest.mark.parametrize("module", modules("calc"), ids=lambda module: module.name)
def test_no_docstring_fills_lines_that_tell_nothing(module: Module) -> None:
    faults = [
        f"{module.path}: {getattr(node, 'name', 'the module')} says {filler[0]!r}: leave it out"
        for node in ast.walk(module.tree)
        if isinstance(node, (ast.FunctionDef, ast.ClassDef, ast.Module))
        for filler in [re.search(r"Source: none\b.*|Refuses: nothing\b.*|>>> [\w.]+\.__name__.*", ast.get_docstring(node) or "")]
        if filler
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize("module", FORMULAS_AND_FACTS + RULES, ids=lambda module: module.name)
def test_what_comes_back_is_said_in_the_first_sentence_and_not_again(module: Module) -> None:
    faults = [
        f"{module.place(node)} {node.name}: what it returns, with its unit, belongs into the first sentence: leave out 'Returns:'"
        for node in ast.walk(module.tree)
        if isinstance(node, ast.FunctionDef) and re.search(r"^Returns:", ast.get_docstring(node) or "", re.MULTILINE)
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize("module", [one for one in modules("calc") if one.tree.body], ids=lambda module: module.name)
def test_a_module_says_what_it_is_for(module: Module) -> None:
    assert ast.get_docstring(module.tree), f"{module.path} begins without a docstring: say what it is for"
