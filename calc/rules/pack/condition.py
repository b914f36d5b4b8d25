"""The one condition of a pack, worked out cell by cell: what every calculator asks before it does anything with it.

Its look, its warmth and that of the air, each cell's voltage, how far the cells are apart, their resistances, and how worn
they are. The gravest finding gives the verdict and its reason, so that every page says the same of the same pack.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.facts.looks import LOOKS, SOUND
from calc.facts.practice import AGED_PERCENT, AIR_LEAST_DEGC, AIR_MOST_DEGC, DOUBLED_RESISTANCE, SLOW_RATE_C
from calc.figures.limits import Limit
from calc.figures.quantities import MILLIOHMS, PERCENT, Figure
from calc.figures.units import fraction_from_percent, percent_from_fraction
from calc.inputs.equipment import RESTED
from calc.inputs.known_pack import WithCondition
from calc.inputs.refusals import Problem, within_sentence
from calc.physics.pack.packs import current_at_rate_a
from calc.rules.pack.cell_condition import findings_of_resistances, findings_of_voltages
from calc.rules.pack.findings import Act, Finding, Verdict, verdict_of, worst_first
from calc.rules.pack.label_doubts import Doubt, doubts_of
from calc.rules.pack.readings import TROUBLE, Reading

# What the reason begins with where the state of a pack, and not its label, holds the current down.
SLOWLY = "half of 1C, since"
NOTHING_FOUND = "nothing wrong was found"
# A quotient of two typed numbers may be off in its last bit: exactly 80 % counts as 80 %.
_ON_THE_BOUND = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """Everything that was found about a pack, the gravest first. `each_cell` and `looked_over` say what was asked of it at
    all, and `doubts` what speaks for another label than was entered.
    """

    findings: tuple[Finding, ...]
    each_cell: bool
    looked_over: bool
    doubts: tuple[Doubt, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """What becomes of the pack."""
        return verdict_of(self.findings)

    @property
    def words(self) -> str:
        """The verdict as every page says it, or what to do first where it would name another thing."""
        return self.findings[0].words if self.findings else self.verdict.words

    @property
    def reason(self) -> str:
        """What the gravest finding says, to go on in a sentence."""
        return self.findings[0].found.removesuffix(".") if self.findings else NOTHING_FOUND

    @property
    def slow(self) -> tuple[Finding, ...]:
        """The findings with which a pack may be charged, but slowly."""
        return tuple(one for one in self.findings if one.verdict in (Verdict.BALANCE, Verdict.CHARGE_SLOWLY))

    def problems_of(self, act: Act) -> list[Problem]:
        """Return every reason not to do this with the pack, the gravest first.

        The warmth is held against the window of a charge. A discharge and a flight have windows of their own, which are for
        the rules of those to say.
        """
        by_charge = act is Act.CHARGE
        return [one.problem(act) for one in self.findings if one.forbids(act) and (by_charge or one.field not in _DEGREES)]

    def charge_limits(self, effective_capacity_mah: float) -> list[Limit]:
        """Return the ceiling in A that follows for a charge, if one does: I = 0.5 x Q of what the pack holds.

        >>> seen = worst_first(findings_of_look("watched"))
        >>> [limit.ceiling for limit in Condition(findings=seen, each_cell=True, looked_over=True).charge_limits(2000)]
        [1.0]
        """
        if not self.slow:
            return []
        because = f"{SLOWLY} {within_sentence(self.slow[0].found).removesuffix('.')}"
        return [Limit(current_at_rate_a(effective_capacity_mah, SLOW_RATE_C.value), because)]


_DEGREES = ("pack_degc", "air_degc")


def condition_of(pack: WithCondition, chemistry: Chemistry | None, reading: Reading | None) -> Condition:
    """Return the condition of a pack by everything that was entered about it.

    What the page does not ask, and what was left out, is not known; a pack of which nobody said how it was read has rested, as the
    entry asks. `chemistry` is None for a pack whose look says that it must not be touched, `reading` where none is asked or clear.

    >>> from calc.inputs.equipment import PackEntries
    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2200, resting_v=(3.8, 3.8, 3.5), pack_degc=20, label_charge_rate_c=10)
    >>> dropped = condition_of(pack, CHEMISTRIES["lipo"], Reading(pack_v=11.1, cell_v=pack.resting_v, each_cell=True))
    >>> dropped.verdict.words, dropped.reason[:23]
    ('Take it out of use', 'Cell 3 has dropped away')
    """
    found = findings_of_look(pack.look or SOUND)
    if chemistry and pack.coolest_degc is not None and pack.warmest_degc is not None:
        for pack_degc in dict.fromkeys((pack.coolest_degc, pack.warmest_degc)):
            by_warmth = findings_of_temperature(pack_degc=pack_degc, air_degc=pack.air_degc, chemistry=chemistry)
            found += [one for one in by_warmth if one not in found]
    doubts: tuple[Doubt, ...] = ()
    if chemistry and reading and pack.chemistry and pack.cells:
        read_when = pack.read_when or RESTED
        found += findings_of_voltages(reading, chemistry, chemistry_key=pack.chemistry, read_when=read_when)
        doubts = doubts_of(pack.chemistry, pack.cells, reading) if read_when == RESTED else ()
    found += findings_of_resistances(pack.cell_resistances_mohm or ())
    found += findings_of_wear(pack)
    return Condition(
        findings=worst_first(found), each_cell=reading is None or reading.each_cell, looked_over=pack.look is not None, doubts=doubts
    )


# With each look that is not sound, what follows from it.
_VERDICTS_OF_LOOKS = {
    "smoking": Verdict.GET_AWAY,
    "shorted": Verdict.READ_AGAIN,
    "crashed": Verdict.READ_AGAIN,
    "rained-on": Verdict.READ_AGAIN,
    "watched": Verdict.CHARGE_SLOWLY,
}


def findings_of_look(look: str) -> list[Finding]:
    """Return what follows from what is seen, smelt or known: one finding, or none.

    >>> findings_of_look("swollen")[0].verdict.name
    'RETIRE'
    """
    if look == SOUND:
        return []
    seen = LOOKS[look]
    go_to = f"{TROUBLE}#{seen.section}" if seen.section else ""
    verdict, act = _VERDICTS_OF_LOOKS.get(look, Verdict.RETIRE), "Let it dry first" if look == "rained-on" else ""
    return [Finding(verdict=verdict, found=f"{seen.means}.", rule=seen, field="look", go_to=go_to, act=act)]


def findings_of_temperature(*, pack_degc: float, air_degc: float | None, chemistry: Chemistry) -> list[Finding]:
    """Return what follows from the warmth: the pack's own first, then that of the air. At a bound the stricter side holds.

        t_least < t_pack < t_most,    0 <= t_air <= 40

    Air that was not measured is taken as the pack's: one that has lain in hot air is as warm as the air, and one that comes warm from a
    flight cools first in any case. A pack that is hot beyond what a discharge allows is left alone.

    Source: JEITA and BAJ 2007 and IEC 62133-2 for the cell; NFPA for the air.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> found = [findings_of_temperature(pack_degc=degc, air_degc=20, chemistry=CHEMISTRIES["lipo"]) for degc in (-1, 45, 60)]
    >>> [finding.verdict.name for (finding,) in found]
    ['READ_AGAIN', 'READ_AGAIN', 'GET_AWAY']
    """
    window = chemistry.temperatures
    if pack_degc <= window.charge_least_degc.value:
        cold, act = (
            "The pack is too cold: charging it at freezing point or below ruins the cells.",
            "Warm it through first, indoors or in a pocket with its contacts covered",
        )
        return [Finding(verdict=Verdict.READ_AGAIN, found=cold, rule=window.charge_least_degc, field="pack_degc", act=act)]
    if pack_degc >= window.discharge_most_degc.value:
        hot, rule = "The pack is dangerously hot: do not touch it, and do not plug it in.", window.discharge_most_degc
        return [Finding(verdict=Verdict.GET_AWAY, found=hot, rule=rule, field="pack_degc", go_to=f"{TROUBLE}#hot-pack")]
    if pack_degc >= window.charge_most_degc.value:
        warm, act = "The pack is too warm to charge: the charge itself would warm it further.", "Leave it in the shade until it has cooled"
        return [Finding(verdict=Verdict.READ_AGAIN, found=warm, rule=window.charge_most_degc, field="pack_degc", act=act)]
    return _in_unknown_air(pack_degc) if air_degc is None else _of_air(air_degc)


def _in_unknown_air(pack_degc: float) -> list[Finding]:
    if pack_degc <= AIR_MOST_DEGC.value:
        return []
    warm = "The pack is warm, the charge would warm it further, and nobody has measured the air, which may be as hot."
    act = "Let it cool in the shade, or enter how warm the air is where that is asked"
    return [Finding(verdict=Verdict.ELSEWHERE, found=warm, rule=AIR_MOST_DEGC, field="pack_degc", act=act)]


def _of_air(air_degc: float) -> list[Finding]:
    if air_degc < AIR_LEAST_DEGC.value:
        cold = "The air is below freezing point: charge in a warmer place."
        return [Finding(verdict=Verdict.ELSEWHERE, found=cold, rule=AIR_LEAST_DEGC, field="air_degc")]
    if air_degc > AIR_MOST_DEGC.value:
        hot = "It is too hot here to charge: go to a cooler place, and never charge in a hot vehicle."
        return [Finding(verdict=Verdict.ELSEWHERE, found=hot, rule=AIR_MOST_DEGC, field="air_degc")]
    return []


def findings_of_wear(pack: WithCondition) -> list[Finding]:
    """Return what follows from capacity and resistance, held against the label and against the pack when it was new.

    Q measured / Q label <= 80 %,    R / R new >= 2        R of the worst cell; exactly at the end of life counts
    """
    found = []
    if pack.measured_capacity_mah is not None and pack.capacity_mah is not None:
        held = pack.measured_capacity_mah / pack.capacity_mah
        if held <= fraction_from_percent(AGED_PERCENT.value) + _ON_THE_BOUND:
            aged = Figure(percent_from_fraction(held), PERCENT)
            says = f"It holds {aged} of the capacity on its label, and a pack is worn out at {Figure(AGED_PERCENT.value, PERCENT)}."
            found.append(Finding(verdict=Verdict.RETIRE, found=says, rule=AGED_PERCENT, field="measured_capacity_mah"))
    if pack.highest_resistance_mohm is not None and pack.new_resistance_mohm is not None:
        now_mohm, new_mohm = pack.highest_resistance_mohm, pack.new_resistance_mohm
        if now_mohm / new_mohm >= DOUBLED_RESISTANCE.value - _ON_THE_BOUND:
            says = f"A cell has {Figure(now_mohm, MILLIOHMS)}, and had {Figure(new_mohm, MILLIOHMS)} when it was new."
            found.append(Finding(verdict=Verdict.RETIRE, found=says, rule=DOUBLED_RESISTANCE, field="new_resistance_mohm"))
    return found
