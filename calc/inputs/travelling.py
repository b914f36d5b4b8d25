"""What is asked about packs that travel: labels, and how many of each kind."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import PACKS, WATT_HOURS
from calc.inputs.equipment import PACK, PackEntries
from calc.inputs.fields import choice, number, same_as

SOUND = "sound"
DAMAGED = "damaged"
CONDITIONS = {SOUND: "Sound", DAMAGED: "Harmed, or recalled"}


@dataclass(frozen=True, kw_only=True)
class TravelPack:
    """One kind of pack, from its label, and how many of it."""

    chemistry: str = same_as(PackEntries, "chemistry")
    cells: float = same_as(PackEntries, "cells")
    capacity_mah: float = same_as(PackEntries, "capacity_mah")
    label_wh: float | None = number(
        "Watt-hours on the label",
        WATT_HOURS,
        group=PACK,
        least=0.1,
        most=3000,
        optional=True,
        on_label=True,
        hint="They count where they are printed. Left empty, they are worked out with the highest nominal voltage of such cells.",
    )
    alike_packs: float = number(
        "Packs of this kind",
        PACKS,
        group=PACK,
        asked_as="the number of packs of this kind",
        least=1,
        most=100,
        whole=True,
        starts_as="1",
        hint="All that you would carry.",
    )
    condition: str = choice(
        "Condition",
        CONDITIONS,
        asked_as="the condition of these packs",
        group=PACK,
        starts_as=SOUND,
        hint="Swollen, dented, wet, burnt, leaking, too flat, charged too far or while frozen, hot for no reason, or ever crashed, shorted or plugged in "
        "backwards: it is harmed.",
    )
