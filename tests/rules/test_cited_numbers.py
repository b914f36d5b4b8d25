"""The documents of the sources page: how each reached us, what rests on it in calc, and which pages."""

import re

import pytest

from calc.facts.sources import SOURCES
from site_builder.building.cited_numbers import documents
from site_builder.harness.content import PAGES

DOCUMENTS = documents(PAGES)


def test_a_document_that_only_words_rest_on_says_how_it_reached_us_and_names_the_pages():
    document = DOCUMENTS["larsson-2017"]
    assert (document.how_sure, document.numbers) == (("read in the source",), ())
    assert "pack-in-trouble" in [page.key for page in document.pages]


def test_a_number_stands_with_its_unit_once_for_all_that_hold_it():
    [line] = [line for line in DOCUMENTS["jeita-2007"].numbers if line.startswith("charge least")]
    assert line.startswith("charge least: 0\u00a0°C, no charge below 0 °C")
    assert line.replace("\u00a0", " ").endswith(
        "[Lithium-polymer, 4.20 V; High-voltage lithium-polymer, 4.35 V; Lithium-ion round cell, 4.20 V; Lithium iron phosphate, 3.65 V]"
    )


def test_an_end_of_a_range_says_of_what_and_in_which_unit():
    assert DOCUMENTS["heat-capacity"].numbers[0].startswith("specific heat, least: 830\u00a0J/(kg\u00a0K), ")
    assert any(line.startswith("energy per mass, likely: 90\u00a0Wh/kg, ") for line in DOCUMENTS["practice"].numbers)
    assert any(line.startswith("loss at label rate, most: 1.6\u00a0V, ") for line in DOCUMENTS["practice"].numbers)
    assert any(line.startswith("imbalance, most: 5\u00a0%, ") for line in DOCUMENTS["practice"].numbers)


@pytest.mark.parametrize("key", SOURCES)
def test_no_name_of_a_number_is_left_in_the_words_of_the_code(key):
    names_and_holders = [re.sub(r": .*?(?=\[|$)", " ", line) for line in DOCUMENTS[key].numbers]
    of_the_code = r"\b(?:k|v|w|j|kg|ohm|wh|ah|mm2|m2|m3|mohm|degc|lipo|lihv|liion|life|agm)\b"
    assert [line for line in names_and_holders if re.search(of_the_code, line)] == []


def test_where_the_numbers_of_a_document_differ_in_how_sure_we_are_each_says_it():
    assert len(DOCUMENTS["mil-prf-26"].how_sure) > 1
    assert all(re.search(r"\((?:read|from memory|computed)[^)]*\)", line) for line in DOCUMENTS["mil-prf-26"].numbers)


def test_nothing_that_no_page_and_no_number_rests_on_is_shown_as_if_something_did():
    assert all(document.numbers or document.pages or document.how_sure for document in DOCUMENTS.values())
