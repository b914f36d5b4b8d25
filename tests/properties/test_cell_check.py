"""A pack that gets worse is never judged better: a lower cell, a wider spread, more resistance, a worse look."""

from __future__ import annotations

import re
from typing import Any

from hypothesis import example, given
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from calc.answering import answer
from calc.calculators.cell_check import Inputs
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from tests.properties.own_condition import FLOOR_CELL_V, FULL_CELL_V
from tests.properties.typed_entries import CHEMISTRY_KEYS

# From the best to the worst, in the words of the page. Written down here once more.
ORDER = (
    "Fit to fly", "Charge it before it flies", "Balance it first", "Charge it slowly, and watch", "Rest it, then read every cell",
    "Take it out of use", "Get away from it",
)  # fmt: skip
# As bad, with another act: a wet pack is dried, and then it rests.
AS_BAD = {"Let it dry first": "Rest it, then read every cell"}
# Floor and full in hundredths of a volt.
WINDOW = {key: (round(100 * FLOOR_CELL_V[key]), round(100 * FULL_CELL_V[key])) for key in CHEMISTRY_KEYS}
LOOKS = tuple(entries_of(Inputs)["look"].options)
READ_WHEN = tuple(entries_of(Inputs)["read_when"].options)

Pack = tuple[str, list[int], list[int]]  # chemistry, hundredths of a volt, tenths of a milliohm


@st.composite
def read_packs(draw: st.DrawFn) -> Pack:
    chemistry = draw(st.sampled_from(CHEMISTRY_KEYS))
    cells = draw(st.integers(2, 8))
    least, most = WINDOW[chemistry]
    # Around a middle, since cells that have nothing to do with each other are all done for.
    middle = draw(st.integers(least, most))
    cell = st.integers(max(least - 40, middle - 30), min(most + 5, middle + 30))
    return (
        chemistry,
        draw(st.lists(cell, min_size=cells, max_size=cells)),
        draw(st.lists(st.integers(20, 60), min_size=cells, max_size=cells)),
    )


def checked(pack: Pack, look: str, read_when: str) -> Any:
    chemistry, centivolts, tenths_mohm = pack
    return answer(
        "cell_check",
        {
            "look": look, "read_when": read_when, "chemistry": chemistry, "cells": str(len(centivolts)), "pack_degc": "20",
            "resting_v": " ".join(f"{cell / 100:.2f}" for cell in centivolts),
            "cell_resistances_mohm": " ".join(f"{cell / 10:.1f}" for cell in tenths_mohm),
        },
    )  # fmt: skip


def rank(pack: Pack, look: str = "sound", read_when: str = "rested") -> int:
    """How bad the verdict is, counted from 0; a reading that is sent back is as bad as a pack that is done."""
    found = checked(pack, look, read_when)
    return (
        ORDER.index("Take it out of use")
        if isinstance(found, Refusal)
        else ORDER.index(AS_BAD.get(found.verdict.figure, found.verdict.figure))
    )


def readings() -> SearchStrategy[str]:
    return st.just("rested") | st.sampled_from(READ_WHEN)


@given(read_packs(), readings(), st.integers(1, 150))
@example(("lipo", [385, 386, 385], [50, 50, 50]), "rested", 4)
@example(("lipo", [300, 300], [50, 50]), "rested", 1)
@example(("life", [320, 330], [50, 50]), "rested", 72)
def test_a_lower_lowest_cell_never_improves_the_verdict(pack: Pack, read_when: str, lower: int) -> None:
    chemistry, centivolts, tenths_mohm = pack
    worse = list(centivolts)
    worse[worse.index(min(worse))] -= lower
    assert rank((chemistry, worse, tenths_mohm), read_when=read_when) >= rank(pack, read_when=read_when)


@given(read_packs(), readings(), st.integers(1, 40))
@example(("lipo", [385, 386, 385], [50, 50, 50]), "rested", 10)
@example(("lihv", [400, 435], [50, 50]), "loaded", 3)
def test_a_wider_spread_never_improves_the_verdict(pack: Pack, read_when: str, wider: int) -> None:
    chemistry, centivolts, tenths_mohm = pack
    lowest, highest = centivolts.index(min(centivolts)), centivolts.index(max(centivolts))
    worse = list(centivolts)
    worse[lowest] -= wider
    worse[highest] += wider if highest != lowest else 0
    assert rank((chemistry, worse, tenths_mohm), read_when=read_when) >= rank(pack, read_when=read_when)


@given(read_packs(), st.integers(1, 4000))
@example(("lipo", [385, 386, 385], [50, 50, 50]), 25)
@example(("lipo", [385, 386], [50, 50]), 50)
def test_more_resistance_in_the_worst_cell_never_improves_the_verdict(pack: Pack, more: int) -> None:
    chemistry, centivolts, tenths_mohm = pack
    worse = list(tenths_mohm)
    worse[worse.index(max(worse))] += more
    assert rank((chemistry, centivolts, worse)) >= rank(pack)


@given(read_packs(), readings(), st.integers(0, len(LOOKS) - 1), st.integers(0, len(LOOKS) - 1))
@example(("lipo", [385, 386, 385], [50, 50, 50]), "rested", LOOKS.index("swollen"), LOOKS.index("sound"))
@example(("lipo", [385, 386, 385], [50, 50, 50]), "rested", LOOKS.index("crashed"), LOOKS.index("watched"))
def test_a_look_further_up_the_list_never_improves_the_verdict(pack: Pack, read_when: str, one: int, other: int) -> None:
    worse, better = sorted((one, other))
    assert rank(pack, LOOKS[worse], read_when) >= rank(pack, LOOKS[better], read_when)


@given(read_packs())
def test_a_reading_that_has_not_rested_is_never_better_than_read_again(pack: Pack) -> None:
    for read_when in ("flown", "loaded"):
        assert rank(pack, read_when=read_when) >= ORDER.index("Rest it, then read every cell")


@given(read_packs(), readings())
@example(("lipo", [319, 305, 301], [50, 50, 50]), "rested")
@example(("lipo", [385, 386, 385, 385, 385, 385], [50, 80, 50, 50, 95, 50]), "rested")
@example(("lihv", [438, 439, 400], [50, 50, 50]), "rested")
def test_a_pack_that_is_read_from_its_other_end_has_the_same_verdict_for_the_same_reason(pack: Pack, read_when: str) -> None:
    chemistry, centivolts, tenths_mohm = pack
    turned = (chemistry, centivolts[::-1], tenths_mohm[::-1])
    assert reason(turned, read_when) == reason(pack, read_when)


def reason(pack: Pack, read_when: str) -> tuple[str, ...]:
    """The verdict and what gave it, whichever number the cell has that is named."""
    found = checked(pack, "sound", read_when)
    said = [one.sentence for one in found.problems] if isinstance(found, Refusal) else [found.verdict.figure, found.verdict.set_by]
    return tuple(re.sub(r"(?i)cell \d+", "a cell", str(one)) for one in said)


# Iron phosphate rests from 3.17 to 3.34 V, and sinks below 3.45 V within half an hour of a charge; lithium polymer was flown to 3.65 V at the lowest.
@given(st.lists(st.integers(317, 345), min_size=2, max_size=8), st.integers(300, 364), st.sampled_from(("lipo", "lihv")))
@example([332, 332, 332], 338, "lipo")
@example([320, 320], 316, "lihv")
def test_no_single_cell_that_is_off_takes_the_doubt_of_its_kind_away(centivolts: list[int], off: int, chemistry: str) -> None:
    for cells in (centivolts, [off, *centivolts[1:]]):
        found = checked((chemistry, cells, [50] * len(cells)), "sound", "rested")
        assert any(one.grave and "where lithium iron phosphate rests" in one.sentence for one in found.cautions), cells
