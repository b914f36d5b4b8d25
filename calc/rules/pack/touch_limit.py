"""How many cells in series stay below the voltage that anybody may touch, and what to do with more."""

from __future__ import annotations

from calc.facts.chemistries import TOUCH_LIMIT_V, Chemistry
from calc.figures.quantities import CELL_VOLTS, CELLS, PACK_VOLTS, Figure
from calc.inputs.refusals import Problem

_ONE_PACK = "Leave such a pack to its maker's charger, and to somebody who is trained for such voltages."
_JOINED = "Charge fewer at once, or each by itself."


def problems_of_touch(cells: float, chemistry: Chemistry, *, joined: bool = False) -> list[Problem]:
    """Return why so many cells in series, of one pack or of all that are joined, are too many to be handled at a field, if they are.

        n U_full > 60 V

    Source: IEC 60598-1, 8.2.3, for the limit.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> [len(problems_of_touch(14, CHEMISTRIES[key])) for key in ("lipo", "lihv", "life")]
    [0, 1, 0]
    """
    beyond = beyond_touch(cells, chemistry)
    if not beyond:
        return []
    most = Figure(chemistry.most_cells, CELLS)
    return [Problem("cells", f"{beyond} {most} are the most here. {_JOINED if joined else _ONE_PACK}")]


def beyond_touch(cells: float, chemistry: Chemistry) -> str:
    """Return in a sentence what so many full cells in series have together, where it is more than anybody may touch; else nothing."""
    if cells <= chemistry.most_cells:
        return ""
    each, together = Figure(chemistry.full_cell_v.value, CELL_VOLTS), Figure(cells * chemistry.full_cell_v.value, PACK_VOLTS)
    limit = Figure(TOUCH_LIMIT_V.value, PACK_VOLTS.to_step(1))
    return f"{Figure(cells, CELLS)} of {each} make {together} when they are full: more than the {limit} of direct voltage that anybody may touch."
