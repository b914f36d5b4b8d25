"""What is on each output when: hours, words on bars, and the level of the battery."""

from __future__ import annotations

from calc.figures.followed import Bar
from calc.presenting.day_clock import DayClock
from calc.presenting.day_timeline import DayBattery, numbers_of, timeline_of


def bar(lane: int, begin_min: int, ends_min: int) -> Bar:
    return Bar(
        words="Pack 1", also="alone", lane=lane, put_on_min=begin_min, starts_min=begin_min + 3, ends_min=ends_min, latest_min=ends_min + 30
    )


def test_hours_stand_at_whole_hours_of_the_day_and_no_more_than_a_phone_has_room_for() -> None:
    found = timeline_of([bar(0, 0, 150)], DayClock(9 * 60 + 20), (0, 1))
    assert [(hour.at_min, hour.words) for hour in found.hours] == [(40, "10:00"), (100, "11:00"), (160, "12:00")]
    assert len(timeline_of([bar(0, 0, 1400)], DayClock(0), (0,)).hours) <= 6


def test_without_an_hour_at_the_start_they_count_from_it() -> None:
    found = timeline_of([bar(0, 0, 90)], DayClock(None), (0,))
    assert [hour.words.replace("\u00a0", " ") for hour in found.hours] == ["start", "30 min", "1 h", "1 h 30 min", "2 h"]


def test_what_is_told_counts_each_output_that_has_anything() -> None:
    found = timeline_of([bar(0, 0, 60), bar(0, 60, 120)], DayClock(9 * 60), (0, 1))
    assert found.told.replace("\u00a0", " ") == "Output 1 has 2 charges; the last is ready about 11:00."


def test_the_level_has_the_floor_in_words_too() -> None:
    battery = DayBattery(name="Battery", floor_percent=50, left_percent=lambda at: (90 - at / 10, 88 - at / 10, 92 - at / 10))
    found = timeline_of([bar(0, 0, 60)], DayClock(540), (0,), [battery])
    assert found.told.replace("\u00a0", " ").endswith("The battery falls from 90 % to 81 %; its floor is 50 %.")
    [level] = found.levels
    assert level.panel.lowest[0] == 88 and level.panel.highest[0] == 92


def test_packs_that_go_on_together_share_one_word() -> None:
    assert numbers_of(["Pack 2", "Pack 7", "Pack 11"]) == "Pack 2, 7, 11"


def test_nothing_to_put_on_has_no_timeline() -> None:
    assert timeline_of([], DayClock(None), (0,)) is None
