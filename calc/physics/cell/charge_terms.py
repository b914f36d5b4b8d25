"""The limits on one charge, per Ah of capacity, and where it begins within them."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt

from calc.physics.cell.bracketing import root_bracket
from calc.physics.cell.cells import Cell, voltage_and_slope
from calc.physics.cell.runs import Instant

# A state of charge is found to this, in fractions.
_STATE_WIDTH = 1e-12


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

    def start(self, state: float) -> Instant:
        """Return the cell at the moment that the charger switches on, with the state of charge, a fraction, at its surface.

        No current flows if the cell is as full as the charger can make it.

        Source: circuit theory.

        >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
        >>> terms = ChargeTerms(cell=straight, rate_c=1.0, power=None, power_v=4.2, full_v=4.2, taper_c=0.1, target=1.0)
        >>> round(terms.start(0.95).rate_c, 3)
        0.3
        """
        surface = self.surface_at(state)
        resting_v = voltage_and_slope(self.cell.curve, surface)[0]
        resistance = self.cell.resistance_ohm_ah
        rate_c = min(self.rate_c, self.rate_at_power(resting_v))
        if resting_v + rate_c * resistance < self.full_v:
            return Instant(0.0, surface, rate_c, resting_v + rate_c * resistance)
        return Instant(0.0, surface, max((self.full_v - resting_v) / resistance, 0.0), max(self.full_v, resting_v))

    def surface_at(self, state: float) -> float:
        """Return the state of charge, a fraction, at the surface of a cell that charges as fast as it is allowed to.

            u = s + k c(U(u))        u and s fractions, k the lead in h, c in C

        That of the whole may be infinite, for a charge that no state ends; where the cell has no lead the two are the same.

        Source: as `cell_on_charge`.

        >>> slow = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.04, lead_h=0.1)
        >>> terms = ChargeTerms(cell=slow, rate_c=1.0, power=None, power_v=4.2, full_v=4.2, taper_c=0.1, target=1.0)
        >>> round(terms.surface_at(0.5), 6), round(terms.surface_at(0.95), 6)
        (0.6, 0.98)
        """
        lead_h, curve = self.cell.lead_h, self.cell.curve
        if not lead_h or state == inf:
            return state

        def ahead_by(surface: float) -> float:
            return surface - lead_h * self._highest_c(voltage_and_slope(curve, surface)[0]) - state

        furthest = state + lead_h * self._highest_c(voltage_and_slope(curve, state)[0])
        return furthest if ahead_by(furthest) <= 0 else root_bracket(ahead_by, state, furthest, _STATE_WIDTH)[1]

    def _highest_c(self, behind_v: float) -> float:
        """The highest current that no limit forbids."""
        held_c = max((self.full_v - behind_v) / self.cell.resistance_ohm_ah, 0.0)
        return min(self.rate_c, self.rate_at_power(behind_v), held_c)

    def rate_at_power(self, behind_v: float) -> float:
        """Return the current, C, at which the power flows into a voltage behind the resistance; the set one if none binds.

            p = c (U + c r)        p in W per Ah, c in C, U in V, r in ohm Ah

        Source: circuit theory.

        >>> straight = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.1)
        >>> terms = ChargeTerms(cell=straight, rate_c=5.0, power=4.1, power_v=0.82, full_v=4.2, taper_c=0.1, target=1.0)
        >>> round(terms.rate_at_power(4.0), 6)
        1.0
        """
        if self.power is None:
            return self.rate_c
        root = sqrt(behind_v * behind_v + 4 * self.power * self.cell.resistance_ohm_ah)
        return self.power / ((behind_v + root) / 2)
