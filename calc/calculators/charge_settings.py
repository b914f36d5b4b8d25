"""What do I dial in to charge this pack, on this charger and from this supply, and how long will it take?

A pack whose condition forbids a charge is refused. Else the lowest ceiling binds the current: the label, the rate asked for,
the charger's current or power, the supply, its lead, the pack's condition, or the cold. Every other setting follows from the
pack's label, its state now and the current. Without readings, charger or supply it answers by what it has, and says what is missing.
Assumes a charger that senses each cell at the balance plug.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators.parts.charge_settings_known import ByLabel, Known, Measured, by_label, known_charge, measured, outlook_of_known
from calc.calculators.parts.charge_settings_supply import supply_load
from calc.figures.sentences import joined_with_and
from calc.figures.showing import Range, Setting, held_by, shown
from calc.inputs.entered import Entered
from calc.inputs.equipment import ChargerEntries, RateEntries
from calc.inputs.fields import same_as
from calc.inputs.joined_packs import LabelledPluggedPack, PluggedPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import SupplyEntries
from calc.presenting.partial_answers import PartialAnswer
from calc.presenting.supply_load import cautions_of_supply, floor_cautions
from calc.rules.charge.own_plugs import problems_of_own_plugs
from calc.rules.pack.acceptance import Judged, judged, judged_so_far, problems_of_charger, problems_of_supply
from calc.rules.pack.findings import Act
from calc.rules.supply.supply_demand import demand_of


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries, ChargerEntries, PluggedPackEntries):
    """A pack, a charger, a supply, and the rate to charge at."""

    requested_rate_c: float = same_as(RateEntries, "requested_rate_c")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(Measured):
    """What goes in, what ends it, how long it takes and what it puts in; then what it takes from the supply."""

    supply_at_start: Setting = shown("Supply current at the start", "What it takes from the supply")
    supply_at_peak: Setting = shown("Supply current at its peak", "What it takes from the supply")
    supply_mean: Setting = shown("Supply current on average", "What it takes from the supply")
    supply_used: Range = shown("Taken from the supply", "What it takes from the supply")
    supply_energy: Range = shown("Energy taken from the supply", "What it takes from the supply")
    supply_charges: Setting | None = shown("Such charges in the battery", "What it takes from the supply")


def work_out(given: Inputs) -> Answer:
    """Return every setting for one charge, each with the limit that set it; every current is at or below every limit."""
    pack = accepted(given)
    known = known_charge(pack=given, chemistry=pack.chemistry, charger=given, supply=given, requested_rate_c=given.requested_rate_c)
    outlook = outlook_of_known(known, given, pack)
    demand = demand_of(pack=given, charger=given, supply=given, chemistry=pack.chemistry, current_a=known.current_a, outlook=outlook)
    load = supply_load(given, demand, given.charger_input_least_v)
    return Answer(
        **held_by(measured(known, given, pack, outlook, cautions_of_supply(given, demand.peak_current_a))),
        supply_at_start=load.at_start,
        supply_at_peak=load.at_peak,
        supply_mean=load.mean,
        supply_used=load.used,
        supply_energy=load.energy,
        supply_charges=load.charges,
    )


def accepted(given: Inputs) -> Judged:
    """Return the pack, judged; refuse with everything at once that speaks against the charge."""
    also = [*_problems_of_plugging(given, given.cells, given.first_plug_cells), *problems_of_supply(supply=given, charger=given)]
    return judged(given, also, Act.CHARGE)


def so_far(entered: Entered) -> PartialAnswer:
    """Return what holds by the label and by whatever else is entered.

    Refuses as `work_out` does, by everything that is known; without the whole label there is nothing to go by.
    """
    label, rate = entered.of(LabelledPluggedPack), entered.of(RateEntries)
    if label is None or rate is None:
        raise Refused(*entered.missing_of(LabelledPluggedPack), *entered.missing_of(RateEntries))
    pack, charger, supply = entered.of(PluggedPackEntries), entered.of(ChargerEntries), entered.of(SupplyEntries)
    also = [
        *(_problems_of_plugging(charger, label.cells, label.first_plug_cells) if charger else ()),
        *(problems_of_supply(supply=supply, charger=charger) if supply else ()),
    ]
    found: ByLabel | Measured
    if pack:
        one = judged(pack, also, Act.CHARGE)
        known = known_charge(pack=pack, chemistry=one.chemistry, charger=charger, supply=supply, requested_rate_c=rate.requested_rate_c)
        found = measured(known, pack, one, outlook_of_known(known, pack, one), floor_cautions(supply))
    else:
        chemistry, condition = judged_so_far(label, also, Act.CHARGE)
        known = known_charge(pack=label, chemistry=chemistry, charger=charger, supply=supply, requested_rate_c=rate.requested_rate_c)
        found = by_label(known, label, condition)
    return PartialAnswer(
        known=found,
        basis=_basis(known, is_read=pack is not None),
        not_counted=_not_counted(known, has_supply=supply is not None),
        may_start=pack is not None,
        begun=entered.begun,
    )


def _problems_of_plugging(charger: ChargerEntries, cells: float, first_plug_cells: float | None) -> list[Problem]:
    return problems_of_charger(charger, cells) or problems_of_own_plugs(cells=cells, first_plug_cells=first_plug_cells, charger=charger)


def _basis(known: Known, *, is_read: bool) -> str:
    rests_on = ["the label", *(["your readings"] if is_read else []), *(["your charger"] if known.charger else [])]
    if known.charger and known.supply:
        rests_on.append("your supply")
    return f"By {joined_with_and(rests_on)}"


def _not_counted(known: Known, *, has_supply: bool) -> str:
    unread = [what for what, read in (("voltage", known.pack.resting_v), ("temperature", known.pack.coolest_degc)) if read is None]
    missing = [f"the pack's {joined_with_and(unread)}"] if unread else []
    if known.charger is None:
        missing.append("your charger, and with it your supply" if has_supply else "your charger")
    if not has_supply:
        missing.append("your supply with its lead")
    # On a page that asks more, all that a charge is set by may be there.
    sentences = [f"Not counted yet: {joined_with_and(missing)}.", "What is missing can only lower the current."] if missing else []
    if unread:
        sentences.append("A frozen, flat or swollen pack is not charged.")
    if not has_supply:
        sentences.append("Until the kind of supply and its lead are entered there is no fuse and no figure of the supply.")
    return " ".join(sentences)
