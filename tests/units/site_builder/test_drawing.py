"""A picture as an SVG: everything stands inside the drawing, and higher values stand higher."""

from calc.figures.quantities import AMPERES, MINUTES, Figure
from calc.figures.showing import Mark, Panel, Picture
from site_builder.engine.drawing import LEFT, RIGHT, WIDTH, drawn

TIMES = tuple(Figure(minutes, MINUTES) for minutes in (0.0, 30.0, 62.0))
PANEL = Panel(
    title="Current", quantity=AMPERES, least=0.0, most=5.0, likely=(5.0, 2.5, 0.0), lowest=(4.0, 1.0, 0.0), highest=(5.0, 5.0, 9.0)
)
DRAWING = drawn(
    Picture(caption="A charge", told="It falls.", times=TIMES, panels=(PANEL,), marks=(Mark(at=Figure(30.0, MINUTES), words="half"),))
)


def points(text: str) -> list[tuple[float, float]]:
    return [tuple(map(float, point.split(","))) for point in text.split()]


def test_the_line_goes_from_the_top_at_the_left_to_the_bottom_at_the_right() -> None:
    panel = DRAWING.panels[0]
    line = points(panel.line)
    assert (line[0], line[-1]) == ((LEFT, panel.top), (WIDTH - RIGHT, panel.bottom))
    assert line[1][1] == (panel.top + panel.bottom) / 2


def test_what_lies_above_the_axis_is_drawn_on_its_edge() -> None:
    panel = DRAWING.panels[0]
    assert min(y for _, y in points(panel.band)) == panel.top


def test_times_are_round_and_the_ends_have_units() -> None:
    assert [tick.words for tick in DRAWING.times] == ["0", "10", "20", "30", "40", "50", "60"]
    assert [end.words for end in DRAWING.panels[0].ends] == ["5.0\u00a0A", "0.0\u00a0A"]


def test_a_mark_stands_at_its_time() -> None:
    (mark,) = DRAWING.marks
    assert LEFT < mark.at < WIDTH - RIGHT
