"""Packs that travel: no number above a limit, whatever is carried, and more or larger packs never leave fewer at home."""

from __future__ import annotations

from typing import Any

from hypothesis import example, given
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from tests.properties.typed_entries import Entries

Pack = dict[str, str]

# Per cell, the highest that such cells are sold by.
NOMINAL_CELL_V = {key: one.highest_nominal_cell_v.value for key, one in CHEMISTRIES.items()}
SMALL = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "alike_packs": "1", "condition": "sound"}
ON_THE_LIMIT = SMALL | {"cells": "2", "capacity_mah": "13514"}


def kinds() -> SearchStrategy[Pack]:
    """A pack as it stands on a label; many lie near one of the limits."""
    return st.fixed_dictionaries(
        {
            "chemistry": st.sampled_from(tuple(CHEMISTRIES)),
            "cells": st.integers(1, 14).map(str),
            "capacity_mah": (st.sampled_from((2200, 5000, 7200, 7300, 13_514)) | st.integers(20, 60_000)).map(str),
            "alike_packs": st.integers(1, 30).map(str),
            "condition": st.sampled_from(("sound", "sound", "sound", "damaged")),
        }
    )


def bags() -> SearchStrategy[list[Pack]]:
    return st.lists(kinds(), min_size=1, max_size=12)


def entries(packs: list[Pack]) -> Entries:
    return {f"packs_{place}_{name}": text for place, pack in enumerate(packs, 1) for name, text in pack.items()}


def numbers(packs: list[Pack]) -> tuple[int, int, int]:
    """How many may come without asking, how many with approval, how many stay."""
    found: Any = answer("transport", entries(packs))
    return tuple(0 if one is None else int(one.figure.number) for one in (found.free, found.by_approval, found.left))


def own_wh(pack: Pack) -> float:
    return int(pack["cells"]) * NOMINAL_CELL_V[pack["chemistry"]] * int(pack["capacity_mah"]) / 1000


@given(bags())
@example([SMALL | {"alike_packs": "25"}, SMALL | {"cells": "6", "capacity_mah": "5000", "alike_packs": "3"}])
@example([ON_THE_LIMIT | {"alike_packs": "3"}])
def test_no_more_may_come_than_the_rules_allow(packs: list[Pack]) -> None:
    free, by_approval, _ = numbers(packs)
    sound = [pack for pack in packs if pack["condition"] == "sound"]
    assert by_approval <= 2 and free + by_approval <= 20
    # A millionth of a watt-hour is what binary fractions lose.
    assert free <= sum(int(pack["alike_packs"]) for pack in sound if own_wh(pack) <= 100 + 1e-6)
    assert free + by_approval <= sum(int(pack["alike_packs"]) for pack in sound if own_wh(pack) <= 160 + 1e-6)


@given(bags())
@example([SMALL | {"condition": "damaged"}])
def test_every_pack_may_come_or_stays(packs: list[Pack]) -> None:
    assert sum(numbers(packs)) == sum(int(pack["alike_packs"]) for pack in packs)


@given(bags(), st.integers(0, 11), st.integers(1, 70))
@example([SMALL | {"alike_packs": "20"}], 0, 5)
def test_more_packs_never_leave_fewer_at_home(packs: list[Pack], place: int, more: int) -> None:
    pack = packs[place % len(packs)]
    fuller = [pack | {"alike_packs": str(int(pack["alike_packs"]) + more)} if one is pack else one for one in packs]
    assert numbers(fuller)[2] >= numbers(packs)[2]


@given(bags(), st.integers(0, 11), st.floats(1, 3))
@example([SMALL | {"cells": "6", "capacity_mah": "4500", "alike_packs": "3"}], 0, 1.2)
@example([SMALL | {"cells": "6", "capacity_mah": "7200", "alike_packs": "3"}], 0, 1.2)
def test_larger_packs_never_leave_fewer_at_home(packs: list[Pack], place: int, factor: float) -> None:
    pack = packs[place % len(packs)]
    larger = pack | {"capacity_mah": str(min(60_000, int(int(pack["capacity_mah"]) * factor)))}
    assert numbers([larger if one is pack else one for one in packs])[2] >= numbers(packs)[2]


@given(bags(), st.integers(0, 11))
@example([SMALL], 0)
def test_a_pack_that_is_damaged_never_leaves_fewer_at_home(packs: list[Pack], place: int) -> None:
    pack = packs[place % len(packs)]
    assert numbers([pack | {"condition": "damaged"} if one is pack else one for one in packs])[2] >= numbers(packs)[2]


@given(kinds())
@example(ON_THE_LIMIT)
def test_the_watt_hours_shown_are_never_below_those_of_the_pack(pack: Pack) -> None:
    found: Any = answer("transport", entries([pack]))
    assert float(found.kinds.rows[0].cells[0].number) >= own_wh(pack) - 1e-6


@given(bags())
@example([SMALL, SMALL | {"condition": "damaged"}])
def test_nothing_is_sent_by_air_or_post_with_a_damaged_pack_among_it(packs: list[Pack]) -> None:
    found: Any = answer("transport", entries(packs))
    damaged = any(pack["condition"] == "damaged" for pack in packs)
    assert (found.air_freight.figure == "not at all") == (found.post.figure == "not at all") == damaged
