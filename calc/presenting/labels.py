"""What the labels say, as it is set on the charger: of one pack, or of several that are charged as one."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.figures.quantities import CELL_VOLTS, CELLS, MILLIAMPERE_HOURS, PACK_VOLTS, Figure
from calc.figures.rounding import up_to_step
from calc.figures.showing import Setting
from calc.inputs.equipment import LabelledPack
from calc.presenting.cell_voltages import label_voltage


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSettings:
    """What to set by the label alone, whatever the charge."""

    chemistry_mode: Setting
    cells: Setting
    capacity_setting: Setting
    full_voltage: Setting


def label_settings(
    *, pack: LabelledPack, capacity_step_mah: float, chemistry: Chemistry, capacity_by: str, capacity_note: str, packs: int = 1
) -> LabelSettings:
    """Return what to set by the label, or by the labels of several packs that are the entries of one."""
    s = "s" if packs > 1 else ""
    full_cell_v = chemistry.full_cell_v.value
    on_label = label_voltage(chemistry, pack.cells)
    dial_mah = MILLIAMPERE_HOURS.to_step(capacity_step_mah)
    return LabelSettings(
        chemistry_mode=Setting(figure=chemistry.charger_mode, set_by=f"the label{s}; a wrong mode sets the pack{s} on fire"),
        cells=Setting(
            figure=Figure(pack.cells, CELLS),
            also=on_label.figure,
            set_by=f"the label{s}; the charger must count the same at the balance plug{s}",
            note=f"The voltage beside it is that of {'all together' if packs > 1 else 'the label'}: {on_label.set_by}.",
        ),
        capacity_setting=Setting(
            figure=Figure(up_to_step(pack.capacity_mah, capacity_step_mah), dial_mah), set_by=capacity_by, note=capacity_note
        ),
        full_voltage=Setting(
            figure=Figure(pack.cells * full_cell_v, PACK_VOLTS),
            set_by=f"{Figure(full_cell_v, CELL_VOLTS)} for each cell: the charger must stop here",
        ),
    )
