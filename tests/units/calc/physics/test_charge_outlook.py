"""What a charge will take, told with what its width comes from."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.physics.readings import clear_reading
from calc.physics.charge_outlook import Outlook, outlook_of
from tests.units.calc.sound_charge import given


def _outlook(current_a: float = 2.6, **changes: str) -> Outlook:
    charge = given(**changes)
    chemistry = CHEMISTRIES[charge.chemistry]
    return outlook_of(charge, charge, chemistry, clear_reading(charge, chemistry), current_a)


def test_the_likely_time_lies_between_its_ends() -> None:
    minutes = _outlook().charge_min
    assert minutes.least <= minutes.likely <= minutes.most


def test_an_emptier_pack_takes_longer_and_takes_more() -> None:
    empty, half = _outlook(resting_v="10.8"), _outlook(resting_v="11.4")
    assert empty.charge_min.likely > half.charge_min.likely
    assert empty.charge_in_ah.likely > half.charge_in_ah.likely


def test_cells_that_differ_widen_the_range_both_ways() -> None:
    # The charger stops for the fullest cell and works for the emptiest.
    level, uneven = _outlook(resting_v="3.80 3.80 3.80"), _outlook(resting_v="3.70 3.80 3.90")
    assert uneven.charge_in_ah.least < level.charge_in_ah.least
    assert uneven.charge_in_ah.most > level.charge_in_ah.most


def test_a_pack_never_takes_more_than_its_label() -> None:
    assert _outlook(resting_v="9.0").charge_in_ah.most <= 2.65 * 1.0001


def test_without_a_balance_current_nothing_is_said_of_balancing() -> None:
    outlook = _outlook()
    assert outlook.balancing is None
    assert outlook.whole_min == outlook.charge_min


def test_balancing_brings_up_to_a_twentieth_of_the_capacity_level() -> None:
    # 5 % of 2.65 Ah at 0.265 A is half an hour.
    balancing = _outlook(balance_current_a="0.265").balancing
    assert (balancing.least, balancing.likely, balancing.most) == pytest.approx((0, 15, 30))


def test_balancing_comes_on_top_of_the_charge() -> None:
    outlook = _outlook(balance_current_a="0.265")
    assert outlook.whole_min.most == pytest.approx(outlook.charge_min.most + 30)


@pytest.mark.parametrize(
    "entries, words",
    [
        ({"cell_resistance_mohm": "4"}, "the resistance that you measured"),
        ({"label_discharge_rate_c": "35"}, "guessed from the label's discharge rate"),
        ({}, "the resistance is not known"),
    ],
)
def test_the_width_is_laid_to_what_is_not_known(entries: dict[str, str], words: str) -> None:
    assert words in _outlook(**entries).wide_because


@pytest.mark.parametrize("current_a, words", [(1.3, "the current is below 1C"), (2.6, "the balancing may be slow")])
def test_a_slow_charge_says_why(current_a: float, words: str) -> None:
    assert words in _outlook(current_a).slow_because


def test_a_full_pack_takes_next_to_nothing() -> None:
    assert _outlook(resting_v="12.6").charge_in_ah.likely < 0.01


def test_a_measured_resistance_counts_the_same_in_a_pack_that_holds_half_of_its_label() -> None:
    # What is left of it is a pack of 1325 mAh with 30 mΩ in each cell.
    aged = _outlook(1.3, measured_capacity_mah="1325", cell_resistance_mohm="30").charge_min
    small = _outlook(1.3, capacity_mah="1325", cell_resistance_mohm="30").charge_min
    assert (aged.least, aged.likely, aged.most) == pytest.approx((small.least, small.likely, small.most))
