"""Every rule that spoke about a pack, and where to go with one that needs help."""

from __future__ import annotations

from collections.abc import Sequence

from calc.figures.showing import Caution, Row, Table
from calc.presenting.source_lines import source_line
from calc.rules.pack.findings import Finding, Verdict, worst_first


def rules_table(findings: Sequence[Finding]) -> Table:
    """Return every rule that spoke, the gravest first, or one row that says that none did."""
    rows = [Row(heading=finding.words, cells=(finding.found, source_line(finding.rule))) for finding in worst_first(findings)]
    nothing = Row(heading=Verdict.FLY.words, cells=("Nothing was found.", "all rules of this page"))
    return Table(
        caption="Every rule that this pack breaks, the strictest first",
        columns=("What follows", "What was found", "Where the rule is given"),
        rows=tuple(rows) or (nothing,),
    )


def cautions_of(findings: Sequence[Finding]) -> tuple[Caution, ...]:
    """Return where to go with a pack that needs help, the gravest first and each place once."""
    places = {finding.go_to: finding for finding in reversed(worst_first(findings)) if finding.go_to}
    return tuple(
        Caution(sentence=finding.found, grave=finding.verdict >= Verdict.RETIRE, go_to=go_to)
        for go_to, finding in sorted(places.items(), key=lambda place: -place[1].verdict)
    )
