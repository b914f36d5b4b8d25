"""Which voltages are full, nominal, for storage, for landing and never below, for this chemistry and cell count?

Nothing binds here but the voltage that anybody may touch: it is a table to read. Assumes cells that are level; a pack's voltage hides its weakest cell.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import CHEMISTRIES, MOST_CELLS, TOUCH_LIMIT_V, Chemistry
from calc.facts.cited import Cited
from calc.facts.lead_acid import CUTOFF_V, LEAD_ACID, NOMINAL_V
from calc.facts.practice import AIR_LEAST_DEGC, AIR_MOST_DEGC, TEMPERATURE_STOP_MOST_DEGC
from calc.figures.quantities import CELL_VOLTS, CELLS, DEGREES_CELSIUS, DEGREES_FAHRENHEIT, PACK_VOLTS, PERCENT, Figure
from calc.figures.showing import Row, Table, shown
from calc.figures.units import degf_from_degc
from calc.inputs.equipment import PACK
from calc.inputs.fields import choice, number
from calc.inputs.refusals import Refused
from calc.presenting.cell_voltages import NAMED_VOLTAGES, in_a_row, named, nickel_table
from calc.presenting.source_lines import source_line
from calc.rules.pack.touch_limit import problems_of_touch

_LOOKED_UP = ("Full", "Storage", "Land, at rest", "Cutoff, careful", "Never below")


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A chemistry and a cell count."""

    chemistry: str = choice("Chemistry", {key: one.name for key, one in CHEMISTRIES.items()}, group=PACK, starts_as="lipo")
    cells: float = number(
        "Cells in series", CELLS, group=PACK, least=1, most=MOST_CELLS, whole=True, starts_as="3", asked_as="the number of cells in series"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """This pack's voltages, then the tables to read."""

    every_count: tuple[Table, ...] = shown("Every cell count")
    this_pack: Table = shown("This pack", "What each voltage is for")
    other_batteries: tuple[Table, ...] = shown("Other batteries", "Other batteries at the field")
    degrees: Table = shown("Degrees", "°C and °F")


def work_out(given: Inputs) -> Answer:
    """Return the voltages of a pack and the tables for every chemistry, its own first; refuse more cells than stay below the touch limit."""
    if problems := problems_of_touch(given.cells, CHEMISTRIES[given.chemistry]):
        raise Refused(*problems)
    asked_first = sorted(CHEMISTRIES, key=lambda key: key != given.chemistry)
    return Answer(
        every_count=tuple(_every_count(CHEMISTRIES[key], given.cells if key == given.chemistry else None) for key in asked_first),
        this_pack=_this_pack(CHEMISTRIES[given.chemistry], given.cells),
        other_batteries=(nickel_table(), _lead_acid()),
        degrees=_degrees(),
    )


def _this_pack(chemistry: Chemistry, cells: float) -> Table:
    rows = []
    for name, fields, purpose in NAMED_VOLTAGES:
        values = named(chemistry, fields)
        rows.append(
            Row(heading=name, cells=(in_a_row(values, 1, CELL_VOLTS), in_a_row(values, cells, PACK_VOLTS), purpose, source_line(values[0])))
        )
    return Table(
        caption=f"{chemistry.name}, {Figure(cells, CELLS)}",
        columns=("Voltage", "One cell", "The pack", "What it is for", "Where it comes from"),
        rows=tuple(rows),
    )


def _every_count(chemistry: Chemistry, marked_cells: float | None) -> Table:
    """The voltages that are looked up at the field; the others of one cell stand below, since a screen holds no more columns."""
    at_hand = {name: named(chemistry, fields) for name, fields, _ in NAMED_VOLTAGES}
    others = [f"{name.lower()}, {in_a_row(values, 1, CELL_VOLTS)}" for name, values in at_hand.items() if name not in _LOOKED_UP]
    return Table(
        caption=chemistry.name,
        columns=("Cells", *_LOOKED_UP),
        unit=PACK_VOLTS,
        rows=tuple(
            Row(
                heading=Figure(cells, CELLS).number,
                cells=tuple(_in_a_narrow_cell(at_hand[name], cells) for name in _LOOKED_UP),
                marked=cells == marked_cells,
            )
            for cells in range(1, chemistry.most_cells + 1)
        ),
        notes=(
            f"Volts at rest; the cutoff is what a charger is set to for a discharge. The other voltages of one cell: {'; '.join(others)}.",
            f"A pack of one cell more is, when full, above {Figure(TOUCH_LIMIT_V.value, PACK_VOLTS.to_step(1))}: more than anybody may touch.",
        ),
    )


def _in_a_narrow_cell(values: tuple[Cited, ...], cells: float) -> Figure | str:
    figures = [Figure(one.value * cells, PACK_VOLTS) for one in values]
    return figures[0] if len(figures) == 1 else "\N{EN DASH}".join(figure.number for figure in figures)


def _lead_acid() -> Table:
    kinds = list(LEAD_ACID.values())
    rest_rows = tuple(
        Row(
            heading=f"{Figure(percent, PERCENT)} charged, at rest",
            cells=tuple(Figure(kind.rest_v[place][1].value, PACK_VOLTS) for kind in kinds),
        )
        for place, (percent, _) in reversed(list(enumerate(kinds[0].rest_v)))
    )
    same = {"Nominal": NOMINAL_V, "End of discharge": CUTOFF_V}
    return Table(
        caption="12 V lead-acid battery",
        columns=("State", *(kind.name for kind in kinds)),
        rows=rest_rows + tuple(Row(heading=name, cells=(Figure(value.value, PACK_VOLTS),) * len(kinds)) for name, value in same.items()),
        notes=(
            f"Flooded, at rest: {source_line(kinds[0].rest_v[0][1])}.",
            f"Sealed, at rest: {source_line(kinds[1].rest_v[0][1])}.",
            f"Nominal: {source_line(NOMINAL_V)}. End of discharge: {source_line(CUTOFF_V)}.",
        ),
    )


def _degrees() -> Table:
    window = CHEMISTRIES["lipo"].temperatures
    meanings = (
        (window.charge_least_degc, "pack: no charging from here down"),
        (AIR_LEAST_DEGC, "air: no charging below"),
        (window.charge_slow_below_degc, "pack, or the air around it: half the current from here down"),
        (AIR_MOST_DEGC, "air: no charging above"),
        (window.charge_most_degc, "pack: no charging from here on, the charger's stop"),
        (TEMPERATURE_STOP_MOST_DEGC, "no charger's stop above"),
        (window.discharge_most_degc, "pack: get away"),
    )

    def meaning_of(degrees: int) -> str:
        return "; ".join(f"{words}: {source_line(limit)}" for limit, words in meanings if limit.value == degrees)

    return Table(
        caption="Degrees Celsius and Fahrenheit",
        columns=("Celsius", "Fahrenheit", "What it means for a lithium pack"),
        rows=tuple(
            Row(
                heading=str(Figure(degrees, DEGREES_CELSIUS)),
                cells=(Figure(degf_from_degc(degrees), DEGREES_FAHRENHEIT), meaning_of(degrees)),
            )
            for degrees in sorted({*range(-10, 65, 5), *(int(limit.value) for limit, _ in meanings)})
        ),
    )
