"""What holds of every flight: more resistance or more current never lands cooler, and colder air never lands hotter."""

from __future__ import annotations

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.figures.showing import Range
from calc.inputs.refusals import Refusal
from tests.properties.typed_entries import CHEMISTRY_KEYS, Entries

# Halving ends within a ten-millionth of a step's rise.
TOLERANCE_K = 1e-4


@st.composite
def flights(draw: st.DrawFn) -> Entries:
    """A pack in a model, most of them within what the pack can give."""
    capacity_ah = draw(st.floats(0.1, 20))
    mean_c, minutes = draw(st.floats(0.5, 20)), draw(st.floats(0.5, 20))
    highest_c = mean_c * draw(st.floats(1, 4))
    flown = {
        "chemistry": draw(st.sampled_from(CHEMISTRY_KEYS)),
        "cells": str(draw(st.integers(1, 14))),
        "capacity_mah": f"{capacity_ah * 1000:.0f}",
        "mean_current_a": f"{mean_c * capacity_ah:.2f}",
        "highest_current_a": f"{highest_c * capacity_ah:.2f}",
        "flight_min": f"{minutes:.1f}",
        "pack_degc": f"{draw(st.floats(0.1, 49)):.1f}",
        "air_degc": f"{draw(st.floats(-20, 49)):.1f}",
        "cell_resistance_mohm": f"{max(0.1, draw(st.floats(5, 40)) / capacity_ah):.2f}",
    }
    return flown | draw(st.fixed_dictionaries({}, optional={"pack_g": st.just(f"{150 * capacity_ah:.0f}")}))


def landing(entries: Entries) -> Range:
    found = answer("model_fit", entries)
    assume(not isinstance(found, Refusal))
    return found.end_temperature


def is_nowhere_cooler(one: Range, other: Range) -> bool:
    pairs = ((one.least, other.least), (one.likely, other.likely), (one.most, other.most))
    return all(first.value >= second.value - TOLERANCE_K for first, second in pairs)


def raised(entries: Entries, name: str, factor: float) -> Entries:
    return entries | {name: f"{float(entries[name]) * factor:.2f}"}


WINTER = {
    "chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "mean_current_a": "22", "highest_current_a": "44",
    "flight_min": "4", "pack_degc": "3", "air_degc": "-10", "cell_resistance_mohm": "5",
}  # fmt: skip


@given(flights(), st.floats(1, 3))
@example(WINTER, 1.5)
def test_more_resistance_never_lands_cooler(entries: Entries, factor: float) -> None:
    assert is_nowhere_cooler(landing(raised(entries, "cell_resistance_mohm", factor)), landing(entries))


@given(flights(), st.sampled_from(("mean_current_a", "highest_current_a")), st.floats(1, 2))
@example(WINTER, "mean_current_a", 1.2)
def test_more_current_never_lands_cooler(entries: Entries, name: str, factor: float) -> None:
    assert is_nowhere_cooler(landing(raised(entries, name, factor)), landing(entries))


@given(flights(), st.floats(0, 30))
@example(WINTER, 10.0)
def test_colder_air_never_lands_hotter(entries: Entries, by_k: float) -> None:
    colder = entries | {"air_degc": f"{max(-40.0, float(entries['air_degc']) - by_k):.1f}"}
    assert is_nowhere_cooler(landing(entries), landing(colder))


@given(flights(), st.floats(0, 30))
@example(WINTER | {"air_degc": ""}, 5.0)
def test_a_colder_pack_in_air_as_cold_never_lands_hotter(entries: Entries, by_k: float) -> None:
    alone = entries | {"air_degc": ""}
    colder = alone | {"pack_degc": f"{max(0.1, float(alone['pack_degc']) - by_k):.1f}"}
    assert is_nowhere_cooler(landing(alone), landing(colder))


@given(flights())
def test_a_pack_is_never_said_to_fit_above_the_danger_zone(entries: Entries) -> None:
    found = answer("model_fit", entries)
    assume(not isinstance(found, Refusal))
    assert found.end_temperature.most.value <= 60 or found.verdict.figure != "Fits, by these numbers"
