"""May I join these packs side by side and charge them as one, what flows when I join them, and with which settings then?

The fuller packs drive a current into the others at once: as a whole through the main leads, and cell by cell through the balance
plugs. How far apart they may rest follows from the lowest resistances that they may have, from what each label allows, and from the
contacts of the plugs. Assumes sound packs that have passed the look-over, and leads that are all alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from calc.calculators.parts.packs_in_parallel_apart import (
    cell_difference_shown,
    difference_shown,
    joining_current_shown,
    largest_cell_difference_shown,
    largest_difference_shown,
)
from calc.calculators.parts.packs_in_parallel_level import LevellingShown, levelling_shown
from calc.calculators.parts.packs_in_parallel_verdict import JoiningVerdict, contact_note, judged_joining
from calc.facts.practice import BALANCE_CONTACT_A
from calc.figures.quantities import AMPERES, RATE, Figure
from calc.figures.showing import Caution, Drawing, Picture, Range, Setting, Verdict, held_by, shown
from calc.figures.spans import Span
from calc.inputs.entered import Entered
from calc.inputs.equipment import ChargerEntries
from calc.inputs.joined_packs import SERIES_LEAD, LabelledPacksEntries, LeadsEntries, PluggedPacksEntries
from calc.inputs.refusals import Problem
from calc.inputs.rows import in_row
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.leads import lead_span_ohm
from calc.presenting.joint_settings import JointCharge, JointSettings, joint_cautions, joint_charge, joint_settings, warming_cautions
from calc.presenting.joint_so_far import (
    NOTHING_TO_DIAL,
    JointAnswer,
    JointSoFar,
    PartsSoFar,
    by_their_labels,
    dialled_so_far,
    joint_partial,
    parts_so_far,
)
from calc.presenting.level_first import level_first
from calc.presenting.partial_answers import PartialAnswer
from calc.presenting.ranges import balancing_range, range_of
from calc.presenting.supply_load import charge_feed_cautions
from calc.presenting.wiring import never_like_this, parallel_drawing
from calc.rules.joined.joined_packs import (
    NumberedPack,
    SoundPack,
    packs_so_far,
    refuse_unlike,
    sound_packs,
    unlike_chemistry,
    unlike_temperature,
)
from calc.rules.joined.moment_of_joining import PlugsIn
from calc.rules.joined.packs_in_parallel import (
    parallel_current_limits,
    parallel_label,
    parallel_limits_so_far,
    parallel_pack,
    problems_of_plugs_side_by_side,
    unequal_cells,
    unlike_size,
)
from calc.rules.pack.acceptance import problems_of_charger, problems_of_supply

_PLUGS_BECAUSE = "the resistance of cells, wires and contacts; the upper end is for the lowest that it may be"
_TWO_PLUGS = (
    "Each pack has two balance plugs: mark them first. The first plug of every pack goes on one board, the second on another, and each board "
    "has a port of its own (common practice, no source). A first and a second plug on one board are a short circuit through the thin wires."
)
_PLUGS_ALONE = "Then nothing but the thin wires brings the packs level."


@dataclass(frozen=True, kw_only=True)
class Inputs(SupplyEntries, ChargerEntries, LeadsEntries, PluggedPacksEntries):
    """The packs, the leads between them, the charger and the supply."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(JointAnswer):
    """Whether to join them, what flows, how it dies away, what to set, how never to wire them, and how to if they may be joined."""

    join: Verdict = shown("In parallel")
    balancing_time: Range | None = shown("Balancing, on top", "Ready in")
    wiring: Drawing | None = shown("Wiring", "How to join them")
    wait: Range | None = shown("Wait before the balance plugs", "How to join them")
    when_joining: tuple[Caution, ...] = shown("When you join them", "How to join them")
    difference: Setting = shown("Difference between the packs", "When they are joined")
    largest_difference: Setting = shown("Largest difference to join at", "When they are joined")
    joining_current: Range = shown("Current at the moment of joining", "When they are joined")
    cell_difference: Setting | None = shown("Difference between cells of one place", "When the balance plugs go in")
    largest_cell_difference: Setting = shown("Largest difference of a cell", "When the balance plugs go in")
    through_a_contact: Range | None = shown("Current through a balance contact", "When the balance plugs go in")
    by_the_balance_plugs: Range | None = shown("The same, if the balance plugs went first", "When the balance plugs go in")
    moved: Range | None = shown("Charge that moves into a pack", "How the current dies away")
    rests_at: Range | None = shown("A cell then rests at", "How the current dies away")
    picture: Picture | None = shown("Picture", "How the current dies away")
    if_one_slips: Setting | None = shown("If one plug slips out", "What to expect")
    charge_put_in: Range | None = shown("Charge put into all together", "What to expect")
    never: tuple[Drawing, ...] = shown("Never like this", "Never like this")


@dataclass(frozen=True, slots=True, kw_only=True)
class SoFar(JointSoFar):
    """Whether packs of which not all is known go together, and how they are wired if they do."""

    join: Verdict = shown("In parallel")
    wiring: Drawing | None = shown("Wiring", "How to join them")


def work_out(given: Inputs) -> Answer:
    """Return whether these packs may be joined side by side, what flows, and everything to set if they may.

    Refuses a pack that must not be charged, packs of different kinds or cell counts, and a series lead.
    """
    packs = sound_packs(given, [*problems_of_supply(supply=given, charger=given), *_problems_of_leads(given)])
    _refuse_unlike(given, packs, given)
    lead_ohm = lead_span_ohm(given.join_length_m, given.join_area_mm2)
    joining, levelling, place, plugs, verdict = judged_joining(packs, lead_ohm, given.join_area_mm2)
    charge = _joint_charge(given, packs, lead_ohm) if verdict.may_join else None
    settings = _settings(given, packs, charge) if charge else JointSettings()
    level = levelling_shown(packs, levelling) if levelling and verdict.may_join else LevellingShown()
    return Answer(
        cautions=(
            *charge_feed_cautions(given, given),
            *(warming_cautions(charge, packs) if charge else ()),
            *_cautions(packs, verdict.warning),
        ),
        join=verdict.join,
        difference=difference_shown(packs, joining),
        largest_difference=largest_difference_shown(packs[0].cells, joining),
        joining_current=joining_current_shown(joining),
        cell_difference=cell_difference_shown(place) if place else None,
        largest_cell_difference=largest_cell_difference_shown(),
        through_a_contact=range_of(plugs.after_a, AMPERES, _PLUGS_BECAUSE, contact_note()) if plugs else None,
        by_the_balance_plugs=range_of(plugs.before_a, AMPERES, _PLUGS_BECAUSE, _PLUGS_ALONE) if plugs else None,
        level_first=level_first(packs) if verdict.wants_levelling else None,
        **held_by(level),
        **held_by(settings),
        if_one_slips=_if_one_slips(packs, charge.current_a) if charge else None,
        balancing_time=balancing_range(charge.outlook) if charge else None,
        when_joining=_when_joining(plugs, has_two_plugs=len(given.packs[0].plug_cells) > 1) if verdict.may_join else (),
        wiring=_wiring(given, verdict),
        never=never_like_this(),
    )


def so_far(entered: Entered) -> PartialAnswer:
    """Return whether these packs go together by their labels and whatever else is entered, and the most that may flow into them.

    Refuses as `work_out` does, by everything that is known; without the whole label of each there is nothing to go by.
    """
    parts, leads, read = parts_so_far(entered, LeadsEntries), entered.of(LeadsEntries), entered.of(PluggedPacksEntries)
    assert leads is not None, "they are needed above"
    also = [*parts.also, *_problems_of_leads(leads)]
    packs: Sequence[NumberedPack] = sound_packs(read, also) if read else packs_so_far(parts.labelled, also)
    _refuse_unlike(parts.labelled, packs, parts.charger)
    sound = [one for one in packs if isinstance(one, SoundPack)]
    verdict = JoiningVerdict(join=by_their_labels("one kind, one cell count"))
    if read:
        lead_ohm = lead_span_ohm(leads.join_length_m, leads.join_area_mm2)
        verdict = judged_joining(sound, lead_ohm, leads.join_area_mm2).verdict
    known = SoFar(
        cautions=(Caution(sentence=verdict.warning, grave=True),) if verdict.warning else (),
        join=verdict.join,
        level_first=level_first(sound) if verdict.wants_levelling else None,
        wiring=_wiring(parts.labelled, verdict),
        **(NOTHING_TO_DIAL | (_dialled_so_far(parts, packs) if verdict.may_join else {})),
    )
    return joint_partial(known, entered, parts, packs)


def _wiring(joined: LabelledPacksEntries | PluggedPacksEntries, verdict: JoiningVerdict) -> Drawing | None:
    """How they are joined; packs that must not be, or not yet, have no picture of it."""
    return parallel_drawing(len(joined.packs), *joined.packs[0].plug_cells) if verdict.may_join else None


def _dialled_so_far(parts: PartsSoFar, packs: Sequence[NumberedPack]) -> dict[str, Setting | None]:
    limits = parallel_limits_so_far(
        packs=packs, charger=parts.charger, supply=parts.supply, requested_rate_c=parts.labelled.requested_rate_c
    )
    return dialled_so_far(parts, packs, parallel_label(packs), limits, "all labels together")


def _problems_of_leads(leads: LeadsEntries) -> list[Problem]:
    if leads.main_leads_into != SERIES_LEAD:
        return []
    sentence = "A series lead on packs whose balance plugs meet on a board is a short circuit. Never join them like this."
    return [Problem("main_leads_into", sentence)]


def _refuse_unlike(
    joined: LabelledPacksEntries | PluggedPacksEntries, packs: Sequence[NumberedPack], charger: ChargerEntries | None
) -> None:
    of_charger = problems_of_charger(charger, packs[0].cells) if charger else []
    refuse_unlike(
        joined,
        unlike_chemistry(packs)
        or unequal_cells(packs)
        or [
            *unlike_size(packs),
            *unlike_temperature(packs),
            *([] if of_charger else problems_of_plugs_side_by_side(joined.packs, charger)),
        ],
        [in_row(type(joined), "packs", 1, problem) for problem in of_charger],
    )


def _joint_charge(given: Inputs, packs: Sequence[SoundPack], lead_ohm: Span) -> JointCharge:
    limits = parallel_current_limits(packs=packs, charger=given, supply=given, requested_rate_c=given.requested_rate_c, lead_ohm=lead_ohm)
    return joint_charge(joined=given, charger=given, packs=packs, one_pack=parallel_pack(packs), limits=limits)


def _settings(given: Inputs, packs: Sequence[SoundPack], charge: JointCharge) -> JointSettings:
    shared = "Each pack takes its share by its capacity."
    return joint_settings(charge, charger=given, packs=packs, capacity_by="all labels together", shared=shared)


def _if_one_slips(packs: Sequence[SoundPack], current_a: float) -> Setting:
    largest = max(packs, key=lambda one: one.effective_ah)
    others = [one for one in packs if one is not largest]
    rate_c = current_a / fsum(one.effective_ah for one in others)
    over = [one.title for one in others if rate_c > one.entries.label_charge_rate_c]
    note = f"More than the label of {' and '.join(over)} allows. " if over else ""
    return Setting(
        figure=Figure(rate_c, RATE),
        set_by=f"the charge current, through the others alone if {largest.title} comes off",
        note=f"{note}The charger does not notice. Look at every plug before you start, and stay.",
    )


def _cautions(packs: Sequence[SoundPack], warning: str) -> tuple[Caution, ...]:
    not_yet = (Caution(sentence=warning, grave=True),) if warning else ()
    return (*not_yet, *joint_cautions(packs, with_settings=not warning))


def _when_joining(plugs: PlugsIn | None, *, has_two_plugs: bool) -> tuple[Caution, ...]:
    two_plugs = (Caution(sentence=_TWO_PLUGS, grave=True),) if has_two_plugs else ()
    return (
        *two_plugs,
        Caution(
            sentence="Main leads first. Wait until the current has died away, then the balance plugs. Take apart the other way round.",
            grave=plugs is None or plugs.before_a.most > BALANCE_CONTACT_A.value,
        ),
        Caution(
            sentence="Look at the marks on each plug before you push it in: a pack the wrong way round, or one cell more or less, "
            "starts a fire at once.",
            grave=True,
        ),
    )
