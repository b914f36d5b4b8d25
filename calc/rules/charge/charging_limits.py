"""Every ceiling on a charge current, each with what sets it: the pack, the charger, the supply, its lead, the cold."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.lead_acid import LARGEST_RATE_C
from calc.figures.limits import Limit
from calc.figures.units import fraction_from_percent
from calc.inputs.equipment import ChargerEntries, LabelledPack
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import current_at_rate_a
from calc.physics.supply.fuses import fuse_carries_a, fuse_in_lead_a
from calc.physics.supply.leads import allowed_current_a, largest_drop_v
from calc.physics.supply.source import largest_current_a, power_at_current_w, source_resistance_ohm, source_v, supply_lead_ohm
from calc.rules.pack.condition import SLOWLY
from calc.rules.pack.pack_limits import LABEL, of_this_pack, pack_current_limits

# The ceilings that belong to the pack itself: where one of them leaves no step, the charger is too coarse for it.
ASKED = "the rate you asked for"
PACK_LIMITS = (LABEL, ASKED, SLOWLY)
# The one power that the charger holds by itself.
CHARGER_POWER = "the charger's highest power"
CHARGER_CURRENT = "the charger's highest current"
SUPPLY_CURRENT = "the supply's highest current"
BATTERY_CURRENT = "the battery: half its capacity in an hour at most"
LOWEST_INPUT = "the charger's lowest input voltage, behind this supply and lead"
LEAD_DROP = "the supply lead: it would lose more than 10 % of the voltage"
LEAD_FUSE = "the supply lead: four fifths of the largest fuse that protects it"
FITTED_FUSE = "the fuse in the supply lead: four fifths of its rating, hour after hour"


def power_into_pack_w(supply: SupplyEntries, *, supply_current_a: float, efficiency_percent: float) -> float:
    """Return the power that reaches the pack when the supply gives a current.

        P = eta (U - I R) I, with I at most U / 2R, where the power is highest

    >>> supply = SupplyEntries(supply_kind="mains", supply_v=12.0, supply_current_a=20, lead_length_m=1, lead_area_mm2=4)
    >>> round(power_into_pack_w(supply, supply_current_a=10, efficiency_percent=85), 1)
    101.2
    """
    resistance_ohm = source_resistance_ohm(supply)
    current_a = min(supply_current_a, source_v(supply) / (2 * resistance_ohm))
    return fraction_from_percent(efficiency_percent) * power_at_current_w(source_v(supply), resistance_ohm, current_a)


def supply_limits(supply: SupplyEntries, charger_input_least_v: float) -> list[Limit]:
    """Return the ceilings on the current from the supply, A: the supply itself, its lead, and the fuse that is or belongs in it.

    Source: 33 CFR 183.425 and ABYC E-11 for the lead, NEC 210.20(A) for the fuse; half the capacity per hour is common
        practice, no source.
    """
    if supply.is_lead_acid:
        own = Limit(LARGEST_RATE_C.value * supply.battery_ah, BATTERY_CURRENT)
    else:
        own = Limit(supply.supply_current_a, SUPPLY_CURRENT)
    return [
        own,
        Limit(largest_current_a(source_v(supply), source_resistance_ohm(supply), charger_input_least_v), LOWEST_INPUT),
        Limit(largest_drop_v(source_v(supply)) / supply_lead_ohm(supply), LEAD_DROP),
        _fuse_limit(supply),
    ]


def _fuse_limit(supply: SupplyEntries) -> Limit:
    """A lead has a fuse, or gets one: what that carries is less than the wire may, so the wire itself never binds."""
    fuse_a = fuse_in_lead_a(allowed_current_a(supply.lead_area_mm2), supply.lead_fuse_a)
    return Limit(fuse_carries_a(fuse_a), FITTED_FUSE if fuse_a == supply.lead_fuse_a else LEAD_FUSE)


def power_limits(*, charger: ChargerEntries, supply: SupplyEntries | None) -> list[Limit]:
    """Return the ceilings on the power into the pack, W: the charger's own, and what the supply and its lead let through, if known."""
    own = [Limit(charger.charger_power_w, CHARGER_POWER)]
    if supply is None:
        return own
    return own + [
        Limit(power_into_pack_w(supply, supply_current_a=limit.ceiling, efficiency_percent=charger.efficiency_percent), limit.because)
        for limit in supply_limits(supply, charger.charger_input_least_v)
    ]


def hard_current_limits(*, pack: LabelledPack, charger: ChargerEntries | None, chemistry: Chemistry) -> list[Limit]:
    """Return the ceilings in A that no power limit stands in for: the label, the charger's current, the pack's condition, the cold.
    What is not known yet sets none.

        I = C x Q        Q the capacity on the label, or the lower one that was measured: a C rate is for the charge that a cell holds

    Source: the labels; JEITA and BAJ 2007 for the cold.
    """
    by_label, *of_its_state = pack_current_limits(pack, chemistry)
    by_charger = [Limit(charger.charger_current_a, CHARGER_CURRENT)] if charger else []
    return [by_label, *by_charger, *of_its_state]


def current_limits(
    *, pack: LabelledPack, charger: ChargerEntries | None, supply: SupplyEntries | None, chemistry: Chemistry, requested_rate_c: float
) -> list[Limit]:
    """Return every ceiling on the charge current, A. A power counts at the pack's full voltage, where it binds hardest.

    What is not known yet sets none: one more thing that is known never raises the lowest. A supply counts only through a charger,
    whose efficiency and lowest input it depends on.

        I = C x Q        I = P / (n x U_full)

    Source: the labels; JEITA and BAJ 2007 for the cold.
    """
    full_pack_v = pack.cells * chemistry.full_cell_v.value
    return [
        *hard_current_limits(pack=pack, charger=charger, chemistry=chemistry),
        requested_rate_limit(pack, requested_rate_c),
        *(Limit(limit.ceiling / full_pack_v, limit.because) for limit in (power_limits(charger=charger, supply=supply) if charger else ())),
    ]


def requested_rate_limit(pack: LabelledPack, requested_rate_c: float) -> Limit:
    """Return the ceiling in A that the pilot set: the rate asked for, of what the pack holds."""
    return Limit(current_at_rate_a(pack.effective_capacity_mah, requested_rate_c), of_this_pack(ASKED, pack))
