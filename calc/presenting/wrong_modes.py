"""What each charger mode does to a pack of one kind: where it stops the charge, and where it may stop a discharge."""

from __future__ import annotations

from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE, Chemistry
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.figures.showing import Row, Table


def wrong_modes_table(chemistry_key: str) -> Table:
    """Return what happens to a cell in each mode of a charger, its own mode first.

        over = U_mode - U_full        both V per cell

    >>> wrong_modes_table("lipo").rows[1].cells[1].replace(chr(160), " ")
    'Too full by 0.15 V: never, it can burn.'
    """
    pack = CHEMISTRIES[chemistry_key]
    others = [mode for key, mode in CHEMISTRIES.items() if key != chemistry_key]
    nickel = (NICKEL_METAL_HYDRIDE.name, ("no limit", "It knows no full voltage and charges on: never, it can burn."))
    return Table(
        caption=f"{pack.name}, in each mode of a charger",
        columns=("Mode of the charger", "A cell is charged to", "What that does"),
        rows=(
            Row(heading=pack.charger_mode, cells=(_full(pack), "The right mode for this pack.")),
            *(Row(heading=mode.charger_mode, cells=(_full(mode), _consequence(pack, mode))) for mode in others),
            Row(heading=nickel[0], cells=nickel[1]),
        ),
    )


def _full(mode: Chemistry) -> Figure:
    return Figure(mode.full_cell_v.value, CELL_VOLTS)


def _consequence(pack: Chemistry, mode: Chemistry) -> str:
    over_v = mode.full_cell_v.value - pack.full_cell_v.value
    if over_v > 0:
        return f"Too full by {Figure(over_v, CELL_VOLTS)}: never, it can burn."
    charged = f"Stops {Figure(-over_v, CELL_VOLTS)} short of full." if over_v < 0 else "As full as in its own mode."
    if mode.maker_cutoff_cell_v.value >= pack.never_below_cell_v.value:
        return charged
    floor = Figure(mode.maker_cutoff_cell_v.value, CELL_VOLTS)
    return f"{charged} But a discharge may go on to {floor}, below this pack's floor."
