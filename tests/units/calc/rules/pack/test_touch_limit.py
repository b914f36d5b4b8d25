"""How many cells anybody may handle: below 60 V of direct voltage (IEC 62368-1, class ES1, from memory)."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.rules.pack.touch_limit import problems_of_touch


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_the_most_cells_stay_below_sixty_volts_and_one_more_does_not(key: str) -> None:
    chemistry = CHEMISTRIES[key]
    assert chemistry.most_cells * chemistry.full_cell_v.value <= 60 < (chemistry.most_cells + 1) * chemistry.full_cell_v.value
    assert not problems_of_touch(chemistry.most_cells, chemistry)


def test_a_pack_of_too_many_cells_is_told_its_voltage_the_limit_and_what_to_do() -> None:
    [problem] = problems_of_touch(14, CHEMISTRIES["lihv"])
    says = problem.sentence.replace("\u00a0", " ")
    assert says.startswith("14 cells of 4.35 V make 60.90 V") and "60 V of direct voltage" in says and "13 cells are the most" in says
    assert "trained" in says and "each by itself" in problems_of_touch(14, CHEMISTRIES["lihv"], joined=True)[0].sentence


@pytest.mark.parametrize(
    ("joined", "ends"),
    [
        (False, "Leave such a pack to its maker's charger, and to somebody who is trained for such voltages."),
        (True, "Charge fewer at once, or each by itself."),
    ],
)
def test_one_pack_goes_to_trained_hands_and_several_are_charged_apart(joined: bool, ends: str) -> None:
    (problem,) = problems_of_touch(14, CHEMISTRIES["lihv"], joined=joined)
    assert problem.field == "cells"
    assert problem.sentence.replace("\u00a0", " ") == (
        "14 cells of 4.35 V make 60.90 V when they are full: more than the 60 V of direct voltage that anybody may touch. 13 cells are the most "
        f"here. {ends}"
    )
