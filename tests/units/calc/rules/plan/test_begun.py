"""A day that has begun: what is on is counted from now, across midnight too, and takes its outputs first."""

from __future__ import annotations

import pytest

from calc.inputs.planned_day import BegunDayEntries, BegunPackEntries
from calc.rules.plan.begun import NOT_BEGUN, Begun, OnOutput, begun_of, outputs_in_use


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


def test_all_outputs_are_in_use_where_as_many_charges_are_watched() -> None:
    assert outputs_in_use(NOT_BEGUN, ["strong", "strong"], watched=2) == (0, 1)
    assert outputs_in_use(NOT_BEGUN, ["strong", "weak"], watched=3) == (0, 1)


def test_whoever_watches_fewer_has_one_output_of_each_kind_and_those_that_have_something_on() -> None:
    on_second, on_both = (
        Begun(on=tuple(OnOutput(output=output, packs=(output,), ends_min=40, ends_at_latest_min=60) for output in taken), done=())
        for taken in ((1,), (0, 1))
    )
    assert outputs_in_use(NOT_BEGUN, ["strong", "strong"], watched=1) == (0,)
    assert outputs_in_use(NOT_BEGUN, ["strong", "weak"], watched=1) == (0, 1)
    assert outputs_in_use(on_second, ["strong", "strong"], watched=1) == (1,)
    assert outputs_in_use(on_both, ["strong", "strong"], watched=1) == (0, 1)
