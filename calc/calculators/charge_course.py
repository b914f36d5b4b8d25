"""How does the charge go, minute by minute, what have I got if I stop early, and what does a faster one save?

The same limits bind as in `charge_settings`. A current that is dialled higher than the power allows is held by power: then the
current sinks while the voltage rises. Of a pack that was read it tells the course without charger or supply too. Assumes a sound pack,
cells that are alike, and a charger that senses each cell.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc.calculators import charge_settings
from calc.calculators.parts.charge_course_limits import known_limits
from calc.calculators.parts.charge_course_picture import minute_by_minute, picture_of
from calc.calculators.parts.charge_course_two_rates import AtRate, saved, two_rates
from calc.figures.limits import Limit, lowest
from calc.figures.quantities import MINUTES, PACK_AMPERES, PERCENT, RATE, WATT_HOURS, WATTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Picture, Range, Setting, Table, shown
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent, percent_from_fraction
from calc.inputs.entered import Entered
from calc.inputs.equipment import FINEST_CURRENT_STEP_A, ChargerEntries, PackEntries, RateEntries
from calc.inputs.fields import Group, number
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import SupplyEntries
from calc.physics.pack.packs import rate_c_of_current
from calc.presenting.partial_answers import PartialAnswer
from calc.presenting.ranges import balancing_range, minutes_range, range_of
from calc.presenting.stops import warming_sentence
from calc.presenting.supply_load import charge_feed_cautions
from calc.presenting.verdicts import cautions_before_a_charge
from calc.rules.charge.charge_heat import minutes_at_full_current
from calc.rules.charge.charge_outlook import STATE_UNSURE, Outlook, outlook_of
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import CHARGER_POWER, current_limits, hard_current_limits, power_limits
from calc.rules.pack.acceptance import Judged, judged
from calc.rules.pack.findings import Act

COURSE = Group("course", "What you want to know")


@dataclass(frozen=True, kw_only=True)
class _Questions:
    """Three questions about the charge, and what is on the dial."""

    stop_after_min: float = number(
        "If I stop after", MINUTES, group=COURSE, asked_as="the minutes after which you stop", least=1, most=1000, starts_as="30"
    )
    wanted_percent: float = number(
        "When is it charged to", PERCENT, group=COURSE, asked_as="the charge to wait for", least=1, most=100, starts_as="80"
    )
    other_rate_c: float = number(
        "Compare with a rate of", RATE, group=COURSE, asked_as="the rate to compare with", least=0.05, most=20, starts_as="2"
    )
    dialled_a: float | None = number(
        "Current on the dial",
        PACK_AMPERES,
        group=COURSE,
        least=0.01,
        most=60,
        optional=True,
        hint="Left empty, the setting counts. If you dial in more, the charger's power limits the current.",
    )


@dataclass(frozen=True, kw_only=True)
class Inputs(_Questions, charge_settings.Inputs):
    """The entries of the settings, and what is asked about the charge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The charge in time, its picture, the early stop, the comparison, and where the power goes."""

    cautions: tuple[Caution, ...] = shown("Look out")
    charge_current: Setting = shown("Charge current", "How long")
    charge_time: Range = shown("Minutes to full", "How long")
    at_full_current: Range = shown("At the full current", "How long")
    at_full_power: Range | None = shown("Then held by power", "How long")
    at_full_voltage: Range = shown("Then at the full voltage", "How long")
    balancing_time: Range | None = shown("Balancing, on top", "How long")
    picture: Picture = shown("Picture", "How it goes")
    minute_by_minute: Table = shown("The same in figures", "How it goes")
    stopped_early: Range = shown("In the pack if you stop then", "If you cannot wait")
    reached: Range | Setting = shown("Charged to what you want", "If you cannot wait")
    two_rates: Table | None = shown("Two rates", "Slower or faster")
    saved: Range | None = shown("The faster one saves", "Slower or faster")
    peak_power: Range = shown("Power into the pack at its peak", "Where it goes")
    heat_in_pack: Range = shown("Heat in the pack", "Where it goes")
    heat_in_charger: Range | None = shown("Heat in the charger", "Where it goes")
    known_limits: Table = shown("What the forecast does not know well", "Known limits")


def work_out(given: Inputs) -> Answer:
    """Return the charge as it will go, with everything that is not known kept as a range.

    Refuses whatever `charge_settings` refuses, and a current on the dial above the label, the charger or the cold.
    """
    charge = _Charge(
        pack=given,
        judged=charge_settings.accepted(given),
        charger=given,
        supply=given,
        questions=given,
        requested_rate_c=given.requested_rate_c,
    )
    return _course(charge)


def so_far(entered: Entered) -> PartialAnswer:
    """Return the course of a pack that was read, by whatever is entered of charger and supply.

    There is none for a pack that was not, whose state of charge nobody knows: refuses its readings as missing, and what
    `charge_settings` refuses.
    """
    partial, pack = charge_settings.so_far(entered), entered.of(PackEntries)
    questions, rate = entered.of(_Questions), entered.of(RateEntries)
    if pack is None or questions is None or rate is None:
        raise Refused(*entered.missing_of(PackEntries), *entered.missing_of(_Questions))
    charge = _Charge(
        pack=pack,
        judged=judged(pack, act=Act.CHARGE),
        charger=entered.of(ChargerEntries),
        supply=entered.of(SupplyEntries),
        questions=questions,
        requested_rate_c=rate.requested_rate_c,
    )
    return replace(partial, known=_course(charge))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Charge:
    """A charge by what is known of it: a charger and a supply that are not entered are None, and hold nothing back."""

    pack: PackEntries
    judged: Judged
    charger: ChargerEntries | None
    supply: SupplyEntries | None
    questions: _Questions
    requested_rate_c: float

    @property
    def step_a(self) -> float:
        """The step of the charger, or the finest where none is known, A."""
        return self.charger.current_step_a if self.charger else FINEST_CURRENT_STEP_A

    def limits(self, rate_c: float) -> list[Limit]:
        """What is known to limit the current, at a rate that is asked for."""
        return current_limits(
            pack=self.pack, charger=self.charger, supply=self.supply, chemistry=self.judged.chemistry, requested_rate_c=rate_c
        )

    def outlook(self, current_a: float, power: Limit | None) -> Outlook:
        """What the charge takes at a current, held by a power if one is known."""
        return outlook_of(
            pack=self.pack,
            balance_current_a=self.charger.balance_current_a if self.charger else None,
            chemistry=self.judged.chemistry,
            reading=self.judged.reading,
            current_a=current_a,
            power_w=power.ceiling if power else None,
        )


def _course(charge: _Charge) -> Answer:
    given, charger, chemistry = charge.pack, charge.charger, charge.judged.chemistry
    binding, current_a = _current_on_the_dial(charge)
    power = lowest(power_limits(charger=charger, supply=charge.supply)) if charger else None
    outlook = charge.outlook(current_a, power)
    coming = outlook.coming
    one, other = AtRate(current_a, binding.because, outlook), _at_other_rate(charge, power)
    set_to = Figure(current_a, PACK_AMPERES.to_step(charge.step_a))
    return Answer(
        cautions=(
            *charge_feed_cautions(charge.supply, charger),
            *_cautions(outlook, power, warming_sentence(given, chemistry, minutes_at_full_current(outlook), current_a)),
            *cautions_before_a_charge(charge.judged.condition),
        ),
        charge_current=Setting(
            figure=set_to, also=Figure(rate_c_of_current(given.effective_capacity_mah, current_a), RATE), set_by=binding.because
        ),
        charge_time=minutes_range(outlook.charge_min, outlook.wide_because),
        at_full_current=minutes_range(coming.constant_current_min, "the state of charge at the start"),
        at_full_power=_at_full_power(outlook, power),
        at_full_voltage=minutes_range(coming.constant_voltage_min, "the resistance, and when the charger calls it full"),
        balancing_time=balancing_range(outlook),
        picture=picture_of(coming, chemistry, set_to),
        minute_by_minute=minute_by_minute(coming),
        stopped_early=_stopped_early(charge.questions, outlook),
        reached=_reached(charge.questions, outlook),
        two_rates=two_rates(one, other, capacity_mah=given.effective_capacity_mah, current_step_a=charge.step_a) if other else None,
        saved=saved(one, other) if other else None,
        peak_power=range_of(coming.peak_power_w, WATTS, "the resistance"),
        heat_in_pack=range_of(coming.heat_wh, WATT_HOURS, "the resistance"),
        heat_in_charger=_heat_in_charger(charger, coming.energy_in_wh) if charger else None,
        known_limits=known_limits(),
    )


def _heat_in_charger(charger: ChargerEntries, energy_in_wh: Span) -> Range:
    return range_of(
        energy_in_wh.times(1 / fraction_from_percent(charger.efficiency_percent) - 1),
        WATT_HOURS,
        "the charge put in is a range; the charger's efficiency is as you entered it",
    )


def _current_on_the_dial(charge: _Charge) -> tuple[Limit, float]:
    limits, dialled_a = charge.limits(charge.requested_rate_c), charge.questions.dialled_a
    setting_a, binding = charge_setting_a(pack=charge.pack, current_step_a=charge.step_a, limits=limits)
    if dialled_a is None:
        return binding, setting_a
    hard = lowest(hard_current_limits(pack=charge.pack, charger=charge.charger, chemistry=charge.judged.chemistry))
    if dialled_a > hard.ceiling:
        too_high = worded("The current on the dial is too high. What limits it is {}. Dial in the setting.", hard.because)
        raise Refused(Problem("dialled_a", too_high))
    current_a = down_to_step(dialled_a, charge.step_a)
    if current_a == 0:
        raise Refused(Problem("dialled_a", "The current on the dial is less than the charger's smallest step: enter what it shows."))
    return Limit(current_a, "what you have on the dial"), current_a


def _at_other_rate(charge: _Charge, power: Limit | None) -> AtRate | None:
    """The same charge at the other rate, or nothing where that is less than one step of the charger."""
    binding = lowest(charge.limits(charge.questions.other_rate_c))
    current_a = down_to_step(binding.ceiling, charge.step_a)
    return AtRate(current_a, binding.because, charge.outlook(current_a, power)) if current_a else None


def _at_full_power(outlook: Outlook, power: Limit | None) -> Range | None:
    held = outlook.coming.constant_power_min
    if power is None or held.most == 0:
        return None
    return minutes_range(held, "the state of charge and the resistance", note=f"Set by {power.because}; the current sinks meanwhile.")


def _stopped_early(given: _Questions, outlook: Outlook) -> Range:
    state_percent = outlook.coming.state_at(given.stop_after_min).times(percent_from_fraction(1))
    return range_of(state_percent, PERCENT, STATE_UNSURE, note=f"After {Figure(given.stop_after_min, MINUTES)}.")


def _reached(given: _Questions, outlook: Outlook) -> Range | Setting:
    minutes = outlook.coming.minutes_to(fraction_from_percent(given.wanted_percent))
    if minutes is None:
        return Setting(
            figure="near the end of the charge",
            set_by="the charger may call the pack full before it holds that much",
            note=f"Wanted: {Figure(given.wanted_percent, PERCENT)}.",
        )
    return minutes_range(minutes, STATE_UNSURE, note=f"To {Figure(given.wanted_percent, PERCENT)}.")


def _cautions(outlook: Outlook, power: Limit | None, warms: str) -> tuple[Caution, ...]:
    own = (Caution(sentence=warms, grave=True),) if warms else ()
    if power is None or outlook.coming.constant_power_min.most == 0 or power.because == CHARGER_POWER:
        return own
    sentence = (
        f"Here the charger does not hold the power by itself. What limits it is {power.because}. Set the charger's input limit if it has "
        "one, else dial in the setting."
    )
    return (Caution(sentence=sentence, grave=True), *own)
