"""The words of a calculator's page: each heading is the line that unfolds what stands below it."""

from site_builder.building.page_html import folded

WORDS = '<p>Above.</p>\n<h2 id="one">One</h2>\n<p>First.</p>\n<h3 id="more">More</h3>\n<p>Second.</p>\n<h2 id="two">Two</h2>\n<p>Third.</p>'


def test_each_heading_of_the_second_level_is_the_line_of_a_fold() -> None:
    assert folded(WORDS).count('<details class="words-fold"><summary><h2 id=') == 2
    assert folded(WORDS).count("</details>") == 2


def test_what_stands_below_a_heading_stays_with_it() -> None:
    one, two = folded(WORDS).split("</details>")[:2]
    assert "First." in one and 'id="more"' in one and "Second." in one
    assert "Third." in two


def test_what_stands_above_the_first_heading_stays_open() -> None:
    assert folded(WORDS).startswith("<p>Above.</p>")


def test_words_without_a_heading_stay_as_they_are() -> None:
    assert folded("<p>Only this.</p>") == "<p>Only this.</p>"
