"""The settings for several packs that are charged as one, and what to say beside them."""

from __future__ import annotations

from collections.abc import Sequence

from calc.asking.equipment import ChargerEntries, PackEntries
from calc.facts.chemistries import Chemistry
from calc.figures.limits import Limit
from calc.figures.quantities import AMPERES, CELL_VOLTS, CELLS, MILLIAMPERE_HOURS, PACK_VOLTS, RATE, Figure
from calc.figures.rounding import down_to_step, up_to_step
from calc.figures.showing import Caution, Ceiling, Setting
from calc.physics.readings import lower_counts_sentence
from calc.physics.joined_packs import SoundPack
from calc.physics.packs import rate_c_of_current


def joint_current(
    charger: ChargerEntries, one_pack: PackEntries, limits: Sequence[Limit], binding: Limit, current_a: float
) -> Setting:
    """Return the charge current, with every limit that was compared.

    Args:
        charger: the charger's entries.
        one_pack: the packs as the entries of one.
        limits: ceilings in A.
        binding: the one that binds.
        current_a: the current to dial in, A.

    Returns:
        The setting.

    Source: none; no number is made here.

    >>> joint_current.__name__
    'joint_current'
    """
    finest = min(charger.current_step_a, 0.01)
    return Setting(
        figure=Figure(current_a, AMPERES.to_step(charger.current_step_a)),
        also=Figure(rate_c_of_current(one_pack.held_capacity_mah, current_a), RATE),
        set_by=binding.because,
        note=f"Rounded down to the charger's step of {Figure(charger.current_step_a, AMPERES.to_step(charger.current_step_a))}.",
        ceilings=tuple(
            Ceiling(
                because=limit.because,
                figure=Figure(down_to_step(limit.ceiling, finest), AMPERES.to_step(finest)),
                binds=limit is binding,
            )
            for limit in sorted(limits, key=lambda limit: limit.ceiling)
        ),
    )


def joint_labels(charger: ChargerEntries, one_pack: PackEntries, chemistry: Chemistry, capacity_by: str) -> dict[str, Setting]:
    """Return the settings that follow from the labels, by name.

    Args:
        charger: the charger's entries.
        one_pack: the packs as the entries of one.
        chemistry: their facts.
        capacity_by: what makes their capacity.

    Returns:
        Mode, cells, voltage, capacity and full voltage.

    Source: `facts.chemistries`.

    >>> joint_labels.__name__
    'joint_labels'
    """
    cells, full_cell_v = Figure(one_pack.cells, CELLS), chemistry.full_cell_v.value
    dial_mah = MILLIAMPERE_HOURS.to_step(charger.capacity_step_mah)
    return {
        "chemistry_mode": Setting(figure=chemistry.charger_mode, set_by="the labels; a wrong mode sets the packs on fire"),
        "cells": Setting(figure=cells, set_by="the labels; the charger must count the same at the balance plugs"),
        "pack_voltage": Setting(
            figure=Figure(one_pack.cells * chemistry.nominal_cell_v.value, PACK_VOLTS.to_step(0.1)),
            set_by=f"{cells} of {Figure(chemistry.nominal_cell_v.value, CELL_VOLTS)} nominal",
        ),
        "capacity_setting": Setting(
            figure=Figure(up_to_step(one_pack.capacity_mah, charger.capacity_step_mah), dial_mah),
            set_by=f"{capacity_by}, rounded up to the charger's step of {Figure(charger.capacity_step_mah, dial_mah)}",
            note="Set the current by hand, as above: an automatic one counts from this capacity and knows nothing of the joint.",
        ),
        "full_voltage": Setting(
            figure=Figure(one_pack.cells * full_cell_v, PACK_VOLTS),
            set_by=f"{Figure(full_cell_v, CELL_VOLTS)} for each cell: the charger must stop here",
        ),
    }


def joint_cautions(packs: Sequence[SoundPack]) -> tuple[Caution, ...]:
    """Return what to say of each pack by itself: a cell count that is open to doubt, cells that are uneven.

    Args:
        packs: two or more.

    Returns:
        Cautions that name the pack.

    Source: `physics.acceptance`.

    >>> joint_cautions([])
    ()
    """
    found = []
    for one in packs:
        if doubt := lower_counts_sentence(one.entries, one.chemistry, one.reading):
            found.append(Caution(sentence=f"{one.title}: {doubt}", grave=True))
        if one.reading.is_uneven:
            sentence = f"{one.title}: its cells differ by more than a healthy pack's do. Balance it alone first, at a low current, and watch."
            found.append(Caution(sentence=sentence))
    return tuple(found)
