"""What becomes of a pack, in words: the verdict with the rule that gave it, and what to say beside a charge."""

from __future__ import annotations

from calc.facts.practice import SLOW_RATE_C, SPREAD_TO_WATCH_CELL_V
from calc.figures import showing
from calc.figures.quantities import CELL_VOLTS, PERCENT, RATE, Figure
from calc.figures.showing import Caution
from calc.figures.units import percent_from_fraction
from calc.rules.pack.condition import Condition
from calc.rules.pack.findings import Finding, Verdict, worst_first

_NOISE_PERCENT = 1e-6
_A_DAY_LATER = (
    f"and again a day later: if one has sunk by {Figure(SPREAD_TO_WATCH_CELL_V.value, CELL_VOLTS)} more than the others by then, the pack "
    "is done."
)

_DO: dict[Verdict, str] = {
    Verdict.FLY: "Land while it still holds one fifth.",
    Verdict.CHARGE: "It is in order, and too empty for a flight.",
    Verdict.BALANCE: "Charge it with the balance plug in, at a low current, until the cells are level. If they are apart again "
    "after the next flight, charge it slowly and watch it.",
    Verdict.CHARGE_SLOWLY: f"Stay with it and look every few minutes. Read every cell after the charge, {_A_DAY_LATER}",
    Verdict.READ_CELLS: "The reading is in order, but a weak cell would not show in it. Read every cell before you fly the pack. "
    "Charge settings hold until then.",
    Verdict.ELSEWHERE: "Only the warmth stands in the way of a charge: do what the list below says.",
    Verdict.READ_AGAIN: "Do what the list below says, and read it again. Until then do not charge it, and do not fly it.",
    Verdict.RETIRE: "Do not charge it, do not fly it, do not give it away. Mark it so that nobody else does.",
    Verdict.GET_AWAY: "People first. Then open the page for a pack in trouble.",
}

_SLOWLY = f"{Figure(SLOW_RATE_C.value, RATE.as_it_is)} at most, the balance plug in. Look every few minutes."
UNTIL_READ = (
    "These settings hold until every cell has been read: the voltage of the whole pack hides a weak cell. Read each at the "
    "balance plug before you start, and enter them here."
)
LOOK_FIRST = "Look the pack over first: this answer is for one that is whole, flat, dry and cool, with no smell."


def share_beside_its_end(share: float, end_percent: float) -> Figure:
    """Return a share, a fraction, in percent as it stands beside the share at which a pack is over: it reads as that one only where it is.

    >>> [str(share_beside_its_end(share, 80)).replace(chr(160), " ") for share in (0.9, 0.804, 0.8, 0.7996)]
    ['90 %', '80.4 %', '80 %', '79.9 %']
    """
    percent = percent_from_fraction(share)
    plain = Figure(percent, PERCENT)
    # A quotient of two typed numbers may be off in its last bit.
    if plain.number != Figure(end_percent, PERCENT).number or abs(percent - end_percent) < _NOISE_PERCENT:
        return plain
    return Figure(percent, PERCENT.to_step(0.1), "up" if percent > end_percent else "down")


def verdict_shown(condition: Condition) -> showing.Verdict:
    """Return the verdict with the finding that gave it, what to do, and the sign for whether the pack may be used."""
    given = condition.verdict
    may, warns = given.passes, given >= Verdict.BALANCE
    return showing.Verdict(figure=condition.words, set_by=condition.reason, note=_DO[given], may=may, warns=may and warns)


def cautions_before_a_charge(condition: Condition) -> tuple[Caution, ...]:
    """Return what to say of a pack's condition beside the settings of its charge."""
    found = [*cautions_of_label(condition), *(Caution(sentence=sentence) for sentence in slow_sentences(condition))]
    if not condition.each_cell:
        found.append(Caution(sentence=UNTIL_READ))
    return (*found, *cautions_of_no_look(condition))


def cautions_while_unread(condition: Condition) -> tuple[Caution, ...]:
    """Return what to say of a pack whose voltages nobody has read yet, by what else is known of it."""
    return tuple(Caution(sentence=sentence) for sentence in slow_sentences(condition))


def cautions_of_no_look(condition: Condition) -> tuple[Caution, ...]:
    """Return that a pack is to be looked over before anything is done with it, where nobody said that it was."""
    return () if condition.looked_over else (Caution(sentence=LOOK_FIRST, go_to="cell-check"),)


def cautions_before_storage(condition: Condition, *, is_charged: bool) -> tuple[Caution, ...]:
    """Return what is found of a pack before it lies for weeks, each rule once, with all that follows: where it is charged for that, or balanced,
    it is watched, and whichever way it comes there, one with a past is read again. What the balancer is for is told there in other words.
    """
    found = []
    for finding in _each_rule_once(condition.slow):
        slowly = [_slowly(finding)] if is_charged and finding.verdict is Verdict.CHARGE_SLOWLY else []
        again = [f"Read every cell before you put it away, {_A_DAY_LATER}"] if finding.field == "look" else []
        if slowly or again:
            found.append(Caution(sentence=" ".join([finding.found, *slowly, *again])))
    return tuple(found)


def cautions_of_label(condition: Condition) -> tuple[Caution, ...]:
    """Return why the pack may be another than its entries say."""
    return tuple(Caution(sentence=doubt.sentence, grave=doubt.grave) for doubt in condition.doubts)


def slow_sentences(condition: Condition) -> list[str]:
    """Return what was found of a pack that may be charged only slowly, each rule once, the gravest first, with what follows."""
    return [f"{finding.found} {_slowly(finding)}" for finding in _each_rule_once(condition.slow)]


def _slowly(finding: Finding) -> str:
    return f"{finding.verdict.words}: {_SLOWLY}"


def _each_rule_once(slow: tuple[Finding, ...]) -> tuple[Finding, ...]:
    by_rule = {finding.rule: finding for finding in reversed(slow)}
    return worst_first(tuple(reversed(by_rule.values())))
