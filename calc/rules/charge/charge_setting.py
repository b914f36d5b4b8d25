"""The current to dial in: the lowest ceiling, on a step of the charger, and what to do where not even a step is left."""

from __future__ import annotations

from calc.figures.limits import Limit, lowest
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.refusals import Problem, Refused
from calc.physics.pack.packs import current_at_rate_a
from calc.rules.charge.charging_limits import (
    ASKED,
    BATTERY_CURRENT,
    CHARGER_CURRENT,
    CHARGER_POWER,
    FITTED_FUSE,
    LEAD_DROP,
    LEAD_FUSE,
    LOWEST_INPUT,
    PACK_LIMITS,
    SUPPLY_CURRENT,
)
from calc.rules.pack.pack_limits import COLD_AIR, COLD_PACK

# What raises a ceiling that leaves not even the charger's smallest step.
_RAISED_BY = {
    CHARGER_POWER: "Use a charger with more power",
    CHARGER_CURRENT: "Use a charger with a finer step",
    SUPPLY_CURRENT: "Use a supply that gives more current",
    BATTERY_CURRENT: "Use a larger battery",
    LOWEST_INPUT: "Use a shorter or thicker lead, or a supply of a higher voltage",
    LEAD_DROP: "Use a shorter or thicker lead",
    LEAD_FUSE: "Use a thicker lead",
    FITTED_FUSE: "Use a thicker lead with a larger fuse",
    COLD_PACK: "Warm the pack through first",
    COLD_AIR: "Charge in a warmer place",
}


def charge_setting_a(*, pack: PackEntries, charger: ChargerEntries, limits: list[Limit]) -> tuple[float, Limit]:
    """Return the current to dial in and the limit that sets it: the lowest ceiling, rounded down to the charger's step.

        I = step x floor(lowest ceiling / step)

    Args:
        pack: the pack's entries.
        charger: the charger's entries.
        limits: ceilings in A at the pack.

    Returns:
        The current, A, and the limit that binds.

    Refuses:
        A ceiling below the charger's smallest step: there is no current to dial in.

    Source: arithmetic.

    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=20,
    ...                    label_charge_rate_c=1)
    >>> charger = ChargerEntries(charger_current_a=5, charger_power_w=50, charger_cells=6, balance_ports=1, port_cells=6,
    ...                          current_step_a=0.1, capacity_step_mah=100, charger_input_least_v=11,
    ...                          efficiency_percent=85)
    >>> charge_setting_a(pack=pack, charger=charger, limits=[Limit(5.0, "the charger"), Limit(2.65, "the label")])
    (2.6, Limit(ceiling=2.65, because='the label'))
    """
    binding = lowest(limits)
    current_a = down_to_step(binding.ceiling, charger.current_step_a)
    if current_a > 0:
        return current_a, binding
    if not binding.because.startswith(PACK_LIMITS):
        act = next((act for because, act in _RAISED_BY.items() if binding.because.startswith(because)), "Use a charger with a finer step")
        raise Refused(Problem("", worded("Less than the charger's smallest step of current is left by {}. {}.", binding.because, act)))
    label_a = current_at_rate_a(pack.effective_capacity_mah, pack.label_charge_rate_c)
    if binding.because.startswith(ASKED) and label_a >= charger.current_step_a:
        sentence = "The rate you asked for is less than the charger's smallest step of current: ask for a higher one."
        raise Refused(Problem("", sentence))
    sentence = "This pack is too small for the charger's smallest step of current: use a charger with a finer one."
    raise Refused(Problem("capacity_mah", sentence))
