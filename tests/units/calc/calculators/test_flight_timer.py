"""A flight timer: what it rests on, what shortens it, and what is said beside it."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answering import answer, answer_in_units
from calc.inputs.refusals import Refusal

PACK = {"chemistry": "lipo", "capacity_mah": "2000", "pack_degc": "25", "reserve_percent": "20"}
# 200 mAh in a minute, three times the same.
STEADY = PACK | {f"flights_{count}_{name}": text for count in (1, 2, 3) for name, text in (("flown_min", "5"), ("put_back_mah", "1000"))}


def timer(entries: dict[str, str] = STEADY, **changes: str) -> Any:
    found = answer("flight_timer", entries | changes)
    assert not isinstance(found, Refusal), found
    return found


def refused(**changes: str) -> list[tuple[str, str]]:
    found = answer("flight_timer", STEADY | changes)
    assert isinstance(found, Refusal), "this was answered, and not refused"
    return [(problem.field, problem.sentence) for problem in found.problems]


def words(text: object) -> str:
    return str(text).replace("\u00a0", " ")


def test_the_capacity_that_it_counts_from_is_named_in_the_chosen_unit() -> None:
    found = answer_in_units("flight_timer", STEADY, {"capacity": "ah"}).found
    assert words(found.usable.set_by) == "2.00 Ah by the label, less the reserve of 20 %"


def test_steady_flights_get_the_least_margin() -> None:
    # 1600 mAh at 1.05 x 200 mAh in a minute is 7.62 minutes.
    found = timer()
    assert words(found.timer.figure) == "7 min 30 s"
    assert found.planned_draw.figure.value == pytest.approx(210)
    assert "hardly differ" in found.timer.set_by


def test_one_flight_may_take_half_as_much_again() -> None:
    # 1600 mAh at 300 mAh in a minute is 5.33 minutes: 5 min 20 s.
    found = timer(PACK | {"flights_1_flown_min": "5", "flights_1_put_back_mah": "1000"})
    assert words(found.timer.figure) == "5 min 20 s"
    assert found.spread is None
    assert "one flight alone" in found.timer.set_by


def test_two_flights_that_differ_get_a_wide_margin() -> None:
    # 190 and 210: the standard deviation is 14.14, and 6.314 x 14.14 x the root of 1.5 is 109.4.
    found = timer(PACK | {
        "flights_1_flown_min": "5", "flights_1_put_back_mah": "950", "flights_2_flown_min": "5", "flights_2_put_back_mah": "1050",
    })  # fmt: skip
    assert found.planned_draw.figure.value == pytest.approx(309.4, abs=0.1)
    assert words(found.timer.figure) == "5 min 10 s"
    assert found.timer.set_by.startswith("the spread of your flights")


def test_the_flight_that_took_most_a_minute_is_always_covered() -> None:
    # Nine at 200 and one at 300: mean 210, spread 31.6, t 1.833: 270.8 is less than 300.
    one = {"flights_10_put_back_mah": "1500"}
    steady = PACK | {
        f"flights_{count}_{name}": text for count in range(1, 11) for name, text in (("flown_min", "5"), ("put_back_mah", "1000"))
    }
    found = timer(steady | one)
    assert found.planned_draw.figure.value == pytest.approx(300)
    assert words(found.timer.figure) == "5 min 20 s"
    assert "the flight that took the most a minute" in found.timer.set_by


def test_an_aged_pack_flies_by_what_it_holds() -> None:
    # 1700 mAh less a fifth, at 210 mAh in a minute: 6.48 minutes.
    assert words(timer(measured_capacity_mah="1700").timer.figure) == "6 min 20 s"


def test_a_cold_pack_flies_by_what_the_standard_leaves_it() -> None:
    # At 10 °C a quarter of the way to -20 °C, so 17.5 % less: 1320 mAh at 210 is 6.29 minutes.
    found = timer(pack_degc="10")
    assert words(found.timer.figure) == "6 min 10 s"
    assert "82 %" in words(found.usable.note)


def test_a_timer_keeps_the_reserve_also_for_a_flight_that_takes_more() -> None:
    found = timer()
    assert found.left.least.value >= 20
    assert found.put_back.most.value <= 1600


def test_minutes_and_seconds_are_read_as_a_stopwatch_shows_them() -> None:
    assert timer(flights_1_flown_min="5:00") == timer()
    assert timer(flights_1_flown_min="6:30") == timer(flights_1_flown_min="6.5")


def test_a_flight_into_the_reserve_is_named() -> None:
    found = timer(flights_2_put_back_mah="1700", flights_2_flown_min="8.5")
    assert found.cautions[0].grave and "flight 2." in found.cautions[0].sentence


def test_a_timer_beyond_every_flight_is_approached_minute_by_minute() -> None:
    assert any("minute by minute" in caution.sentence for caution in timer().cautions)
    known = {"flights_1_flown_min": "7", "flights_1_put_back_mah": "1400"}
    assert not any("minute by minute" in caution.sentence for caution in timer(**known).cautions)


def test_a_flight_that_took_more_than_the_pack_holds_is_asked_about() -> None:
    assert refused(flights_2_put_back_mah="2300") == [
        ("flights_2_put_back_mah", "Flight 2: more was put back than this pack can hold: check the number, and the capacity on the label.")
    ]


@pytest.mark.parametrize("degc, words_of_it", [("0", "too cold to fly"), ("60", "dangerously hot")])
def test_a_pack_that_is_too_cold_or_too_hot_does_not_fly(degc: str, words_of_it: str) -> None:
    [(field, sentence)] = refused(pack_degc=degc)
    assert field == "pack_degc" and words_of_it in sentence


def test_flights_that_leave_no_time_at_all_are_refused() -> None:
    [(field, sentence)] = refused(
        capacity_mah="20",
        reserve_percent="60",
        pack_degc="1",
        **{f"flights_{count}_{name}": text for count in (1, 2, 3) for name, text in (("flown_min", "0.5"), ("put_back_mah", "22"))},
    )
    assert field == "" and "No timer" in sentence
