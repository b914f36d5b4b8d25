"""Where everything of a timeline stands, in the drawing's own units."""

from dataclasses import replace

from calc.figures.followed import Bar, Hour, Timeline
from calc.figures.quantities import PERCENT, Figure
from calc.presenting.picture import panel_of
from site_builder.engine.timeline import LEFT, RIGHT, WIDTH, drawn_timeline

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
    assert hour.at == (LEFT + WIDTH - RIGHT) / 2 and hour.words == "9:45"


def test_the_level_falls_down_the_drawing_and_its_floor_stands_at_its_height() -> None:
    level = panel_of("Battery", PERCENT, 0.0, 100.0, [[90.0, 60.0], [88.0, 52.0], [92.0, 70.0]])
    drawn = drawn_timeline(replace(DAY, level=level, floor=Figure(50, PERCENT))).level
    assert drawn.top < drawn.first.at < drawn.last.at < drawn.floor.at == (drawn.top + drawn.bottom) / 2
    assert (drawn.first.words, drawn.floor.words) == ("90\u00a0%", "50\u00a0%")
