"""What is asked about the packs of a day before they are charged: their labels, their cells as they rest now, and when each is wanted."""

from __future__ import annotations

from dataclasses import dataclass

from calc.inputs.begun_day import BegunPackEntries, hour
from calc.inputs.equipment import PACK
from calc.inputs.rows import several


@dataclass(frozen=True, kw_only=True)
class PlannedPackEntries(BegunPackEntries):
    """A pack that is to be charged, and the hour by which it must be ready, if there is one."""

    wanted_clock: float | None = hour(
        "Wanted by", group=PACK, optional=True, hint="Left empty, any hour will do.", asked_as="the hour by which you want it"
    )


@dataclass(frozen=True, kw_only=True)
class PlannedPacksEntries:
    """Two to twelve of them. A calculator names this class last among its bases: packs stand first."""

    packs: tuple[PlannedPackEntries, ...] = several(PlannedPackEntries, "Pack", group_key="packs", least=2, most=12)
