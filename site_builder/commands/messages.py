"""List every message that the code can make, for an editor to read: what calc, the engine and the scripts say, each with its place.

A name in braces stands for what is filled in. What asks for an entry is made from its label, so each is printed whole.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from calc.answering import calculator, calculator_keys
from calc.inputs.fields import Entry, Kind, entries_of
from site_builder.setting_up.checkout import ROOT

_PYTHON = ("calc", "site_builder/engine")
_SCRIPTS = "site_builder/web"
# A message has words: two with a space between them, or one that ends a sentence.
_WORDS = re.compile(r"[A-Za-z]{2,},? [A-Za-z{]|[a-z]{2,}[.:]$")
_IN_SCRIPTS = re.compile(r'"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`')
_COMMENT = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*", re.DOTALL)


def run(_: list[str]) -> int:
    for place, message in (*messages(), *asking()):
        print(f"{place}: {message}")
    return 0


def messages() -> Iterator[tuple[str, str]]:
    """Yield each text with words in it that the code holds, and where: no docstring, no comment, no pattern."""
    for folder in _PYTHON:
        for file in sorted((ROOT / folder).rglob("*.py")):
            yield from _of_python(file)
    for file in sorted((ROOT / _SCRIPTS).rglob("*.js")):
        yield from _of_script(file)


def asking() -> Iterator[tuple[str, str]]:
    """Yield what each entry says when it is left out, with the first calculator and the first row that asks for it."""
    seen: set[str] = set()
    for key in calculator_keys():
        for name, entry in entries_of(calculator(key).Inputs).items():
            sentence = asked_for(entry)
            if sentence not in seen:
                seen.add(sentence)
                yield f"{key}/{name}", sentence


def asked_for(entry: Entry) -> str:
    """Return the sentence that asks for an entry, as `inputs.entries` makes it."""
    return f"{'Choose' if entry.kind is Kind.CHOICE else 'Enter'} {entry.within}."


def _of_python(file: Path) -> Iterator[tuple[str, str]]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    aside: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.FunctionDef, ast.ClassDef)) and ast.get_docstring(node) is not None:
            aside.add(id(node.body[0].value))  # type: ignore[attr-defined]  # a docstring is an expression
        if isinstance(node, ast.JoinedStr):
            aside.update(id(part) for part in ast.walk(node) if part is not node)
        if isinstance(node, ast.Call) and ast.unparse(node.func) in ("re.compile", "Cited", "practice", "Source"):
            aside.update(id(part) for part in ast.walk(node))
    for node in ast.walk(tree):
        if id(node) in aside:
            continue
        if isinstance(node, ast.JoinedStr):
            said = "".join(str(part.value) if isinstance(part, ast.Constant) else f"{{{_name(part)}}}" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            said = node.value
        else:
            continue
        if _WORDS.search(said):
            yield f"{file.relative_to(ROOT).as_posix()}:{node.lineno}", " ".join(said.replace("\u00a0", " ").split())


def _name(part: ast.expr) -> str:
    return ast.unparse(part.value) if isinstance(part, ast.FormattedValue) and isinstance(part.value, ast.Name) else "..."


def _of_script(file: Path) -> Iterator[tuple[str, str]]:
    text = _COMMENT.sub(lambda comment: "\n" * comment[0].count("\n"), file.read_text(encoding="utf-8"))
    for found in _IN_SCRIPTS.finditer(text):
        said = found[1] or found[2] or ""
        if re.search(r"[A-Z][a-z]+ [a-z]|[a-z]{2,} [a-z]{2,} [a-z]", said) and "querySelector" not in said:
            line = text.count("\n", 0, found.start()) + 1
            yield f"{file.relative_to(ROOT).as_posix()}:{line}", " ".join(said.split())
