"""A charge by what is known of it so far: its current, and the settings that follow from label, readings and charger."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.facts.practice import AUTOMATIC_RATE_C, FLAGGED_RATE_C
from calc.figures.limits import Limit
from calc.figures.quantities import AMPERES, CELL_VOLTS, MILLIAMPERE_HOURS, PACK_VOLTS, RATE, WATT_HOURS, Figure
from calc.figures.rounding import up_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Setting, Table, held_by, shown
from calc.inputs.equipment import FINEST_CURRENT_STEP_A, USUAL_CAPACITY_STEP_MAH, ChargerEntries, LabelledPack, PackEntries
from calc.inputs.joined_packs import LabelledPluggedPack, PluggedPackEntries
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import current_at_rate_a, rate_c_of_current
from calc.presenting.cell_voltages import in_a_row
from calc.presenting.currents import current_setting
from calc.presenting.labels import label_settings
from calc.presenting.ranges import balancing_range, charge_put_in, ends_of, minutes_range
from calc.presenting.stops import stops_of, warming_sentence
from calc.presenting.storage_words import band_words, makers_own_limit
from calc.presenting.supply_load import feed_cautions
from calc.presenting.verdicts import cautions_before_a_charge, cautions_while_unread
from calc.presenting.wiring import own_ports_table
from calc.rules.charge.charge_heat import minutes_at_full_current
from calc.rules.charge.charge_outlook import Outlook, outlook_of
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import current_limits
from calc.rules.charge.own_plugs import plugs_of_one_pack, ports_of_one_pack
from calc.rules.pack.acceptance import Judged
from calc.rules.pack.condition import Condition
from calc.rules.pack.pack_limits import is_cold
from calc.rules.pack.transport import rated_wh


@dataclass(frozen=True, slots=True, kw_only=True)
class DialIn:
    """What goes into a pack, by its label and whatever else is known."""

    cautions: tuple[Caution, ...] = shown("Look out")
    charge_current: Setting = shown("Charge current", "Dial in")
    chemistry_mode: Setting = shown("Chemistry mode", "Dial in")
    cells: Setting = shown("Cells", "Dial in")
    capacity_setting: Setting = shown("Capacity setting", "Dial in")
    full_voltage: Setting = shown("Full voltage", "Dial in")


@dataclass(frozen=True, slots=True, kw_only=True)
class ByLabel(DialIn):
    """A pack that has not been read: nothing to dial in yet, and what its label says of storage and of a discharge."""

    charge_current: Setting = shown("Charge current, at most", "Dial in")
    storage_voltage: Setting = shown("Voltage for storage", "Storage and discharge")
    discharge_cutoff: Setting = shown("Discharge cutoff of one cell", "Storage and discharge")
    ports: Table | None = shown("Which plug into which port", "How to plug it in")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured(DialIn):
    """A pack that was read and may be charged: what goes in, what ends it, how long it takes, and what it puts in."""

    capacity_cutout: Setting = shown("Capacity", "Stop at")
    time_cutout: Setting = shown("Time", "Stop at")
    temperature_stop: Setting = shown("Temperature", "Stop at")
    charge_time: Range = shown("Minutes to full", "Ready in")
    balancing_time: Range | None = shown("Balancing, on top", "Ready in")
    at_full_current: Range = shown("At the full current", "How it goes")
    at_full_voltage: Range = shown("Then, at the full voltage", "How it goes")
    charge_put_in: Range = shown("Charge put in", "What it puts in")
    energy_put_in: Range = shown("Energy put in", "What it puts in")
    pack_energy: Setting = shown("Watt-hours of the pack", "What it puts in")
    storage_voltage: Setting = shown("Voltage for storage", "Charged to storage only")
    ports: Table | None = shown("Which plug into which port", "How to plug it in")


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A charge by what is known so far: a charger and a supply that are not entered are None, and set no limit."""

    pack: LabelledPack
    chemistry: Chemistry
    charger: ChargerEntries | None
    supply: SupplyEntries | None
    limits: list[Limit]
    binding: Limit
    current_a: float

    @property
    def is_flagged(self) -> bool:
        """Whether the current is above 1C of what the pack holds."""
        return rate_c_of_current(self.pack.effective_capacity_mah, self.current_a) > FLAGGED_RATE_C.value


def known_charge(
    *, pack: LabelledPack, chemistry: Chemistry, charger: ChargerEntries | None, supply: SupplyEntries | None, requested_rate_c: float
) -> Known:
    """Return a charge with its current: the lowest limit, on a step of the charger, or of the finest where none is known."""
    limits = current_limits(pack=pack, charger=charger, supply=supply, chemistry=chemistry, requested_rate_c=requested_rate_c)
    step_a = charger.current_step_a if charger else FINEST_CURRENT_STEP_A
    current_a, binding = charge_setting_a(pack=pack, current_step_a=step_a, limits=limits)
    return Known(pack=pack, chemistry=chemistry, charger=charger, supply=supply, limits=limits, binding=binding, current_a=current_a)


def by_label(known: Known, pack: LabelledPluggedPack, condition: Condition) -> ByLabel:
    """Return the settings of a pack that has not been read."""
    chemistry, cells = known.chemistry, known.pack.cells
    cutoff = chemistry.careful_cutoff_cell_v
    return ByLabel(
        **held_by(_dial_in(known, cautions_while_unread(condition))),
        storage_voltage=_storage_voltage(cells, chemistry),
        discharge_cutoff=Setting(
            figure=Figure(cutoff.value, CELL_VOLTS),
            also=Figure(cells * cutoff.value, PACK_VOLTS),
            set_by="common practice, with a margin",
            note=makers_own_limit(chemistry),
        ),
        ports=_ports(pack, known.charger),
    )


def outlook_of_known(known: Known, pack: PackEntries, judged: Judged) -> Outlook:
    """Return what the charge of a pack that was read will take."""
    balance_current_a = known.charger.balance_current_a if known.charger else None
    return outlook_of(
        pack=pack, balance_current_a=balance_current_a, chemistry=known.chemistry, reading=judged.reading, current_a=known.current_a
    )


def measured(known: Known, pack: PluggedPackEntries, judged: Judged, outlook: Outlook, of_supply: tuple[Caution, ...] = ()) -> Measured:
    """Return the settings of a pack that was read; `of_supply` is what to say of the supply beside them."""
    chemistry = known.chemistry
    step_mah = known.charger.capacity_step_mah if known.charger else None
    # Charger and supply can still lower the current.
    is_final = known.charger is not None and known.supply is not None
    stops = stops_of(pack=pack, capacity_step_mah=step_mah, chemistry=chemistry, outlook=outlook, is_final=is_final)
    warms = warming_sentence(pack, chemistry, minutes_at_full_current(outlook), known.current_a)
    is_full = judged.reading.lowest_cell_v >= chemistry.full_cell_v.value - 0.01
    sentences = [
        (warms, True),
        ("This pack is full already: charging adds nothing. Fly it, or bring it to storage." if is_full else "", False),
        ("It is cold: half the current at most, and look more often." if is_cold(pack, chemistry) else "", False),
    ]
    cautions = (*cautions_before_a_charge(judged.condition), *(Caution(sentence=one, grave=grave) for one, grave in sentences if one))
    return Measured(
        **held_by(_dial_in(known, cautions, of_supply)),
        **held_by(stops),
        charge_time=minutes_range(outlook.charge_min, outlook.wide_because),
        balancing_time=balancing_range(outlook),
        at_full_current=minutes_range(outlook.coming.constant_current_min, "the state of charge at the start"),
        at_full_voltage=minutes_range(
            outlook.coming.constant_voltage_min, "the resistance, and when the charger calls it full; meanwhile the current falls"
        ),
        charge_put_in=charge_put_in(outlook),
        energy_put_in=ends_of(outlook.energy_in_wh, WATT_HOURS, "the same, times the voltage while charging"),
        pack_energy=_pack_energy(pack, chemistry),
        storage_voltage=_storage_voltage(pack.cells, chemistry),
        ports=_ports(pack, known.charger),
    )


def _ports(pack: LabelledPluggedPack, charger: ChargerEntries | None) -> Table | None:
    """Which plug goes where, of a pack that has two."""
    plugs = plugs_of_one_pack(pack.cells, pack.first_plug_cells)
    ports = ports_of_one_pack(plugs, charger) if charger else None
    return own_ports_table(plugs, ports) if ports and len(plugs) > 1 else None


def _dial_in(known: Known, of_pack: tuple[Caution, ...], of_supply: tuple[Caution, ...] = ()) -> DialIn:
    charger = known.charger
    labels = label_settings(
        pack=known.pack,
        capacity_step_mah=charger.capacity_step_mah if charger else USUAL_CAPACITY_STEP_MAH,
        chemistry=known.chemistry,
        capacity_by=_capacity_by(charger),
        capacity_note=_automatic_current(known),
    )
    above = (Caution(sentence="Above 1C the pack ages sooner, whatever its label allows."),) if known.is_flagged else ()
    return DialIn(
        cautions=(*feed_cautions(known.supply, charger), *of_pack, *above, *of_supply),
        charge_current=current_setting(
            pack=known.pack,
            current_step_a=charger.current_step_a if charger else None,
            current_a=known.current_a,
            binding=known.binding,
            limits=known.limits,
        ),
        **held_by(labels),
    )


def _capacity_by(charger: ChargerEntries | None) -> str:
    step_mah = charger.capacity_step_mah if charger else USUAL_CAPACITY_STEP_MAH
    step = Figure(step_mah, MILLIAMPERE_HOURS.to_step(step_mah))
    if charger is None:
        return worded("the label, rounded up to a step of {}, as most chargers have it (common practice, no source)", step)
    return worded("the label, rounded up to the charger's step of {}", step)


def _automatic_current(known: Known) -> str:
    """What a charger that works the current out by itself would give, counting from its capacity setting."""
    pack = known.pack
    setting_mah = up_to_step(pack.capacity_mah, known.charger.capacity_step_mah if known.charger else USUAL_CAPACITY_STEP_MAH)
    automatic_a = current_at_rate_a(setting_mah, AUTOMATIC_RATE_C.value)
    automatic_c = rate_c_of_current(pack.effective_capacity_mah, automatic_a)
    note = (
        f"At an automatic 1C the charger would then give {Figure(automatic_a, AMPERES.to_step(0.01))}, "
        f"which is {Figure(automatic_c, RATE.as_it_is)} for this pack."
    )
    if automatic_c > FLAGGED_RATE_C.value:
        note += " Set the current by hand, as above: the automatic one is too high."
    return note


def _storage_voltage(cells: float, chemistry: Chemistry) -> Setting:
    band = in_a_row((chemistry.storage_low_cell_v, chemistry.storage_high_cell_v), cells, PACK_VOLTS)
    return Setting(figure=str(band), set_by=f"{band_words(chemistry)}, at rest")


def _pack_energy(pack: PackEntries, chemistry: Chemistry) -> Setting:
    pack_wh = rated_wh(capacity_mah=pack.capacity_mah, cells=pack.cells, chemistry=chemistry, label_wh=None)
    return Setting(
        figure=Figure(pack_wh, WATT_HOURS.to_step(0.01)),
        set_by="capacity times the highest nominal voltage of such cells, rounded up: so the rules for air freight count it (49 CFR 171.8)",
        note="Where watt-hours are printed on the label, carriers count those: enter them on the page Carry and send.",
    )
