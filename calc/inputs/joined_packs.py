"""What is asked about packs that are to be charged as one. A calculator names this class last among its bases: packs stand first."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import MOST_CELLS
from calc.figures.quantities import CELLS, PACKS
from calc.inputs.equipment import PACK_MORE, LabelledPack, PackEntries, RateEntries
from calc.inputs.fields import Group, number, same_as
from calc.inputs.rows import several

MOST_PACKS = 8
HOW_MANY = Group("how-many", "How many of them are alike")
TOGETHER = Group("together", "All of them together")


@dataclass(frozen=True, kw_only=True)
class JoinedPackEntries:
    """Two to eight packs, and the rate to charge them at. Packs alike, bought as a pair, have one label between them."""

    alike_packs: float | None = number(
        "Packs alike",
        PACKS,
        group=HOW_MANY,
        least=2,
        most=MOST_PACKS,
        whole=True,
        optional=True,
        asked_as="the number of packs alike",
        hint="All with the label of Pack 1: of the others only the readings are then asked. Empty: each has a label of its own.",
    )
    packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=2, most=MOST_PACKS, alike="alike_packs")
    requested_rate_c: float = same_as(RateEntries, "requested_rate_c", group=TOGETHER)


@dataclass(frozen=True, kw_only=True)
class LabelledPluggedPack(LabelledPack):
    """One pack whose balance plugs go into ports of the charger, by its label and whatever else is known of it so far."""

    first_plug_cells: float | None = number(
        "Cells on its first balance plug",
        CELLS,
        group=PACK_MORE,
        least=1,
        most=MOST_CELLS - 1,
        whole=True,
        optional=True,
        on_label=True,
        hint="Only if it has two: the one at the minus. The other has the rest.",
        asked_as="the number of cells on its first balance plug",
    )

    @property
    def plug_cells(self) -> tuple[int, ...]:
        """The cells on each balance plug, from the minus on."""
        cells = int(self.cells)
        return (cells,) if self.first_plug_cells is None else (int(self.first_plug_cells), cells - int(self.first_plug_cells))


@dataclass(frozen=True, kw_only=True)
class PluggedPackEntries(PackEntries, LabelledPluggedPack):
    """The same pack, once it was read."""


@dataclass(frozen=True, kw_only=True)
class PluggedPacksEntries(JoinedPackEntries):
    """The same packs, with what their balance plugs carry."""

    packs: tuple[PluggedPackEntries, ...] = several(
        PluggedPackEntries, "Pack", group_key="packs", least=2, most=MOST_PACKS, alike="alike_packs"
    )


@dataclass(frozen=True, kw_only=True)
class LabelledPacksEntries:
    """The same packs by their labels and whatever else is known of them so far, and the rate to charge them at."""

    packs: tuple[LabelledPluggedPack, ...] = several(LabelledPluggedPack, "Pack", group_key="packs", least=2, most=MOST_PACKS)
    requested_rate_c: float = same_as(RateEntries, "requested_rate_c", group=TOGETHER)
