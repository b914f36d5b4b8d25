"""Which mutants are left out of the score as a family."""

from __future__ import annotations

import pytest

from site_builder.commands.mutate import only_strict_differs

LINE = "for one, other in zip(packs, found, strict=True):"


@pytest.mark.parametrize("becomes", [LINE.replace("True", "None"), LINE.replace("True", "False"), LINE.replace("strict=True", "")])
def test_what_is_said_of_strict_makes_no_mutant(becomes: str) -> None:
    assert only_strict_differs(LINE, becomes)


@pytest.mark.parametrize("becomes", [LINE.replace("packs, ", ""), LINE.replace("found", "None"), LINE.replace("packs, found, ", "packs, ")])
def test_any_other_change_in_such_a_line_is_one(becomes: str) -> None:
    assert not only_strict_differs(LINE, becomes)
