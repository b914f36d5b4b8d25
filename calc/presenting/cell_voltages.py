"""The voltages of one cell of a kind, from full down to the floor, as a table to read; and where each comes from."""

from __future__ import annotations

from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE, Chemistry
from calc.facts.cited import Cited
from calc.figures.quantities import CELL_VOLTS, CELLS, PACK_VOLTS, Band, Figure, Quantity
from calc.figures.showing import Row, Setting, Table
from calc.presenting.source_lines import source_line

# The name of a voltage, the fields of a chemistry that hold it (one, or both ends of a band), and what it is for.
NAMED_VOLTAGES: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("Full", ("full_cell_v",), "the charger stops here"),
    ("Nominal", ("nominal_cell_v", "highest_nominal_cell_v"), "the name on the label: either end is right"),
    ("Storage", ("storage_low_cell_v", "storage_high_cell_v"), "at rest, for more than a day or two"),
    ("Land, at rest", ("end_of_flight_resting_cell_v",), "about one fifth left, half an hour after landing"),
    ("Land, under load", ("end_of_flight_load_cell_v",), "come down when the motor pulls it to this"),
    ("Cutoff, careful", ("careful_cutoff_cell_v",), "with a margin for the weakest cell"),
    ("Cutoff, the maker's", ("maker_cutoff_cell_v",), "no margin: never plan to reach it"),
    ("Never below", ("never_below_cell_v",), "at rest: a pack with a cell below it is not charged again"),
)

_COLUMNS = ("Voltage", "One cell", "What it is for", "Where it comes from")


def named(chemistry: Chemistry, fields: tuple[str, ...]) -> tuple[Cited, ...]:
    """Return the numbers that a name of `NAMED_VOLTAGES` stands for: one, or both ends of a band.

    >>> [one.value for one in named(CHEMISTRIES["lipo"], ("storage_low_cell_v", "storage_high_cell_v"))]
    [3.8, 3.84]
    """
    return tuple(getattr(chemistry, name) for name in fields)


def in_a_row(values: tuple[Cited, ...], cells: float, quantity: Quantity) -> Figure | Band:
    """Return the voltage of so many cells in series from that of one, in V; a band where its ends differ.

    >>> str(in_a_row(named(CHEMISTRIES["lipo"], ("full_cell_v",)), 3, CELL_VOLTS)).replace(chr(160), " ")
    '12.60 V'
    """
    figures = [Figure(value.value * cells, quantity) for value in values]
    return figures[0] if len(figures) == 1 else Band(*figures)


def label_voltage(chemistry: Chemistry, cells: float) -> Setting:
    """Return what stands on the label of a pack as its voltage: one number, or both that such cells are sold by.

        V = n U        U the nominal voltage of one cell, V

    >>> str(label_voltage(CHEMISTRIES["lipo"], 3).figure).replace(chr(160), " ")
    '11.1 V'
    >>> label_voltage(CHEMISTRIES["life"], 4).figure.replace(chr(160), " ")
    '12.8 or 13.2 V'
    """
    least, most = chemistry.nominal_cell_v.value, chemistry.highest_nominal_cell_v.value
    tenths = PACK_VOLTS.to_step(0.1)
    lowest, highest = Figure(cells * least, tenths), Figure(cells * most, tenths)
    nominal, count = Figure(most, CELL_VOLTS), Figure(cells, CELLS)
    if lowest == highest:
        return Setting(figure=lowest, set_by=f"{count} of {nominal} nominal")
    return Setting(
        figure=f"{lowest.number} or {highest}",
        set_by=f"{count} of {Figure(least, CELL_VOLTS).number} or {nominal} nominal: such cells are sold by either",
    )


def one_cell_table(chemistry_key: str) -> Table:
    """Return the voltages of one cell of a lithium chemistry, from full down to the floor.

    >>> one_cell_table("lipo").rows[-1].heading
    'Never below'
    """
    chemistry = CHEMISTRIES[chemistry_key]
    return _one_cell(chemistry.name, [(name, named(chemistry, fields), purpose) for name, fields, purpose in NAMED_VOLTAGES])


def nickel_table() -> Table:
    """Return the voltages of one nickel-metal hydride cell.

    >>> nickel_table().rows[0].heading
    'Nominal'
    """
    nickel = NICKEL_METAL_HYDRIDE
    return _one_cell(
        nickel.name,
        [
            ("Nominal", (nickel.nominal_cell_v,), "the name on the label"),
            ("On charge", (nickel.on_charge_low_cell_v, nickel.on_charge_high_cell_v), "no full voltage: never a lithium mode"),
            ("Cutoff", (nickel.cutoff_cell_v,), "the charger stops a discharge here"),
        ],
    )


def _one_cell(name: str, voltages: list[tuple[str, tuple[Cited, ...], str]]) -> Table:
    return Table(
        caption=f"{name}, one cell",
        columns=_COLUMNS,
        rows=tuple(
            Row(heading=heading, cells=(in_a_row(values, 1, CELL_VOLTS), purpose, source_line(values[0])))
            for heading, values, purpose in voltages
        ),
    )
