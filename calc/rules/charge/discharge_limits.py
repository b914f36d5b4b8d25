"""Every ceiling on a discharge through a charger: its current, its power, the pack's label, and what is too cold or too warm."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.practice import AIR_MOST_DEGC
from calc.figures.limits import Limit
from calc.inputs.equipment import DischargingChargerEntries, PackEntries
from calc.inputs.refusals import Problem
from calc.physics.pack.packs import current_at_rate_a
from calc.rules.pack.readings import TROUBLE


def discharge_current_limits(*, pack: PackEntries, charger: DischargingChargerEntries) -> list[Limit]:
    """Return the ceilings on a discharge current, A, but for the charger's power; none where neither charger nor label states one.

    I = C x Q        Q what the pack holds
    """
    limits = []
    if charger.discharge_current_a is not None:
        limits.append(Limit(charger.discharge_current_a, "the charger's highest discharge current"))
    if pack.label_discharge_rate_c is not None:
        ceiling_a = current_at_rate_a(pack.effective_capacity_mah, pack.label_discharge_rate_c)
        limits.append(Limit(ceiling_a, "the discharge rate on the label"))
    return limits


def discharge_power_limit(charger: DischargingChargerEntries) -> Limit | None:
    """Return the most power that the charger can take out of a pack, W, or nothing where its label states none."""
    if charger.discharge_power_w is None:
        return None
    return Limit(charger.discharge_power_w, "the charger's highest discharge power")


def problems_of_discharge_temperature(pack: PackEntries, chemistry: Chemistry) -> list[Problem]:
    """Return why this pack is too cold or too warm to be discharged on a charger, if it is. At a bound the stricter side holds.

        t_least < t_pack < t_most of a charge: a discharge warms the pack further, and its reading needs it at rest

    Source: JEITA and BAJ 2007 and IEC 62133-2 for the cell; NFPA for the air.
    """
    window = chemistry.temperatures
    if pack.coolest_degc <= window.discharge_least_degc.value:
        return [Problem("pack_degc", "The pack is too cold: warm it through first, indoors or in a pocket with its contacts covered.")]
    if pack.warmest_degc >= window.discharge_most_degc.value:
        sentence = "The pack is dangerously hot: do not plug it in. Get away from it, and see what to do."
        return [Problem("pack_degc", sentence, TROUBLE)]
    if pack.warmest_degc >= window.charge_most_degc.value:
        return [Problem("pack_degc", "The pack is too warm: leave it in the shade until it has cooled, then measure it again.")]
    if pack.air_degc is not None and pack.air_degc > AIR_MOST_DEGC.value:
        sentence = "It is too hot here to discharge on a charger: go to a cooler place, and never do it in a hot vehicle."
        return [Problem("air_degc", sentence)]
    return []
