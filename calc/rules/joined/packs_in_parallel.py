"""Packs side by side: which must never meet, what they are as one pack, and the current that charges them all."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from calc.facts.practice import UNLIKE_SIZE
from calc.figures.limits import Limit
from calc.figures.spans import Span
from calc.figures.units import mah_from_ah
from calc.inputs.equipment import ChargerEntries, LabelledPack, PackEntries
from calc.inputs.joined_packs import LabelledPluggedPack
from calc.inputs.refusals import Problem
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import current_at_rate_a
from calc.rules.charge.charging_limits import ASKED, CHARGER_CURRENT, power_limits
from calc.rules.charge.own_plugs import problems_of_own_plugs
from calc.rules.joined.joined_packs import NumberedPack, SoundPack, as_one, known_of_all, labels_as_one
from calc.rules.joined.moment_of_joining import charge_ceiling_a, path_ohm
from calc.rules.joined.packs_in_series import problems_of_plugs
from calc.rules.pack.pack_limits import LABEL, pack_current_limits

# A half that is worked out from milliampere-hours is a hair less than half.
_SAME_CAPACITY = 1e-9


def unequal_cells(packs: Sequence[NumberedPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack whose cell count is not that of the first, and the problem: only the cells would limit the current."""
    sentence = (
        "Its cell count is not that of Pack 1. Never join such packs side by side: the one with more cells forces a current into the "
        "other that nothing stops, and it burns."
    )
    return [(one.number, Problem("cells", sentence)) for one in packs if one.cells != packs[0].cells]


def problems_of_plugs_side_by_side(packs: Sequence[LabelledPluggedPack], charger: ChargerEntries | None) -> list[tuple[int, Problem]]:
    """Return the number of each pack whose balance plugs do not go together with those of the first, or not into the charger's ports.

    The first plugs meet on one board and the second on another, each in a port of its own: what one pack's plugs need, all need.

    Source: common practice, no source, for the boards; the first plug ends at a cell's plus where the second begins.
    """
    numbered = [(number, one) for number, one in enumerate(packs, 1)]
    if charger is not None:
        of_ports = [
            (number, problem)
            for number, one in numbered
            for problem in problems_of_own_plugs(cells=one.cells, first_plug_cells=one.first_plug_cells, charger=charger)
        ]
        if of_ports:
            return of_ports
    elif too_many := problems_of_plugs(packs):
        return too_many
    sentence = (
        "Its balance plugs carry other cells than those of Pack 1. On one board they join places that are not alike: a short circuit "
        "through the thin wires. Charge these packs one by one."
    )
    return [(number, Problem("first_plug_cells", sentence)) for number, one in numbered if one.plug_cells != packs[0].plug_cells]


def unlike_size(packs: Sequence[NumberedPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack that is too small to be charged beside the largest, and the problem.

        Q_k < the largest Q / 2        Q what a pack holds

    The charger holds the current of all of them. If the plug of the large one slips, the small one gets all of it, and nothing
    stops that.

    Source: Kirchhoff's rules; common practice, no source, for the number.
    """
    largest = max(packs, key=lambda one: one.effective_ah)
    return [
        (
            one.number,
            Problem(
                "capacity_mah",
                f"{largest.title} holds more than twice what this one does. If the plug of {largest.title} slips, this one gets the "
                "whole current, and nothing stops it. Charge it by itself.",
            ),
        )
        for one in packs
        if one.effective_ah * UNLIKE_SIZE.value < largest.effective_ah * (1 - _SAME_CAPACITY)
    ]


def parallel_label(packs: Sequence[NumberedPack]) -> LabelledPack:
    """Return packs that stand side by side as the label of one pack: Q = sum of Q_k."""
    label_mah, held_mah = fsum(one.entries.capacity_mah for one in packs), fsum(one.entries.holds_mah for one in packs)
    return labels_as_one(
        packs, cells=packs[0].entries.cells, capacity_mah=label_mah, measured_capacity_mah=None if held_mah == label_mah else held_mah
    )


def parallel_pack(packs: Sequence[SoundPack]) -> PackEntries:
    """Return packs that stand side by side as the entries of one pack, with the resistance of a cell only where it is known of all.

    1 / R = sum of 1 / R_k; the rest as `parallel_label` has it
    """
    label = parallel_label(packs)
    return as_one(
        packs,
        cells=label.cells,
        resting_v=fsum(one.reading.pack_v for one in packs) / len(packs),
        capacity_mah=label.capacity_mah,
        measured_capacity_mah=label.measured_capacity_mah,
        cell_resistance_mohm=known_of_all(
            packs, lambda entries: entries.highest_resistance_mohm, lambda values: 1 / fsum(1 / value for value in values)
        ),
    )


def parallel_limits_so_far(
    *, packs: Sequence[NumberedPack], charger: ChargerEntries | None, supply: SupplyEntries | None, requested_rate_c: float
) -> list[Limit]:
    """Return the ceilings of `parallel_current_limits` that labels, charger and supply set: how packs share at first, a reading tells.

    What is not known yet sets none, and a supply counts only through a charger.
    """
    of_packs = [limit for one in packs for limit in _by_capacity(one, packs)]
    return [*of_packs, *_of_all_together(packs, charger=charger, supply=supply, requested_rate_c=requested_rate_c)]


def parallel_current_limits(
    *, packs: Sequence[SoundPack], charger: ChargerEntries, supply: SupplyEntries, requested_rate_c: float, lead_ohm: Span
) -> list[Limit]:
    """Return every ceiling on the current into packs side by side, A into all of them together.

        I = I_k Q / Q_k        in the long run each takes its share by capacity
        I = I_k R_k sum(1 / R)        at first each takes its share by resistance
        I_k what pack k may be charged with, Q all packs together; R with the leads of one pack, there and back

    Source: Kirchhoff's rules; the labels; JEITA and BAJ 2007 for the cold.
    """
    paths_ohm = [path_ohm(one, cell_ohm=one.cell_resistance_ohm.likely, lead_ohm=lead_ohm.likely) for one in packs]
    conductance = fsum(1 / ohm for ohm in paths_ohm)
    of_packs = []
    for one, ohm in zip(packs, paths_ohm, strict=True):
        of_packs += _by_capacity(one, packs)
        of_packs.append(
            Limit(charge_ceiling_a(one) * ohm * conductance, f"{LABEL} ({one.title}, whose low resistance takes more at first)")
        )
    return [*of_packs, *_of_all_together(packs, charger=charger, supply=supply, requested_rate_c=requested_rate_c)]


def _by_capacity(one: NumberedPack, packs: Sequence[NumberedPack]) -> list[Limit]:
    all_ah = fsum(each.effective_ah for each in packs)
    return [
        Limit(limit.ceiling * all_ah / one.effective_ah, f"{limit.because} ({one.title}, its share by capacity)")
        for limit in pack_current_limits(one.entries, one.chemistry)
    ]


def _of_all_together(
    packs: Sequence[NumberedPack], *, charger: ChargerEntries | None, supply: SupplyEntries | None, requested_rate_c: float
) -> list[Limit]:
    all_mah = mah_from_ah(fsum(one.effective_ah for one in packs))
    asked = Limit(current_at_rate_a(all_mah, requested_rate_c), f"{ASKED}, of all packs together")
    if charger is None:
        return [asked]
    full_v = packs[0].cells * packs[0].chemistry.full_cell_v.value
    return [
        Limit(charger.charger_current_a, CHARGER_CURRENT),
        asked,
        *(Limit(limit.ceiling / full_v, limit.because) for limit in power_limits(charger=charger, supply=supply)),
    ]
