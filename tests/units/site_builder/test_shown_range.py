"""A range on the page: its likely value, and its ends where they read apart."""

import re
from types import SimpleNamespace

import pytest

from calc.figures.quantities import WATTS, Figure
from calc.figures.showing import Range
from site_builder.engine.answer import ENVIRONMENT


@pytest.mark.parametrize(
    ("least", "likely", "most", "lines", "why"),
    [
        (70, 80, 90, ["about 80\u00a0W", "70 to 90\u00a0W"], "Why a range it is not known"),
        (80.1, 84.4, 84.6, ["about 84\u00a0W", "80 to 85\u00a0W"], "Why a range it is not known"),
        (84.1, 84.2, 84.3, ["about 84\u00a0W"], "Why it is not known"),
        (84.1, None, 84.3, ["84\u00a0W"], "Why it is not known"),
    ],
)
def test_ends_that_read_alike_are_no_range(least, likely, most, lines, why):
    one = Range(least=Figure(least, WATTS), most=Figure(most, WATTS), likely=likely and Figure(likely, WATTS), because="it is not known")
    macros = ENVIRONMENT.get_template("parts/shown.html").module
    assert re.sub("<[^>]+>", "", macros.range_numbers(one)).splitlines() == lines
    assert re.sub("<[^>]+>", "", macros.limit(SimpleNamespace(kind="range"), one)).strip() == why
