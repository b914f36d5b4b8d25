"""The stops to set: they end a charge that went wrong, and never one that goes well."""

from __future__ import annotations

import pytest

from calc.figures.counted import CountedPack
from calc.telling.chosen_units import InUnits
from tests.units.calc.sound_charge import SIX_CELLS, settings


@pytest.mark.parametrize(
    "resting_v, step_mah, cutout_mah",
    [
        # Empty: 1.1 x 2650 is 2915, and up to the step.
        ("9.0", "100", "3000"),
        ("9.0", "50", "2950"),
        ("9.0", "1", "2915"),
    ],
)
def test_an_empty_pack_may_take_a_tenth_more_than_its_label(resting_v: str, step_mah: str, cutout_mah: str) -> None:
    cutout = settings(resting_v=resting_v, capacity_step_mah=step_mah).capacity_cutout
    assert cutout.figure.number == cutout_mah
    assert "a tenth more than" in cutout.set_by
    assert "rounded up to the charger's step" in cutout.set_by


def test_a_pack_that_is_half_full_is_cut_out_sooner() -> None:
    cutout = settings(resting_v="11.4").capacity_cutout
    assert 1300 < cutout.figure.value < 2915
    assert cutout.set_by.startswith("a tenth more than it can take from its state now")


def test_the_capacity_cut_out_lies_above_the_most_that_is_predicted() -> None:
    answer = settings(resting_v="11.4")
    assert answer.capacity_cutout.figure.value >= 1.1 * answer.charge_put_in.most.value


def test_a_full_pack_still_gets_a_cut_out_of_one_step() -> None:
    assert settings(resting_v="4.22 4.22 4.22").capacity_cutout.figure.number == "100"


def test_a_charge_at_1c_is_stopped_after_two_hours_by_common_practice() -> None:
    cutout = settings(resting_v="9.6").time_cutout
    assert str(cutout.figure) == "120\N{NO-BREAK SPACE}min"
    assert cutout.set_by == "common practice, no source"


def test_a_slow_charge_gets_a_longer_time_cut_out_and_says_why() -> None:
    # At 0.4C an empty pack takes two hours and a half at the least.
    answer = settings(resting_v="9.0", asked_rate_c="0.4")
    assert answer.time_cutout.figure.value >= 150
    assert answer.time_cutout.figure.value % 10 == 0
    assert answer.time_cutout.figure.value >= answer.charge_time.most.value
    assert "the current is below 1C" in answer.time_cutout.note
    assert answer.time_cutout.set_by.startswith("the longest time predicted, balancing included")


def test_a_long_balancing_gets_a_longer_time_cut_out_and_says_why() -> None:
    # 5 % of 2.65 Ah at 0.05 A is 159 minutes.
    answer = settings(resting_v="9.6", balance_current_a="0.05")
    assert answer.time_cutout.figure.value > 120 + 60
    assert "the balancing may be slow" in answer.time_cutout.note


def test_the_time_cut_out_is_never_shorter_than_what_is_predicted() -> None:
    answer = settings(resting_v="9.6", balance_current_a="0.05")
    predicted_min = answer.charge_time.most.value + answer.balancing_time.most.value
    assert 0 <= answer.time_cutout.figure.value - predicted_min < 10


def test_a_pack_is_stopped_at_49_degrees_with_the_standard_s_45_beside_it() -> None:
    stop = InUnits({}, CountedPack()).shown(settings().temperature_stop)
    assert str(stop.figure) == "49\N{NO-BREAK SPACE}°C"
    assert str(stop.also) == "120\N{NO-BREAK SPACE}°F"
    assert stop.set_by == "common practice, no source"
    assert "45\N{NO-BREAK SPACE}°C" in stop.note
    assert "113\N{NO-BREAK SPACE}°F" in stop.note
    assert "IEC 62133-2, from memory" in stop.note


@pytest.mark.parametrize("cells, resting_v, cutoff_v", [("3", "11.4", "9.60"), ("6", "22.8", "19.20"), ("1", "3.8", "3.20")])
def test_the_discharge_cutoff_is_the_careful_one_for_every_cell(cells: str, resting_v: str, cutoff_v: str) -> None:
    answer = settings(cells=cells, resting_v=resting_v)
    assert answer.discharge_cutoff.figure.number == "3.20"
    assert "3.00\N{NO-BREAK SPACE}V" in answer.discharge_cutoff.note
    assert answer.pack_discharge_cutoff.figure.number == cutoff_v


def test_a_20_w_discharger_takes_less_than_1_a_from_six_cells() -> None:
    # 20 W over 25.2 V is 0.79 A.
    current = settings(**SIX_CELLS, discharge_current_a="5", discharge_power_w="20").discharge_current
    assert current.figure.number == "0.7"
    assert current.set_by == "the charger's highest discharge power, at the full voltage"


def test_the_same_discharger_takes_more_from_two_cells() -> None:
    # 20 W over 8.4 V is 2.38 A.
    current = settings(cells="2", resting_v="7.6", discharge_current_a="5", discharge_power_w="20").discharge_current
    assert current.figure.number == "2.3"


def test_a_discharge_is_bound_by_the_charger_s_current() -> None:
    current = settings(discharge_current_a="1", discharge_power_w="100").discharge_current
    assert (current.figure.number, current.set_by) == ("1.0", "the charger's highest discharge current")


def test_a_discharge_is_bound_by_the_pack_s_label() -> None:
    current = settings(discharge_current_a="5", label_discharge_rate_c="1").discharge_current
    assert (current.figure.number, current.set_by) == ("2.6", "the discharge rate on the label")


def test_a_discharge_below_one_step_is_told_as_such_and_not_as_nought() -> None:
    # 1 W over 25.2 V is 0.04 A.
    current = settings(**SIX_CELLS, discharge_current_a="5", discharge_power_w="1").discharge_current
    assert current.figure == "less than 0.1\N{NO-BREAK SPACE}A"


def test_a_charger_whose_discharge_is_not_known_gets_no_discharge_current() -> None:
    assert settings().discharge_current is None
