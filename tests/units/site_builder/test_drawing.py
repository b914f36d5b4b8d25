"""A picture as an SVG: higher values stand higher, ticks are round, floors and limits are named, and no words lie on others."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import AMPERES, CELL_VOLTS, DEGREES_CELSIUS, DEGREES_FAHRENHEIT, MINUTES, PERCENT, WATTS, Figure, Quantity
from calc.figures.showing import Level, Mark, Panel, Part, Picture
from calc.presenting.picture import cell_panel
from calc.presenting.resting_curve import resting_curve_picture
from site_builder.engine.answer import rendered_parts
from site_builder.engine.drawing import LEFT, RIGHT, TEXT, WIDTH, drawn
from site_builder.reading.drawing_geometry import faults_of
from site_builder.setting_up.checkout import WEB

TIMES = tuple(Figure(minutes, MINUTES) for minutes in (0.0, 30.0, 62.0))
LIMIT = Level(at=Figure(4.0, AMPERES), words="limit")
PANEL = Panel(
    title="Current",
    quantity=AMPERES,
    least=0.0,
    most=5.0,
    likely=(5.0, 2.5, 0.0),
    lowest=(4.0, 1.0, 0.0),
    highest=(5.0, 5.0, 9.0),
    levels=(LIMIT, Level(at=Figure(7.0, AMPERES), words="far above")),
)
HALF = Mark(at=Figure(30.0, MINUTES), words="half")
DRAWING = drawn(Picture(caption="A charge", told="It falls.", times=TIMES, panels=(PANEL,), marks=(HALF,)))


def points(text: str) -> list[tuple[float, float]]:
    return [tuple(map(float, point.split(","))) for point in text.split()]


def svg_of(picture: Picture) -> ElementTree.Element:
    """The drawing as the template writes it, as XML."""
    html = rendered_parts([Part("picture", "Picture", "", "picture", (picture,))])
    return ElementTree.fromstring(re.search(r"<svg.*?</svg>", html, re.DOTALL)[0])


def flat(quantity: Quantity, least: float, most: float, last: float = 60.0, marks: tuple[Mark, ...] = ()) -> Picture:
    """A picture whose line runs along the middle, for its axes."""
    line = ((least + most) / 2,) * 2
    panel = Panel(title="Voltage of the lowest cell", quantity=quantity, least=least, most=most, likely=line, lowest=line, highest=line)
    return Picture(caption="c", told="t", times=(Figure(0, MINUTES), Figure(last, MINUTES)), panels=(panel, panel), marks=marks)


def test_the_line_goes_from_the_top_at_the_left_to_the_bottom_at_the_right() -> None:
    panel = DRAWING.panels[0]
    line = points(panel.line)
    assert (line[0], line[-1]) == ((LEFT, panel.top), (WIDTH - RIGHT, panel.bottom))
    assert line[1][1] == (panel.top + panel.bottom) / 2


def test_what_lies_above_the_axis_is_drawn_on_its_edge() -> None:
    panel = DRAWING.panels[0]
    assert min(y for _, y in points(panel.band)) == panel.top


def test_a_mark_stands_at_its_time() -> None:
    (mark,) = DRAWING.marks
    assert mark.at == pytest.approx(LEFT + (WIDTH - LEFT - RIGHT) * 30 / 62, abs=0.05)
    assert abs(mark.name.x - mark.at) < 0.1


def test_a_limit_is_a_named_line_at_its_height_and_one_beyond_the_axis_is_left_out() -> None:
    panel = DRAWING.panels[0]
    [level] = panel.levels
    assert (level.name.words, level.at) == ("limit 4.0\u00a0A", panel.bottom - (panel.bottom - panel.top) * 4 / 5)
    assert level.name.y < level.at
    assert (level.name.x, level.name.anchor) == (WIDTH - RIGHT - 6, "end"), "the line begins nearer to it than it ends"


def test_both_axes_name_their_unit() -> None:
    words = [text.text for text in svg_of(flat(CELL_VOLTS, 2.7, 4.45)).iter("text")]
    assert "Voltage of the lowest cell, V" in words and "time, min" in words


@pytest.mark.parametrize(
    ("quantity", "least", "most", "ticks"),
    [
        (CELL_VOLTS, 2.7, 4.45, ["3.0", "3.5", "4.0"]),
        (PERCENT, 0, 100, ["0", "20", "40", "60", "80", "100"]),
        (AMPERES, 0, 6.1, ["0", "2", "4", "6"]),
        (AMPERES, 0, 0.4, ["0.0", "0.1", "0.2", "0.3", "0.4"]),
        (DEGREES_CELSIUS, 0, 80, ["0", "20", "40", "60", "80"]),
        (DEGREES_CELSIUS, -12, 80, ["0", "20", "40", "60", "80"]),
        (DEGREES_FAHRENHEIT, 32, 176, ["50", "100", "150"]),
    ],
)
def test_ticks_are_round(quantity: Quantity, least: float, most: float, ticks: list[str]) -> None:
    assert [tick.name.words for tick in drawn(flat(quantity, least, most)).panels[0].ticks] == ticks


@pytest.mark.parametrize(
    ("last", "ticks"),
    [
        (1, ["0", "1"]),
        (62, ["0", "10", "20", "30", "40", "50", "60"]),
        (150, ["0", "30", "60", "90", "120", "150"]),
        (700, ["0", "120", "240", "360", "480", "600"]),
    ],
)
def test_times_are_parts_of_an_hour_or_whole_hours(last: float, ticks: list[str]) -> None:
    assert [tick.name.words for tick in drawn(flat(PERCENT, 0, 100, last)).times] == ticks


# What the pictures show: a unit, where its axis begins, and how far it reaches.
AXES = st.one_of(
    st.tuples(st.just(CELL_VOLTS), st.floats(0.5, 3), st.floats(1, 3)),
    st.tuples(st.just(PERCENT), st.just(0.0), st.just(100.0)),
    st.tuples(st.sampled_from((AMPERES, WATTS.to_step(0.1))), st.just(0.0), st.floats(0.3, 900)),
    st.tuples(st.just(DEGREES_CELSIUS), st.floats(-30, 0), st.floats(80, 120)),
)


@settings(deadline=None, max_examples=60)  # each case is drawn and read back as XML
@given(axis=AXES, last=st.floats(1, 30_000), at=st.lists(st.floats(0, 1), max_size=40).map(sorted))
@example(axis=(PERCENT, 0.0, 100.0), last=21_600.0, at=[1.0] * 30)
def test_no_label_lies_on_another_or_leaves_the_drawing_at_any_size_of_text(
    axis: tuple[Quantity, float, float], last: float, at: list[float]
) -> None:
    quantity, least, span = axis
    marks = tuple(Mark(at=Figure(last * one, MINUTES), words="m") for one in at)
    picture = flat(quantity, least, least + span, last, marks)
    for size in (14, TEXT):
        assert [fault for fault in faults_of(svg_of(picture), size) if "A line" not in fault] == []
    ticks = [tick.at for tick in drawn(picture).panels[0].ticks]
    assert len({round(one - other, 0) for one, other in pairwise(ticks)}) <= 2, "the ticks stand equally far apart"


def test_of_more_marks_than_there_is_room_for_each_has_its_line_and_some_have_their_number() -> None:
    marks = tuple(Mark(at=Figure(place, MINUTES), words="m") for place in range(1, 31))
    found = drawn(flat(PERCENT, 0, 100, 60, marks)).marks
    assert len(found) == 30
    assert [one.name.words for one in found if one.name.words] == [str(number) for number in range(1, 31, 3)]


def test_the_look_for_labels_that_overlap_finds_one_that_was_planted() -> None:
    svg = svg_of(flat(PERCENT, 0, 100))
    first, second, *_ = svg.iter("text")
    second.attrib["x"], second.attrib["y"] = first.attrib["x"], first.attrib["y"]
    assert faults_of(svg, TEXT) != []


def test_the_style_sheet_lets_words_grow_as_far_as_there_is_room() -> None:
    sheet = (WEB / "fieldslate.css").read_text(encoding="utf-8")
    assert re.search(r"\.picture text {[^}]*font-size: clamp\(14px, [\d.]+rem, (\d+)px\)", sheet)[1] == str(TEXT)


def test_the_voltage_of_a_cell_has_one_axis_for_one_chemistry_that_reaches_its_floor_and_full() -> None:
    for key, chemistry in CHEMISTRIES.items():
        [resting] = resting_curve_picture(key).panels
        charged = cell_panel("Voltage of a cell", chemistry, [[3.7, 3.8]])
        assert (resting.least, resting.most) == (charged.least, charged.most)
        assert [level.words for level in charged.levels] == ["full", "floor"]
        assert charged.least < chemistry.never_below_cell_v.value < chemistry.full_cell_v.value < charged.most
