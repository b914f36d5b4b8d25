"""A script and all that it imports, as one, and small: a host need not pack it, and each request takes a browser time."""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Literal

from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.node import node_modules, run_node

# As esbuild writes it, with no space: a script that is imported when it is wanted has brackets here.
_IMPORTS = re.compile(rb'(?:import"\./[^"]+";)+\s*')
_IMPORTED = re.compile(rb'\b(?:from|import)"\./([^"]+)"')

# The scripts that every page names: what saves, and the rest.
STARTS = ("page.js", "starting.js")
JOIN = ROOT / "site_builder" / "bundling" / "join.mjs"


Form = Literal["esm", "iife"]
Names = Literal["whole", "short"]


def joined(entry: Path, form: Form = "esm", names: Names = "whole", facts: str = "{}") -> bytes:
    """Return a script, or the style sheet, without what a browser does not need; `iife` for a script that is no module.

    `facts` are the names that the script has from the build, as JSON: each stands for its value.
    """
    return joined_parts((entry,), form, names, facts)[entry.name]


@cache  # sources do not change while something is built from them
def joined_parts(entries: tuple[Path, ...], form: Form = "esm", names: Names = "whole", facts: str = "{}") -> dict[str, bytes]:
    """Return scripts as `joined` does, by file name; beside them what is imported only when it is wanted, and what these share."""
    with tempfile.TemporaryDirectory() as folder:
        meant = f"{entries[0].name} was not joined with what it imports"
        whole = json.dumps([str(entry.resolve()) for entry in entries])
        run_node(JOIN, node_modules() / "esbuild", whole, folder, form, names, facts, meant=meant)
        parts = {part.name: part.read_bytes() for part in sorted(Path(folder).iterdir())}
        return _without_stubs(parts, [entry.name for entry in entries])


def _without_stubs(parts: dict[str, bytes], entries: list[str]) -> dict[str, bytes]:
    """Return the parts with each that all of an entry stands in under the entry's own name: each request takes a browser time."""
    for entry in entries:
        if _IMPORTS.fullmatch(parts[entry]):
            whole = max(_IMPORTED.findall(parts[entry]), key=lambda name: len(begun_with(name.decode(), parts)))
            parts[entry] = parts.pop(whole.decode())
            parts = {name: content.replace(whole, entry.encode()) for name, content in parts.items()}
    return parts


def begun_with(name: str, parts: Mapping[str, bytes]) -> set[str]:
    """Return the names of a part and of those that it imports before it starts: all that a browser must have by then."""
    found, unread = {name}, [name]
    while unread:
        more = {imported.decode() for imported in _IMPORTED.findall(parts[unread.pop()])} - found
        found |= more
        unread += more
    return found
