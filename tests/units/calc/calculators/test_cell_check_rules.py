"""Every rule that was broken, and each place to go once."""

from __future__ import annotations

from calc.calculators.parts.cell_check_rules import cautions_of, rules_table
from calc.rules.pack.condition import findings_of_look


def test_a_rule_says_where_it_stands() -> None:
    [row] = rules_table(findings_of_look("crashed")).rows
    assert "emergency alert" in row.cells[1]


def test_a_place_is_named_once_and_the_gravest_comes_first() -> None:
    findings = findings_of_look("crashed") + findings_of_look("smoking") + findings_of_look("bent")
    cautions = cautions_of(findings)
    assert [caution.go_to for caution in cautions] == ["pack-in-trouble#smoke-fire-or-hissing", "pack-in-trouble#crash-or-dent"]
    assert cautions[1].sentence.startswith("It is dented")
