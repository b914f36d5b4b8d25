"""What one rule says of a pack: what was found, what follows for the pack, and where the rule stands.

The verdict on a pack is that of the gravest finding, so a pack that gets worse in one way is never judged better for it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum, IntEnum

from calc.facts.cited import Cited
from calc.facts.looks import Look
from calc.inputs.refusals import Problem


class Verdict(IntEnum):
    """What becomes of a pack, from the best to the worst."""

    FLY = 0
    CHARGE = 1
    BALANCE = 2
    CHARGE_SLOWLY = 3
    READ_CELLS = 4
    ELSEWHERE = 5
    READ_AGAIN = 6
    RETIRE = 7
    GET_AWAY = 8

    @property
    def words(self) -> str:
        """The verdict as every page says it."""
        return _WORDS[self]

    @property
    def lasts(self) -> bool:
        """Whether the pack stays out of use until a check of every cell has passed it."""
        return self >= Verdict.RETIRE

    @property
    def passes(self) -> bool:
        """Whether a check has looked at all of the pack, and it may be charged."""
        return self <= Verdict.CHARGE_SLOWLY


_WORDS = {
    Verdict.FLY: "Fit to fly",
    Verdict.CHARGE: "Charge it before it flies",
    Verdict.BALANCE: "Balance it first",
    Verdict.CHARGE_SLOWLY: "Charge it slowly, and watch",
    Verdict.READ_CELLS: "Read every cell first",
    Verdict.ELSEWHERE: "Charge it elsewhere",
    Verdict.READ_AGAIN: "Rest it, then read every cell",
    Verdict.RETIRE: "Take it out of use",
    Verdict.GET_AWAY: "Get away from it",
}


class Act(Enum):
    """What somebody wants to do with a pack. What forbids a discharge or a flight forbids a charge too."""

    CHARGE = "charge"
    DISCHARGE = "discharge or charge"
    FLY = "fly or charge"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One rule that speaks about a pack: what was found, what follows, and where the rule stands.

    `field` is the entry that it is about, `go_to` the page that helps. `act` is what to do first, where the
    verdict's own words would name another thing: a cold pack is warmed, and not rested.
    """

    verdict: Verdict
    found: str
    rule: Cited | Look
    field: str
    go_to: str = ""
    act: str = ""

    @property
    def words(self) -> str:
        """What follows for the pack, as every page says it."""
        return self.act or self.verdict.words

    def forbids(self, act: Act) -> bool:
        """Return whether this must change before it is done. A place that is too hot or too cold forbids a charge alone."""
        return self.verdict >= (Verdict.ELSEWHERE if act is Act.CHARGE else Verdict.READ_AGAIN)

    def problem(self, act: Act) -> Problem:
        """Return this finding as what stands in the way: what was found, what to do, and what not to do meanwhile.

        >>> from calc.facts.practice import AIR_MOST_DEGC
        >>> hot = Finding(verdict=Verdict.ELSEWHERE, found="It is too hot here.", rule=AIR_MOST_DEGC, field="air_degc")
        >>> hot.problem(Act.CHARGE).sentence
        'It is too hot here. Charge it elsewhere: do not charge it here.'
        """
        elsewhere = " until then" if self.act else " here"
        when = {Verdict.ELSEWHERE: elsewhere, Verdict.READ_AGAIN: " until then"}.get(self.verdict, "")
        sentence = self.found + f" {self.words}: do not {act.value} it{when}."
        return Problem(self.field, sentence, self.go_to, lasts=self.verdict.lasts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What an answer says of a pack beyond today: why it is out of use, or that a check of every cell has passed it.

    `rows_taken_out` says the first of packs in rows, by the number of the row.
    """

    taken_out: str = ""
    rows_taken_out: Mapping[str, str] = field(default_factory=dict)
    passed: bool = False


def verdict_of(findings: Sequence[Finding]) -> Verdict:
    """Return the gravest verdict of all findings, or that the pack is fit to fly if nothing was found."""
    return max((finding.verdict for finding in findings), default=Verdict.FLY)


def worst_first(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return findings from the gravest to the mildest, those of one verdict in the order in which they came."""
    return tuple(sorted(findings, key=lambda finding: -finding.verdict))
