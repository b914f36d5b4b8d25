"""What the budgets print, without measuring."""

from math import inf

from site_builder.commands.budgets import told
from site_builder.measuring.budgets import Budget


def test_a_line_has_what_was_measured_and_the_most_and_one_that_is_not_held_is_an_error(capsys):
    code = told([Budget("one page", 844, 844, "px"), Budget("a longer page", 10_668, 2950, "px")])
    _, held, longer, summary = capsys.readouterr().out.splitlines()
    assert held.split() == ["one", "page", "844", "px", "844", "px"]
    assert longer.split() == ["a", "longer", "page", "10,668", "px", "2,950", "px", "NOT", "HELD"]
    assert (code, summary) == (1, "1 of 2 is not held")


def test_where_everything_is_held_there_is_no_error(capsys):
    assert told([Budget("one page", 843.5, 844, "px")]) == 0
    assert capsys.readouterr().out.endswith("all held\n")


def test_what_is_a_little_more_than_it_may_be_is_not_rounded_away(capsys):
    assert told([Budget("one page", 844.4, 844, "px")]) == 1
    assert "845 px" in capsys.readouterr().out


def test_a_way_that_does_not_come_to_its_end_is_not_held(capsys):
    assert told([Budget("own pack, which ended: no such button", inf, 0, "")]) == 1
    assert capsys.readouterr().out.splitlines()[1].split()[-4:] == ["never", "0", "NOT", "HELD"]
