"""The sources page: each document with its year, how it reached us, what rests on it in calc, and which pages."""

import re
from html import unescape

import pytest

from calc.facts.sources import SOURCES
from site_builder.building.cited_numbers import documents
from site_builder.building.site import CONTENT
from site_builder.reading.pages import read_pages
from site_builder.setting_up.checkout import DIST

PAGES = read_pages(CONTENT)
DOCUMENTS = documents(PAGES)


def test_a_document_that_only_words_rest_on_says_how_it_reached_us_and_names_the_pages():
    document = DOCUMENTS["larsson-2017"]
    assert (document.how_sure, document.numbers) == (("read in the source",), ())
    assert "pack-in-trouble" in [page.key for page in document.pages]


def test_a_number_stands_with_its_unit_once_for_all_that_hold_it():
    [line] = [line for line in DOCUMENTS["jeita-2007"].numbers if line.startswith("charge least")]
    assert line.startswith("charge least: 0\u00a0°C, no charge below 0 °C")
    assert line.endswith("[Lithium-polymer, 4.20 V; High-voltage lithium-polymer, 4.35 V; Lithium-ion round cell, 4.20 V; Lithium iron phosphate, 3.65 V]")


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


def _shown(key):
    [shown] = re.findall(rf'<div id="{key}">(.*?)\n</div>', (DIST / "sources.html").read_text(encoding="utf-8"), re.DOTALL)
    return shown


def test_what_the_trade_does_rests_under_most_pages_and_names_their_number_alone():
    # Their names would be two and a half kilobytes of a page that must come over a field's signal.
    on = [page for page in PAGES if "practice" in page.sources]
    assert len(on) > len(PAGES) / 2
    assert f"Pages: {len(on)} of {len(PAGES)}." in _shown("practice")
    assert re.findall('<a href="([^"]+)"', _shown("practice")) == ["cited-numbers.html#practice"]


@pytest.mark.parametrize("key", [key for key in SOURCES if key != "practice"])
def test_the_page_says_of_each_document_its_year_how_it_reached_us_and_the_pages(key):
    shown = _shown(key)
    assert SOURCES[key].edition.replace("'", "&#39;") in shown
    assert re.search(r"<b>(?:Read|From memory|Computed|Common practice)", shown)
    linked = set(re.findall(r'<a href="([^"]+)">', shown))
    numbers = {f"cited-numbers.html#{key}"} if DOCUMENTS[key].numbers else set()
    assert linked == {page.address for page in PAGES if key in page.sources} | numbers


def test_every_number_stands_below_its_document_on_the_page_of_numbers():
    page = (DIST / "cited-numbers.html").read_text(encoding="utf-8")
    for key, document in DOCUMENTS.items():
        found = re.findall(rf'<div id="{key}">(.*?)\n</div>', page, re.DOTALL)
        listed = [unescape(line) for line in re.findall(r"<li>(.*?)</li>", "".join(found))]
        assert listed == list(document.numbers)


def test_nothing_that_no_page_and_no_number_rests_on_is_shown_as_if_something_did():
    assert all(document.numbers or document.pages or document.how_sure for document in DOCUMENTS.values())
