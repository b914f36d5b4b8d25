"""At which temperatures a pack may be flown: the same on every page that sends one up."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.asking.refusals import Refusal

# A gentle flight of a large pack, so that nothing but its temperature speaks against it.
_PACK = {"chemistry": "lipo", "capacity_mah": "5000"}
_FLIGHTS = {
    "flight_timer": _PACK | {"reserve_percent": "20", "flights_1_flown_min": "5", "flights_1_put_back_mah": "1000"},
    "model_fit": _PACK | {
        "cells": "4", "cell_resistance_mohm": "2", "highest_current_a": "10", "mean_current_a": "5", "flight_min": "5",
    },
}  # fmt: skip


def _problems(key: str, pack_degc: str) -> list[tuple[str, str, str]]:
    found = answer(key, _FLIGHTS[key] | {"pack_degc": pack_degc})
    return [(one.field, str(one.sentence), one.go_to) for one in found.problems] if isinstance(found, Refusal) else []


@pytest.mark.parametrize("pack_degc", ["-30", "-20", "-0.1", "0", "0.1", "9.9", "25", "49.9", "50", "59.9", "60", "75"])
def test_a_pack_that_one_page_sends_up_the_other_sends_up_too(pack_degc: str) -> None:
    timer, fit = (_problems(key, pack_degc) for key in _FLIGHTS)
    assert timer == fit
    assert bool(timer) is not (0 < float(pack_degc) < 50)


@pytest.mark.parametrize("key", _FLIGHTS)
@pytest.mark.parametrize("pack_degc, words", [("0", "Warm it through"), ("50", "in the shade"), ("60", "Get away from it")])
def test_a_pack_that_may_not_fly_is_told_what_to_do(key: str, pack_degc: str, words: str) -> None:
    [(field, sentence, go_to)] = _problems(key, pack_degc)
    assert field == "pack_degc" and words in sentence
    assert go_to == ("pack-in-trouble" if pack_degc == "60" else "")


@pytest.mark.parametrize("key", _FLIGHTS)
@pytest.mark.parametrize("pack_degc, is_said", [("9.9", True), ("10", False)])
def test_a_cold_pack_is_to_be_kept_warm_on_every_page(key: str, pack_degc: str, is_said: bool) -> None:
    cautions = answer(key, _FLIGHTS[key] | {"pack_degc": pack_degc}).cautions
    assert any("keep it warm until you fly" in str(caution.sentence) for caution in cautions) is is_said
