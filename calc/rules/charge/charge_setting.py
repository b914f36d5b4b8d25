"""The current to dial in: the lowest ceiling, on a step of the charger, and what to do where not even a step is left."""

from __future__ import annotations

from calc.figures.limits import Limit, lowest
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.inputs.equipment import LabelledPack
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


def charge_setting_a(*, pack: LabelledPack, current_step_a: float, limits: list[Limit]) -> tuple[float, Limit]:
    """Return the current to dial in, A, and the limit that sets it: the lowest ceiling, rounded down to the charger's step.

    Refuses a ceiling below the charger's smallest step: there is no current to dial in.
    """
    binding = lowest(limits)
    current_a = down_to_step(binding.ceiling, current_step_a)
    if current_a > 0:
        return current_a, binding
    if not binding.because.startswith(PACK_LIMITS):
        act = next((act for because, act in _RAISED_BY.items() if binding.because.startswith(because)), "Use a charger with a finer step")
        pattern = "No current can be dialled in: the limit is below the charger's smallest step ({}). {}."
        raise Refused(Problem("", worded(pattern, binding.because, act)))
    label_a = current_at_rate_a(pack.effective_capacity_mah, pack.label_charge_rate_c)
    if binding.because.startswith(ASKED) and label_a >= current_step_a:
        sentence = "The rate you asked for is less than the charger's smallest step of current: ask for a higher one."
        raise Refused(Problem("", sentence))
    sentence = "This pack is too small for the charger's smallest step of current: use a charger with a finer one."
    raise Refused(Problem("capacity_mah", sentence))
