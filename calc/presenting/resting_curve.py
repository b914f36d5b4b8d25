"""A chemistry's resting voltage against its state of charge, as a picture and as a table to read."""

from __future__ import annotations

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import CELL_VOLTS, PERCENT, Figure
from calc.figures.showing import Picture, Row, Table
from calc.physics.cell.cells import edge_curves
from calc.presenting.picture import cell_panel

_ROWS_EVERY = 4


def resting_curve_picture(chemistry_key: str) -> Picture:
    """Return the resting voltage of one cell from 0 to 100 % charged, with the band of all published curves."""
    chemistry, table = CHEMISTRIES[chemistry_key], CHEMISTRIES[chemistry_key].resting
    low, high = edge_curves(chemistry_key)
    likely = table.likely.cell_v
    half = likely[len(likely) // 2]
    return Picture(
        caption=f"{chemistry.name}: resting voltage of one cell",
        told=(
            f"The voltage rises with the charge: {Figure(likely[0], CELL_VOLTS)} when empty, {Figure(half, CELL_VOLTS)} at half, "
            f"{Figure(likely[-1], CELL_VOLTS)} when full. In the middle the curve is flat, so a voltage says little there."
        ),
        times=tuple(Figure(percent, PERCENT) for percent in _percents(len(likely))),
        panels=(cell_panel("Resting voltage of a cell", chemistry, [list(likely), list(low), list(high)]),),
        across="state of charge",
        band="The line is the likely curve; the band holds every published curve of this kind of cell.",
    )


def resting_curve_table(chemistry_key: str) -> Table:
    """Return the same curve as a table: the likely voltage at each tenth of the charge, and the band."""
    likely = CHEMISTRIES[chemistry_key].resting.likely.cell_v
    low, high = edge_curves(chemistry_key)
    percents = _percents(len(likely))
    return Table(
        caption="The same in figures",
        columns=("Charge", "Likely", "At least", "At most"),
        rows=tuple(
            Row(
                heading=str(Figure(percents[place], PERCENT)),
                cells=tuple(Figure(curve[place], CELL_VOLTS) for curve in (likely, low, high)),
            )
            for place in range(0, len(likely), _ROWS_EVERY)
        ),
        unit=CELL_VOLTS,
        of_picture=True,
    )


def _percents(points: int) -> list[float]:
    return [100 * place / (points - 1) for place in range(points)]
