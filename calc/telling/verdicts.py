"""What becomes of a pack, in words: the verdict with the rule that gave it, every rule that spoke, and where to go."""

from __future__ import annotations

from collections.abc import Sequence

from calc.figures.showing import Caution, Row, Setting, Table
from calc.physics.condition import Finding, Verdict, verdict_of, worst_first
from calc.telling.source_lines import source_line

WORDS: dict[Verdict, str] = {
    Verdict.FLY: "Fit to fly",
    Verdict.CHARGE: "Charge it before it flies",
    Verdict.BALANCE: "Balance it first",
    Verdict.CHARGE_SLOWLY: "Charge it slowly, and watch",
    Verdict.READ_AGAIN: "Rest it, then read every cell",
    Verdict.RETIRE: "Take it out of use",
    Verdict.GET_AWAY: "Get away from it",
}
_DO: dict[Verdict, str] = {
    Verdict.FLY: "Land while it still holds one fifth.",
    Verdict.CHARGE: "It is in order, and too empty for a flight.",
    Verdict.BALANCE: "Charge it with the balance plug in, at a low current, until the cells stand level. If they part again by the "
    "next flight, take the next step: charge it slowly, and watch.",
    Verdict.CHARGE_SLOWLY: "Stay with it and look every few minutes. Read every cell after the charge, and again a day later: if one "
    "has dropped away by then, the pack is done.",
    Verdict.READ_AGAIN: "Do what the list below says, and read it again. Until then do not charge it, and do not fly it.",
    Verdict.RETIRE: "Do not charge it, do not fly it, do not give it away. Mark it so that nobody else does.",
    Verdict.GET_AWAY: "People first. Then open the page for a pack in trouble.",
}


def verdict_setting(findings: Sequence[Finding]) -> Setting:
    """Return the verdict with the finding that gave it and what to do.

    Args:
        findings: every rule that spoke, in any order.

    Returns:
        The verdict.

    Source: `physics.condition`.

    >>> verdict_setting(()).figure
    'Fit to fly'
    """
    verdict = verdict_of(findings)
    because = worst_first(findings)[0].found.removesuffix(".") if findings else "no rule that was asked speaks against it"
    return Setting(figure=WORDS[verdict], set_by=because, note=_DO[verdict])


def rules_table(findings: Sequence[Finding]) -> Table:
    """Return every rule that spoke, the gravest first.

    Args:
        findings: every rule that spoke, in any order.

    Returns:
        The table; one row that says so where none spoke.

    Source: `physics.condition`.

    >>> len(rules_table(()).rows)
    1
    """
    rows = [
        Row(heading=WORDS[finding.verdict], cells=(finding.found, source_line(finding.rule))) for finding in worst_first(findings)
    ]
    nothing = Row(heading=WORDS[Verdict.FLY], cells=("Nothing was found.", "all rules of this page"))
    return Table(
        caption="Every rule that speaks about this pack, the gravest first",
        columns=("What follows", "What was found", "Where the rule stands"),
        rows=tuple(rows) or (nothing,),
    )


def cautions_of(findings: Sequence[Finding]) -> tuple[Caution, ...]:
    """Return where to go with a pack that needs help, the gravest first and each place once.

    Args:
        findings: every rule that spoke, in any order.

    Returns:
        A caution for each place.

    Source: `physics.condition`.

    >>> cautions_of(())
    ()
    """
    places = {finding.go_to: finding for finding in reversed(worst_first(findings)) if finding.go_to}
    return tuple(
        Caution(sentence=finding.found, grave=finding.verdict >= Verdict.RETIRE, go_to=go_to)
        for go_to, finding in sorted(places.items(), key=lambda place: -place[1].verdict)
    )
