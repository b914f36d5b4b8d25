"""A public function of calc says what it gives, what it takes, where the formula comes from, and shows it once."""

from __future__ import annotations

import ast
import re

import pytest

from tests.rules.source_trees import Module, listed, modules, public_functions

# In the order in which they stand. Args only where there are arguments, Refuses only where something is refused.
PARTS = {
    "Args": re.compile(r"^Args:$", re.M),
    "Returns": re.compile(r"^Returns:$", re.M),
    "Refuses": re.compile(r"^Refuses:", re.M),
    "Source": re.compile(r"^Source: \S", re.M),
    "an example": re.compile(r"^>>> ", re.M),
}
OPTIONAL = {"Refuses"}


def _arguments(function: ast.FunctionDef) -> list[str]:
    given = function.args
    named = [one.arg for one in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
    return [name for name in named if name not in ("self", "cls")] + ([given.vararg.arg] if given.vararg else [])


def faults_of(module: Module) -> list[str]:
    faults = []
    for name, function in public_functions(module):
        text = ast.get_docstring(function) or ""
        where = f"{module.place(function)} {name}"
        found = {part: match.start() for part, pattern in PARTS.items() if (match := pattern.search(text))}
        wanted = [part for part in PARTS if part not in OPTIONAL and (part != "Args" or _arguments(function))]
        missing = [part for part in wanted if part not in found]
        unnamed = [one for one in _arguments(function) if not re.search(rf"^    \*?{one}: \S", text, re.M)]
        faults += [f"{where}: the docstring lacks {', '.join(missing)}"] if missing else []
        faults += [f"{where}: Args does not explain {', '.join(unnamed)}"] if unnamed else []
        if not missing and list(found.values()) != sorted(found.values()):
            faults.append(f"{where}: the docstring's order is {', '.join(PARTS)}")
        if not re.match(r"[^\n]+[.:?](\n|$)", text):
            faults.append(f"{where}: the docstring begins with one sentence on one line")
    return faults


@pytest.mark.parametrize("module", modules("calc"), ids=lambda module: module.name)
def test_a_public_function_says_what_it_gives_takes_and_rests_on(module: Module) -> None:
    faults = faults_of(module)
    assert not faults, listed(faults)


@pytest.mark.parametrize("module", [one for one in modules("calc") if one.tree.body], ids=lambda module: module.name)
def test_a_module_says_what_it_is_for(module: Module) -> None:
    assert ast.get_docstring(module.tree), f"{module.path} begins without a docstring: say what it is for"
