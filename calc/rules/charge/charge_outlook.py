"""What a charge of this pack will take, in the pilot's terms: minutes, ampere-hours, watt-hours, and why they are ranges."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

from calc.facts.chemistries import Chemistry
from calc.facts.practice import FLAGGED_RATE_C, IMBALANCE_PERCENT_LEAST, IMBALANCE_PERCENT_MOST
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, fraction_from_percent
from calc.inputs.equipment import PackEntries
from calc.physics.cell.cell_resistance import cell_resistance_ohm
from calc.physics.cell.cells import edge_curves, state_at, state_of_charge
from calc.physics.cell.forecasting import Forecast, balancing_minutes, forecast, over_both
from calc.physics.pack.packs import rate_c_of_current
from calc.rules.pack.readings import Reading

# A single cell is level with itself.
_NOTHING_TO_BALANCE = Span(0.0, 0.0, 0.0)
# What makes every forecast wide that begins at a resting voltage.
STATE_UNSURE = "a resting voltage shows the state of charge only roughly"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """A charge to come. `room_ah` is the most that there is room for, whatever the current; `balancing` is None where the charger's
    balance current is not known.

    A stop counts from `stop_in_ah` and `stop_charge_min`: the most that is put in and the longest charge, of a pack whose warmth is told
    in a word at that end of its span where they are less.
    """

    coming: Forecast
    stop_in_ah: float
    stop_charge_min: float
    room_ah: float
    balancing: Span | None
    wide_because: str
    slow_because: str

    @property
    def charge_min(self) -> Span:
        """Minutes of charge, without balancing."""
        return self.coming.time_min

    @property
    def charge_in_ah(self) -> Span:
        """Ampere-hours put into the pack."""
        return self.coming.capacity_in_ah

    @property
    def energy_in_wh(self) -> Span:
        """Watt-hours put into the pack, its heat included."""
        return self.coming.energy_in_wh

    @property
    def start_power_w(self) -> Span:
        """Power into the pack at the start, W."""
        return self.coming.span(lambda run: run.start_power_w)

    @property
    def stop_min(self) -> float:
        """Minutes of charge and balancing that a stop counts from."""
        return self.stop_charge_min if self.balancing is None else self.stop_charge_min + self.balancing.most

    @property
    def whole_min(self) -> Span:
        """Minutes of charge and balancing, one after the other."""
        return self.charge_min if self.balancing is None else self.charge_min.plus(self.balancing)


def outlook_of(
    *,
    pack: PackEntries,
    balance_current_a: float | None,
    chemistry: Chemistry,
    reading: Reading,
    current_a: float,
    power_w: float | None = None,
    warmest_degc: float | None = None,
) -> Outlook:
    """Return what a charge at this current will take, from the pack's state now until full, with the sentences that go with it.

    The state comes from the resting voltage, as a band; the resistance from a reading, else from the label's discharge rate, else from
    the class of pack, as a band too. `physics.cell.forecasting` runs the corners. An aged pack counts with the capacity that was
    measured. `power_w` is what the charger holds into the pack if the current asks for more; None if it never does. `warmest_degc` is
    the warm end of several packs that are charged as one, whose entries know the coolest of them; None takes it from the pack.
    """
    ends_degc = dict.fromkeys((pack.coolest_degc, pack.warmest_degc if warmest_degc is None else warmest_degc))
    capacity_ah = ah_from_mah(pack.holds_mah)
    full_power_w = current_a * pack.cells * chemistry.full_cell_v.value
    start_state = _start_state(pack.chemistry, reading)
    ends = [
        forecast(
            pack.chemistry,
            start_state=start_state,
            full_cell_v=chemistry.full_cell_v.value,
            capacity_ah=capacity_ah,
            current_a=current_a,
            resistance_ohm_ah=_cell_resistance_ohm(pack, degc).times(capacity_ah),
            power_w_per_cell=None if power_w is None or full_power_w <= power_w else power_w / pack.cells,
            cell_count=int(pack.cells),
        )
        for degc in ends_degc
    ]
    return Outlook(
        coming=reduce(over_both, ends),
        stop_in_ah=min(end.capacity_in_ah.most for end in ends),
        stop_charge_min=min(end.time_min.most for end in ends),
        room_ah=(_fullest_state(pack.chemistry, chemistry) - start_state.least) * capacity_ah,
        balancing=_balancing(capacity_ah, balance_current_a) if pack.cells > 1 else _NOTHING_TO_BALANCE,
        wide_because=wide_because(pack),
        slow_because=_slow_because(pack, current_a),
    )


def pack_cell_resistance_ohm(pack: PackEntries) -> Span:
    """Return the resistance of one cell of this pack that a whole charge or discharge meets: `cell_resistance_ohm` of its entries.

    Where its warmth is told in a word, from the least of a pack at the warm end to the most of one at the cool end, most likely the latter.
    """
    cool, warm = (_cell_resistance_ohm(pack, degc) for degc in (pack.coolest_degc, pack.warmest_degc))
    return Span(warm.least, cool.likely, cool.most)


def _cell_resistance_ohm(pack: PackEntries, degc: float) -> Span:
    return cell_resistance_ohm(
        capacity_mah=pack.capacity_mah,
        effective_capacity_mah=pack.effective_capacity_mah,
        cell_resistance_mohm=pack.highest_resistance_mohm,
        label_discharge_rate_c=pack.label_discharge_rate_c,
        degc=degc,
        chemistry_key=pack.chemistry,
    )


def _start_state(chemistry_key: str, reading: Reading) -> Span:
    """The charger stops for the fullest cell and works for the emptiest: the band spans both."""
    low = state_of_charge(chemistry_key, reading.lowest_cell_v)
    high = state_of_charge(chemistry_key, reading.highest_cell_v)
    mean = state_of_charge(chemistry_key, reading.mean_cell_v)
    return Span(low.least, mean.likely, high.most)


def _fullest_state(chemistry_key: str, chemistry: Chemistry) -> float:
    """The state at which a cell rests that was held at its full voltage until no current flowed, on the curve that holds most.

    A flat curve ends below the full voltage: held there, such a cell takes a little more than what counts as full.
    """
    return max(1.0, *(state_at(curve, chemistry.full_cell_v.value) for curve in edge_curves(chemistry_key)))


def _balancing(capacity_ah: float, balance_current_a: float | None) -> Span | None:
    if balance_current_a is None:
        return None
    least = capacity_ah * fraction_from_percent(IMBALANCE_PERCENT_LEAST.value)
    most = capacity_ah * fraction_from_percent(IMBALANCE_PERCENT_MOST.value)
    return balancing_minutes(Span(least, (least + most) / 2, most), balance_current_a)


def guessed_because(label_discharge_rate_c: float | None) -> str:
    """Return where the resistance of a pack comes from that was not measured, in words that go on a sentence.

    >>> guessed_because(35)
    "the resistance is guessed from the label's discharge rate, which not every pack lives up to"
    """
    if label_discharge_rate_c is not None:
        return "the resistance is guessed from the label's discharge rate, which not every pack lives up to"
    return "the resistance is not known, only what kind of pack it is"


def wide_because(pack: PackEntries) -> str:
    """Return what makes a forecast of this pack wide, in words that go on a sentence: its voltage, and how its resistance is known."""
    if pack.highest_resistance_mohm is not None:
        known = "over a whole charge a pack acts as if it had one to four times the resistance that you measured"
    else:
        known = guessed_because(pack.label_discharge_rate_c)
    return f"{STATE_UNSURE}, and {known}"


def _slow_because(pack: PackEntries, current_a: float) -> str:
    rate_c = rate_c_of_current(pack.effective_capacity_mah, current_a)
    # The same band around 1C in which a rate is not worth a remark.
    if rate_c * FLAGGED_RATE_C.value < 1:
        return "the current is below 1C"
    return "the end of the charge and the balancing may be slow"
