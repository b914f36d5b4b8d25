"""A script and all that it imports, as one, and small: a host need not pack it, and each request takes a browser time."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from typing import Literal

from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.node import node_modules, run_node

JOIN = ROOT / "site_builder" / "bundling" / "join.mjs"


@cache  # sources do not change while something is built from them
def joined(entry: Path, form: Literal["esm", "iife"] = "esm", names: Literal["whole", "short"] = "whole", facts: str = "{}") -> bytes:
    """Return a script, or the style sheet, without what a browser does not need; `iife` for a script that is no module.

    `facts` are the names that the script has from the build, as JSON: each stands for its value.
    """
    with tempfile.TemporaryDirectory() as folder:
        script = Path(folder) / entry.name
        meant = f"{entry.name} was not joined with what it imports"
        run_node(JOIN, node_modules() / "esbuild", entry, script, form, names, facts, meant=meant)
        return script.read_bytes()
