"""The stops to set on the charger: they end a charge that went wrong."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.chemistries import Chemistry
from calc.facts.practice import CAPACITY_CUTOUT_MARGIN, TEMPERATURE_STOP_MOST_DEGC, TIME_CUTOUT_MARGIN, TIME_CUTOUT_MIN
from calc.figures.quantities import DEGREES_CELSIUS, DEGREES_FAHRENHEIT, MILLIAMPERE_HOURS, MINUTES, Figure
from calc.figures.rounding import down_to_step, up_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Setting
from calc.figures.spans import Span
from calc.figures.units import degc_from_degf, degf_from_degc, mah_from_ah
from calc.inputs.equipment import FINEST_CAPACITY_STEP_MAH, PackEntries
from calc.presenting.source_lines import source_line
from calc.rules.charge.charge_heat import hottest_on_charge_degc, likely_never_above_degc, never_above_degc
from calc.rules.charge.charge_outlook import Outlook

# A time cut-out is dialled in tens of minutes.
_TIME_STEP_MIN = 10
# A charger that counts in °F may have tens only.
_COARSE_STEP_DEGF = 10
# A pack that starts this near to its stop may reach it by the heat of the charge alone.
_NEAR_STOP_K = 5
# In place of a capacity, where every step of the charger is too high or would end a good charge.
COUNT_CANNOT_GUARD = "The charger's count cannot guard this charge"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stops:
    """What ends a charge that went wrong; the capacity is in words where the charger's step is too coarse to guard the pack."""

    capacity_cutout: Setting
    time_cutout: Setting
    temperature_stop: Setting


def stops_of(*, pack: PackEntries, capacity_step_mah: float | None, chemistry: Chemistry, outlook: Outlook, is_final: bool = True) -> Stops:
    """Return the stops to set on the charger; of one that is not known yet the step is None.

    A current that is not final may still fall, and a lower one fills a pack further: the capacity then counts all that there is room for.

    capacity = down to step (1.1 x the lower of label and most charge to come)        time = up to 10 min (1.1 x the longest time), 120 min at most
    """
    return Stops(
        capacity_cutout=_capacity_cutout(pack, capacity_step_mah, outlook, is_final),
        time_cutout=_time_cutout(outlook),
        temperature_stop=temperature_stop(chemistry),
    )


def _temperature_stop_degc(chemistry: Chemistry) -> float:
    """Return the temperature of the pack at which its charge must end: where its charging range ends, or practice if lower, °C."""
    return min(chemistry.temperatures.charge_most_degc.value, TEMPERATURE_STOP_MOST_DEGC.value)


def temperature_stop(chemistry: Chemistry) -> Setting:
    """Return the temperature stop to set, with the highest coarse step in °F that is not above it."""
    stop_degc = _temperature_stop_degc(chemistry)
    coarse_degf = down_to_step(degf_from_degc(stop_degc), _COARSE_STEP_DEGF)
    return Setting(
        figure=Figure(stop_degc, DEGREES_CELSIUS, "down"),
        set_by=source_line(chemistry.temperatures.charge_most_degc),
        note=worded(
            "If the charger has no such step: the highest that is not above it. On one that counts tens of °F that is {}, which is {}. "
            "Many set {} (common practice, no source), which is too high: never set it above the figure here.",
            Figure(coarse_degf, DEGREES_FAHRENHEIT),
            Figure(degc_from_degf(coarse_degf), DEGREES_CELSIUS.to_step(0.1).as_it_is),
            Figure(TEMPERATURE_STOP_MOST_DEGC.value, DEGREES_CELSIUS, "down"),
        ),
    )


def warming_sentence(pack: PackEntries, chemistry: Chemistry, minutes: Span, current_a: float) -> str:
    """Return the warning that the charge itself may take the pack to its temperature stop, or an empty text.

    Said where the likely course does, and where the warmest does and the pack starts near the stop already: the warmest
    alone, a pack closed in that is not well known, would be said of every other charge.
    """
    stop_degc = _temperature_stop_degc(chemistry)
    if never_above_degc(pack, longest_min=minutes.most, current_a=current_a) < stop_degc:
        return ""
    is_near = pack.warmest_degc >= stop_degc - _NEAR_STOP_K
    # The whole course takes as long as all the rest of an answer, and most charges leave a pack far below its stop.
    if not is_near and likely_never_above_degc(pack, longest_min=minutes.most, current_a=current_a) < stop_degc:
        return ""
    hottest = hottest_on_charge_degc(pack, minutes=minutes, current_a=current_a)
    if hottest.likely >= stop_degc:
        how = "will most likely"
    elif hottest.most >= stop_degc and is_near:
        how = "may"
    else:
        return ""
    return worded(
        f"At this current the charge itself {how} warm the pack past its stop of {{}} before it ends: let it cool first, or "
        "charge it more slowly.",
        Figure(stop_degc, DEGREES_CELSIUS, "down"),
    )


def _capacity_cutout(pack: PackEntries, known_step_mah: float | None, outlook: Outlook, is_final: bool) -> Setting:
    step_mah = FINEST_CAPACITY_STEP_MAH if known_step_mah is None else known_step_mah
    margin = CAPACITY_CUTOUT_MARGIN.value
    dial_mah = MILLIAMPERE_HOURS.to_step(step_mah)
    takes_mah = outlook.charge_in_ah.times(mah_from_ah(1))
    most_mah = mah_from_ah(outlook.stop_in_ah if is_final else outlook.room_ah)
    of_label = pack.capacity_mah < most_mah
    ceiling_mah = margin * min(pack.capacity_mah, most_mah)
    cutout_mah = down_to_step(ceiling_mah, step_mah)
    tenth = "a tenth more than the label" if of_label else "a tenth more than it can take from its state now"
    if cutout_mah == 0 or _falls_short(cutout_mah, takes_mah.likely):
        return Setting(
            figure=COUNT_CANNOT_GUARD,
            set_by=worded(
                f"its step of {{}}: the most to set is {tenth}, {{}}, and the step below would end a good charge",
                Figure(step_mah, dial_mah),
                Figure(ceiling_mah, MILLIAMPERE_HOURS, "down"),
            ),
            note="The time cut-out, the temperature stop and your eyes guard this charge: read at every look how much it has put in.",
        )
    early = (
        " It may end the charge a little early: if a cell is then not full, read every cell before you start it once more."
        if _falls_short(cutout_mah, takes_mah.most)
        else ""
    )
    if known_step_mah is None:
        return Setting(
            figure=Figure(cutout_mah, dial_mah, "down"),
            set_by=tenth,
            note="Set the highest step of your charger that is not above it. The margin is common practice, no source.",
        )
    return Setting(
        figure=Figure(cutout_mah, dial_mah, "down"),
        set_by=f"{tenth}, rounded down to the charger's step",
        note="The margin is common practice, no source." + early,
    )


def _falls_short(cutout_mah: float, takes_mah: float) -> bool:
    """Whether a stop ends a charge that takes so much; a billionth is the noise of a sum."""
    return cutout_mah < takes_mah * (1 - 1e-9)


def _time_cutout(outlook: Outlook) -> Setting:
    most = Figure(TIME_CUTOUT_MIN.value, MINUTES)
    held = f"{most} at most (common practice, no source)"
    if outlook.balancing is None:
        return Setting(
            figure=most,
            set_by="common practice, no source",
            note="How long the charger balances is not known: with its balance current the stop follows from the forecast."
            + _ends_early(outlook, most.value),
        )
    balanced = ", with balancing" if outlook.balancing.most else ""
    needed_min = up_to_step(TIME_CUTOUT_MARGIN.value * outlook.stop_min, _TIME_STEP_MIN)
    if needed_min <= TIME_CUTOUT_MIN.value:
        return Setting(
            figure=Figure(needed_min, MINUTES),
            set_by=f"a tenth more than the longest time that is likely{balanced}, rounded up to ten minutes",
            note=f"The margin is common practice, no source. It is {held}." + _ends_early(outlook, needed_min),
        )
    return Setting(
        figure=most,
        set_by="common practice, no source",
        note=_ends_early(outlook, most.value).strip() or "The longest time predicted, balancing included, is within it.",
    )


def _ends_early(outlook: Outlook, stop_min: float) -> str:
    """What to do where the stop may come before the pack is full."""
    if outlook.whole_min.most <= stop_min:
        return ""
    because = (
        outlook.slow_because if outlook.stop_min > stop_min else "it counts from the warm end of that word, and a cooler pack takes longer"
    )
    return f" It may end this charge before it is done: {because}. Then read every cell before you start it once more."
