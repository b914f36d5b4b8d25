"""What is asked about packs that are to be charged as one. A calculator names this class last among its bases: packs stand first."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import MOST_CELLS
from calc.figures.quantities import CELLS, METRES, PACKS, SQUARE_MILLIMETRES
from calc.inputs.equipment import PACK_MORE, LabelledPack, PackEntries, RateEntries
from calc.inputs.fields import Group, choice, number, same_as
from calc.inputs.rows import several

MOST_PACKS = 8
HOW_MANY = Group("how-many", "How many of them are alike")
TOGETHER = Group("together", "All of them together")
PORTS_OF_THEIR_OWN = "ports"
SERIES_BALANCE_LEAD = "series"
PARALLEL_BOARD = "board"
PLUG_CHOICES = {PORTS_OF_THEIR_OWN: "Ports of their own", SERIES_BALANCE_LEAD: "A series balance lead", PARALLEL_BOARD: "A parallel board"}
BOARD = "board"
SERIES_LEAD = "series"
LEAD_CHOICES = {BOARD: "A parallel board or lead", SERIES_LEAD: "A series lead"}


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
        asked_as="the number of packs that are alike",
        hint="Enter it if all have the label of Pack 1: then only readings are asked for the others. Leave it empty if each has a label of its own.",
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
        hint="Only if it has two plugs: the cells on the one at the minus. The other has the rest.",
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


@dataclass(frozen=True, kw_only=True)
class PlugsEntries:
    """How the balance plugs reach the charger."""

    balance_plugs_into: str = choice(
        "The balance plugs go into", PLUG_CHOICES, group=TOGETHER, asked_as="what the balance plugs go into", starts_as=PORTS_OF_THEIR_OWN
    )


@dataclass(frozen=True, kw_only=True)
class LeadsEntries:
    """The leads between the packs."""

    main_leads_into: str = choice(
        "The main leads go into", LEAD_CHOICES, group=TOGETHER, starts_as=BOARD, asked_as="what the main leads go into"
    )
    join_length_m: float = number(
        "Lead from each pack to the joint",
        METRES,
        group=TOGETHER,
        least=0.02,
        most=3,
        starts_as="0.15",
        hint="The pack's own lead and the board's, one way.",
        asked_as="the length of the lead from each pack to the joint",
    )
    join_area_mm2: float = number(
        "Cross-section of one wire of it",
        SQUARE_MILLIMETRES,
        group=TOGETHER,
        least=0.1,
        most=35,
        starts_as="3.3",
        hint="With its unit: 2.5 mm², or 12 AWG.",
        asked_as="the cross-section of one wire of the lead to the joint",
    )
