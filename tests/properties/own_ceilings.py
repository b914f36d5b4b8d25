"""The ceilings on a charge current, worked out a second time from the entries, by the test's own numbers.

No formula of calc is imported here. A constant or a formula that slips there is then above what stands here, and is seen.
"""

from __future__ import annotations

from tests.properties.own_condition import FULL_CELL_V, condition_ceilings_a, effective_ah

# 33 CFR 183.425 table 5, 60 °C insulation: mm² and amperes. One part in a hundred below an area is the same wire.
_ALLOWED_A = ((13.30, 80), (8.366, 55), (5.261, 40), (3.309, 25), (2.081, 20), (1.309, 15), (0.823, 10))
# 10 A on 0.823 mm² is 12.15 A/mm², and 12 is what a thinner wire gets.
_THIN_A_PER_MM2 = 12
_BLADE_FUSES_A = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40)
# IEC 60028 for copper, and IEC 60228 class 5 for flexible strands.
_OHM_MM2_PER_M = 0.017241 * 1.16
# From memory: 5 mΩ at 100 Ah.
_BATTERY_OHM_AH = 0.5


def area_mm2_of(entries: dict[str, str]) -> float:
    return float(entries["lead_area_mm2"].removesuffix(" mm²"))


def lead_ohm(entries: dict[str, str]) -> float:
    wires = 2 * float(entries["lead_length_m"]) * _OHM_MM2_PER_M / area_mm2_of(entries)
    return wires + float(entries.get("connector_mohm", 0)) / 1000


def lead_allows_a(entries: dict[str, str]) -> float:
    area_mm2 = area_mm2_of(entries)
    return next((amperes for area, amperes in _ALLOWED_A if area_mm2 >= 0.99 * area), _THIN_A_PER_MM2 * area_mm2)


def fuse_a(entries: dict[str, str]) -> float:
    """The fuse in the lead, if it protects the wire; else the largest blade fuse that does (ISO 8820-3; 1.25 by NEC 210.20(A))."""
    wire_a = lead_allows_a(entries)
    fitted_a = float(entries.get("lead_fuse_a") or "inf")
    return fitted_a if fitted_a <= wire_a else max(rating for rating in _BLADE_FUSES_A if rating <= wire_a)


def source_v(entries: dict[str, str]) -> float:
    return float(entries["supply_v"] if entries["supply_kind"] == "mains" else entries["battery_resting_v"])


def source_ohm(entries: dict[str, str]) -> float:
    inside = 0.0 if entries["supply_kind"] == "mains" else _BATTERY_OHM_AH / float(entries["battery_ah"])
    return lead_ohm(entries) + inside


def source_gives_a(entries: dict[str, str]) -> float:
    """Half of a battery's capacity in an hour (common practice, no source), or what the supply's label says."""
    return float(entries["supply_current_a"]) if entries["supply_kind"] == "mains" else float(entries["battery_ah"]) / 2


def full_pack_v(entries: dict[str, str]) -> float:
    return int(entries["cells"]) * FULL_CELL_V[entries["chemistry"]]


def drawn_a(entries: dict[str, str], charge_current_a: float) -> float:
    """What the supply gives at the full voltage: the current at which source, lead and charger balance, by bisection."""
    needed_w = full_pack_v(entries) * charge_current_a / (float(entries["efficiency_percent"]) / 100)
    low, high = 0.0, source_v(entries) / (2 * source_ohm(entries))
    for _ in range(100):
        middle = (low + high) / 2
        given_w = (source_v(entries) - middle * source_ohm(entries)) * middle
        low, high = (low, middle) if given_w >= needed_w else (middle, high)
    return high


def pack_side_ceilings_a(entries: dict[str, str]) -> dict[str, float]:
    """The ceilings that need no supply: label, wish, charger, condition, cold."""
    # An aged pack holds less than its label, and 1C of it is less.
    capacity_ah = effective_ah(entries)
    label_a = float(entries["label_charge_rate_c"]) * capacity_ah
    ceilings = {
        "the label": label_a,
        "the rate asked for": float(entries["requested_rate_c"]) * capacity_ah,
        "the charger's current": float(entries["charger_current_a"]),
        "the charger's power": float(entries["charger_power_w"]) / full_pack_v(entries),
    }
    return ceilings | condition_ceilings_a(entries)


def supply_side_ceilings_a(entries: dict[str, str]) -> dict[str, float]:
    """Ceilings on what the supply gives: its own, the wire's, the fuse's, a tenth of the voltage lost, the charger's lowest input."""
    open_v = source_v(entries)
    return {
        "the supply": source_gives_a(entries),
        "the fuse": fuse_a(entries) / 1.25,
        "a tenth of the voltage": 0.1 * open_v / lead_ohm(entries),
        "the charger's lowest input": (open_v - float(entries["charger_input_least_v"])) / source_ohm(entries),
    }
