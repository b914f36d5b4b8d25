"""Packs one after the other: one current through all of them, and each cell for itself at the end of the charge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import fsum

from calc.facts.chemistries import Chemistry
from calc.facts.practice import SLOW_RATE_C, SPREAD_TO_WATCH_CELL_V, UNLIKE_CAPACITY_PERCENT
from calc.figures.limits import Limit
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.figures.units import fraction_from_percent
from calc.inputs.equipment import ChargerEntries, LabelledPack, PackEntries
from calc.inputs.joined_packs import LabelledPluggedPack
from calc.inputs.refusals import Problem
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import current_at_rate_a
from calc.rules.charge.charging_limits import ASKED, CHARGER_CURRENT, power_limits
from calc.rules.charge.own_plugs import TOO_MANY_ON_THE_FIRST
from calc.rules.joined.joined_packs import NumberedPack, SoundPack, as_one, joint_reading, known_of_all, labels_as_one
from calc.rules.pack.condition import SLOWLY
from calc.rules.pack.pack_limits import pack_current_limits
from calc.rules.pack.touch_limit import problems_of_touch


def series_label(packs: Sequence[NumberedPack]) -> LabelledPack:
    """Return packs that stand one after the other as the label of one pack.

    n = sum of n_k,  Q = the smallest Q_k: one current flows through all
    """
    label_mah = min(one.entries.capacity_mah for one in packs)
    held_mah = min(one.entries.holds_mah for one in packs)
    return labels_as_one(
        packs,
        cells=fsum(one.cells for one in packs),
        capacity_mah=label_mah,
        measured_capacity_mah=None if held_mah == label_mah else held_mah,
    )


def series_pack(packs: Sequence[SoundPack]) -> PackEntries:
    """Return packs that stand one after the other as the entries of one pack, with the highest resistance of a cell that is known of any.

    U = sum of U_k; the rest as `series_label` has it
    """
    label = series_label(packs)
    return as_one(
        packs,
        cells=label.cells,
        resting_v=fsum(one.reading.pack_v for one in packs),
        capacity_mah=label.capacity_mah,
        measured_capacity_mah=label.measured_capacity_mah,
        cell_resistance_mohm=known_of_all(packs, lambda entries: entries.highest_resistance_mohm, max),
    )


def series_current_limits(
    *, packs: Sequence[NumberedPack], charger: ChargerEntries | None, supply: SupplyEntries | None, requested_rate_c: float
) -> list[Limit]:
    """Return every ceiling on the current through packs one after the other, A: the weakest pack's label counts for all.

    What is not known yet sets none, and a supply counts only through a charger.

        I = C_k x Q_k for each pack k        I = P / (n x U_full), n all cells

    Cells one after the other are cells of one pack, whichever pack they are in: where they rest further apart than those of a healthy
    one, they are charged slowly.

    Source: the labels; JEITA and BAJ 2007 for the cold; `SLOW_RATE_C` for cells apart.
    """
    one_pack = series_label(packs)
    full_v = one_pack.cells * packs[0].chemistry.full_cell_v.value
    return [
        *(
            Limit(limit.ceiling, f"{limit.because} ({one.title})")
            for one in packs
            for limit in pack_current_limits(one.entries, one.chemistry)
        ),
        *_apart_limits(packs, one_pack),
        *([Limit(charger.charger_current_a, CHARGER_CURRENT)] if charger else []),
        Limit(current_at_rate_a(one_pack.effective_capacity_mah, requested_rate_c), f"{ASKED}, of the smallest pack"),
        *(Limit(limit.ceiling / full_v, limit.because) for limit in (power_limits(charger=charger, supply=supply) if charger else ())),
    ]


def _apart_limits(packs: Sequence[NumberedPack], one_pack: LabelledPack) -> list[Limit]:
    """Half of 1C where the cells of all packs, once each was read, rest further apart than those of one pack may."""
    sound = [one for one in packs if isinstance(one, SoundPack)]
    if len(sound) < len(packs) or not (reading := joint_reading(sound, fsum(one.reading.pack_v for one in sound))).is_uneven:
        return []
    apart, watch = Figure(reading.spread_v, CELL_VOLTS.to_step(0.001)), Figure(SPREAD_TO_WATCH_CELL_V.value, CELL_VOLTS)
    because = f"{SLOWLY} the cells of these packs rest {apart} apart, more than {watch}"
    return [Limit(current_at_rate_a(one_pack.effective_capacity_mah, SLOW_RATE_C.value), because)]


def unlike_capacity(packs: Sequence[NumberedPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack that holds too little for the others, on its label or as last measured, and the problem.

        Q_k < 0.9 x the largest Q

    Source: common practice, no source, for the tenth.
    """
    least_ah = max((one.effective_ah for one in packs), default=0.0) * (1 - fraction_from_percent(UNLIKE_CAPACITY_PERCENT.value))
    sentence = "This pack holds over a tenth less than the largest. In series it is full first, and empty first. Charge them one by one."
    aged = [one.entries.effective_capacity_mah < one.entries.capacity_mah for one in packs]
    return [
        (one.number, Problem("measured_capacity_mah" if is_aged else "capacity_mah", sentence))
        for one, is_aged in zip(packs, aged, strict=True)
        if one.effective_ah < least_ah
    ]


def problems_of_plugs(packs: Sequence[LabelledPluggedPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack whose first balance plug is said to carry all of its cells, or more, and the problem."""
    return [(number, Problem("first_plug_cells", TOO_MANY_ON_THE_FIRST)) for number, one in enumerate(packs, 1) if min(one.plug_cells) < 1]


def problems_of_series_charger(cells: float, charger: ChargerEntries | None, chemistry: Chemistry) -> list[Problem]:
    """Return why so many cells one after the other are too many for anybody's hands, or for this charger, where it is known."""
    if too_high := problems_of_touch(cells, chemistry, joined=True):
        return [replace(one, field="") for one in too_high]
    if charger is None or cells <= charger.charger_cells:
        return []
    sentence = "These packs together have more cells than the charger takes: charge fewer at once, or one by one."
    return [Problem("charger_cells", sentence)]
