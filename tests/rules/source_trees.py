"""The project's own code as syntax trees: what the rules read. Nothing that is read here is run."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from site_builder.setting_up.checkout import ROOT


@dataclass(frozen=True)
class Module:
    """A Python file: its path below the checkout, its dotted name, and its tree."""

    path: str
    name: str
    tree: ast.Module

    def place(self, node: ast.AST) -> str:
        """Where to look: path and line."""
        return f"{self.path}:{node.lineno}"


@cache
def modules(folder: str) -> tuple[Module, ...]:
    """Return every Python file below a folder of the checkout."""
    files = [ROOT / folder] if folder.endswith(".py") else sorted((ROOT / folder).rglob("*.py"))
    return tuple(_module(file) for file in files)


@cache
def _module(file: Path) -> Module:
    path = file.relative_to(ROOT)
    name = ".".join(path.with_suffix("").parts).removesuffix(".__init__")
    return Module(path.as_posix(), name, ast.parse(file.read_text(encoding="utf-8"), filename=str(path)))


def imported(module: Module) -> Iterator[tuple[str, ast.stmt]]:
    """The dotted name of everything that a module imports, `from a import b` as both `a` and `a.b`, functions included."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            # A relative import would hide where it points; `from . import x` is reported as "." and so refused.
            base = "." * node.level + (node.module or "")
            yield base, node
            yield from ((f"{base}.{alias.name}", node) for alias in node.names)


def is_in(name: str, package: str) -> bool:
    return name == package or name.startswith(f"{package}.")


def public_functions(module: Module) -> Iterator[tuple[str, ast.FunctionDef]]:
    """Functions and methods without an underscore; a property is read like a field, so it is none."""
    for node in module.tree.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node.name, node
        elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield from (
                (f"{node.name}.{method.name}", method)
                for method in node.body
                if isinstance(method, ast.FunctionDef) and not method.name.startswith("_") and not method.decorator_list
            )


def listed(faults: list[str]) -> str:
    """Faults as a message, one a line."""
    return "\n" + "\n".join(faults)
