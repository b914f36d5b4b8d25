"""What the second output has of its own, where it is another charger's: the same entries as those of the first, asked again."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, TypeVar

from calc.inputs.equipment import ChargerEntries, DischargingChargerEntries
from calc.inputs.fields import same_as
from calc.inputs.planned_day import ANOTHER, OutputsEntries

Charger = TypeVar("Charger", bound=ChargerEntries)

# Of these an empty one is not known of the second charger; any other is as the first has it.
UNLESS_KNOWN = ("charger_input_most_v", "balance_current_a", "discharge_current_a", "discharge_power_w")
_OF_ANOTHER = ("second_charger", (ANOTHER,))


def _second(name: str, label: str, hint: str = "", asked_as: str = "") -> Any:
    """What another charger has. What may stay empty, and what it is then, is said once, where the charger is chosen."""
    return same_as(
        DischargingChargerEntries, name, label=label, optional=True, starts_as="", asked_as=asked_as, only_with=_OF_ANOTHER, hint=hint
    )


@dataclass(frozen=True, kw_only=True)
class SecondChargerEntries(OutputsEntries):
    """The charger of the second output, where it is another than that of the first."""

    second_charger_cells: float | None = _second(
        "charger_cells", "Most cells in series on the second charger", asked_as="the highest number of cells that the second charger takes"
    )
    second_balance_ports: float | None = _second(
        "balance_ports", "Balance ports of the second charger", asked_as="the number of balance ports of the second charger"
    )
    second_port_cells: float | None = _second(
        "port_cells",
        "Most cells on one balance port of the second charger",
        asked_as="the highest number of cells that one balance port of the second charger takes",
    )
    second_current_step_a: float | None = _second("current_step_a", "Smallest step of current of the second charger")
    second_capacity_step_mah: float | None = _second("capacity_step_mah", "Smallest step of capacity of the second charger")
    second_charger_input_least_v: float | None = _second("charger_input_least_v", "Lowest input voltage of the second charger")
    second_charger_input_most_v: float | None = _second(
        "charger_input_most_v",
        "Highest input voltage of the second charger",
        "On its label. Left empty, it is not known. Above it the charger breaks, and can burn.",
    )
    second_efficiency_percent: float | None = _second("efficiency_percent", "Efficiency of the second charger")
    second_balance_current_a: float | None = _second(
        "balance_current_a", "Balance current of the second charger", "Left empty, it is not known."
    )

    def second_charger_of(self, first: Charger) -> Charger:
        """Return the charger as the second output is of it: the first one with what the second output gives, or another."""
        second = replace(
            first,
            charger_current_a=self.second_output_current_a or first.charger_current_a,
            charger_power_w=self.second_output_power_w or first.charger_power_w,
        )
        if not self.has_second_charger:
            return second
        return replace(
            second,
            charger_cells=self.second_charger_cells or first.charger_cells,
            balance_ports=self.second_balance_ports or first.balance_ports,
            port_cells=self.second_port_cells or first.port_cells,
            current_step_a=self.second_current_step_a or first.current_step_a,
            capacity_step_mah=self.second_capacity_step_mah or first.capacity_step_mah,
            charger_input_least_v=self.second_charger_input_least_v or first.charger_input_least_v,
            charger_input_most_v=self.second_charger_input_most_v,
            efficiency_percent=self.second_efficiency_percent or first.efficiency_percent,
            balance_current_a=self.second_balance_current_a,
        )


@dataclass(frozen=True, kw_only=True)
class SecondDischargingChargerEntries(SecondChargerEntries):
    """The same with what the second charger takes out of a pack, if it can."""

    second_discharge_current_a: float | None = _second(
        "discharge_current_a", "Highest discharge current of the second charger", "Left empty, it discharges none."
    )
    second_discharge_power_w: float | None = _second(
        "discharge_power_w", "Highest discharge power of the second charger", "Left empty, its current alone counts."
    )

    def second_discharging_charger_of(self, first: DischargingChargerEntries) -> DischargingChargerEntries:
        """Return the charger of the second output, with what it takes out of a pack."""
        second = self.second_charger_of(first)
        if not self.has_second_charger:
            return second
        return replace(second, discharge_current_a=self.second_discharge_current_a, discharge_power_w=self.second_discharge_power_w)
