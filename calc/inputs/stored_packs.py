"""What is asked about one of many packs at the end of the day: no more than its way to storage needs."""

from __future__ import annotations

from dataclasses import dataclass

from calc.inputs.equipment import PackEntries
from calc.inputs.fields import same_as


@dataclass(frozen=True, kw_only=True)
class StoredPackEntries:
    """A pack from its label and a voltmeter. Its temperature is asked once for all."""

    chemistry: str = same_as(PackEntries, "chemistry")
    cells: float = same_as(PackEntries, "cells")
    capacity_mah: float = same_as(PackEntries, "capacity_mah")
    resting_v: tuple[float, ...] | None = same_as(PackEntries, "resting_v")
    label_charge_rate_c: float = same_as(PackEntries, "label_charge_rate_c")

    @property
    def last_resting_v(self) -> tuple[float, ...]:
        """What it rested at when it was last read."""
        return self.resting_v or ()

    def as_pack(self, pack_degc: float | None, pack_warmth: str | None) -> PackEntries:
        """Return the pack at a temperature of its own, or as warm as a word says, with nothing known beyond its label."""
        return PackEntries(
            chemistry=self.chemistry,
            cells=self.cells,
            capacity_mah=self.capacity_mah,
            resting_v=self.last_resting_v,
            label_charge_rate_c=self.label_charge_rate_c,
            pack_degc=pack_degc,
            pack_warmth=pack_warmth,
        )
