"""The stops to set: they end a charge that went wrong, and never one that goes well."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.counted import CountedPack
from calc.presenting.chosen_units import InUnits
from tests.units.calc.sound_charge import ENTRIES, problems, settings


@pytest.mark.parametrize(
    "resting_v, step_mah, cutout_mah",
    [
        # Empty: 1.1 x 2650 is 2915, and down to the step.
        ("9.0", "100", "2900"),
        ("9.0", "50", "2900"),
        ("9.0", "10", "2910"),
    ],
)
def test_an_empty_pack_may_take_no_more_than_a_tenth_over_its_label(resting_v: str, step_mah: str, cutout_mah: str) -> None:
    cutout = settings(resting_v=resting_v, capacity_step_mah=step_mah).capacity_cutout
    assert cutout.figure.number == cutout_mah
    assert "a tenth more than" in cutout.set_by
    assert "rounded down to the charger's step" in cutout.set_by


def test_a_pack_that_is_half_full_is_cut_out_sooner() -> None:
    cutout = settings(resting_v="11.4").capacity_cutout
    assert 1300 < cutout.figure.value < 2915
    assert cutout.set_by.startswith("a tenth more than it can take from its state now")


def test_the_capacity_cut_out_lies_between_the_most_that_is_predicted_and_a_tenth_more() -> None:
    answer = settings(resting_v="11.4", capacity_step_mah="1")
    most_mah = answer.charge_put_in.most.value
    assert most_mah < answer.capacity_cutout.figure.value <= 1.1 * most_mah
    assert "early" not in answer.capacity_cutout.note


def test_a_small_empty_pack_is_cut_out_at_300_mah_and_not_at_400() -> None:
    # 1.1 x 300 is 330.
    assert settings(capacity_mah="300", resting_v="9.0").capacity_cutout.figure.number == "300"


@pytest.mark.parametrize(
    "capacity_mah, resting_v",
    [
        ("20", "9.0"),  # 22 mAh is less than a step
        ("190", "9.0"),  # 209 mAh: two steps serve
        ("2650", "4.22 4.22 4.22"),  # a full pack takes next to nothing
    ],
)
def test_a_step_that_is_too_coarse_gives_no_number_above_a_tenth_more_than_the_pack_takes(capacity_mah: str, resting_v: str) -> None:
    answer = settings(capacity_mah=capacity_mah, resting_v=resting_v, current_step_a="0.01")
    cutout = answer.capacity_cutout.figure
    assert isinstance(cutout, str) or cutout.value <= 1.1 * answer.charge_put_in.most.value


@pytest.mark.parametrize("capacity_mah, step_mah", [("20", "100"), ("280", "200"), ("1700", "1000")])
def test_a_charger_too_coarse_to_guard_a_pack_says_so_and_what_guards_it(capacity_mah: str, step_mah: str) -> None:
    # 22, 308 and 1870 mAh: the step below is 0, 200 and 1000, less than the empty pack needs.
    cutout = settings(capacity_mah=capacity_mah, capacity_step_mah=step_mah, resting_v="9.0", current_step_a="0.01").capacity_cutout
    assert cutout.figure == "The charger's count cannot guard this charge"
    assert f"{step_mah}\N{NO-BREAK SPACE}mAh" in cutout.set_by
    assert "time cut-out" in cutout.note and "temperature stop" in cutout.note


def test_a_count_that_may_end_a_good_charge_early_says_so() -> None:
    # Half full: it takes 870 to 1645 mAh, so 2000 is too much, and 1500 may be too little.
    answer = settings(resting_v="11.4", capacity_step_mah="500")
    assert answer.charge_put_in.least.value < answer.capacity_cutout.figure.value < answer.charge_put_in.most.value
    assert "may end the charge a little early" in answer.capacity_cutout.note


def test_a_charger_that_balances_for_nobody_knows_how_long_is_stopped_after_two_hours_by_common_practice() -> None:
    cutout = settings(resting_v="9.6").time_cutout
    assert str(cutout.figure) == "120\N{NO-BREAK SPACE}min"
    assert cutout.set_by == "common practice, no source"
    assert "with its balance current the stop follows from the forecast" in cutout.note


def test_the_time_cut_out_is_a_tenth_more_than_the_longest_time_predicted() -> None:
    answer = settings(resting_v="11.7", balance_current_a="1")
    # 5 % of 2.65 Ah at 1 A are 8 min.
    longest_min = answer.charge_time.most.value + answer.balancing_time.most.value
    assert answer.balancing_time.most.value == pytest.approx(7.95)
    assert 0 <= answer.time_cutout.figure.value - 1.1 * longest_min < 10
    assert answer.time_cutout.figure.value % 10 == 0
    assert answer.time_cutout.figure.value < 120
    assert answer.time_cutout.set_by.startswith("a tenth more than the longest time that is likely, with balancing")


def test_a_slow_charge_is_stopped_after_two_hours_too_and_is_told_that_it_may_not_be_done() -> None:
    # At 0.4C an empty pack takes two hours and a half at the least.
    for balance_current_a in ("", "1"):
        answer = settings(resting_v="9.0", requested_rate_c="0.4", balance_current_a=balance_current_a)
        assert answer.charge_time.least.value > 120
        assert answer.time_cutout.figure.value == 120
        assert "may end this charge before it is done: the current is below 1C. Then read every cell" in answer.time_cutout.note


def test_a_long_balancing_is_stopped_after_two_hours_too() -> None:
    # 5 % of 2.65 Ah at 0.05 A is 159 minutes.
    answer = settings(resting_v="9.6", balance_current_a="0.05")
    assert answer.time_cutout.figure.value == 120
    assert "before it is done: the end of the charge and the balancing may be slow" in answer.time_cutout.note


def test_two_hours_that_only_the_margin_passes_end_no_charge_early() -> None:
    # Up to 97 min, and 5 % of 2.65 Ah at 0.4 A are 20 more.
    answer = settings(resting_v="9.6", balance_current_a="0.4")
    assert 120 / 1.1 < answer.charge_time.most.value + answer.balancing_time.most.value <= 120
    assert answer.time_cutout.figure.value == 120
    assert answer.time_cutout.note == "The longest time predicted, balancing included, is within it."


@pytest.mark.parametrize("chemistry", CHEMISTRIES)
def test_no_charge_goes_on_past_the_temperature_at_which_it_may_not_begin(chemistry: str) -> None:
    resting_v = f"{3 * CHEMISTRIES[chemistry].end_of_flight_resting_cell_v.value:.2f}"
    stop = settings(chemistry=chemistry, resting_v=resting_v).temperature_stop
    window = CHEMISTRIES[chemistry].temperatures
    assert stop.figure.value <= window.charge_most_degc.value
    # A charge that is begun at its stop is refused, and the stop stands in both units.
    assert problems(chemistry=chemistry, resting_v=resting_v, pack_degc=str(stop.figure.value), air_degc="20")


def test_a_pack_is_stopped_at_45_degrees_and_49_stays_what_is_never_passed() -> None:
    stop = InUnits({}, CountedPack()).shown(settings().temperature_stop)
    assert str(stop.figure) == "45\N{NO-BREAK SPACE}°C"
    assert str(stop.also) == "113\N{NO-BREAK SPACE}°F"
    assert "10 to 45\N{NO-BREAK SPACE}°C" in stop.set_by
    assert (
        "49\N{NO-BREAK SPACE}°C (120\N{NO-BREAK SPACE}°F) (common practice, no source), which is too high: never set it above the figure here."
        in stop.note
    )


def test_a_charger_that_counts_in_fahrenheit_is_set_to_110() -> None:
    # 45 °C is 113 °F; the next ten below is 110 °F, 43.3 °C.
    note = settings().temperature_stop.note
    assert "110\N{NO-BREAK SPACE}°F, which is 43.3\N{NO-BREAK SPACE}°C" in note


FAST = {"requested_rate_c": "5", "label_charge_rate_c": "5", "capacity_mah": "2000"}


def _warned(**changes: str) -> list[str]:
    return [caution.sentence for caution in settings(**changes).cautions if "warm the pack past its stop" in caution.sentence]


def test_a_pack_just_below_its_stop_is_told_that_a_fast_charge_may_take_it_past() -> None:
    assert "may warm the pack past its stop of 45" in _warned(**FAST, pack_degc="44.9", air_degc="20")[0]


def test_in_hot_air_a_fast_charge_most_likely_passes_the_stop() -> None:
    assert "will most likely warm the pack past its stop of 45" in _warned(**FAST, pack_degc="44.9", air_degc="40")[0]


def test_a_cool_pack_at_1c_is_not_warned_of_its_stop() -> None:
    assert not _warned()
    assert not _warned(pack_degc="35")


def test_the_warning_of_the_stop_stands_on_the_course_and_on_the_card_too() -> None:
    entries = ENTRIES | FAST | {"pack_degc": "44.9", "air_degc": "40"}
    course = answer("charge_course", entries | {"stop_after_min": "30", "wanted_percent": "80", "other_rate_c": "2"})
    for found in (course, answer("charging_card", entries)):
        assert any("past its stop" in caution.sentence for caution in found.cautions)
