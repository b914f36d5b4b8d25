"""What feeds the second output, where it is another charger's with a supply of its own: the same entries as those of the first, asked again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.inputs.fields import entries_of, same_as
from calc.inputs.planned_day import OWN_SUPPLY, OutputsEntries
from calc.inputs.refusals import Problem, within_sentence
from calc.inputs.supply import LEAD_ACID_SUPPLIES, MAINS, SUPPLY, SupplyEntries

SECOND = "second_"
_OWN = ("second_supply", (OWN_SUPPLY,))
_BATTERY = ("second_supply_kind", LEAD_ACID_SUPPLIES)
_MAINS = ("second_supply_kind", (MAINS,))


@dataclass(frozen=True, kw_only=True)
class SecondSupplyEntries(OutputsEntries):
    """The second supply, and the lead from it to the second charger."""

    second_supply_kind: str = same_as(SupplyEntries, "supply_kind", label="Second supply", only_with=_OWN)
    second_battery_kind: str = same_as(SupplyEntries, "battery_kind", label="Kind of the second battery", only_with=_BATTERY)
    second_battery_ah: float = same_as(SupplyEntries, "battery_ah", label="Capacity of the second battery", only_with=_BATTERY)
    second_battery_resting_v: float = same_as(
        SupplyEntries, "battery_resting_v", label="Resting voltage of the second battery", only_with=_BATTERY
    )
    second_supply_v: float = same_as(SupplyEntries, "supply_v", label="Output voltage of the second supply", only_with=_MAINS)
    second_supply_current_a: float = same_as(
        SupplyEntries, "supply_current_a", label="Highest output current of the second supply", only_with=_MAINS
    )
    second_lead_length_m: float = same_as(
        SupplyEntries,
        "lead_length_m",
        label="Length of the second supply lead, one way",
        only_with=_OWN,
        asked_as="the one-way length of the second supply lead",
    )
    second_lead_area_mm2: float = same_as(
        SupplyEntries, "lead_area_mm2", label="Cross-section of one wire of the second lead", only_with=_OWN
    )
    second_connector_mohm: float | None = same_as(
        SupplyEntries,
        "connector_mohm",
        label="Resistance of the second lead's connectors and clips",
        group=SUPPLY,
        only_with=_OWN,
        asked_as="the resistance of the second lead's connectors and clips",
    )
    second_lead_fuse_a: float | None = same_as(
        SupplyEntries,
        "lead_fuse_a",
        label="Fuse in the second supply lead",
        group=SUPPLY,
        only_with=_OWN,
        asked_as="the rating of the fuse in the second supply lead",
    )

    @property
    def second_supply_entries(self) -> SupplyEntries:
        """The second supply, by the names of the first."""
        return SupplyEntries(
            supply_kind=self.second_supply_kind,
            battery_kind=self.second_battery_kind,
            battery_ah=self.second_battery_ah,
            battery_resting_v=self.second_battery_resting_v,
            supply_v=self.second_supply_v,
            supply_current_a=self.second_supply_current_a,
            lead_length_m=self.second_lead_length_m,
            lead_area_mm2=self.second_lead_area_mm2,
            connector_mohm=self.second_connector_mohm,
            lead_fuse_a=self.second_lead_fuse_a,
        )


def supplies_of(first: SupplyEntries, entered: SecondSupplyEntries) -> tuple[SupplyEntries, ...]:
    """Return what the outputs hang on: one supply, or two."""
    return (first, entered.second_supply_entries) if entered.has_second_supply else (first,)


def of_second_charger(problems: Sequence[Problem], entered: OutputsEntries) -> list[Problem]:
    """Return problems of the second charger and of what feeds it, each at its own entry."""
    of_a_supply = entries_of(SupplyEntries).keys()

    def field(name: str) -> str:
        return name if name in of_a_supply and not entered.has_second_supply else f"{SECOND}{name}"

    return [
        replace(problem, field=field(problem.field), sentence=f"Second charger: {within_sentence(problem.sentence)}")
        for problem in problems
    ]
