"""Where a discharge on the charger ends before it harms a cell, and the current that it may have."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.figures.limits import Limit, lowest
from calc.figures.quantities import CELL_VOLTS, CELLS, PACK_AMPERES, PACK_VOLTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Setting
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.rules.charge.discharge_limits import discharge_current_limits, discharge_power_limit


def discharge_cutoff(chemistry: Chemistry) -> Setting:
    """Return the cutoff of one cell."""
    return Setting(
        figure=Figure(chemistry.careful_cutoff_cell_v.value, CELL_VOLTS),
        set_by="common practice, with a margin",
        note=f"The maker's own limit is {Figure(chemistry.maker_cutoff_cell_v.value, CELL_VOLTS)}, which leaves none for the weakest cell.",
    )


def pack_discharge_cutoff(pack: PackEntries, chemistry: Chemistry) -> Setting:
    """Return the cutoff of the whole pack."""
    careful_v = chemistry.careful_cutoff_cell_v.value
    return Setting(
        figure=Figure(pack.cells * careful_v, PACK_VOLTS), set_by=f"{Figure(careful_v, CELL_VOLTS)} for each of {Figure(pack.cells, CELLS)}"
    )


def discharge_current(*, pack: PackEntries, charger: ChargerEntries, chemistry: Chemistry) -> Setting | None:
    """Return the highest current of a discharge, or None where the charger's is not known."""
    if charger.discharge_current_a is None:
        return None
    limits = discharge_current_limits(pack=pack, charger=charger)
    power = discharge_power_limit(charger)
    if power is not None:
        full_pack_v = pack.cells * chemistry.full_cell_v.value
        limits.append(Limit(power.ceiling / full_pack_v, f"{power.because}, at the full voltage"))
    binding = lowest(limits)
    current_a = down_to_step(binding.ceiling, charger.current_step_a)
    amperes = PACK_AMPERES.to_step(charger.current_step_a)
    if current_a == 0:
        return Setting(figure=worded("less than {}", Figure(charger.current_step_a, amperes)), set_by=binding.because)
    return Setting(figure=Figure(current_a, amperes), set_by=binding.because)
