"""A day that has begun: what is on is counted from now, across midnight too, and takes its outputs first."""

from __future__ import annotations

import pytest

from calc.inputs.planned_day import BegunDayEntries, BegunPackEntries
from calc.inputs.refusals import Problem
from calc.rules.plan.battery import Battery
from calc.rules.plan.begun import (
    NOT_BEGUN,
    Begun,
    OnOutput,
    begun_of,
    bench_of,
    min_from_start,
    output_of,
    outputs_in_use,
    problems_of_begun,
)
from calc.rules.plan.day import Bench
from calc.rules.plan.supplies import IntoPacks, PlanSupply
from calc.rules.plan.tools import Tools
from tests.units.calc.rules.plan.test_tools import STRONG, WEAK, tools
from tests.units.calc.sound_charge import given


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
        (600, 1320, 1321, 720, 721),
        # A large pack on a weak charger: from 20:30 until 7:50 or 8:40, and until 14:00 or 18:00 of the next day.
        (1230, 470, 520, 680, 730),
        (1230, 840, 1080, 1050, 1290),
        # Six hours ago counts as past, and a minute more as tomorrow.
        (1230, 870, 880, 0, 0),
        (1230, 869, 880, 1079, 1090),
    ],
)
def test_hours_count_from_now_and_one_of_the_last_six_hours_is_now(
    now: float, ready: float, latest: float, ends: int, at_latest: int
) -> None:
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


def test_what_is_missing_of_a_day_that_has_begun_is_asked_for_and_what_cannot_be_is_refused() -> None:
    begun = BegunDayEntries(day_begun="begun")
    assert problems_of_begun(begun, [pack("output_2")], None, 1) == [
        Problem("start_clock", "Enter the hour from which the plan goes on.", missing=True),
        Problem("charger_outputs", "A pack is on output 2: choose as many outputs here, or correct where that pack stands."),
        Problem("output_2_ready_clock", "Enter when output 2 is ready.", missing=True),
        Problem("output_2_latest_clock", "Enter when output 2 is ready at the latest.", missing=True),
    ]
    assert problems_of_begun(day(640, 660), [pack("output_1")], 600, 1) == []
    assert problems_of_begun(BegunDayEntries(day_begun="new"), [pack("output_2")], None, 1) == []


@pytest.mark.parametrize(
    ("ready", "latest", "stands", "field"),
    [
        (640, 660, "waiting", "output_1_ready_clock"),
        (590, 660, "waiting", "output_1_latest_clock"),
        (640, 660, "output_2", "output_1_ready_clock"),
        (590, 601, "waiting", "output_1_latest_clock"),
        (590, 600, "waiting", ""),
        (580, 590, "waiting", ""),
        (640, 660, "done", ""),
    ],
)
def test_hours_of_an_output_with_no_pack_on_it_are_asked_about_while_they_lie_ahead(
    ready: float, latest: float, stands: str, field: str
) -> None:
    # Else a pack would be put at once on an output that is taken. What was on may be done before its hour.
    found = problems_of_begun(day(ready, latest), [pack(stands)], 600, 2)
    assert [one.field for one in found if "No pack of the list is on output 1" in one.sentence] == [field] * bool(field)


def test_hours_of_an_output_that_the_charger_has_not_are_passed_over() -> None:
    begun = BegunDayEntries(day_begun="begun", output_2_ready_clock=640, output_2_latest_clock=660)
    assert problems_of_begun(begun, [pack("waiting")], 600, 1) == []
    assert problems_of_begun(begun, [pack("waiting")], 600, 2) != []


def test_an_hour_that_lies_six_hours_back_has_passed_and_one_a_minute_further_is_tomorrow_s() -> None:
    assert (min_from_start(240, 600), min_from_start(239, 600)) == (-360, 1079)


def test_a_pack_that_was_done_on_an_output_that_is_there_no_more_counts_on_the_last() -> None:
    done_on_the_second = Begun(on=(), done=((), (0,)))
    assert output_of(done_on_the_second, 0, (STRONG, WEAK)) == WEAK
    assert output_of(done_on_the_second, 0, (STRONG,)) == STRONG


def test_with_nothing_on_and_nothing_to_put_on_all_is_ready_at_once() -> None:
    assert (NOT_BEGUN.last_ready_min([]), NOT_BEGUN.last_ready_at_latest_min([])) == (0, 0)


BATTERY = Battery(before_percent=90, floor_percent=50, usable_ah=16, whole_ah=40, charger_v=12)


def supply(*outputs: int, number: int = 0, battery: Battery | None = None, begun_ah: float = 0.0) -> PlanSupply:
    return PlanSupply(number=number, entries=given(), outputs=outputs, battery=battery, begun_ah=begun_ah)


def bench(
    of: Tools, *, watched: int, begun: Begun = NOT_BEGUN, powers_w: tuple[int, ...] = (), alone_w: int = 0, by: PlanSupply | None = None
) -> Bench:
    outputs = tuple(range(len(of.outputs)))
    return bench_of(
        begun, of, outputs, watched=watched, supplies=[by or supply(*outputs)], wanted_min=(), powers_w=[(one, 0) for one in powers_w],
        alone_w=lambda _: alone_w,
    )  # fmt: skip


def test_what_is_shared_binds_only_where_as_many_charges_as_go_on_at_once_would_take_more() -> None:
    shared = tools(STRONG, WEAK, all_outputs_w=100, at_once=2)
    assert bench(shared, watched=2, powers_w=(60, 41)).feeds[0].power_w == 100
    assert bench(shared, watched=2, powers_w=(60, 40)).feeds[0].power_w is None
    # Whoever watches one charge has two of them on at no time.
    assert bench(tools(STRONG, WEAK, all_outputs_w=100, at_once=1), watched=1, powers_w=(60, 41)).feeds[0].power_w is None


def test_of_a_battery_what_is_left_beside_what_it_has_given_counts() -> None:
    def left_mah(begun_ah: float) -> int | None:
        return bench(tools(STRONG), watched=1, by=supply(0, battery=BATTERY, begun_ah=begun_ah)).feeds[0].battery_mah

    assert (left_mah(0), left_mah(4), left_mah(15.5), left_mah(20)) == (16000, 12000, 500, 0)
    assert bench(tools(STRONG), watched=1).feeds[0].battery_mah is None
    assert supply(0).taken_mah(IntoPacks(30, 85)) == 0


def test_what_is_on_takes_no_more_than_its_supply_gives() -> None:
    on = Begun(on=(OnOutput(output=1, packs=(0,), ends_min=30, ends_at_latest_min=40),), done=())
    assert [one.power_w for one in bench(tools(STRONG, STRONG, all_outputs_w=100), watched=2, begun=on, alone_w=240).running] == [100]
