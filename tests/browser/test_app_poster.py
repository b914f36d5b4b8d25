"""The poster on paper: one sheet, whichever size the printer has."""

import re

import pytest


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_poster_fills_one_sheet(page, site, paper):
    page.goto(f"{site.address}poster.html")
    sheets = re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper))

    assert len(sheets) == 1
