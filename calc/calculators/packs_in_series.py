"""May I charge these packs one after the other as one long pack, with which settings, and which balance plug goes into which port?

One current flows through all, so the weakest label binds. The cells are held together by the balancer alone: what the fullest
pack has ahead of the others it must burn off. Assumes sound packs that have passed the look-over, and a charger that senses each
cell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from calc.facts.practice import BALANCE_LEAST_A, BALANCE_MOST_A, SERIES_APART_PERCENT
from calc.figures.quantities import AMPERES, CELLS, MILLIAMPERE_HOURS, PERCENT, Band, Figure
from calc.figures.showing import Caution, Drawing, Range, Table, Verdict, held_by, shown
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent, mah_from_ah, percent_from_fraction
from calc.inputs.entered import Entered
from calc.inputs.equipment import ChargerEntries
from calc.inputs.joined_packs import PARALLEL_BOARD, SERIES_BALANCE_LEAD, LabelledPacksEntries, PluggedPacksEntries, PlugsEntries
from calc.inputs.refusals import Problem
from calc.inputs.supply import SupplyEntries
from calc.physics.cell.forecasting import balancing_minutes
from calc.physics.pack.balance_ports import Plug, plugs_in_series, ports_of
from calc.presenting.joint_settings import JointCharge, JointSettings, joint_cautions, joint_charge, joint_settings, warming_cautions
from calc.presenting.joint_so_far import (
    NOTHING_TO_DIAL,
    JointAnswer,
    JointSoFar,
    by_their_labels,
    dialled_so_far,
    joint_partial,
    parts_so_far,
)
from calc.presenting.level_first import balance_first, level_first, uneven_because
from calc.presenting.partial_answers import PartialAnswer
from calc.presenting.ranges import minutes_or_hours, range_of
from calc.presenting.supply_load import charge_feed_cautions
from calc.presenting.wiring import never_like_this, ports_table, series_drawing
from calc.rules.charge.charge_outlook import STATE_UNSURE
from calc.rules.joined.imbalance import imbalance_ah
from calc.rules.joined.joined_packs import (
    NumberedPack,
    SoundPack,
    packs_so_far,
    refuse_unlike,
    sound_packs,
    unlike_chemistry,
    unlike_temperature,
)
from calc.rules.joined.packs_in_series import (
    problems_of_plugs,
    problems_of_series_charger,
    series_current_limits,
    series_label,
    series_pack,
    unlike_capacity,
)
from calc.rules.pack.acceptance import problems_of_supply

_NOT_YET = Caution(sentence="Do not charge these packs as one yet: the fullest cell would be full long before the others.", grave=True)


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries, ChargerEntries, PlugsEntries, PluggedPacksEntries):
    """The packs in the order in which they are joined, from the minus; how their plugs reach the charger; charger and supply."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(JointAnswer):
    """Whether to join them, what to set, how long the balancer works, how never to wire them, and how to if they may be joined."""

    join: Verdict = shown("In series")
    balancing_time: Range = shown("Balancing takes", "Ready in")
    wiring: Drawing | None = shown("Wiring", "How to join them")
    ports: Table | None = shown("Which plug into which port", "How to join them")
    when_joining: tuple[Caution, ...] = shown("When you join them", "How to join them")
    to_burn_off: Range = shown("Charge to burn off", "What to expect")
    charge_put_in: Range | None = shown("Charge put in", "What to expect")
    never: tuple[Drawing, ...] = shown("Never like this", "Never like this")


@dataclass(frozen=True, slots=True, kw_only=True)
class SoFar(JointSoFar):
    """Whether packs of which not all is known go together, and how they are wired if they do, once the charger's ports are known."""

    join: Verdict = shown("In series")
    wiring: Drawing | None = shown("Wiring", "How to join them")
    ports: Table | None = shown("Which plug into which port", "How to join them")


def work_out(given: Inputs) -> Answer:
    """Return whether these packs may be charged one after the other, and everything to set if they may.

    Refuses a pack that must not be charged, packs of different kinds or capacity, more cells than charger or ports take, and a
    parallel board.
    """
    packs = sound_packs(given, problems_of_supply(supply=given, charger=given))
    plugs, ports = _plugged_in(given, packs, given, given.balance_plugs_into)
    assert ports is not None, "the charger is known, and what does not go into its ports is refused"
    apart = imbalance_ah(packs)
    balancing = _balancing(given, apart)
    is_level = _is_level(packs, apart)
    charge = _joint_charge(given, packs) if is_level else None
    settings = _settings(given, packs, charge, apart) if charge else JointSettings()
    return Answer(
        cautions=_cautions(given, packs, charge),
        join=_join(packs, apart, is_level),
        to_burn_off=range_of(
            apart.times(mah_from_ah(1)),
            MILLIAMPERE_HOURS,
            STATE_UNSURE,
            note="From every cell of the fullest pack, at the end of the charge.",
        ),
        balancing_time=balancing,
        level_first=None if is_level else level_first(packs),
        **held_by(settings),
        wiring=series_drawing(plugs, ports) if is_level else None,
        ports=ports_table(plugs, ports) if is_level else None,
        when_joining=_when_joining(packs) if is_level else (),
        never=never_like_this(),
    )


def so_far(entered: Entered) -> PartialAnswer:
    """Return whether these packs go together by their labels and whatever else is entered, and the most that may flow through them.

    Refuses as `work_out` does, by everything that is known; without the whole label of each there is nothing to go by.
    """
    parts, into, read = parts_so_far(entered, PlugsEntries), entered.of(PlugsEntries), entered.of(PluggedPacksEntries)
    assert into is not None, "it is needed above"
    packs: Sequence[NumberedPack] = sound_packs(read, parts.also) if read else packs_so_far(parts.labelled, parts.also)
    plugs, ports = _plugged_in(parts.labelled, packs, parts.charger, into.balance_plugs_into)
    sound = [one for one in packs if isinstance(one, SoundPack)]
    join, level = by_their_labels(f"one kind and one capacity, {Figure(fsum(one.cells for one in packs), CELLS)} in all"), None
    if read:
        apart = imbalance_ah(sound)
        is_level = _is_level(sound, apart)
        join, level = _join(sound, apart, is_level), None if is_level else level_first(sound)
    limits = series_current_limits(
        packs=packs, charger=parts.charger, supply=parts.supply, requested_rate_c=parts.labelled.requested_rate_c
    )
    dialled = {} if level else dialled_so_far(parts, packs, series_label(packs), limits, "the smallest label")
    known = SoFar(
        cautions=(_NOT_YET,) if level else (),
        join=join,
        level_first=level,
        wiring=series_drawing(plugs, ports) if ports and not level else None,
        ports=ports_table(plugs, ports) if ports and not level else None,
        **(NOTHING_TO_DIAL | dialled),
    )
    return joint_partial(known, entered, parts, packs)


def _plugged_in(
    joined: LabelledPacksEntries | PluggedPacksEntries, packs: Sequence[NumberedPack], charger: ChargerEntries | None, into: str
) -> tuple[list[Plug], list[int] | None]:
    """The balance plugs, and the port for each where the charger is known; refuses packs that do not go together, or not into it."""
    refuse_unlike(joined, problems_of_plugs(joined.packs))
    plugs = plugs_in_series([one.plug_cells for one in joined.packs])
    by_lead = into == SERIES_BALANCE_LEAD
    ports = ports_of(plugs, ports=int(charger.balance_ports), port_cells=int(charger.port_cells), joined=by_lead) if charger else None
    also = problems_of_series_charger(fsum(one.cells for one in packs), charger, packs[0].chemistry)
    if into == PARALLEL_BOARD:
        sentence = "A parallel board under packs in series is a short circuit through the balance wires. Never join them like this."
        also.append(Problem("balance_plugs_into", sentence))
    elif charger and ports is None and not also:
        also.append(Problem("port_cells", _ports_sentence(by_lead)))
    refuse_unlike(joined, unlike_chemistry(packs) or [*unlike_capacity(packs), *unlike_temperature(packs)], also)
    return plugs, ports


def _ports_sentence(joined: bool) -> str:
    if joined:
        return "In this order the packs do not go into the charger's balance ports: join them in another order, or charge fewer at once."
    return (
        "There are more balance plugs than ports, or a plug has more cells than a port takes. If a pack has two plugs, enter how many cells "
        "the first one has. Otherwise use a series balance lead, or charge fewer at once."
    )


def _is_level(packs: Sequence[SoundPack], apart: Span) -> bool:
    return apart.likely <= _allowed_ah(packs) and not any(one.reading.is_uneven for one in packs)


def _allowed_ah(packs: Sequence[SoundPack]) -> float:
    return min(one.effective_ah for one in packs) * fraction_from_percent(SERIES_APART_PERCENT.value)


def _join(packs: Sequence[SoundPack], apart: Span, is_level: bool) -> Verdict:
    percent = Figure(percent_from_fraction(apart.likely / max(one.effective_ah for one in packs)), PERCENT)
    allowed = Figure(SERIES_APART_PERCENT.value, PERCENT)
    practice = f"A balancer is for {allowed} of the capacity at most (common practice, no source)."
    if any(one.reading.is_uneven for one in packs):
        return Verdict(may=False, figure=f"Not yet: {balance_first(packs)}", set_by=uneven_because(packs))
    if is_level:
        once_read = "" if all(one.reading.each_cell for one in packs) else ", once every cell has been read"
        because = f"one kind and one capacity; their charge most likely differs by {percent} of it"
        return Verdict(may=not once_read, figure=f"Yes{once_read}", set_by=because, note=practice)
    return Verdict(
        may=False,
        figure="Not yet: bring them level first",
        set_by=f"they are most likely {percent} of their capacity apart",
        note=f"{practice} The charger must stop for the fullest cell, and then burn off the difference at its small balance current.",
    )


def _balancing(given: Inputs, apart: Span) -> Range:
    if given.balance_current_a is not None:
        return minutes_or_hours(
            balancing_minutes(apart, given.balance_current_a), STATE_UNSURE, f"At {Figure(given.balance_current_a, AMPERES.to_step(0.01))}."
        )
    slow, fast = BALANCE_LEAST_A.value, BALANCE_MOST_A.value
    minutes = Span(
        balancing_minutes(apart, fast).least, balancing_minutes(apart, (slow + fast) / 2).likely, balancing_minutes(apart, slow).most
    )
    return minutes_or_hours(
        minutes,
        "the balance current is not entered, and a voltage shows the charge only roughly",
        f"At {Band(Figure(slow, AMPERES), Figure(fast, AMPERES))}, as chargers have it (common practice, no source).",
    )


def _joint_charge(given: Inputs, packs: Sequence[SoundPack]) -> JointCharge:
    limits = series_current_limits(packs=packs, charger=given, supply=given, requested_rate_c=given.requested_rate_c)
    return joint_charge(joined=given, charger=given, packs=packs, one_pack=series_pack(packs), limits=limits)


def _settings(given: Inputs, packs: Sequence[SoundPack], charge: JointCharge, apart: Span) -> JointSettings:
    return joint_settings(
        charge,
        charger=given,
        packs=packs,
        capacity_by="the smallest label",
        shared="The same through every pack: one current flows through all.",
        levelling_min=balancing_minutes(apart, given.balance_current_a or BALANCE_LEAST_A.value).most,
    )


def _cautions(given: Inputs, packs: Sequence[SoundPack], charge: JointCharge | None) -> tuple[Caution, ...]:
    return (
        *charge_feed_cautions(given, given),
        *(warming_cautions(charge, packs, each_takes_all=True) if charge else (_NOT_YET,)),
        *joint_cautions(packs, with_settings=charge is not None),
    )


def _when_joining(packs: Sequence[SoundPack]) -> tuple[Caution, ...]:
    all_cells = Figure(fsum(one.cells for one in packs), CELLS)
    return (
        Caution(
            sentence=f"Before you start the charger must show {all_cells}, each with the voltage that you measured. If one is "
            "missing or strange, take all apart again.",
            grave=True,
        ),
        Caution(
            sentence="Charge lead into the charger first, then the series lead, then the packs onto the charge lead, then the balance "
            "plugs, port by port. Take apart the other way round."
        ),
    )
