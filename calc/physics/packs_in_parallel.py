"""Packs side by side: how far apart they may rest when they are joined, and the current that charges them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum

from calc.asking.equipment import ChargerEntries, PackEntries, SupplyEntries
from calc.asking.refusals import Problem
from calc.facts.copper import area_mm2_of_gauge
from calc.facts.practice import (
    BALANCE_WIRE_GAUGE,
    BALANCE_WIRE_LENGTH_M,
    JOIN_DIFFERENCE_CELL_V,
)
from calc.facts.resting_voltages import RESTING_TABLES
from calc.figures.limits import Limit
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.physics.cells import Cell, edge_curves, state_at
from calc.physics.charging_limits import ASKED, power_limits
from calc.physics.joined_packs import SoundPack, as_one, known_of_all
from calc.physics.joining import Branch, JoinedPack, Levelling, currents_into_a, level_out, resistance_to_others_ohm
from calc.physics.leads import allowed_current_a, lead_resistance_ohm
from calc.physics.pack_limits import LABEL, pack_current_limits
from calc.physics.packs import current_at_rate_a

# What sets a largest difference that every pack and lead would bear.
PRACTICE = f"common practice, no source: {Figure(JOIN_DIFFERENCE_CELL_V.value, CELL_VOLTS)} for each cell"


def unequal_cells(packs: Sequence[SoundPack]) -> list[tuple[int, Problem]]:
    """Return why these packs must never meet, if their cell counts differ.

    Args:
        packs: two or more.

    Returns:
        For each that differs from the first: its number, and the problem in its own entries' names.

    Source: Kirchhoff's rules: only the resistance of the cells would limit the current.

    >>> unequal_cells([])
    []
    """
    sentence = (
        "Its cell count is not that of Pack 1. Never join such packs side by side: the longer one forces a current into the "
        "other that nothing stops, and it burns."
    )
    return [(one.number, Problem("cells", sentence)) for one in packs if one.cells != packs[0].cells]


def parallel_pack(packs: Sequence[SoundPack]) -> PackEntries:
    """Return packs that stand side by side as the entries of one pack.

        Q = sum of Q_k,  1 / R = sum of 1 / R_k

    Args:
        packs: two or more of one chemistry and cell count.

    Returns:
        The entries; the resistance of a cell only where it is known of all.

    Source: Kirchhoff's rules.

    >>> parallel_pack.__name__
    'parallel_pack'
    """
    label_mah = fsum(one.entries.capacity_mah for one in packs)
    held_mah = mah_from_ah(fsum(one.held_ah for one in packs))
    return as_one(
        packs,
        resting_v=(fsum(one.reading.pack_v for one in packs) / len(packs),),
        capacity_mah=label_mah,
        measured_capacity_mah=held_mah if any(one.entries.held_capacity_mah < one.entries.capacity_mah for one in packs) else None,
        cell_resistance_mohm=known_of_all(
            packs, lambda entries: entries.cell_resistance_mohm, lambda values: 1 / fsum(1 / value for value in values)
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """The moment at which packs are joined: the difference, what is allowed, and the currents that would flow.

    `limits` are in V of the whole pack. `main_a` is the highest current into a pack; `taker` takes up to `taken_c` of its
    capacity, more than any other. `balance_a` would flow through the end wires of the balance plugs if these were joined first.
    """

    difference_v: float
    limits: tuple[Limit, ...]
    main_a: Span
    taken_c: float
    taker: SoundPack
    balance_a: Span


def joining_of(packs: Sequence[SoundPack], lead_ohm: float, lead_area_mm2: float) -> Joining:
    """Return what happens when these packs are joined, and how far apart they may rest at most.

        dU = I_k (R_k + R of the others, side by side)        the lowest of all packs k; R as low as it may be

    With dU between the lowest and the highest, the current through any pack is at most that for which its ceiling was made,
    whatever the others rest at in between.

    Args:
        packs: two or more of one chemistry and cell count.
        lead_ohm: of the leads of one pack, there and back, Ω.
        lead_area_mm2: of one wire of these leads, mm².

    Returns:
        The joining.

    Source: Kirchhoff's rules; the labels; 33 CFR 183.425 for the leads; common practice, no source, beside them.

    >>> joining_of.__name__
    'joining_of'
    """
    wire_ohm = lead_resistance_ohm(BALANCE_WIRE_LENGTH_M.value, area_mm2_of_gauge(BALANCE_WIRE_GAUGE.value))
    rest_v = [one.reading.pack_v for one in packs]

    def currents(of: Callable[[Span], float], outside_ohm: float) -> list[float]:
        return currents_into_a([Branch(one.reading.pack_v, _path_ohm(one, of, outside_ohm)) for one in packs])

    main = [currents(of, lead_ohm) for of in _ENDS]
    taken_c = [into_a / one.held_ah for into_a, one in zip(main[-1], packs, strict=True)]
    return Joining(
        difference_v=max(rest_v) - min(rest_v),
        limits=tuple(_difference_limits(packs, lead_ohm, lead_area_mm2)),
        main_a=_rising([max(found) for found in main]),
        taken_c=max(taken_c),
        taker=packs[taken_c.index(max(taken_c))],
        balance_a=_rising([max(map(abs, currents(of, wire_ohm))) for of in _ENDS]),
    )


def _rising(ends: list[float]) -> Span:
    return Span(min(ends), ends[1], max(ends))


# A low resistance makes a high current.
_ENDS: tuple[Callable[[Span], float], ...] = (lambda ohm: ohm.most, lambda ohm: ohm.likely, lambda ohm: ohm.least)


def _path_ohm(pack: SoundPack, of: Callable[[Span], float], outside_ohm: float) -> float:
    return pack.cells * of(pack.cell_resistance_ohm) + outside_ohm


def _difference_limits(packs: Sequence[SoundPack], lead_ohm: float, lead_area_mm2: float) -> list[Limit]:
    """Ceilings on the difference between the packs, in V of the whole pack."""
    paths_ohm = [_path_ohm(one, lambda ohm: ohm.least, lead_ohm) for one in packs]
    limits = [Limit(packs[0].cells * JOIN_DIFFERENCE_CELL_V.value, PRACTICE)]
    for place, one in enumerate(packs):
        loop_ohm = resistance_to_others_ohm(paths_ohm, place)
        limits += [
            Limit(current_a * loop_ohm, because)
            for current_a, because in (
                (_charge_ceiling_a(one), f"{one.title} must not be charged faster than its label says, nor in the cold"),
                _giving(one),
                (allowed_current_a(lead_area_mm2), f"the lead of {one.title}: the current that a wire this thin may carry"),
            )
        ]
    return limits


def _charge_ceiling_a(pack: SoundPack) -> float:
    return min(limit.ceiling for limit in pack_current_limits(pack.entries, pack.chemistry))


def _giving(pack: SoundPack) -> tuple[float, str]:
    """What a pack may give, A. Where no discharge rate is known, the charge rate stands for it: no pack gives less than it takes."""
    if (rate_c := pack.entries.label_discharge_rate_c) is not None:
        return rate_c * pack.held_ah, f"{pack.title} must not give more than its label says"
    because = f"{pack.title} must not give more than it may take, since no discharge rate is entered"
    return pack.entries.label_charge_rate_c * pack.held_ah, because


@dataclass(frozen=True, slots=True, kw_only=True)
class ComingLevel:
    """How joined packs come level: the likely course, and those at the corners of curve and resistance."""

    likely: tuple[Levelling, ...]
    corners: tuple[tuple[Levelling, ...], ...]

    def span(self, of: Callable[[tuple[Levelling, ...]], float]) -> Span:
        """Return the least, the likely and the most of one thing over all courses.

        Args:
            of: what to take of a course, in any unit.

        Returns:
            The span, in that unit.

        Source: arithmetic.

        >>> one = (Levelling(0.0, 15.0, (1.0, -1.0), (0.5, 0.5)),)
        >>> ComingLevel(likely=one, corners=()).span(lambda run: run[0].joint_v).most
        15.0
        """
        likely = of(self.likely)
        found = [likely, *(of(run) for run in self.corners)]
        return Span(min(found), likely, max(found))


def coming_level(packs: Sequence[SoundPack], lead_ohm: float) -> ComingLevel:
    """Return how these packs come level once they are joined, with nothing else connected.

        corners = {lowest, highest curve} x {least, most resistance}, for all packs alike

    Args:
        packs: two or more of one chemistry and cell count.
        lead_ohm: of the leads of one pack, there and back, Ω.

    Returns:
        The courses, each to a twentieth of its first current.

    Source: `physics.joining`.

    >>> coming_level.__name__
    'coming_level'
    """
    key = packs[0].entries.chemistry

    def run(curve: tuple[float, ...], of: Callable[[Span], float]) -> tuple[Levelling, ...]:
        return level_out(
            [
                JoinedPack(
                    cell=Cell(curve=curve, capacity_ah=one.held_ah, resistance_ohm_ah=of(one.cell_resistance_ohm) * one.held_ah),
                    cells=one.cells,
                    start_state=state_at(curve, one.reading.mean_cell_v),
                    lead_ohm=lead_ohm,
                )
                for one in packs
            ]
        )

    most, likely, least = _ENDS
    return ComingLevel(
        likely=run(RESTING_TABLES[key].likely.cell_v, likely),
        corners=tuple(run(curve, of) for curve in edge_curves(key) for of in (most, least)),
    )


def parallel_current_limits(
    packs: Sequence[SoundPack], charger: ChargerEntries, supply: SupplyEntries, asked_rate_c: float, lead_ohm: float
) -> list[Limit]:
    """Return every ceiling on the current into packs side by side.

        I = I_k Q / Q_k        in the long run each takes its share by capacity
        I = I_k R_k sum(1 / R)        at first each takes its share by resistance
        I_k what pack k may be charged with, Q all packs together

    Args:
        packs: two or more of one chemistry and cell count.
        charger: the charger's entries.
        supply: the supply's entries.
        asked_rate_c: the rate that the pilot asks for, C.
        lead_ohm: of the leads of one pack, there and back, Ω.

    Returns:
        Limits in A into all packs together.

    Source: Kirchhoff's rules; the labels; JEITA and BAJ 2007 for the cold.

    >>> parallel_current_limits.__name__
    'parallel_current_limits'
    """
    all_ah = fsum(one.held_ah for one in packs)
    paths_ohm = [_path_ohm(one, lambda ohm: ohm.likely, lead_ohm) for one in packs]
    conductance = fsum(1 / path_ohm for path_ohm in paths_ohm)
    full_v = packs[0].cells * packs[0].chemistry.full_cell_v.value
    of_packs = []
    for one, path_ohm in zip(packs, paths_ohm, strict=True):
        of_packs += [
            Limit(limit.ceiling * all_ah / one.held_ah, f"{limit.because} ({one.title}, its share by capacity)")
            for limit in pack_current_limits(one.entries, one.chemistry)
        ]
        of_packs.append(
            Limit(_charge_ceiling_a(one) * path_ohm * conductance, f"{LABEL} ({one.title}, whose low resistance takes more at first)")
        )
    return [
        *of_packs,
        Limit(charger.charger_current_a, "the charger's highest current"),
        Limit(current_at_rate_a(mah_from_ah(all_ah), asked_rate_c), f"{ASKED}, of all packs together"),
        *(Limit(limit.ceiling / full_v, limit.because) for limit in power_limits(charger, supply)),
    ]
