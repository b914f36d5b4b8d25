"""What becomes of this pack? Every rule that speaks about it, and the gravest of them.

A finding says what was found, what follows for the pack, and where the rule stands. The verdict is that of the gravest
finding, so a pack that gets worse in one way is never judged better for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

from calc.facts.chemistries import Chemistry
from calc.facts.cited import Cited
from calc.facts.looks import LOOKS, SOUND, Look
from calc.facts.practice import AGED_PERCENT, DOUBLED_RESISTANCE
from calc.figures.quantities import MILLIOHMS, PERCENT, Figure
from calc.figures.units import percent_from_fraction
from calc.physics.acceptance import problems_of_pack_temperature
from calc.physics.readings import TROUBLE


class Verdict(IntEnum):
    """What becomes of a pack, from the best to the worst."""

    FLY = 0
    CHARGE = 1
    BALANCE = 2
    CHARGE_SLOWLY = 3
    READ_AGAIN = 4
    RETIRE = 5
    GET_AWAY = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One rule that speaks about a pack: what was found, what follows, where the rule stands, and the page that helps."""

    verdict: Verdict
    found: str
    rule: Cited | Look
    go_to: str = ""


# With each look that is not sound, what follows from it.
_VERDICTS_OF_LOOKS = {
    "smoking": Verdict.GET_AWAY,
    "shorted": Verdict.READ_AGAIN,
    "crashed": Verdict.READ_AGAIN,
    "rained-on": Verdict.READ_AGAIN,
    "watched": Verdict.CHARGE_SLOWLY,
}


def verdict_of(findings: Sequence[Finding]) -> Verdict:
    """Return the gravest verdict of all findings, or that the pack is fit to fly if nothing was found.

    Args:
        findings: any number.

    Returns:
        The verdict.

    Source: none; no number is involved.

    >>> verdict_of(())
    <Verdict.FLY: 0>
    """
    return max((finding.verdict for finding in findings), default=Verdict.FLY)


def worst_first(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return findings from the gravest to the mildest, those of one verdict in the order in which they came.

    Args:
        findings: any number.

    Returns:
        The same findings.

    Source: none; no number is involved.

    >>> worst_first(())
    ()
    """
    return tuple(sorted(findings, key=lambda finding: -finding.verdict))


def findings_of_look(look: str) -> list[Finding]:
    """Return what follows from what is seen, smelt or known.

    Args:
        look: a key of `LOOKS`, or that nothing was found.

    Returns:
        One finding, or none.

    Source: `facts.looks`, line by line.

    >>> findings_of_look("swollen")[0].verdict.name
    'RETIRE'
    """
    if look == SOUND:
        return []
    seen = LOOKS[look]
    go_to = f"{TROUBLE}#{seen.section}" if seen.section else ""
    return [Finding(verdict=_VERDICTS_OF_LOOKS.get(look, Verdict.RETIRE), found=f"{seen.means}.", rule=seen, go_to=go_to)]


def findings_of_temperature(pack_degc: float, chemistry: Chemistry) -> list[Finding]:
    """Return what follows from the pack's temperature: the reason not to charge it, seen as a verdict.

    Args:
        pack_degc: the cells' own temperature, °C.
        chemistry: the pack's facts.

    Returns:
        One finding, or none.

    Source: `acceptance.problems_of_pack_temperature`.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> [finding.verdict.name for finding in findings_of_temperature(61, CHEMISTRIES["lipo"])]
    ['GET_AWAY']
    """
    window = chemistry.temperatures
    if pack_degc <= window.charge_least_degc.value:
        rule = window.charge_least_degc
    else:
        rule = window.discharge_most_degc if pack_degc >= window.discharge_most_degc.value else window.charge_most_degc
    return [
        Finding(
            verdict=Verdict.GET_AWAY if problem.go_to else Verdict.READ_AGAIN,
            found=problem.sentence,
            rule=rule,
            go_to=f"{TROUBLE}#hot-pack" if problem.go_to else "",
        )
        for problem in problems_of_pack_temperature(pack_degc, chemistry)
    ]


def findings_of_wear(
    *, capacity_mah: float, measured_capacity_mah: float | None, resistance_mohm: float | None, new_resistance_mohm: float | None
) -> list[Finding]:
    """Return what follows from capacity and resistance, held against the label and against the pack when it was new.

        Q measured / Q label <= 80 %,    R / R new >= 2

    Args:
        capacity_mah: capacity on the label, mAh, above 0.
        measured_capacity_mah: what it took in last from empty, mAh; None if it was not measured.
        resistance_mohm: resistance of a cell now, mΩ; None if it was not read.
        new_resistance_mohm: the same when the pack was new, mΩ, above 0; None if it is not known.

    Returns:
        A finding for each of the two ends of life that is reached.

    Source: `AGED_PERCENT` and `DOUBLED_RESISTANCE`.

    >>> worn = findings_of_wear(capacity_mah=5000, measured_capacity_mah=4000, resistance_mohm=None, new_resistance_mohm=None)
    >>> worn[0].verdict.name
    'RETIRE'
    """
    found = []
    if measured_capacity_mah is not None:
        held = percent_from_fraction(measured_capacity_mah / capacity_mah)
        if held <= AGED_PERCENT.value:
            says = f"It holds {Figure(held, PERCENT)} of its label: {Figure(AGED_PERCENT.value, PERCENT)} is the end."
            found.append(Finding(verdict=Verdict.RETIRE, found=says, rule=AGED_PERCENT))
    if resistance_mohm is not None and new_resistance_mohm is not None:
        times = resistance_mohm / new_resistance_mohm
        if times >= DOUBLED_RESISTANCE.value:
            says = f"A cell has {Figure(resistance_mohm, MILLIOHMS)}, and had {Figure(new_resistance_mohm, MILLIOHMS)} when it was new."
            found.append(Finding(verdict=Verdict.RETIRE, found=says, rule=DOUBLED_RESISTANCE))
    return found
