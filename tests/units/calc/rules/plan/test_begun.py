"""A day that has begun: what is on is counted from now, across midnight too, and takes its outputs first."""

from __future__ import annotations

import pytest

from calc.inputs.planned_day import BegunDayEntries, BegunPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.rules.plan.begun import NOT_BEGUN, begun_of, best_of, on_at_once
from calc.rules.plan.day import Worth


def pack(stands: str) -> BegunPackEntries:
    return BegunPackEntries(chemistry="lipo", cells=3, capacity_mah=2200, label_charge_rate_c=1, stands=stands)


def day(ready: float, latest: float) -> BegunDayEntries:
    return BegunDayEntries(day_begun="begun", output_1_ready_clock=ready, output_1_latest_clock=latest)


@pytest.mark.parametrize(
    ("now", "ready", "latest", "ends", "at_latest"),
    [
        (600, 640, 660, 40, 60),
        (1430, 10, 40, 20, 50),
        (600, 590, 620, 0, 20),
        (600, 590, 595, 0, 0),
        (600, 640, 630, 40, 40),
        (600, 1320, 1321, 720, 720),
    ],
)
def test_hours_count_from_now_and_one_that_has_passed_is_now(now: float, ready: float, latest: float, ends: int, at_latest: int) -> None:
    [on] = begun_of(day(ready, latest), [pack("waiting"), pack("output_1"), pack("output_1")], now).on
    assert (on.packs, on.ends_min, on.ends_at_latest_min) == ((1, 2), ends, at_latest)


def test_what_is_on_takes_no_more_power_than_its_output_has() -> None:
    begun = begun_of(day(640, 660), [pack("output_1"), pack("output_1")], 600)
    assert [one.power_w for one in begun.running((0, 1), lambda place: 60 + place, (100, 50))] == [100]
    assert [one.power_w for one in begun.running((0, 1), lambda place: 30 + place, (100, 50))] == [61]


def test_a_day_that_has_not_begun_has_nothing_on_whatever_its_packs_say() -> None:
    assert begun_of(BegunDayEntries(day_begun="new"), [pack("output_1")], 600).packs == frozenset()


def test_as_many_outputs_as_are_watched_and_those_that_have_something_on() -> None:
    begun = begun_of(day(640, 660), [pack("output_1")], 600)
    alike = ["strong"] * 2
    assert on_at_once(begun, alike, watched=2) == [(0, 1)]
    assert on_at_once(begun, alike, watched=1) == [(0,)]


def test_whoever_watches_one_charge_may_have_either_of_two_outputs_that_differ() -> None:
    differ = ["strong", "weak"]
    assert on_at_once(NOT_BEGUN, differ, watched=1) == [(0,), (1,)]
    assert on_at_once(NOT_BEGUN, differ, watched=2) == [(0, 1)]
    assert on_at_once(begun_of(day(640, 660), [pack("output_1")], 600), differ, watched=1) == [(0,)]


def test_of_several_choices_of_outputs_the_best_counts_and_only_what_all_refuse_is_refused() -> None:
    def work_out(outputs: tuple[int, ...]) -> int:
        if outputs == (0,):
            raise Refused(Problem("", "Not on this one."))
        return outputs[0]

    def worth(found: int) -> Worth:
        return Worth(0, 0, found)

    assert best_of([(0,), (2,), (1,)], work_out, worth) == 1
    with pytest.raises(Refused, match="Not on this one"):
        best_of([(0,)], work_out, worth)
