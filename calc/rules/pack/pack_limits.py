"""The ceilings on a charge current that are the pack's own: its label, its condition, and the cold."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.practice import COLD_RATE_C, COLD_SHARE
from calc.figures.limits import Limit
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.figures.sentences import worded
from calc.inputs.equipment import LabelledPack
from calc.physics.pack.packs import current_at_rate_a
from calc.rules.pack.condition import condition_of
from calc.rules.pack.readings import clear_reading

LABEL = "the charge rate on the label"
COLD_PACK = "the cold pack"
COLD_AIR = "the cold air"


def pack_current_limits(pack: LabelledPack, chemistry: Chemistry) -> list[Limit]:
    """Return the ceilings on a charge current that are the pack's own, whatever charges it, in A: the label's first.

        I = C x Q        Q the capacity on the label, or the lower one that was measured

    Then half of 1C where it must be balanced or charged slowly, and in the cold half the current. Cold air cools a warm pack while it
    charges, so the colder of the two counts. Of a pack of which not all has been read each of these counts as soon as it is known.

    Source: the label; `SLOW_RATE_C` for the condition; JEITA and BAJ 2007 for the cold.
    """
    limits = [Limit(current_at_rate_a(pack.effective_capacity_mah, pack.label_charge_rate_c), of_this_pack(LABEL, pack))]
    reading = None if pack.resting_v is None else clear_reading(pack, chemistry)
    limits += condition_of(pack, chemistry, reading).charge_limits(pack.effective_capacity_mah)
    slow_below = Figure(chemistry.temperatures.charge_slow_below_degc.value, DEGREES_CELSIUS, "up")
    if is_cold(pack, chemistry):
        cold_rate_c = min(COLD_RATE_C.value, COLD_SHARE.value * pack.label_charge_rate_c)
        cold = worded(
            "{}: half the current up to {}", COLD_PACK if _is_up_to(pack.coolest_degc, slow_below.value) else COLD_AIR, slow_below
        )
        limits.append(Limit(current_at_rate_a(pack.effective_capacity_mah, cold_rate_c), cold))
    return limits


def is_cold(pack: LabelledPack, chemistry: Chemistry) -> bool:
    """Return whether the pack, or the air that it is charged in, is so cold that the current is halved. At the bound it is.

    What nobody has measured is not known to be cold.

    Source: JEITA and BAJ 2007.

    >>> from dataclasses import replace
    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> pack = LabelledPack(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=12, label_charge_rate_c=1)
    >>> is_cold(pack, CHEMISTRIES["lipo"]), is_cold(replace(pack, air_degc=1), CHEMISTRIES["lipo"])
    (False, True)
    """
    slow_below_degc = chemistry.temperatures.charge_slow_below_degc.value
    return _is_up_to(pack.coolest_degc, slow_below_degc) or _is_up_to(pack.air_degc, slow_below_degc)


def _is_up_to(degc: float | None, bound_degc: float) -> bool:
    return degc is not None and degc <= bound_degc


def of_this_pack(because: str, pack: LabelledPack) -> str:
    """Return what sets a ceiling by the C rate, with more words for an aged pack, whose rate counts from less than the label.

    >>> aged = LabelledPack(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=20, label_charge_rate_c=1,
    ...                     measured_capacity_mah=2200)
    >>> of_this_pack(LABEL, aged)
    'the charge rate on the label, of the capacity last measured'
    """
    return f"{because}, of the capacity last measured" if pack.effective_capacity_mah < pack.capacity_mah else because
