"""A range on the page: its likely value, and its ends where they read apart."""

import re

import pytest

from calc.figures.quantities import WATTS, Figure
from calc.figures.showing import Range
from site_builder.engine.answer import ENVIRONMENT


@pytest.mark.parametrize(
    ("least", "likely", "most", "lines"),
    [
        (70, 80, 90, ["about 80\u00a0W", "70 to 90\u00a0W"]),
        (80.1, 84.4, 84.6, ["about 84\u00a0W", "80 to 85\u00a0W"]),
        (84.1, 84.2, 84.3, ["about 84\u00a0W"]),
        (84.1, None, 84.3, ["84\u00a0W"]),
    ],
)
def test_ends_that_read_alike_are_no_range(least, likely, most, lines):
    one = Range(least=Figure(least, WATTS), most=Figure(most, WATTS), likely=likely and Figure(likely, WATTS), because="it is not known")
    html = ENVIRONMENT.get_template("parts/shown.html").module.range_numbers(one)
    assert re.sub("<[^>]+>", "", html).splitlines() == lines
