"""The sources page: each document with its year, how it reached us, what rests on it in calc, and which pages."""

import re
from html import unescape

import pytest

from calc.facts.sources import SOURCES
from site_builder.building.cited_numbers import documents
from site_builder.harness.content import PAGES
from site_builder.reading.number_names import read_number_names
from site_builder.setting_up.checkout import CONTENT, DIST

DOCUMENTS = documents(PAGES, read_number_names(CONTENT / "number-names.toml"))


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


@pytest.mark.parametrize("page", ["sources", "cited-numbers"])
def test_no_title_breaks_between_a_number_and_its_unit(page):
    titles = re.findall("<dt>(.*?)</dt>", (DIST / f"{page}.html").read_text(encoding="utf-8"))
    assert any("4.2\u00a0V" in title for title in titles)
    assert [title for title in titles if re.search(r"\d (?:V|A|mAh|°C|mm)\b", title)] == []


def test_every_number_stands_below_its_document_on_the_page_of_numbers():
    page = (DIST / "cited-numbers.html").read_text(encoding="utf-8")
    for key, document in DOCUMENTS.items():
        found = re.findall(rf'<div id="{key}">(.*?)\n</div>', page, re.DOTALL)
        listed = [unescape(line) for line in re.findall(r"<li>(.*?)</li>", "".join(found))]
        assert listed == list(document.numbers)
