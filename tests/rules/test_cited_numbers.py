"""The documents of the sources page: how each reached us, what rests on it in calc, and which pages."""

import re
from dataclasses import replace

import pytest

from calc.facts.sources import SOURCES
from site_builder.building.cited_numbers import documents
from site_builder.harness.content import PAGES
from site_builder.reading.faults import ContentFault
from site_builder.reading.number_names import read_number_names
from site_builder.setting_up.checkout import CONTENT

NAMES = read_number_names(CONTENT / "number-names.toml")
DOCUMENTS = documents(PAGES, NAMES)


def test_a_document_that_only_words_rest_on_says_how_it_reached_us_and_names_the_pages():
    document = DOCUMENTS["larsson-2017"]
    assert (document.how_sure, document.numbers) == (("read in the source",), ())
    assert "pack-in-trouble" in [page.key for page in document.pages]


def test_a_number_stands_with_its_unit_once_for_all_that_hold_it():
    [line] = [line for line in DOCUMENTS["jeita-2007"].numbers if line.startswith("Charge, coldest cell")]
    assert line.startswith("Charge, coldest cell: 0\u00a0°C, no charge below 0 °C")
    assert line.replace("\u00a0", " ").endswith(
        "[Lithium-polymer, 4.20 V; High-voltage lithium-polymer, 4.35 V; Lithium-ion round cell, 4.20 V; Lithium iron phosphate, 3.65 V]"
    )


def test_an_end_of_a_range_says_of_what_and_in_which_unit():
    assert DOCUMENTS["heat-capacity"].numbers[0].startswith("Specific heat of a pack, least: 830\u00a0J/(kg\u00a0K), ")
    assert any(line.startswith("Energy per mass of a pack, likely: 90\u00a0Wh/kg, ") for line in DOCUMENTS["practice"].numbers)
    assert any(line.startswith("Part of a charge that balancing takes, most: 5\u00a0%, ") for line in DOCUMENTS["practice"].numbers)


def test_the_values_of_one_table_stand_in_one_line_and_each_row_that_has_a_name_of_its_own_apart():
    assert "Gauges of the table: 18, 16, 14, 12, 10, 8, 6, a row of table 5 (read in the source)" in DOCUMENTS["33-cfr-183-425"].numbers
    assert [line[:55] for line in DOCUMENTS["nist-handbook"].numbers][:2] == [
        "Student's t, one-sided 95 %, degrees of freedom 1: 6.31",
        "Student's t, one-sided 95 %, degrees of freedom 2: 2.92",
    ]
    assert DOCUMENTS["bci-rest"].numbers[1].startswith("Voltage at rest, 25 % charged: 12.06\u00a0V")
    assert any(line.startswith("Filled up again within: 1\u00a0day, ") for line in DOCUMENTS["practice"].numbers)
    assert any(line.startswith("A pack that feels cool, warmest: 18\u00a0°C") for line in DOCUMENTS["practice"].numbers)


@pytest.mark.parametrize("key", SOURCES)
def test_no_name_of_the_code_is_left_on_the_page(key):
    of_the_code = r"_|\{row\}|\b(?:degc|lipo|lihv|liion|agm|ohm|mm2|m2|m3|mohm)\b"
    assert [line for line in DOCUMENTS[key].numbers if re.search(of_the_code, line)] == []


def test_a_number_that_has_no_name_is_told_by_what_the_code_calls_it():
    fewer = replace(NAMES, names={name: words for name, words in NAMES.names.items() if name != "full_cell_v"})
    with pytest.raises(ContentFault, match=r"number-names\.toml: `full_cell_v` is a number of calc/facts and has no name\. Add a line"):
        documents(PAGES, fewer)


def test_a_name_of_no_number_is_a_fault():
    with pytest.raises(ContentFault, match=r"number-names\.toml: `fuller_cell_v` is no number of calc/facts"):
        documents(PAGES, replace(NAMES, names={**NAMES.names, "fuller_cell_v": "Fuller voltage"}))


@pytest.mark.parametrize("toml", ["full_cell_v = 4.2\n", "full_cell_v = \n", 'full_cell_v = ""\n'])
def test_a_file_of_names_that_is_none_is_a_fault_with_its_line(tmp_path, toml):
    (tmp_path / "number-names.toml").write_text(f"# Names\n{toml}", encoding="utf-8")
    with pytest.raises(ContentFault, match=r"number-names\.toml:2: "):
        read_number_names(tmp_path / "number-names.toml")


def test_where_the_numbers_of_a_document_differ_in_how_sure_we_are_each_says_it():
    assert len(DOCUMENTS["mil-prf-26"].how_sure) > 1
    assert all(re.search(r"\((?:read|from memory|computed)[^)]*\)", line) for line in DOCUMENTS["mil-prf-26"].numbers)


def test_nothing_that_no_page_and_no_number_rests_on_is_shown_as_if_something_did():
    assert all(document.numbers or document.pages or document.how_sure for document in DOCUMENTS.values())
