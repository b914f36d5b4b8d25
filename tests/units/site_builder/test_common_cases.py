"""The tables of common cases: what is entered for each, and what is sent back."""

import pytest

from site_builder.building.common_cases import worked_tables
from site_builder.harness.content import PAGES
from site_builder.reading.faults import ContentFault
from site_builder.reading.pages import CommonCases, Page

PAGE_BY_KEY = {page.key: page for page in PAGES}
ENTRIES = PAGE_BY_KEY["charge-settings"].worked_example


def page_with(**cases) -> Page:
    given = {
        "caption": "Currents",
        "says_html": "",
        "shows": "charge_current",
        "entries": ENTRIES,
        "rows": ({"capacity_mah": "2650"},),
        "columns": ({"requested_rate_c": "1"},),
    }
    return PAGE_BY_KEY["charge-settings"].model_copy(update={"common_cases": (CommonCases(**given | cases),)})


def test_a_case_that_is_refused_is_sent_back():
    with pytest.raises(ContentFault, match=r"charge-settings\.md: `common_cases`, .*'cells': '9'.* is refused: "):
        worked_tables(page_with(rows=({"cells": "9", "resting_v": "33"},)))


def test_an_entry_that_is_not_asked_is_sent_back():
    with pytest.raises(ContentFault, match="enters `wing_span`, which charge_settings does not ask"):
        worked_tables(page_with(columns=({"wing_span": "2"},)))


@pytest.mark.parametrize("shows", ["wing_span", "cautions"])
def test_what_is_no_setting_and_no_range_is_sent_back(shows):
    with pytest.raises(ContentFault, match=f"shows `{shows}`, which is no setting and no range"):
        worked_tables(page_with(shows=shows))
