"""Packs that are joined side by side: the current that flows at once, and how it dies away as they come level.

Each pack is a voltage behind a resistance. The fuller ones drive a current into the others that only the resistances limit; it
fades as the packs come level. The main leads alone are joined here, so one current flows through all cells of a pack, and cells
that differ stay apart: what then flows between them is for `balance_network`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from typing import NamedTuple

from calc.figures.units import min_from_h
from calc.physics.cell.cells import Cell, voltage_and_slope

# Steps for one time constant; the run is over once the current has fallen to this share of its start.
_STEPS_PER_TIME_CONSTANT = 20
_SETTLED_SHARE = 0.05
_STEPS_MOST = 600
# Packs that rest alike are apart by the last bits of their voltages alone.
_NO_CURRENT_A = 1e-9


class Branch(NamedTuple):
    """A pack as the others see it: its resting voltage, V, and the resistance on the way to the joint, Ω."""

    rest_v: float
    resistance_ohm: float


def joint_v(branches: Sequence[Branch]) -> float:
    """Return the voltage at which packs meet when they are joined side by side, V.

        V = sum(U / R) / sum(1 / R)        U in V, R in ohm, above 0

    Source: Kirchhoff's rules, as Millman's theorem.

    >>> joint_v([Branch(28, 4), Branch(0, 2), Branch(7, 1)])
    8.0
    """
    meeting_v = fsum(one.rest_v / one.resistance_ohm for one in branches) / fsum(1 / one.resistance_ohm for one in branches)
    # Rounded, the mean of packs that rest alike may lie a hair outside them, and then none of them would take a current.
    resting_v = [one.rest_v for one in branches]
    return min(max(meeting_v, min(resting_v)), max(resting_v))


def currents_into_a(branches: Sequence[Branch]) -> list[float]:
    """Return the current that flows into each pack at the moment of joining, A, below 0 for a pack that gives; together they are 0.

        I = (V - U) / R        V the voltage of the joint

    Source: Kirchhoff's rules.

    >>> currents_into_a([Branch(28, 4), Branch(0, 2), Branch(7, 1)])
    [-5.0, 4.0, 1.0]
    """
    meeting_v = joint_v(branches)
    return [(meeting_v - one.rest_v) / one.resistance_ohm for one in branches]


def resistance_to_others_ohm(resistances_ohm: Sequence[float], place: int) -> float:
    """Return the resistance between one pack's voltage and that of all the others, joined side by side, Ω.

        R = R_k + 1 / sum(1 / R_j), j all but k        k the place of the one, from 0; two packs or more

    Source: Kirchhoff's rules.

    >>> resistance_to_others_ohm([0.02, 0.04, 0.04], 0)
    0.04
    """
    others = fsum(1 / ohm for other, ohm in enumerate(resistances_ohm) if other != place)
    return resistances_ohm[place] + 1 / others


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedPack:
    """A pack to be joined: what its cells are like, how full each is from the minus on, and its leads' resistance."""

    cell: Cell
    start_states: tuple[float, ...]
    lead_ohm: float = 0.0

    @property
    def cell_ohm(self) -> float:
        """One cell, Ω."""
        return self.cell.resistance_ohm_ah / self.cell.capacity_ah

    @property
    def resistance_ohm(self) -> float:
        """Cells and leads together, Ω."""
        return len(self.start_states) * self.cell_ohm + self.lead_ohm


class Levelling(NamedTuple):
    """A moment after joining: the voltage of the joint; for each pack the current into it, what it has taken, and its resting cells."""

    time_min: float
    joint_v: float
    currents_a: tuple[float, ...]
    taken_ah: tuple[float, ...]
    cell_v: tuple[tuple[float, ...], ...]


def level_out(packs: Sequence[JoinedPack]) -> tuple[Levelling, ...]:
    """Return how joined packs come level, with nothing else connected, until the current is a twentieth of its start.

        I_k = (V - U_k) / (R_k + h k_k / 2),  V so that sum(I_k) = 0,  dq_k = I_k h
        U = sum of the cells in V, R in ohm, h the step in h, k = sum of dU/dq of the cells in V per Ah

    Each step takes the current of its middle, with the resting curve as a straight line, so no charge is lost at any step. The packs
    are two or more of one cell count; where no current flows, the moment of joining is the only one.

    Source: circuit theory; exact for two packs with straight curves as the step goes to 0.

    >>> cell = Cell(curve=(3.6, 4.2), capacity_ah=5.0, resistance_ohm_ah=0.02)
    >>> run = level_out([JoinedPack(cell=cell, start_states=(state,) * 4) for state in (0.4, 0.6)])
    >>> round(run[0].currents_a[0], 6), round(sum(run[-1].taken_ah), 6)
    (15.0, 0.0)
    """
    taken_ah = [0.0] * len(packs)
    run: list[Levelling] = []
    time_h = settled_a = 0.0
    for _ in range(_STEPS_MOST + 1):
        cells = [_rests_at(pack, taken) for pack, taken in zip(packs, taken_ah, strict=True)]
        rests_v = [fsum(cell_v for cell_v, _ in one) for one in cells]
        branches = [Branch(rest_v, pack.resistance_ohm) for rest_v, pack in zip(rests_v, packs, strict=True)]
        run.append(
            Levelling(
                min_from_h(time_h),
                joint_v(branches),
                tuple(currents_into_a(branches)),
                tuple(taken_ah),
                tuple(tuple(cell_v for cell_v, _ in one) for one in cells),
            )
        )
        highest_a = max(map(abs, run[-1].currents_a))
        settled_a = settled_a or max(_NO_CURRENT_A, _SETTLED_SHARE * highest_a)
        if highest_a <= settled_a:
            break
        rises = [fsum(rise for _, rise in one) for one in cells]
        step_h = fsum(pack.resistance_ohm / rise for pack, rise in zip(packs, rises, strict=True)) / len(packs) / _STEPS_PER_TIME_CONSTANT
        middle = [Branch(rest_v, pack.resistance_ohm + step_h * rise / 2) for rest_v, pack, rise in zip(rests_v, packs, rises, strict=True)]
        taken_ah = [taken + into_a * step_h for taken, into_a in zip(taken_ah, currents_into_a(middle), strict=True)]
        time_h += step_h
    return tuple(run)


def _rests_at(pack: JoinedPack, taken_ah: float) -> list[tuple[float, float]]:
    """Where each cell rests once the pack has taken a charge: V, and the rise in V for each Ah more."""
    capacity_ah = pack.cell.capacity_ah
    states = [start + taken_ah / capacity_ah for start in pack.start_states]
    return [(cell_v, slope_v / capacity_ah) for cell_v, slope_v in (voltage_and_slope(pack.cell.curve, state) for state in states)]
