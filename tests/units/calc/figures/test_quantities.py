"""A figure is what the pilot reads: a rounded number that its unit never leaves."""

from __future__ import annotations

import pytest

from calc.figures.counted import CountedPack
from calc.figures.quantities import AMPERES, CELLS, DEGREES_CELSIUS, MINUTES, PACK_VOLTS, PERCENT, UNITS, Band, Figure, Quantity


def test_a_figure_reads_as_a_number_and_its_unit() -> None:
    assert str(Figure(2.6, AMPERES)).split() == ["2.6", "A"]


def test_a_unit_never_falls_onto_the_next_line() -> None:
    assert str(Figure(25.2, PACK_VOLTS)) == "25.20\N{NO-BREAK SPACE}V"


@pytest.mark.parametrize("value, quantity, number", [(-0.04, AMPERES, "0.0"), (-0.4, DEGREES_CELSIUS, "0"), (-0.0, AMPERES, "0.0")])
def test_a_nought_has_no_sign(value: float, quantity: object, number: str) -> None:
    assert Figure(value, quantity).number == number


def test_degrees_below_freezing_keep_their_sign() -> None:
    assert Figure(-10, DEGREES_CELSIUS).number == "-10"


@pytest.mark.parametrize("cells, words", [(1, "1 cell"), (3, "3 cells"), (0, "0 cells")])
def test_one_cell_is_counted_in_the_singular(cells: int, words: str) -> None:
    assert str(Figure(cells, CELLS)).replace("\N{NO-BREAK SPACE}", " ") == words


def test_a_unit_that_is_not_counted_has_no_singular() -> None:
    assert Figure(1, MINUTES).sign == "min"


@pytest.mark.parametrize("step, number", [(0.1, "2.6"), (0.05, "2.65"), (0.25, "2.65"), (0.01, "2.65"), (1, "3"), (1.0, "3"), (100, "3")])
def test_a_dial_shows_the_decimals_of_its_step(step: float, number: str) -> None:
    assert Figure(2.6499, AMPERES.to_step(step)).number == number


_CHOICES = [pytest.param(units[0], unit, id=f"{kind}-{unit.suffix}") for kind, units in UNITS.items() for unit in units]


@pytest.mark.parametrize(("own", "unit"), _CHOICES)
def test_a_unit_that_is_shown_can_be_typed_with_its_sign(own: Quantity, unit: Quantity) -> None:
    assert unit in own.can_be_typed_in
    assert unit.sign.lower() in unit.typed or (unit.reads is not None and unit.reads(f"12 {unit.sign}") == 12)


# 2500 mAh and 11.1 V: 27.75 Wh. 12 of each kind's first unit, there and back.
@pytest.mark.parametrize(("own", "unit"), _CHOICES)
def test_a_number_comes_back_from_another_unit_of_its_kind(own: Quantity, unit: Quantity) -> None:
    pack = CountedPack(capacity_ah=2.5, nominal_v=11.1)
    assert unit.in_unit(own.in_unit(12, unit, pack), own, pack) == pytest.approx(12, rel=1e-12)


@pytest.mark.parametrize(
    ("least", "most", "words"),
    [
        (Figure(40.0, PERCENT), Figure(60.0, PERCENT), "40 to 60 %"),
        (Figure(47.6, PERCENT), Figure(48.4, PERCENT), "48 %"),
        (Figure(47.6, PERCENT, "down"), Figure(48.4, PERCENT, "up"), "47 to 49 %"),
        (Figure(0.6, CELLS), Figure(1.4, CELLS), "1 cell"),
    ],
)
def test_a_band_whose_ends_read_alike_is_one_value(least: Figure, most: Figure, words: str) -> None:
    assert str(Band(least, most)).replace("\N{NO-BREAK SPACE}", " ") == words
