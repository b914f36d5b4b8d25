"""Where everything of a timeline stands, in the drawing's own units."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.figures.followed import Bar, BatteryLevel, Hour, Timeline
from calc.figures.quantities import PERCENT, Figure
from calc.figures.showing import Part
from calc.presenting.day_clock import DayClock
from calc.presenting.day_timeline import DayBattery, timeline_of
from calc.presenting.picture import panel_of
from site_builder.engine.answer import rendered_parts
from site_builder.engine.timeline import LEFT, RIGHT, TEXT, WIDTH, drawn_timeline
from site_builder.reading.drawing_geometry import faults_of, width_of
from site_builder.setting_up.checkout import WEB

LONG = Bar(words="Pack 1, 2", also="in parallel", lane=0, put_on_min=0, starts_min=6, ends_min=60, latest_min=90)
SHORT = Bar(words="Pack 3", also="alone", lane=1, put_on_min=6, starts_min=9, ends_min=11, latest_min=12, is_on=True)
DAY = Timeline(
    caption="The outputs over the day", told="told", lanes=("Output 1", "Output 2"), bars=(LONG, SHORT), hours=(Hour(at_min=45, words="9:45"),), last_min=90,
)  # fmt: skip


def test_a_bar_goes_from_putting_on_to_ready_and_its_line_to_the_latest_end() -> None:
    long, short = drawn_timeline(DAY).bars
    across = (WIDTH - LEFT - RIGHT) / 90
    assert long.x == LEFT and abs(long.x + long.width - (LEFT + 60 * across)) <= 1
    assert long.latest == WIDTH - RIGHT
    assert short.y > long.y and short.is_on


def test_words_stand_on_a_bar_only_where_they_fit() -> None:
    long, short = drawn_timeline(DAY).bars
    assert (long.words, long.also) == ("Pack 1, 2", "in parallel")
    assert (short.words, short.also) == ("3", "")
    assert drawn_timeline(replace(DAY, bars=(LONG, replace(SHORT, ends_min=8)))).bars[1].words == ""


def test_an_hour_stands_where_its_minute_is() -> None:
    [hour] = drawn_timeline(DAY).hours
    assert hour.at == hour.middle == (LEFT + WIDTH - RIGHT) / 2 and hour.words == "9:45"


def test_the_line_to_the_latest_end_is_left_out_where_the_next_bar_lies_on_it() -> None:
    soon = replace(SHORT, lane=0, put_on_min=70, starts_min=71, ends_min=80, latest_min=95)
    first, second = drawn_timeline(replace(DAY, bars=(LONG, soon), last_min=95)).bars
    assert first.latest == first.x + first.width
    assert second.latest == WIDTH - RIGHT


def test_the_level_falls_down_the_drawing_and_its_floor_stands_at_its_height() -> None:
    level = panel_of("Battery", PERCENT, 0.0, 100.0, [[90.0, 60.0], [88.0, 52.0], [92.0, 70.0]])
    [drawn] = drawn_timeline(replace(DAY, levels=(BatteryLevel(panel=level, floor=Figure(50, PERCENT)),))).levels
    assert drawn.top < drawn.first.at < drawn.last.at < drawn.floor.at == (drawn.top + drawn.bottom) / 2
    assert (drawn.first.words, drawn.floor.words) == ("90\u00a0%", "50\u00a0%")


@st.composite
def days(draw: st.DrawFn) -> Timeline:
    """2, 8 or 12 packs on one to four outputs, some ready soon and some late, above a battery at any level or with none."""
    outputs = draw(st.integers(1, 4))
    free_min = [0] * outputs
    bars = []
    for pack in range(draw(st.sampled_from((2, 8, 12)))):
        lane = draw(st.integers(0, outputs - 1))
        begin_min, end_min = free_min[lane], free_min[lane] + draw(st.sampled_from((1, 2, 5, 20, 60, 120, 400)))
        latest_min = end_min + draw(st.sampled_from((0, 1, 5, 60)))
        words = f"Pack {pack + 1}{draw(st.sampled_from(('', ', 2, 3')))}"
        also = draw(st.sampled_from(("alone", "in series", "in parallel", "discharge")))
        bars.append(
            Bar(words=words, also=also, lane=lane, put_on_min=begin_min, starts_min=begin_min, ends_min=end_min, latest_min=latest_min)
        )
        free_min[lane] = end_min
    first_percent, falls_percent = draw(st.floats(0, 100)), draw(st.floats(0, 0.2))

    def left_percent(time_min: float) -> tuple[float, float, float]:
        likely = max(0.0, first_percent - falls_percent * time_min)
        return likely, likely * 0.9, min(100.0, likely * 1.1)

    day = timeline_of(
        bars,
        DayClock(draw(st.none() | st.integers(0, 24 * 60 - 1))),
        list(range(outputs)),
        [
            DayBattery(name=name, floor_percent=draw(st.sampled_from((0, 20, 50, 75))), left_percent=left_percent)
            for name in draw(st.sampled_from(((), ("Battery",), ("Battery of output 1", "Battery of output 2"))))
        ],
    )
    assert day is not None
    return day


def svg_of(day: Timeline) -> ElementTree.Element:
    return ElementTree.fromstring(re.search(r"<svg.*?</svg>", rendered_parts([Part("t", "T", "", "timeline", (day,))]), re.DOTALL)[0])


@settings(deadline=None, max_examples=80)  # each case is drawn and read back as XML
@given(day=days(), size=st.sampled_from((13, TEXT)))
def test_no_label_lies_on_another_or_is_cut_at_any_size_of_text(day: Timeline, size: int) -> None:
    # The lines of the hours run behind the words, which have an edge of the paper's colour.
    assert [fault for fault in faults_of(svg_of(day), size) if "A line" not in fault] == []
    for bar in drawn_timeline(day).bars:
        for words in (bar.words, bar.also):
            assert not words or width_of(words, size, is_bold=words == bar.words) + 4 <= bar.width


def test_the_look_for_labels_that_overlap_finds_hours_that_were_planted() -> None:
    close = replace(DAY, hours=(Hour(at_min=45, words="9:45"), Hour(at_min=50, words="9:50")))
    assert any("lies on" in fault for fault in faults_of(svg_of(close), TEXT))


@pytest.mark.parametrize("drawn_at", [13, TEXT])
def test_the_style_sheet_keeps_the_words_within_what_there_is_room_for(drawn_at: int) -> None:
    sizes = re.search(r"\.timeline text \{ font-size: clamp\((\d+)px, [\d.]+rem, (\d+)px\)", (WEB / "fieldslate.css").read_text())
    assert str(drawn_at) in sizes.groups()
