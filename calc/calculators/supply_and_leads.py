"""Is this supply, with this lead and its fuse, good enough for my charger, and how far does the battery go?

The charger's full power is asked for first. Where supply, lead or fuse allow less, everything below counts on what they allow,
and the power to set on the charger follows from it. Assumes a steady current and a battery that still has its label's capacity.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.calculators.parts.supply_and_leads_lead import fuse_setting, lead_rating, leads_by_length, loss_cautions, losses_shown
from calc.calculators.parts.supply_and_leads_runtime import RuntimeShown, runtime_shown
from calc.facts.flying import RESERVE_PERCENT
from calc.facts.lead_acid import REFILL_RATE_C
from calc.figures.limits import Limit, lowest
from calc.figures.quantities import AMPERES, DEGREES_CELSIUS, HOURS, PACKS, PERCENT, WATTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Caution, Ceiling, Range, Setting, Table, held_by, shown
from calc.figures.units import fraction_from_percent
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.fields import number, same_as
from calc.inputs.refusals import Refused
from calc.inputs.supply import LEAD_ACID_SUPPLIES, SUPPLY_MORE, SupplyEntries
from calc.physics.pack.packs import watt_hours
from calc.physics.supply.battery_runtime import Runtime, refill_h, runtime_of
from calc.physics.supply.lead_losses import Losses, losses_at
from calc.physics.supply.source import current_for_power_a, source_resistance_ohm, source_v
from calc.presenting.supply_load import cautions_of_supply, feed_cautions
from calc.rules.charge.charging_limits import power_into_pack_w, supply_limits
from calc.rules.pack.acceptance import chemistry_of, problems_of_supply
from calc.rules.supply.battery_floor import floor_of

FULL_POWER = "the charger's highest power"
_ONLY_BATTERIES = ("supply_kind", LEAD_ACID_SUPPLIES)


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries):
    """A supply and its lead; of the charger and the pack only what bears on them."""

    battery_degc: float | None = number(
        "Temperature of the battery",
        DEGREES_CELSIUS,
        group=SUPPLY_MORE,
        least=-40,
        most=60,
        optional=True,
        measured=True,
        only_with=_ONLY_BATTERIES,
        such_as="20",
        hint="A cold battery gives less. Left empty, it counts as warm.",
    )
    battery_charger_a: float | None = number(
        "Current of the battery's own charger",
        AMPERES,
        group=SUPPLY_MORE,
        least=0.1,
        most=100,
        optional=True,
        only_with=_ONLY_BATTERIES,
        hint="The one that fills it again. Left empty, it counts as a tenth of its capacity.",
    )
    charger_power_w: float = same_as(ChargerEntries, "charger_power_w")
    charger_input_least_v: float = same_as(ChargerEntries, "charger_input_least_v")
    charger_input_most_v: float | None = same_as(ChargerEntries, "charger_input_most_v")
    efficiency_percent: float = same_as(ChargerEntries, "efficiency_percent")
    chemistry: str = same_as(PackEntries, "chemistry", only_with=_ONLY_BATTERIES)
    cells: float = same_as(PackEntries, "cells", only_with=_ONLY_BATTERIES)
    capacity_mah: float = same_as(PackEntries, "capacity_mah", only_with=_ONLY_BATTERIES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the charger may ask, what the lead makes of it, the fuse, how far a battery goes, and the leads that would do."""

    cautions: tuple[Caution, ...] = shown("Look out")
    power_to_set: Setting = shown("Charger's power, at most", "What the charger may ask")
    requested_current: Setting = shown("Supply current at the charger's full power", "What the charger may ask")
    allowed_current: Setting = shown("Supply current allowed", "What the charger may ask")
    drop: Range = shown("Voltage lost on the lead", "The lead")
    drop_share: Range = shown("Share of the voltage lost", "The lead")
    lost_power: Range = shown("Power lost as heat", "The lead")
    at_charger: Range = shown("Voltage at the charger", "The lead")
    to_spare: Setting = shown("To spare above the charger's lowest input", "The lead")
    lead_rating: Setting = shown("Current that this lead may carry", "The fuse")
    fuse: Setting = shown("Fuse to fit", "The fuse")
    charged: Setting | None = shown("Charged now", "How far the battery goes")
    ends_by: Setting | None = shown("What ends it first", "How far the battery goes")
    full_capacity: Setting | None = shown("A full one gives at this current", "How far the battery goes")
    usable: Setting | None = shown("It gives before that end", "How far the battery goes")
    time: Setting | None = shown("Time at this current", "How far the battery goes")
    packs: Range | None = shown("Such packs until that end", "How far the battery goes")
    kept_to_start: Setting | None = shown("Kept for starting the engine", "How far the battery goes")
    refill: Range | None = shown("Hours to fill it again afterwards", "How far the battery goes")
    leads: Table = shown("Leads", "Which lead for which length")


def work_out(given: Inputs) -> Answer:
    """Return what a supply and its lead can do for a charger; no current is above any limit of supply, lead or fuse.

    Refuses a supply that cannot start the charger, and a pack whose chemistry is not known or not lithium.
    """
    problems = problems_of_supply(supply=given, charger=given)
    if problems:
        raise Refused(*problems)
    if given.is_lead_acid:
        chemistry_of(given)
    limits = supply_limits(given, given.charger_input_least_v)
    allowed = lowest(limits)
    requested_a = _requested_a(given)
    current_a = min(allowed.ceiling, requested_a if requested_a is not None else allowed.ceiling)
    losses = losses_at(given, current_a)
    lead = losses_shown(losses, current_a, given.charger_input_least_v)
    runtime = _runtime(given, current_a, losses) if given.is_lead_acid else None
    battery = _battery(given, current_a, runtime) if runtime else RuntimeShown()
    return Answer(
        cautions=_cautions(given, current_a, requested_a, allowed, losses),
        power_to_set=_power_to_set(given, allowed, requested_a),
        requested_current=_requested_current(given, requested_a),
        allowed_current=_allowed_current(limits, allowed),
        **held_by(lead),
        lead_rating=lead_rating(given),
        fuse=fuse_setting(given, current_a),
        **held_by(battery),
        packs=_packs(given, runtime, losses) if runtime else None,
        refill=_refill(given, runtime) if runtime else None,
        leads=leads_by_length(given, current_a),
    )


def _requested_a(given: Inputs) -> float | None:
    """The current at the charger's full power, or nothing where so much power cannot pass at all."""
    power_w = given.charger_power_w / fraction_from_percent(given.efficiency_percent)
    try:
        return current_for_power_a(source_v(given), source_resistance_ohm(given), power_w)
    except ValueError:
        return None


def _power_to_set(given: Inputs, allowed: Limit, requested_a: float | None) -> Setting:
    if requested_a is not None and requested_a <= allowed.ceiling:
        return Setting(figure=Figure(given.charger_power_w, WATTS), set_by=FULL_POWER, note="Supply and lead are good for all of it.")
    power_w = down_to_step(power_into_pack_w(given, supply_current_a=allowed.ceiling, efficiency_percent=given.efficiency_percent), 1)
    return Setting(
        figure=Figure(power_w, WATTS) if power_w else f"less than {Figure(1, WATTS)}",
        set_by=allowed.because,
        note="Set no more than this on the charger, or a charge current that needs no more.",
    )


def _requested_current(given: Inputs, requested_a: float | None) -> Setting:
    efficiency = Figure(given.efficiency_percent, PERCENT)
    set_by = f"{FULL_POWER}, {Figure(given.charger_power_w, WATTS)}, at {efficiency} efficiency, behind this supply and lead"
    if requested_a is None:
        return Setting(
            figure="more than can pass", set_by=set_by, note="The lead cannot pass so much power: the voltage would break down first."
        )
    return Setting(figure=Figure(requested_a, AMPERES), set_by=set_by)


def _allowed_current(limits: list[Limit], allowed: Limit) -> Setting:
    return Setting(
        figure=Figure(down_to_step(allowed.ceiling, 0.1), AMPERES),
        set_by=allowed.because,
        ceilings=tuple(
            Ceiling(because=limit.because, figure=Figure(down_to_step(limit.ceiling, 0.1), AMPERES), binds=limit is allowed)
            for limit in sorted(limits, key=lambda limit: limit.ceiling)
        ),
    )


def _runtime(given: Inputs, current_a: float, losses: Losses) -> Runtime:
    return runtime_of(
        given,
        current_a,
        floor_percent=floor_of(given).value,
        lost_v=source_v(given) - losses.at_charger_v.least,
        charger_input_least_v=given.charger_input_least_v,
        battery_degc=given.battery_degc,
    )


def _battery(given: Inputs, current_a: float, runtime: Runtime) -> RuntimeShown:
    return runtime_shown(
        given, runtime, current_a=current_a, charger_input_least_v=given.charger_input_least_v, battery_degc=given.battery_degc
    )


def _packs(given: Inputs, runtime: Runtime, losses: Losses) -> Range:
    chemistry = chemistry_of(given)
    flown_share = fraction_from_percent(100 - RESERVE_PERCENT.value)
    flown_wh = flown_share * watt_hours(given.capacity_mah, given.cells, chemistry.nominal_cell_v.value)
    empty_wh = watt_hours(given.capacity_mah, given.cells, chemistry.full_cell_v.value)

    def count(pack_wh: float) -> Figure:
        taken_ah = pack_wh / fraction_from_percent(given.efficiency_percent) / losses.at_charger_v.least
        return Figure(down_to_step(runtime.usable_ah / taken_ah, 1), PACKS)

    return Range(
        least=count(empty_wh),
        most=count(flown_wh),
        because=f"charged from empty, or after a flight that left {Figure(RESERVE_PERCENT.value, PERCENT)}",
        note="Plan with the lower number. The battery over the day follows the charges one by one.",
    )


def _refill(given: Inputs, runtime: Runtime) -> Range:
    charger_a = given.battery_charger_a or REFILL_RATE_C.value * given.battery_ah
    by = "its own charger" if given.battery_charger_a else "a charger of a tenth of its capacity"
    from_percent = min(runtime.ends_percent, runtime.charged_percent)
    shortest, longest = (Figure(hours, HOURS) for hours in refill_h(given.battery_ah, from_percent, charger_a))
    return Range(
        least=shortest,
        most=longest,
        because="a battery takes in its last quarter slowly, an old or sealed one more so (ampere-hour law; common practice, no source)",
        note=f"From {Figure(from_percent, PERCENT)} with {Figure(charger_a, AMPERES)}, {by}. Do it the same day, in the open or with the doors open.",
    )


def _cautions(given: Inputs, current_a: float, requested_a: float | None, allowed: Limit, losses: Losses) -> tuple[Caution, ...]:
    too_much = f"The charger can ask for more than this supply and lead may give. What limits it is {allowed.because}."
    return (
        *feed_cautions(given, given),
        *((Caution(sentence=too_much, grave=True),) if requested_a is None or requested_a > allowed.ceiling else ()),
        *loss_cautions(losses, given.charger_input_least_v),
        *cautions_of_supply(given, current_a),
    )
