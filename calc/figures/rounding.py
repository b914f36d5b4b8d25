"""Round to a dial's step, in the direction that is safe.

A ceiling goes down, a capacity setting goes up. Never `value // 0.1`: `1.0 // 0.1` is 9.0, a whole step lost. The steps are
counted in exact decimals instead, and a value within a billionth of a step counts as on it, since 0.1 + 0.2 is not 0.3.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

_NOISE = Decimal("1e-9")


def _steps(value: float, step: float) -> Decimal:
    return Decimal(repr(value)) / Decimal(repr(step))


def down_to_step(value: float, step: float) -> float:
    """Return the highest multiple of the step that is not above the value, in the same unit; 0 if the value is below one step.

    >>> down_to_step(2.65, 0.1), down_to_step(1.0, 0.1)
    (2.6, 1.0)
    """
    whole = (_steps(value, step) + _NOISE).to_integral_value(ROUND_FLOOR)
    return float(whole * Decimal(repr(step)))


def up_to_step(value: float, step: float) -> float:
    """Return the lowest multiple of the step that is not below the value, in the same unit.

    >>> up_to_step(2650, 100), up_to_step(2700, 100)
    (2700.0, 2700.0)
    """
    whole = (_steps(value, step) - _NOISE).to_integral_value(ROUND_CEILING)
    return float(whole * Decimal(repr(step)))
