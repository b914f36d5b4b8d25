"""What do I dial in to charge this pack, on this charger and from this supply, and how long will it take?

A pack whose condition forbids a charge is refused. Else the lowest ceiling binds the current: the label, the rate asked for,
the charger's current or power, the supply, its lead, the pack's condition, or the cold. Every other setting follows from the
pack's label, its state now and the current. Assumes a charger that senses each cell at the balance plug.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators._charge_settings_supply import supply_load
from calc.facts.chemistries import Chemistry
from calc.facts.practice import AUTOMATIC_RATE_C, FLAGGED_RATE_C
from calc.figures.quantities import AMPERES, MILLIAMPERE_HOURS, RATE, WATT_HOURS, Figure
from calc.figures.rounding import up_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Setting, shown
from calc.inputs.equipment import ChargerEntries, PackEntries, RateEntries
from calc.inputs.fields import same_as
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import current_at_rate_a, rate_c_of_current
from calc.presenting.currents import current_setting
from calc.presenting.labels import label_settings
from calc.presenting.ranges import balancing_range, charge_put_in, ends_of, minutes_range
from calc.presenting.stops import stops_of, warming_sentence
from calc.presenting.supply_load import cautions_of_supply, input_cautions
from calc.presenting.verdicts import cautions_before_a_charge
from calc.rules.charge.charge_heat import minutes_at_full_current
from calc.rules.charge.charge_outlook import outlook_of
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import current_limits
from calc.rules.pack.acceptance import Judged, judged, problems_of_charger, problems_of_supply
from calc.rules.pack.findings import Act
from calc.rules.pack.pack_limits import is_cold
from calc.rules.pack.transport import rated_wh
from calc.rules.supply.supply_demand import Demand, demand_of


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries, ChargerEntries, PackEntries):
    """A pack, a charger, a supply, and the rate to charge at."""

    requested_rate_c: float = same_as(RateEntries, "requested_rate_c")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What goes in, what ends it, how long it takes; then what to expect of the pack and of the supply."""

    cautions: tuple[Caution, ...] = shown("Look out")
    charge_current: Setting = shown("Charge current", "Dial in")
    chemistry_mode: Setting = shown("Chemistry mode", "Dial in")
    cells: Setting = shown("Cells", "Dial in")
    capacity_setting: Setting = shown("Capacity setting", "Dial in")
    full_voltage: Setting = shown("Full voltage of the pack", "Dial in")
    capacity_cutout: Setting = shown("Charge capacity cut-out", "Stop at")
    time_cutout: Setting = shown("Time cut-out", "Stop at")
    temperature_stop: Setting = shown("Temperature stop", "Stop at")
    charge_time: Range = shown("Minutes to full", "Ready in")
    balancing_time: Range | None = shown("Balancing, on top", "Ready in")
    at_full_current: Range = shown("At the full current", "How it goes")
    at_full_voltage: Range = shown("Then, at the full voltage", "How it goes")
    charge_put_in: Range = shown("Charge put in", "What it puts in")
    energy_put_in: Range = shown("Energy put in", "What it puts in")
    pack_energy: Setting = shown("Watt-hours of the pack", "What it puts in")
    supply_at_start: Setting = shown("Supply current at the start", "What it takes from the supply")
    supply_at_peak: Setting = shown("Supply current at its peak", "What it takes from the supply")
    supply_mean: Setting = shown("Supply current on average", "What it takes from the supply")
    supply_used: Range = shown("Taken from the supply", "What it takes from the supply")
    supply_energy: Range = shown("Energy taken from the supply", "What it takes from the supply")
    supply_charges: Setting | None = shown("Such charges in the battery", "What it takes from the supply")


def work_out(given: Inputs) -> Answer:
    """Return every setting for one charge, each with the limit that set it; every current is at or below every limit."""
    pack = accepted(given)
    chemistry, reading = pack.chemistry, pack.reading
    limits = current_limits(pack=given, charger=given, supply=given, chemistry=chemistry, requested_rate_c=given.requested_rate_c)
    current_a, binding = charge_setting_a(pack=given, charger=given, limits=limits)
    outlook = outlook_of(pack=given, charger=given, chemistry=chemistry, reading=reading, current_a=current_a)
    demand = demand_of(pack=given, charger=given, supply=given, chemistry=chemistry, current_a=current_a, outlook=outlook)
    warms = warming_sentence(given, chemistry, minutes_at_full_current(outlook), current_a)
    step = Figure(given.capacity_step_mah, MILLIAMPERE_HOURS.to_step(given.capacity_step_mah))
    labels = label_settings(
        pack=given,
        charger=given,
        chemistry=chemistry,
        capacity_by=worded("the label, rounded up to the charger's step of {}", step),
        capacity_note=_automatic_current(given),
    )
    stops = stops_of(pack=given, charger=given, chemistry=chemistry, outlook=outlook)
    load = supply_load(given, demand)
    return Answer(
        cautions=_cautions(given, pack, current_a, demand, warms),
        charge_current=current_setting(pack=given, charger=given, current_a=current_a, binding=binding, limits=limits),
        chemistry_mode=labels.chemistry_mode,
        cells=labels.cells,
        capacity_setting=labels.capacity_setting,
        full_voltage=labels.full_voltage,
        capacity_cutout=stops.capacity_cutout,
        time_cutout=stops.time_cutout,
        temperature_stop=stops.temperature_stop,
        charge_time=minutes_range(outlook.charge_min, outlook.wide_because),
        at_full_current=minutes_range(outlook.coming.constant_current_min, "the state of charge at the start"),
        at_full_voltage=minutes_range(
            outlook.coming.constant_voltage_min, "the resistance, and when the charger calls it full; meanwhile the current falls"
        ),
        balancing_time=balancing_range(outlook),
        charge_put_in=charge_put_in(outlook),
        energy_put_in=ends_of(outlook.energy_in_wh, WATT_HOURS, "the same, times the voltage while charging"),
        pack_energy=_pack_energy(given, chemistry),
        supply_at_start=load.at_start,
        supply_at_peak=load.at_peak,
        supply_mean=load.mean,
        supply_used=load.used,
        supply_energy=load.energy,
        supply_charges=load.charges,
    )


def accepted(given: Inputs) -> Judged:
    """Return the pack, judged; refuse with everything at once that speaks against the charge."""
    also = [*problems_of_charger(given, given.cells), *problems_of_supply(supply=given, charger=given)]
    return judged(given, also, Act.CHARGE)


def _automatic_current(given: Inputs) -> str:
    """What a charger that works the current out by itself would give, counting from its capacity setting."""
    setting_mah = up_to_step(given.capacity_mah, given.capacity_step_mah)
    automatic_a = current_at_rate_a(setting_mah, AUTOMATIC_RATE_C.value)
    automatic_c = rate_c_of_current(given.effective_capacity_mah, automatic_a)
    note = (
        f"At an automatic 1C the charger would then give {Figure(automatic_a, AMPERES.to_step(0.01))}, "
        f"which is {Figure(automatic_c, RATE.as_it_is)} for this pack."
    )
    if automatic_c > FLAGGED_RATE_C.value:
        note += " Set the current by hand, as above: the automatic one is too high."
    return note


def _pack_energy(given: Inputs, chemistry: Chemistry) -> Setting:
    pack_wh = rated_wh(capacity_mah=given.capacity_mah, cells=given.cells, chemistry=chemistry, label_wh=None)
    return Setting(
        figure=Figure(pack_wh, WATT_HOURS.to_step(0.01)),
        set_by="capacity times the highest nominal voltage of such cells, rounded up, as air transport rules count it (49 CFR 171.8)",
        note="Where watt-hours are printed on the label, carriers count those: enter them on the page Carry and send.",
    )


def _cautions(given: Inputs, pack: Judged, current_a: float, demand: Demand, warms: str) -> tuple[Caution, ...]:
    sentences = [
        (warms, True),
        ("This pack is full already: charging adds nothing. Fly it, or bring it to storage.", False)
        if pack.reading.lowest_cell_v >= pack.chemistry.full_cell_v.value - 0.01
        else ("", False),
        ("It is cold: half the current at most, and look more often.", False) if is_cold(given, pack.chemistry) else ("", False),
        ("Above 1C the pack ages sooner, whatever its label allows.", False)
        if rate_c_of_current(given.effective_capacity_mah, current_a) > FLAGGED_RATE_C.value
        else ("", False),
        *cautions_of_supply(given, demand.peak_current_a),
    ]
    return (
        *input_cautions(given, given.charger_input_most_v),
        *cautions_before_a_charge(pack.condition),
        *(Caution(sentence=sentence, grave=grave) for sentence, grave in sentences if sentence),
    )
