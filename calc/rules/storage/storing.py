"""Where a pack is to be left, whether it is there already, and what speaks against bringing it there.

Every cell is held against the storage band, and none may pass it: the lowest bounds a discharge, the highest a charge. What to
expect of the way is worked out in `storage_moves`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.cited import Cited
from calc.figures.limits import Limit
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.figures.units import mah_from_ah
from calc.inputs.equipment import ChargerEntries, DischargingChargerEntries, PackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import SupplyEntries
from calc.physics.cell.unequal_cells import share_within_bound
from calc.physics.pack.packs import METER_OFF_V
from calc.rules.charge.charge_outlook import pack_cell_resistance_ohm
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import current_limits, requested_rate_limit
from calc.rules.charge.discharge_limits import discharge_current_limits, discharge_power_limit, problems_of_discharge_temperature
from calc.rules.pack.acceptance import judged, problems_of_charger, problems_of_supply
from calc.rules.pack.condition import Condition
from calc.rules.pack.findings import Act
from calc.rules.pack.readings import Reading
from calc.rules.storage.storage_moves import Dial, Move, to_cutoff, to_storage

_QUOTIENT_OFF_V = 1e-9  # how far the mean of a whole pack may be off by the last bit of its quotient


class Goal(Enum):
    """Where a pack is to be left."""

    STORAGE = "storage"
    CAREFUL_CUTOFF = "careful"
    MAKER_CUTOFF = "maker"


class Way(Enum):
    """What to do with a pack: no charge and no discharge serves where its cells stand too far apart."""

    LEAVE = "leave"
    CHARGE = "charge"
    DISCHARGE = "discharge"
    BALANCE = "balance"


@dataclass(frozen=True, slots=True, kw_only=True)
class StoragePlan:
    """A pack's facts, its reading, its condition, and the way; no move where it is best left as it is, or must be balanced first.

    `balance` is what to dial in for that: the charger charges such a pack, so every limit of a charge holds.
    """

    chemistry: Chemistry
    reading: Reading
    condition: Condition
    way: Way
    move: Move | None
    balance: Dial | None = None

    @property
    def is_charged(self) -> bool:
        """Whether the pack is on the charger as for a charge."""
        return self.way in (Way.CHARGE, Way.BALANCE)


def storage_target_cell_v(chemistry: Chemistry) -> float:
    """Return the resting voltage that a way to storage aims at: the middle of the band."""
    return (chemistry.storage_low_cell_v.value + chemistry.storage_high_cell_v.value) / 2


def is_in_band(chemistry: Chemistry, reading: Reading) -> bool:
    """Return whether every cell rests in the storage band, its bounds included; a meter that is a little off leaves some beside it.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> means = (34.56 / 9, 34.57 / 9, 34.2 / 9, 34.19 / 9)
    >>> [is_in_band(CHEMISTRIES["lipo"], Reading(pack_v=9 * mean, cell_v=(mean,) * 9, each_cell=False)) for mean in means]
    [True, False, True, False]
    """
    low_v, high_v = chemistry.storage_low_cell_v.value, chemistry.storage_high_cell_v.value
    return low_v - _QUOTIENT_OFF_V <= reading.lowest_cell_v and reading.highest_cell_v <= high_v + _QUOTIENT_OFF_V


def _is_below(chemistry: Chemistry, reading: Reading) -> bool:
    return reading.lowest_cell_v < chemistry.storage_low_cell_v.value - METER_OFF_V


def _is_above(chemistry: Chemistry, reading: Reading) -> bool:
    return reading.highest_cell_v > chemistry.storage_high_cell_v.value + METER_OFF_V


def way_to_storage(chemistry: Chemistry, chemistry_key: str, reading: Reading) -> Way:
    """Return whether a pack goes up, down or nowhere to be stored, by every cell.

    With one cell above the band and another below it, both ways make one of them worse; the same holds where a cell that is
    in the band may be at its end already.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> packs = ((3.82, 3.83), (3.9, 3.91), (3.7, 3.71), (3.75, 3.9), (3.79, 3.9))
    >>> [way_to_storage(CHEMISTRIES["lipo"], "lipo", Reading(pack_v=sum(v), cell_v=v, each_cell=True)).value for v in packs]
    ['leave', 'discharge', 'charge', 'balance', 'balance']
    """
    below, above = _is_below(chemistry, reading), _is_above(chemistry, reading)
    if below and above:
        return Way.BALANCE
    if not below and not above:
        return Way.LEAVE
    bound_v = (chemistry.storage_high_cell_v if below else chemistry.storage_low_cell_v).value
    if share_within_bound(chemistry_key, reading.cell_v, bound_v, goes_up=below) == 0:
        return Way.BALANCE
    return Way.CHARGE if below else Way.DISCHARGE


def storage_plan(
    *, pack: PackEntries, charger: DischargingChargerEntries, supply: SupplyEntries, goal: Goal, requested_rate_c: float
) -> StoragePlan:
    """Return the way of a pack to its goal, once nothing speaks against it.

    There is no move where every cell is in the storage band, one is at the cutoff, or they must be balanced first. Refuses what speaks
    against the pack, the charger, the supply or the temperature, listed at once, and a discharge on a charger whose discharge current
    is not known.
    """
    also = [*problems_of_charger(charger, pack.cells), *problems_of_supply(supply=supply, charger=charger)]
    try:
        one = judged(pack, act=Act.DISCHARGE)
    except Refused as refused:
        known = CHEMISTRIES.get(pack.chemistry)
        raise Refused(*refused.problems, *(problems_of_discharge_temperature(pack, known) if known else ()), *also) from None
    chemistry, reading = one.chemistry, one.reading
    way = _way(goal, chemistry, pack.chemistry, reading)
    # To balance a pack it is on the charger as for a charge, so the window of a charge holds.
    as_charge = way in (Way.CHARGE, Way.BALANCE)
    problems = [*(one.condition.problems_of(Act.CHARGE) if as_charge else problems_of_discharge_temperature(pack, chemistry)), *also]
    if way is Way.DISCHARGE and charger.discharge_current_a is None:
        sentence = (
            "Enter the charger's highest discharge current: it is on its label. If it cannot discharge, fly the charge out "
            "instead, or use a charger that can."
        )
        problems.append(Problem("discharge_current_a", sentence, missing=True))
    if problems:
        raise Refused(*problems)
    move = None
    if way is Way.CHARGE:
        move = _up(pack, charger, supply, chemistry, reading, requested_rate_c)
    elif way is Way.DISCHARGE:
        move = _down(pack, charger, chemistry, reading, goal, requested_rate_c)
    if move and move.count and reading.is_uneven and mah_from_ah(move.count.charge_ah) < charger.capacity_step_mah:
        # What the cells at the other end could still gain by it is less than they are apart.
        way, move = Way.BALANCE, None
    balance = None
    if way is Way.BALANCE:
        balance = _as_a_charge(
            pack, charger, current_limits(pack=pack, charger=charger, supply=supply, chemistry=chemistry, requested_rate_c=requested_rate_c)
        )
    return StoragePlan(chemistry=chemistry, reading=reading, condition=one.condition, way=way, move=move, balance=balance)


def cutoff_of(goal: Goal, chemistry: Chemistry) -> Cited:
    """Return the voltage under load at which a discharge to one of the two cutoffs ends."""
    return chemistry.careful_cutoff_cell_v if goal is Goal.CAREFUL_CUTOFF else chemistry.maker_cutoff_cell_v


def loaded_limit(pack: PackEntries, reading: Reading, stop_cell_v: float, *, goes_up: bool) -> Limit:
    """Return the current with which the cell that ends the way most likely shows its stop as soon as the current flows: with more the way
    ends where it begins.

        I = |U - U_stop| / R        U of the lowest cell on the way down, of the highest on the way up; V, ohm, A

    A reading beyond the resting curve is surface charge, which the first seconds take away.
    """
    curve = CHEMISTRIES[pack.chemistry].resting.likely.cell_v
    ends_v = max(reading.highest_cell_v, curve[0]) if goes_up else min(reading.lowest_cell_v, curve[-1])
    which = ("highest cell" if goes_up else "lowest cell") if reading.each_cell else "mean of the cells"
    because = f"the {which}, which would show {Figure(stop_cell_v, CELL_VOLTS)} at once with more"
    room_v = stop_cell_v - ends_v if goes_up else ends_v - stop_cell_v
    return Limit(max(room_v, 0.0) / pack_cell_resistance_ohm(pack).likely, because)


def _way(goal: Goal, chemistry: Chemistry, chemistry_key: str, reading: Reading) -> Way:
    if goal is Goal.STORAGE:
        return way_to_storage(chemistry, chemistry_key, reading)
    return Way.LEAVE if reading.lowest_cell_v <= cutoff_of(goal, chemistry).value else Way.DISCHARGE


def _band_cell_v(chemistry: Chemistry) -> tuple[float, float]:
    return chemistry.storage_low_cell_v.value, chemistry.storage_high_cell_v.value


def _up(
    pack: PackEntries, charger: ChargerEntries, supply: SupplyEntries, chemistry: Chemistry, reading: Reading, requested_rate_c: float
) -> Move:
    limits = current_limits(pack=pack, charger=charger, supply=supply, chemistry=chemistry, requested_rate_c=requested_rate_c)
    limits.append(loaded_limit(pack, reading, chemistry.storage_high_cell_v.value, goes_up=True))
    return to_storage(pack, reading, _band_cell_v(chemistry), _as_a_charge(pack, charger, limits), goes_up=True)


def _as_a_charge(pack: PackEntries, charger: ChargerEntries, limits: list[Limit]) -> Dial:
    dial_a, binding = charge_setting_a(pack=pack, current_step_a=charger.current_step_a, limits=limits)
    return Dial(dial_a, binding, tuple(limits), None)


def _down(
    pack: PackEntries, charger: DischargingChargerEntries, chemistry: Chemistry, reading: Reading, goal: Goal, requested_rate_c: float
) -> Move:
    power = discharge_power_limit(charger)
    stop_v = chemistry.storage_low_cell_v.value if goal is Goal.STORAGE else cutoff_of(goal, chemistry).value
    loaded = loaded_limit(pack, reading, stop_v, goes_up=False)
    limits = [*discharge_current_limits(pack=pack, charger=charger), requested_rate_limit(pack, requested_rate_c)]
    if power is None or power.ceiling > loaded.ceiling * stop_v * pack.cells:
        limits.append(loaded)
    dial_a, binding = charge_setting_a(pack=pack, current_step_a=charger.current_step_a, limits=limits)
    dial = Dial(dial_a, binding, tuple(limits), power)
    if goal is Goal.STORAGE:
        return to_storage(pack, reading, _band_cell_v(chemistry), dial, goes_up=False)
    return to_cutoff(pack, reading, cutoff_of(goal, chemistry).value, dial)
