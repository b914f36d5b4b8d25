"""The settings for several packs that are charged as one, and what to say beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import CELL_VOLTS, CELLS, MILLIAMPERE_HOURS, PACK_VOLTS, Figure
from calc.figures.rounding import up_to_step
from calc.figures.showing import Caution, Range, Setting
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.refusals import within_sentence
from calc.presenting.cell_voltages import label_voltage
from calc.presenting.ranges import charge_put_in, minutes_range
from calc.presenting.stops import stops_of, warming_sentence
from calc.presenting.verdicts import LOOK_FIRST, UNTIL_READ, slow_sentences
from calc.rules.charge.charge_heat import minutes_at_full_current
from calc.rules.charge.charge_outlook import Outlook
from calc.rules.joined.joined_packs import SoundPack, at_its_warmest


def joint_settings(
    charger: ChargerEntries,
    one_pack: PackEntries,
    chemistry: Chemistry,
    outlook: Outlook,
    *,
    packs: Sequence[SoundPack],
    current_a: float,
    capacity_by: str,
    shared: str,
) -> dict[str, Setting | Range]:
    """Return what packs in series and packs side by side have alike: labels, stops, and the charge to come.

    `capacity_by` says what makes their capacity, and `shared` how the charge is shared among them.
    """
    stops = stops_of(pack=one_pack, charger=charger, chemistry=chemistry, outlook=outlook)
    # The current follows from the coldest pack; what the charge adds counts from the warmest.
    if warms := warming_sentence(at_its_warmest(one_pack, packs), chemistry, minutes_at_full_current(outlook), current_a):
        stops["temperature_stop"] = replace(stops["temperature_stop"], note=warms)
    return {
        **_labels(charger, one_pack, chemistry, capacity_by),
        **{name: stops[name] for name in ("capacity_cutout", "time_cutout", "temperature_stop")},
        "charge_time": minutes_range(outlook.charge_min, outlook.wide_because),
        "charge_put_in": charge_put_in(outlook, shared),
    }


def _labels(charger: ChargerEntries, one_pack: PackEntries, chemistry: Chemistry, capacity_by: str) -> dict[str, Setting]:
    cells, full_cell_v = Figure(one_pack.cells, CELLS), chemistry.full_cell_v.value
    dial_mah = MILLIAMPERE_HOURS.to_step(charger.capacity_step_mah)
    return {
        "chemistry_mode": Setting(figure=chemistry.charger_mode, set_by="the labels; a wrong mode sets the packs on fire"),
        "cells": Setting(figure=cells, set_by="the labels; the charger must count the same at the balance plugs"),
        "pack_voltage": label_voltage(chemistry, one_pack.cells),
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


def joint_cautions(packs: Sequence[SoundPack], *, with_settings: bool) -> tuple[Caution, ...]:
    """Return what to say of each pack by itself: a cell count that is open to doubt, and its condition.

    Where no settings for a charge stand beside the cautions, there is nothing that could hold for now.
    """
    found = []
    for one in packs:
        found += [Caution(sentence=f"{one.title}: {doubt.sentence}", grave=doubt.grave) for doubt in one.condition.doubts]
        found += [Caution(sentence=f"{one.title}: {within_sentence(sentence)}") for sentence in slow_sentences(one.condition)]
    for sentence, go_to, is_meant in (
        (UNTIL_READ, "", lambda condition: not condition.each_cell),
        (LOOK_FIRST, "cell-check", lambda condition: not condition.looked_over),
    ):
        if with_settings and (meant := [one.title for one in packs if is_meant(one.condition)]):
            found.append(Caution(sentence=f"{', '.join(meant)}: {within_sentence(sentence)}", go_to=go_to))
    return tuple(found)
