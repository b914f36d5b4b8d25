"""The table of plain words: what it gives, and what is sent back with its line."""

import pytest

from site_builder.building.search import search_files
from site_builder.building.sections import Section
from site_builder.reading.faults import ContentFault
from site_builder.reading.plain_words import read_plain_words
from site_builder.setting_up.node import node_modules

TABLE = """\
left_out = "the of"

[[alike]]
words = "swollen puffy"
leads_to = "trouble.html#swollen"

[[alike]]
words = "cold winter"
"""


@pytest.fixture
def table(tmp_path):
    """Return a function that reads a table."""

    def read(toml=TABLE):
        (tmp_path / "plain-words.toml").write_text(toml, encoding="utf-8")
        return read_plain_words(tmp_path / "plain-words.toml")

    return read


def test_a_list_is_read_word_by_word(table):
    read = table()
    assert (read.left_out, read.alike[0].words, read.alike[0].leads_to) == (("the", "of"), ("swollen", "puffy"), "trouble.html#swollen")


def test_a_word_that_stands_in_two_lists_is_sent_back_with_its_second_line(table):
    with pytest.raises(ContentFault, match=r"plain-words\.toml:8: “puffy” stands twice"):
        table(TABLE.replace("cold", "puffy"))


def test_a_list_that_leads_nowhere_is_sent_back_with_its_line(table):
    section = Section("trouble.html", "Trouble", "", "Trouble", says=["People first."])
    with pytest.raises(ContentFault, match=r"plain-words\.toml:5: `leads_to` is trouble\.html#swollen, which leads nowhere"):
        search_files([section], table(), node_modules())


def test_a_phrase_is_read_and_one_that_leads_nowhere_is_sent_back_with_its_line(table):
    read = table(f'{TABLE}\n[[phrases]]\nleads_to = "care.html"\nsaid = ["car battery"]\n')
    sections = [Section("trouble.html", "Trouble", "swollen", "Swollen", says=["Stop."])]

    assert (read.phrases[0].said, read.phrases[0].leads_to) == (("car battery",), "care.html")
    with pytest.raises(ContentFault, match=r"plain-words\.toml:11: `leads_to` is care\.html, which leads nowhere"):
        search_files(sections, read, node_modules())


def test_a_phrase_that_stands_twice_is_sent_back_with_its_second_line(table):
    more = '\n[[phrases]]\nleads_to = "care.html"\nsaid = [\n  "car battery",\n  "car battery",\n]\n'
    with pytest.raises(ContentFault, match=r"plain-words\.toml:14: “car battery” stands twice"):
        table(TABLE + more)
