"""What one charge is held to, per Ah of capacity, and where that lets it begin."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from calc.physics.cell.cells import Cell, voltage_and_slope
from calc.physics.cell.runs import Now


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeTerms:
    """The limits on one charge: `rate_c` and `taper_c` in C, `power` in W per Ah or None, `full_v` in V.

    At `power_v` the set current asks for all of the power, or it is `full_v`. `target` is a state of charge, or infinite.
    """

    cell: Cell
    rate_c: float
    power: float | None
    power_v: float
    full_v: float
    taper_c: float
    target: float

    def start(self, state: float) -> Now:
        """Return the cell at the moment that the charger switches on.

        Args:
            state: state of charge, a fraction.

        Returns:
            The first moment of a run; with no current if the cell is as full as the charger can make it.

        Source: circuit theory.

        >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
        >>> terms = ChargeTerms(cell=straight, rate_c=1.0, power=None, power_v=4.2, full_v=4.2, taper_c=0.1, target=1.0)
        >>> round(terms.start(0.95).rate_c, 3)
        0.3
        """
        resting_v = voltage_and_slope(self.cell.curve, state)[0]
        resistance = self.cell.resistance_ohm_ah
        rate_c = min(self.rate_c, self.rate_at_power(resting_v))
        if resting_v + rate_c * resistance < self.full_v:
            return Now(0.0, state, rate_c, resting_v + rate_c * resistance)
        return Now(0.0, state, max((self.full_v - resting_v) / resistance, 0.0), max(self.full_v, resting_v))

    def rate_at_power(self, behind_v: float) -> float:
        """Return the current at which the power flows into the voltage behind the resistance.

            p = c (U + c r)        p in W per Ah, c in C, U in V, r in ohm Ah

        Args:
            behind_v: voltage behind the resistance, V.

        Returns:
            The current, C; the set current where there is no power to bind.

        Source: circuit theory.

        >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
        >>> terms = ChargeTerms(cell=straight, rate_c=5.0, power=4.1, power_v=0.82, full_v=4.2, taper_c=0.1, target=1.0)
        >>> round(terms.rate_at_power(4.0), 6)
        1.0
        """
        if self.power is None:
            return self.rate_c
        return rate_at_power_c(self.power, behind_v, self.cell.resistance_ohm_ah)


def rate_at_power_c(power_w_per_ah: float, behind_v: float, resistance_ohm_ah: float) -> float:
    """Return the current at which a power flows into a voltage behind a resistance.

        p = c (U + c r)        p in W per Ah, c in C, U in V, r in ohm Ah

    Args:
        power_w_per_ah: power for one cell over its capacity, W per Ah, above 0.
        behind_v: voltage behind the resistance, V, above 0.
        resistance_ohm_ah: resistance of a cell times its capacity, ohm Ah, 0 or more.

    Returns:
        The current, C.

    Source: circuit theory.

    >>> round(rate_at_power_c(4.1, 4.0, 0.1), 6)
    1.0
    """
    root = sqrt(behind_v * behind_v + 4 * power_w_per_ah * resistance_ohm_ah)
    return power_w_per_ah / ((behind_v + root) / 2)
