"""A script and all that it imports, as one, and small: a host need not pack it, and each request takes a browser time."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from typing import Literal

from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.node import node_modules, run_node

JOIN = ROOT / "site_builder" / "bundling" / "join.mjs"


Form = Literal["esm", "iife"]
Names = Literal["whole", "short"]


def joined(entry: Path, form: Form = "esm", names: Names = "whole", facts: str = "{}") -> bytes:
    """Return a script, or the style sheet, without what a browser does not need; `iife` for a script that is no module.

    `facts` are the names that the script has from the build, as JSON: each stands for its value.
    """
    return joined_parts(entry, form, names, facts)[entry.name]


@cache  # sources do not change while something is built from them
def joined_parts(entry: Path, form: Form = "esm", names: Names = "whole", facts: str = "{}") -> dict[str, bytes]:
    """Return a script as `joined` does, by file name; beside it what it imports only when it is wanted, and what these share."""
    with tempfile.TemporaryDirectory() as folder:
        meant = f"{entry.name} was not joined with what it imports"
        run_node(JOIN, node_modules() / "esbuild", entry, folder, form, names, facts, meant=meant)
        return {part.name: part.read_bytes() for part in sorted(Path(folder).iterdir())}


def is_of_every_page(name: str) -> bool:
    """Return whether every page needs the script of that name before it starts: its own, and what that shares with those that come later."""
    return name == "page.js" or name.startswith("chunk-")
