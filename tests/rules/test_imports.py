"""Imports point one way, and what runs in the browser or before anything is installed brings nothing along."""

from __future__ import annotations

import ast
import sys

import pytest

from tests.rules.source_trees import Module, imported, is_in, listed, modules

# Each may import what stands above it, but for `physics` and `inputs`, which know nothing of each other.
ORDER = (
    "calc.figures",
    "calc.facts",
    "calc.physics",
    "calc.inputs",
    "calc.rules",
    "calc.presenting",
    "calc.calculators",
    "calc.answering",
    "site_builder.engine",
    "site_builder.building",
)
# Read like facts by whoever needs them, and they read nothing of the line above.
BESIDE = ("site_builder.setting_up",)

READS_OR_WAITS = {"os", "pathlib", "io", "shutil", "tempfile", "datetime", "time", "random", "secrets", "socket", "subprocess", "urllib"}


def _is_standard(name: str) -> bool:
    return name.split(".", maxsplit=1)[0] in sys.stdlib_module_names


def _foreign(module: Module, *allowed: str) -> list[str]:
    return [
        f"{module.place(node)} imports {name}"
        for name, node in imported(module)
        if not _is_standard(name) and not any(is_in(name, one) for one in allowed)
    ]


@pytest.mark.parametrize("package", ORDER)
def test_a_package_imports_only_what_stands_before_it(package: str) -> None:
    later = ORDER[ORDER.index(package) + 1 :]
    faults = [
        f"{module.place(node)} imports {name}: {package} stands before it. Move the code, or what it needs, the other way"
        for module in modules("calc") + modules("site_builder")
        if is_in(module.name, package)
        for name, node in imported(module)
        if any(is_in(name, one) for one in later)
    ]
    assert not faults, listed(faults)


def test_formulas_know_nothing_of_entries_and_entries_nothing_of_formulas() -> None:
    apart = {"calc.physics": "calc.inputs", "calc.inputs": "calc.physics"}
    faults = [
        f"{module.place(node)} imports {name}: what needs both belongs into calc.rules"
        for module in modules("calc")
        for package, other in apart.items()
        if is_in(module.name, package)
        for name, node in imported(module)
        if is_in(name, other)
    ]
    assert not faults, listed(faults)


def _strings_of_code(module: Module) -> list[ast.Constant]:
    """Every string but docstrings and what a ValueError says: that is for whoever programs, and never reaches the screen."""
    left_out: set[ast.AST] = set()
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Expr):
            left_out.add(node.value)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "ValueError":
            left_out.update(ast.walk(node))
    return [
        node for node in ast.walk(module.tree) if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in left_out
    ]


def test_formulas_hold_no_words_for_the_pilot() -> None:
    # Three words in a row are already part of a sentence, with its full stop or without: "the label on the pack".
    faults = [
        f"{module.place(node)} says {node.value!r}: words for the pilot belong into calc.rules, or into what shows the number"
        for module in modules("calc/physics")
        for node in _strings_of_code(module)
        if len(node.value.split()) > 2
    ]
    assert not faults, listed(faults)


def test_every_package_of_calc_has_its_place_in_the_order() -> None:
    placed = {".".join(name.split(".")[:2]) for name in ORDER}
    found = {".".join(module.name.split(".")[:2]) for module in modules("calc")} - {"calc"}
    missing = sorted(found - placed)
    assert not missing, f"{missing}: give it its place in ORDER here, and in the map of DEVELOPERS.md"


def test_calc_imports_only_the_standard_library_and_itself() -> None:
    faults = [fault for module in modules("calc") for fault in _foreign(module, "calc")]
    assert not faults, listed(faults) + "\ncalc runs in the browser as it stands: do it by the standard library"


def test_calc_opens_no_file_and_reads_no_clock() -> None:
    faults = [
        f"{module.place(node)} imports {name}: what calc needs is handed to it"
        for module in modules("calc")
        for name, node in imported(module)
        if name.split(".")[0] in READS_OR_WAITS
    ] + [
        f"{module.place(node)} calls {node.func.id}: what calc needs is handed to it"
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in {"open", "print", "input", "eval", "exec"}
    ]
    assert not faults, listed(faults)


def test_the_engine_imports_only_calc_the_libraries_of_the_browser_and_the_standard_library() -> None:
    carried = ("calc", "jinja2", "segno", "site_builder.engine")
    faults = [fault for module in modules("site_builder/engine") for fault in _foreign(module, *carried)]
    assert not faults, listed(faults) + "\nnothing else is carried into the browser"


@pytest.mark.parametrize("path", ["site_builder/setting_up", "site_builder/__main__.py"])
def test_set_up_needs_only_the_standard_library(path: str) -> None:
    faults = [fault for module in modules(path) for fault in _foreign(module, *BESIDE)]
    assert not faults, listed(faults) + "\nnothing is installed yet when this runs"


def test_the_package_on_the_way_to_the_engine_is_empty() -> None:
    [package] = modules("site_builder/__init__.py")
    assert package.tree.body == [], "the browser imports site_builder/__init__.py on the way to the engine: leave it empty"
