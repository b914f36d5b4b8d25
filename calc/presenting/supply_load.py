"""What a charge takes from the supply, and what to say about the supply beside it."""

from __future__ import annotations

from collections.abc import Sequence

from calc.facts.copper import GOOD_DROP_PERCENT
from calc.facts.lead_acid import CHARGING_MOST_V
from calc.figures.quantities import AMPERES, PERCENT, SUPPLY_VOLTS, Figure
from calc.figures.sentences import joined_with_and
from calc.figures.showing import Caution
from calc.inputs.equipment import ChargerEntries
from calc.inputs.supply import VEHICLE, SupplyEntries
from calc.physics.supply.leads import allowed_current_a
from calc.rules.pack.acceptance import ChargerInput
from calc.rules.plan.supplies import PlanSupply
from calc.rules.supply.battery_floor import floor_of, is_at_its_floor
from calc.rules.supply.supply_demand import state_of_supply


def floor_words(supply: SupplyEntries) -> str:
    """Return what the floor of a battery is called, with its number."""
    name = "what the vehicle needs to start" if supply.supply_kind == VEHICLE else "the battery's floor"
    return f"{name}, {Figure(floor_of(supply).value, PERCENT)} (common practice, no source)"


def falls_below(batteries: Sequence[SupplyEntries]) -> str:
    """Return what forbids a charge more: that each of these batteries would fall below its floor."""
    floors, which = _floors(batteries)
    return f"{joined_with_and(floors)}: {which} would fall below {'it' if len(floors) == 1 else 'its own'}"


def rests_there(batteries: Sequence[SupplyEntries]) -> str:
    """Return what forbids any charge: that each of these batteries rests at its floor before it begins."""
    floors, which = _floors(batteries)
    return f"{joined_with_and(floors)}: {which} rests there already, or below it"


def _floors(batteries: Sequence[SupplyEntries]) -> tuple[list[str], str]:
    return list(dict.fromkeys(map(floor_words, batteries))), "the battery" if len(batteries) == 1 else "each battery"


def lowest_input_words(least_v: float) -> str:
    """Return what the other end of a battery's day is called: the voltage below which the charger stops by itself."""
    return f"the charger's lowest input, {Figure(least_v, SUPPLY_VOLTS)}, or an empty battery"


def feed_cautions(supply: SupplyEntries | None, charger: ChargerInput | None) -> tuple[Caution, ...]:
    """Return what to say of a supply, its lead and the fuse in it on whichever page they feed a charger; a supply that is not entered says nothing.

    Of a charger that is not entered, or not all of it, the highest input is not known.
    """
    if supply is None:
        return ()
    return (*_input_cautions(supply, charger), *_fuse_cautions(supply), *_engine_cautions(supply))


def _engine_cautions(supply: SupplyEntries) -> tuple[Caution, ...]:
    if supply.supply_kind != VEHICLE:
        return ()
    sentence = "Take the charger off before you start the engine: starting makes the voltage dip and leap, and a running engine raises it."
    return (Caution(sentence=sentence),)


def _fuse_cautions(supply: SupplyEntries) -> tuple[Caution, ...]:
    """That a short circuit would burn the lead before its fuse: whatever is charged, and however slowly."""
    wire_a = allowed_current_a(supply.lead_area_mm2)
    if supply.lead_fuse_a is None or supply.lead_fuse_a <= wire_a:
        return ()
    sentence = (
        f"The fuse does not protect this lead: {Figure(supply.lead_fuse_a, AMPERES, 'up')} where the wire may carry "
        f"{Figure(wire_a, AMPERES, 'down')}. Fit a smaller fuse or a thicker lead before you use it."
    )
    return (Caution(sentence=sentence, grave=True),)


def _input_cautions(supply: SupplyEntries, charger: ChargerInput | None) -> tuple[Caution, ...]:
    """Return what to say of a voltage that may be above what the charger takes; one that is surely too high has been refused.

        U > 15 V with a highest input that is not known, or a highest input < 15 V at a battery that may be on charge

    What a running engine gives is common practice, no source.
    """
    on_charge = Figure(CHARGING_MOST_V.value, SUPPLY_VOLTS.to_step(1))
    charger_input_most_v = charger.charger_input_most_v if charger else None
    if supply.is_lead_acid:
        if charger_input_most_v is None or charger_input_most_v >= CHARGING_MOST_V.value:
            return ()
        by = "the engine" if supply.supply_kind == VEHICLE else "the battery's own charger"
        sentence = (
            f"Connect the charger only while {by} is off: a battery gets up to {on_charge} while it is charged, and this charger takes "
            f"{Figure(charger_input_most_v, SUPPLY_VOLTS)} at most."
        )
        return (Caution(sentence=sentence, grave=True),)
    if charger_input_most_v is not None or supply.supply_v <= CHARGING_MOST_V.value:
        return ()
    # It may be entered of a charger that does not count yet.
    what = "it" if charger else "all that is asked of the charger"
    sentence = (
        f"Read the charger's highest input voltage on its label before you connect it, and enter {what}. This supply gives {Figure(supply.supply_v, SUPPLY_VOLTS)}: "
        f"a charger that is made for a 12 V battery takes {on_charge} or little more, and a higher voltage destroys it and can set it on fire."
    )
    return (Caution(sentence=sentence, grave=True),)


def cautions_of_inputs(supplies: Sequence[PlanSupply], outputs: Sequence[int], chargers: Sequence[ChargerEntries]) -> tuple[Caution, ...]:
    """Return the same of every output of a plan, each with its charger and its supply, and nothing twice."""
    fed = [
        (supply.entries, charger)
        for output, charger in zip(outputs, chargers, strict=True)
        for supply in supplies
        if output in supply.outputs
    ]
    return tuple(dict.fromkeys(one for supply, charger in fed for one in feed_cautions(supply, charger)))


def floor_cautions(supply: SupplyEntries | None) -> tuple[Caution, ...]:
    """Return that a battery is at its floor before anything is charged from it, on whichever page it would be; pages of a day say more."""
    if supply is None or not is_at_its_floor(supply):
        return ()
    harm = "it may not start the engine" if supply.supply_kind == VEHICLE else "below it, it wears out fast"
    at_floor = f"The battery is at its floor already, {Figure(floor_of(supply).value, PERCENT)}: {harm}."
    return (Caution(sentence=at_floor, grave=True),)


def charge_feed_cautions(supply: SupplyEntries | None, charger: ChargerInput | None) -> tuple[Caution, ...]:
    """Return what to say of whatever feeds one charge, on a page that says no more of its battery."""
    return (*feed_cautions(supply, charger), *floor_cautions(supply))


def cautions_of_supply(supply: SupplyEntries, peak_current_a: float) -> tuple[Caution, ...]:
    """Return what to say about the supply beside the numbers of one charge, or of the charger's full power."""
    found = []
    state = state_of_supply(supply)
    if state.charged_percent is not None:
        found.append(Caution(sentence="A lead-acid battery gives off a gas that burns while it is charged: no sparks or flames near it."))
        found += floor_cautions(supply)
    drop_percent = state.drop_percent_per_a * peak_current_a
    if drop_percent > GOOD_DROP_PERCENT.value:
        sentence = (
            f"The supply lead loses {Figure(drop_percent, PERCENT.to_step(0.1), 'up')} of the voltage at the peak, more than the "
            f"{Figure(GOOD_DROP_PERCENT.value, PERCENT)} of a good one: shorten it, or use a thicker one."
        )
        found.append(Caution(sentence=sentence))
    return tuple(found)
