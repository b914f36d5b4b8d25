"""At which temperatures a pack may be flown: the same on every page that sends one up."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.inputs.refusals import Refusal
from calc.rules.pack.flying_temperatures import caution_of_cold, problems_of_flying_temperature

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


@pytest.mark.parametrize(
    ("pack_degc", "field", "sentence", "go_to"),
    [
        (60, "pack_degc", "The pack is dangerously hot: do not fly it. Get away from it, and see what to do.", "pack-in-trouble"),
        (50, "pack_degc", "The pack is at 50 °C or above already: leave it in the shade until it has cooled.", ""),
        (
            0,
            "pack_degc",
            "The pack is too cold to fly: its voltage sags and it gives far less. Warm it through first, indoors or in a pocket with its contacts covered.",
            "",
        ),
    ],
)
def test_a_pack_that_is_not_flown_is_told_why_and_what_to_do(pack_degc: float, field: str, sentence: str, go_to: str) -> None:
    (problem,) = problems_of_flying_temperature(pack_degc, CHEMISTRIES["lipo"])
    assert (problem.field, problem.sentence.replace("\N{NO-BREAK SPACE}", " "), problem.go_to) == (field, sentence, go_to)


def test_air_that_cools_no_pack_is_told_and_shown_in_no_unit_above_the_bound() -> None:
    (problem,) = problems_of_flying_temperature(25, CHEMISTRIES["lipo"], air_degc=50)
    assert problem.field == "air_degc"
    assert problem.sentence.replace("\N{NO-BREAK SPACE}", " ") == "In air of 50 °C or more no pack cools: fly when it is cooler."
    assert problem.sentence.figures == (Figure(50, DEGREES_CELSIUS, "down"),)
    assert problems_of_flying_temperature(49.9, CHEMISTRIES["lipo"], air_degc=49.9) == []


def test_a_cold_pack_is_told_below_which_temperature_it_sags() -> None:
    assert caution_of_cold(10) is None
    assert caution_of_cold(9.9).replace("\N{NO-BREAK SPACE}", " ") == (
        "A pack below 10 °C sags: keep it warm until you fly, indoors or in a pocket with its contacts covered, and go easy on the throttle at first."
    )
