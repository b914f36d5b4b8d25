"""The sections that are read from a built page: where each begins, what it says, and what is left out."""

from site_builder.building.sections import sections_of

PAGE = """<html><head><title>Not this</title></head><body><nav>Nor this</nav><main>
<h1>Storing</h1>
<div class="lead"><p>Cool and dry. {more}</p></div>
{words}
</main><footer>Nor this either.</footer></body></html>"""


def read(words="", more=""):
    return sections_of("storing.html", PAGE.format(words=words, more=more))


def test_the_page_as_a_whole_comes_first_with_what_stands_above_the_headings():
    [whole] = read(more="Not in the sun.")
    assert (whole.address, whole.title, whole.heading) == ("storing.html", "Storing", "Storing")
    assert whole.says == ["Cool and dry.", "Not in the sun."]


def test_a_heading_with_an_id_begins_a_section_of_its_own():
    part = read('<h2 id="where">Where</h2><p>On a <b>stone</b> floor.</p><ul><li>Away from <a href="x">doors</a></li></ul>')[1]
    assert (part.address, part.title, part.heading) == ("storing.html#where", "Storing", "Where")
    assert part.says == ["On a stone floor.", "Away from doors"]


def test_source_marks_drawings_and_lists_of_contents_are_left_out():
    words = '<p>Cool.<a class="source" href="sources.html#x">IEC</a></p><svg><text>12</text></svg><nav class="contents"><p>What?</p></nav>'
    assert read(words)[0].says == ["Cool and dry.", "Cool."]


def test_a_form_gives_its_labels_and_an_answer_the_names_of_what_it_shows():
    words = """<form><fieldset><legend>This pack</legend><label>Capacity <span class="unit">mAh</span></label><p class="hint">As the
    label has it.</p><select><option>Round cell</option></select></fieldset></form>
    <section id="answer"><h2 id="answer-title">Worked example</h2><p id="answer-about">Not your numbers.</p>
    <h3>Dial in</h3><dl><div><dt>Time cut-out</dt><dd>120 min</dd></div></dl></section>"""
    [whole] = read(words)
    assert (whole.asks, whole.shows) == (["This pack", "Capacity"], ["Dial in", "Time cut-out"])
    assert whole.says == ["Cool and dry."]


def test_a_word_that_is_explained_is_a_section_whose_link_is_its_own_or_that_of_what_holds_it():
    explained = '<dl><dt id="sag">Sag</dt><dd>It drops under load.</dd><div id="iec"><dt>IEC 62133</dt><dd>2017</dd></div></dl>'
    assert [(one.anchor, one.heading, one.says) for one in read(explained)[1:]] == [
        ("sag", "Sag", ["It drops under load."]),
        ("iec", "IEC 62133", ["2017"]),
    ]


def test_a_heading_with_nothing_under_it_is_no_section():
    assert len(read('<h2 id="list">List</h2><ul class="teasers"><li>Pages</li></ul>')) == 1
