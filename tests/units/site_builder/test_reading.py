"""The reader of the words: what it makes of a page, and what it sends back with file and line."""

import re
import shutil
from pathlib import Path

import pytest

from site_builder.reading.club import about, merged, read_club
from site_builder.reading.faults import ContentFault
from site_builder.reading.pages import read_pages

CONTENT = Path(__file__).parents[3] / "content"
CLUB = read_club(CONTENT / "club.toml")

FRONT = """\
+++
title = "Storing"
short = "Store"
description = "How to store a pack."
order = 10
lead = "Cool and dry."
{more}+++

"""


@pytest.fixture
def page(tmp_path):
    """Return a function that reads one page with these words and this much more front matter."""

    def read(words, more=""):
        (tmp_path / "pages").mkdir(exist_ok=True)
        (tmp_path / "pages" / "storing.md").write_text(FRONT.format(more=more) + words, encoding="utf-8")
        (tmp_path / "club.toml").write_text((CONTENT / "club.toml").read_text(encoding="utf-8"), encoding="utf-8")
        return read_pages(tmp_path)[0]

    return read


@pytest.fixture
def fault(page):
    """Return a function that reads such a page and returns its line and the sentence that it is sent back with."""

    def refused(words, more=""):
        with pytest.raises(ContentFault) as caught:
            page(words, more)
        assert str(caught.value).startswith(str(caught.value.file))
        return caught.value.line, caught.value.sentence

    return refused


# What it makes of a page


def test_a_mark_becomes_a_link_that_says_whose_document_it_is(page):
    read = page("Keep everyone at least 25 m away. {erg-147}\n")

    assert '<a class="source" href="sources.html#erg-147">Emergency guide 147</a>' in read.body_html
    assert read.sources == ("erg-147",)


def test_what_the_trade_does_is_marked_by_a_sign_that_begins_no_line_and_whose_words_are_there(page):
    words = '<a class="source by-trade" href="sources.html#practice"><span>common practice, no source</span></a>'
    assert f"<p>Cool.\u00a0{words}</p>" in page("Cool. {practice}\n").body_html


def test_a_source_without_a_short_name_is_called_by_its_publisher(page):
    assert '">London Fire Brigade</a>' in page("Let it cool. {london-fire-brigade}\n").body_html


def test_a_number_stays_on_one_line_with_its_unit(page):
    assert "25\u00a0m" in page("25 m {erg-147}\n").body_html


def test_a_heading_keeps_a_number_on_one_line_with_its_unit():
    held = {page.key: page.heading for page in read_pages(CONTENT)}
    assert held["battery-care-card"] == "Card: the 12\u00a0V battery for a day"


def test_sources_without_a_mark_come_first_and_none_comes_twice(page):
    assert page("Cool. {practice} {erg-147} {practice}\n", 'sources = ["linden"]\n').sources == ("linden", "practice", "erg-147")


def test_a_heading_gets_an_id_that_other_pages_can_link_to(page):
    read = page("## A cool place\n\nSee [above](#a-cool-place).\n")

    assert read.ids == ("a-cool-place",)
    assert '<h2 id="a-cool-place">' in read.body_html


def test_a_page_that_asks_for_it_begins_with_a_list_of_its_parts(page):
    read = page("## One & only\n\nWords.\n\n## Other\n", 'contents = "Which?"\n')

    assert read.body_html.startswith('<nav class="contents"')
    assert '<a href="#one-only">One &amp; only</a>' in read.body_html


def test_an_attribute_is_not_taken_for_a_mark(page):
    assert '<p class="act">Step back.</p>' in page("Step back.\n{: .act }\n").body_html


def test_a_worked_example_lays_pack_charger_and_supply_together_and_the_page_has_the_last_word(page):
    example = 'worked_example = { pack = "brass-heron", charger = "small", supply = "clubhouse", resting_v = "12.0" }\n'
    entries = page("", 'calculator = "storing"\n' + example).worked_example

    assert (entries["capacity_mah"], entries["charger_power_w"], entries["supply_kind"]) == ("2650", "50", "mains")
    assert entries["resting_v"] == "12.0"
    assert not {"pack", "charger", "supply", "name", "flies_in", "battery_ah"} & set(entries)


def test_the_packs_of_a_worked_example_fill_the_rows_that_are_asked():
    asked = {"packs_1_cells", "packs_2_cells", "packs_2_resting_v"}
    example = {"packs": "brass-heron slate-badger", "packs_2_resting_v": "15.2"}
    assert merged(example, CLUB, asked) == {"packs_1_cells": "3", "packs_2_cells": "4", "packs_2_resting_v": "15.2"}


def test_a_pack_of_a_worked_example_for_which_there_is_no_row_is_sent_back():
    with pytest.raises(ValueError, match="asks for no pack 2"):
        merged({"packs": "brass-heron slate-badger"}, CLUB, {"packs_1_cells"})


def test_what_a_worked_example_is_made_of_is_named_once():
    assert about({"packs": "brass-heron brass-heron", "charger": "small"}, CLUB).endswith(
        ": pack “Brass Heron”, charger “Small field charger”."
    )


def test_an_example_without_any_of_the_club_s_things_is_about_the_club_alone():
    assert re.fullmatch(r"They belong to the invented club [\w ]+\.", about({"flights_1_flown_min": "6"}, CLUB))


def test_a_worked_example_may_hold_whatever_its_calculator_asks():
    assert merged({"asked": "1"}, CLUB, {"asked"}) == {"asked": "1"}


CASES = """\
calculator = "storing"
worked_example = {{ pack = "brass-heron" }}

[[common_cases]]
caption = "Days"
says = \"\"\"
{says}
\"\"\"
shows = "days"
entries = {{ pack = "{pack}", charger = "small" }}
rows = [{{ cells = "2" }}]
columns = [{columns}]
"""


def cases(says="Cool. {practice}", pack="brass-heron", columns='{ capacity_mah = "500" }'):
    return CASES.format(says=says, pack=pack, columns=columns)


def test_common_cases_have_the_clubs_things_filled_in_and_their_words_marked(page):
    read = page("", cases())
    [table] = read.common_cases

    assert (table.entries["capacity_mah"], table.entries["charger_power_w"]) == ("2650", "50")
    assert (table.rows, table.columns) == (({"cells": "2"},), ({"capacity_mah": "500"},))
    assert 'href="sources.html#practice"' in table.says_html and "practice" in read.sources


# What it sends back


@pytest.mark.parametrize(
    ("more", "place", "says"),
    [
        (cases(says="Cool.\n\nBelow 25 °C."), 15, "has no source beside it"),
        (cases(pack="iron-owl"), 11, "`common_cases` does not fit: the club has no pack `iron-owl`"),
        (cases(columns="{}"), 11, "an entry in each row and column"),
        (cases(columns=""), 18, "`common_cases.0.columns` does not fit"),
        (cases().partition("\n\n")[2], 8, "`common_cases` needs a calculator"),
    ],
)
def test_common_cases_that_do_not_fit_are_sent_back_with_their_line(fault, more, place, says):
    line, sentence = fault("", more)

    assert says in sentence
    assert line == place


def test_an_unknown_mark_is_sent_back_with_its_line_and_the_nearest_key(fault):
    line, sentence = fault("Cool.\n\nFar away. {erg147}\n")

    assert line == 11
    assert "{erg147} is not a source. Write {erg-147}" in sentence


@pytest.mark.parametrize(
    "words",
    [
        "Cool. {practice}\n\nStay 25 m away.\n",
        "- Cool. {practice}\n\n- Below 40 °C.\n",
        "| Cool {practice} |\n| --- |\n| 15 minutes |\n",
        "Cool. {practice}\n\nWatch it for half an hour.\n",
        "Cool. {practice}\n\nWatch it for thirty minutes.\n",
        "Cool. {practice}\n\n## Below 40 °C\n",
    ],
)
def test_a_number_without_a_source_in_its_block_is_sent_back_with_its_line(fault, words):
    line, sentence = fault(words)

    assert line == 11
    assert "has no source beside it" in sentence


@pytest.mark.parametrize(
    "words", ["1. Cool.\n2. Dry.\n", "Look.\n{: #part-2 }\n", "Cool, or\n25 m away,\nat once. {erg-147}\n", "One cell. Halfway.\n"]
)
def test_what_is_no_quantity_or_stands_in_a_marked_block_passes(page, words):
    assert page(words).body_html


def test_a_number_in_the_lead_needs_a_source_as_well(tmp_path):
    text = FRONT.format(more="").replace('"Cool and dry."', '"""\nCool.\n\nBelow 25 °C.\n"""')
    (tmp_path / "pages").mkdir()
    (tmp_path / "pages" / "storing.md").write_text(text, encoding="utf-8")
    (tmp_path / "club.toml").write_text((CONTENT / "club.toml").read_text(encoding="utf-8"), encoding="utf-8")

    with pytest.raises(ContentFault, match=r"storing\.md:9: .25. has no source"):
        read_pages(tmp_path)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("Words.\n\n# Storing\n", "Begin the words with ##"),
        ("Words.\n\n### Storing\n", "skips a level"),
        ("## Twice\n\n## Twice\n", "there twice"),
        ("Words.\n\nSee [it](nowhere.html).\n", "leads nowhere"),
        ("Words.\n\nSee [it](storing.html#nowhere).\n", "leads nowhere"),
        ("Words.\n\nSee [it](sources.html#nowhere).\n", "leads nowhere"),
    ],
)
def test_a_heading_or_a_link_that_does_not_hold_is_sent_back_with_its_line(fault, words, says):
    line, sentence = fault(words)

    assert line == 11
    assert says in sentence


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ('colour = "red"\n', "`colour` is not known here"),
        ('calculator = "storing"\n', "needs a `worked_example`"),
        ('worked_example = { pack = "brass-heron" }\n', "has no calculator"),
        ('calculator = "s"\nworked_example = { pack = "iron-owl" }\n', "the club has no pack `iron-owl`"),
        ('calculator = "s"\nworked_example = { capacity = "1" }\n', "`capacity` is not an entry"),
        ('sources = ["iron-owl"]\n', "`iron-owl`, which is not in"),
        ("use = \n", "This is not TOML"),
        ('calculator = "Charge Settings"\n', "`calculator` does not fit"),
    ],
)
def test_front_matter_that_does_not_fit_is_sent_back(fault, more, says):
    assert says in fault("", more)[1]


def test_a_page_stands_in_a_section_that_the_first_page_has(page):
    read = page("", 'section = "keep"\nteaser = "How."\nsections = { keep = "Keep a pack" }\n')

    assert (read.section, read.sections) == ("keep", {"keep": "Keep a pack"})


def test_a_section_that_is_not_there_is_sent_back_with_those_that_are(fault):
    line, sentence = fault("", 'teaser = "How."\nsection = "kep"\nsections = { keep = "Keep a pack" }\n')

    assert line == 8
    assert "`kep`" in sentence and "keep" in sentence


def test_a_line_in_a_list_without_its_section_is_sent_back(fault):
    line, sentence = fault("", 'teaser = "How."\n')

    assert line == 7
    assert "`section`" in sentence


def test_front_matter_that_does_not_fit_names_its_line(fault):
    assert fault("", 'contents = "Put it away."\ncolour = "red"\n')[0] == 8


@pytest.mark.parametrize("end", ["", 'onward = "storage"\n'])
def test_front_matter_that_is_not_toml_names_its_line(fault, end):
    assert fault("", f'contents = "Which?"\ncalculator =\n{end}')[0] == 8


def test_a_page_without_front_matter_is_sent_back(tmp_path, page):
    page("")
    (tmp_path / "pages" / "bare.md").write_text("Words.\n", encoding="utf-8")

    with pytest.raises(ContentFault, match=r"bare\.md:1: A page begins with its front matter"):
        read_pages(tmp_path)


def test_a_name_too_long_for_the_navigation_is_sent_back_with_its_line(tmp_path, page):
    page("")
    file = tmp_path / "pages" / "storing.md"
    file.write_text(file.read_text(encoding="utf-8").replace('"Store"', '"Storing packs"'), encoding="utf-8")

    with pytest.raises(ContentFault, match=r"storing\.md:3: `short` does not fit"):
        read_pages(tmp_path)


def test_two_pages_in_the_same_place_of_the_navigation_are_sent_back(tmp_path, page):
    page("")
    (tmp_path / "pages" / "again.md").write_text(FRONT.format(more=""), encoding="utf-8")

    with pytest.raises(ContentFault, match="`order` is 10 here and in"):
        read_pages(tmp_path)


def test_an_entry_of_the_club_that_nobody_knows_is_sent_back_with_its_line(tmp_path):
    file = tmp_path / "club.toml"
    text = (CONTENT / "club.toml").read_text(encoding="utf-8").replace('battery_ah = "70"', 'battery_amp_hours = "70"')
    file.write_text(text, encoding="utf-8")
    line = text.splitlines().index('battery_amp_hours = "70"') + 1

    with pytest.raises(ContentFault, match=rf"club\.toml:{line}: `supplies\.field-battery\.battery_amp_hours` is not known here"):
        read_club(file)


# Drawings


SQUARE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9" fill="currentColor"/></svg>'


@pytest.fixture
def drawing(tmp_path, page):
    """Return a function that reads a page which shows one drawing."""

    def read(svg=SQUARE, words="![A square.](drawings/square.svg)\n"):
        (tmp_path / "drawings").mkdir(exist_ok=True)
        (tmp_path / "drawings" / "square.svg").write_text(svg, encoding="utf-8")
        return page(words).body_html

    return read


def test_a_drawing_becomes_part_of_the_page_with_its_description(drawing):
    html = drawing(words='![A square.](drawings/square.svg "Four sides")\n')

    assert '<svg viewBox="0 0 9 9" role="img" aria-label="A square."><rect' in html
    assert "<figcaption>Four sides</figcaption>" in html
    assert "<img" not in html


@pytest.mark.parametrize(
    ("svg", "words", "says"),
    [
        (SQUARE, "![](drawings/square.svg)\n", "has no description"),
        (SQUARE, "![A circle.](drawings/circle.svg)\n", "Draw content/drawings/circle.svg"),
        (SQUARE, "Look: ![A square.](drawings/square.svg)\n", "stands alone"),
        (SQUARE.replace(' viewBox="0 0 9 9"', ""), "![A square.](drawings/square.svg)\n", "no viewBox"),
        (SQUARE.replace("<rect", '<rect style="fill:red"'), "![A square.](drawings/square.svg)\n", "`style` does not belong"),
        (SQUARE.replace("rect", "image"), "![A square.](drawings/square.svg)\n", "<image> is not used"),
        (SQUARE[:-3], "![A square.](drawings/square.svg)\n", "This is not SVG"),
        (SQUARE, "![A curve.](curves/gold)\n", "There is no curves/gold"),
        (SQUARE, "![A table.](voltages/gold)\n", "There is no voltages/gold. These are there: lipo"),
        (SQUARE, "![A table.](modes/nickel)\n", "There is no modes/nickel"),
    ],
)
def test_a_drawing_that_does_not_hold_is_sent_back(drawing, svg, words, says):
    with pytest.raises(ContentFault) as caught:
        drawing(svg, words)
    assert says in caught.value.sentence


def test_a_curve_is_drawn_from_the_tables_of_calc_with_its_figures_below(page):
    html = page("![Resting voltage against charge.](curves/lipo)\n").body_html

    assert html.count("<polyline") == 1
    # Ai and others 2020, as the reference run prints it: 3.793 V at half.
    assert "3.79\u00a0V" in html


def test_a_drawing_that_no_page_shows_is_sent_back_by_its_name(drawing, tmp_path):
    drawing()
    (tmp_path / "drawings" / "circle.svg").write_text(SQUARE, encoding="utf-8")
    with pytest.raises(ContentFault, match=r"circle\.svg: No page shows this drawing"):
        drawing()


# Plain words


HARD = (
    "Notwithstanding the aforementioned considerations, the individual responsible for supervising the electrochemical "
    "accumulators must immediately discontinue any uninterrupted operation of the installation.\n"
)


def test_a_hard_paragraph_is_sent_back_with_its_line(fault):
    line, sentence = fault(f"Get away.\n\n- Call for help.\n- {HARD}")

    assert line == 12
    assert "and 8 is the most" in sentence


def test_a_hard_lead_is_sent_back(fault, monkeypatch):
    monkeypatch.setattr("tests.units.site_builder.test_reading.FRONT", FRONT.replace("Cool and dry.", HARD.strip()))

    assert "Shorten its sentences" in fault("Get away.\n")[1]


def test_a_sentence_too_long_is_sent_back(fault):
    assert "has 33 words, and 30 are the most" in fault("Look at it " + "and look at it " * 7 + "again too.\n")[1]


def test_a_riddle_is_sent_back(fault):
    assert "“hungry flight” puzzles" in fault("The timer is for the hungry flight.\n")[1]


@pytest.mark.parametrize("key", ["pack-in-trouble", "safety-rules", "charging-place", "glossary"])
def test_the_pages_are_held_to_plain_words(key, tmp_path):
    for file in (CONTENT / "pages").glob("*.md"):
        (tmp_path / "pages").mkdir(exist_ok=True)
        more = f"\n\n{HARD}" if file.stem == key else ""
        (tmp_path / "pages" / file.name).write_text(file.read_text(encoding="utf-8") + more, encoding="utf-8")
    for name in ("club.toml", "rules.toml"):
        shutil.copy(CONTENT / name, tmp_path / name)
    shutil.copytree(CONTENT / "drawings", tmp_path / "drawings")
    with pytest.raises(ContentFault, match=rf"{key}\.md:\d+: This paragraph reads at grade"):
        read_pages(tmp_path)


def test_a_rule_is_taken_over_by_its_name_with_its_marks(page, tmp_path):
    (tmp_path / "rules.toml").write_text('rest = "Rest for 30 minutes. {practice}"\n', encoding="utf-8")
    read = page("Land. {{rest}}\n")

    assert "Rest for 30\u00a0minutes." in read.body_html
    assert read.sources == ("practice",)


def test_a_rule_that_nobody_wrote_is_a_fault_at_its_line(fault):
    line, sentence = fault("Land.\n\n{{rest}}\n")

    assert line == 11 and sentence.startswith("`{{rest}}` is no rule")


def test_a_rule_that_would_end_the_text_around_it_is_a_fault(fault, tmp_path):
    (tmp_path / "rules.toml").write_text("rest = 'Rest, then \"read\".'\n", encoding="utf-8")

    assert "quotation mark" in fault("{{rest}}\n")[1]
