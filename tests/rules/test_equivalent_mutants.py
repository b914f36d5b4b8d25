"""A mutant that is excused names code that is there: an excuse for code that was renamed would excuse nothing."""

from __future__ import annotations

import tomllib

from site_builder.commands.mutate import EQUIVALENT
from site_builder.setting_up.checkout import ROOT
from tests.rules.source_trees import listed, modules


def _on_one_line(path: str) -> str:
    return " ".join((ROOT / path).read_text(encoding="utf-8").split())


def test_the_code_of_each_equivalent_mutant_is_still_there() -> None:
    faults = [
        f"{EQUIVALENT.name}: {one['module']} holds no {one['was']!r}: follow its new name, or leave the mutant out"
        for one in tomllib.loads(EQUIVALENT.read_text(encoding="utf-8"))["mutant"]
        if not any(
            one["was"] in _on_one_line(module.path)
            for folder in ("calc/physics", "calc/rules")
            for module in modules(folder)
            if module.name.endswith(f".{one['module']}")
        )
    ]
    assert not faults, listed(faults)
