"""Several packs that are to be charged as one, by what has been entered so far: whether they go together, and what their labels allow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from calc.figures.limits import Limit
from calc.figures.quantities import AMPERES, MILLIAMPERE_HOURS, Figure
from calc.figures.sentences import joined_with_and, worded
from calc.figures.showing import Caution, Range, Setting, Table, Verdict, held_by, shown
from calc.inputs.entered import Entered
from calc.inputs.equipment import USUAL_CAPACITY_STEP_MAH, ChargerEntries, LabelledPack
from calc.inputs.joined_packs import LabelledPacksEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.supply import SupplyEntries
from calc.presenting.currents import current_setting
from calc.presenting.joint_settings import AUTOMATIC_KNOWS_NOTHING, joint_cautions
from calc.presenting.labels import label_settings
from calc.presenting.partial_answers import PartialAnswer
from calc.presenting.supply_load import charge_feed_cautions
from calc.rules.joined.joined_packs import NumberedPack, joint_setting_a
from calc.rules.pack.acceptance import problems_of_supply

# What has no place where packs must be brought level first.
NOTHING_TO_DIAL: dict[str, Setting | None] = dict.fromkeys(("joint_current", "cells", "full_voltage", "chemistry_mode", "capacity_setting"))


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSoFar:
    """What holds of packs that go together by what is known of them; a whole answer adds to it. Each page calls the verdict by its own way of
    joining them."""

    cautions: tuple[Caution, ...] = shown("Look out")
    join: Verdict = shown("Together")
    level_first: Table | None = shown("Bring them level first")
    joint_current: Setting | None = shown("Charge current, at most", "Dial in")
    cells: Setting | None = shown("Cells", "Dial in")
    full_voltage: Setting | None = shown("Full voltage", "Dial in")
    chemistry_mode: Setting | None = shown("Chemistry mode", "Dial in")
    capacity_setting: Setting | None = shown("Capacity setting", "Dial in")


@dataclass(frozen=True, slots=True, kw_only=True)
class JointAnswer(JointSoFar):
    """What both whole answers add: the current itself, the stops, and how long the charge takes."""

    joint_current: Setting | None = shown("Charge current", "Dial in")
    capacity_cutout: Setting | None = shown("Capacity", "Stop at")
    time_cutout: Setting | None = shown("Time", "Stop at")
    temperature_stop: Setting | None = shown("Temperature", "Stop at")
    charge_time: Range | None = shown("Minutes to full", "Ready in")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsSoFar:
    """The parts of the form that an answer about several packs can do without, as far as they are entered, and what speaks against them."""

    labelled: LabelledPacksEntries
    charger: ChargerEntries | None
    supply: SupplyEntries | None
    also: tuple[Problem, ...]


def parts_so_far(entered: Entered, *needed: type) -> PartsSoFar:
    """Return what is entered beside the readings; refuse a label, or what else is `needed`, that is missing."""
    labelled = entered.of(LabelledPacksEntries)
    missing = [problem for asks in (LabelledPacksEntries, *needed) for problem in entered.missing_of(asks)]
    if labelled is None or missing:
        raise Refused(*missing)
    charger, supply = entered.of(ChargerEntries), entered.of(SupplyEntries)
    also = problems_of_supply(supply=supply, charger=charger) if supply else []
    return PartsSoFar(labelled=labelled, charger=charger, supply=supply, also=tuple(also))


def by_their_labels(because: str) -> Verdict:
    """Return that nothing speaks against joining packs of which not all have been read; `because` is what their labels say."""
    return Verdict(may=None, figure="Yes, by their labels", set_by=f"{because}; every cell of each is read first, and they must rest level")


def dialled_so_far(
    parts: PartsSoFar, packs: Sequence[NumberedPack], one_pack: LabelledPack, limits: list[Limit], capacity_by: str
) -> dict[str, Any]:
    """Return what to dial in by the labels and the charger, by the names of `JointSoFar`; the current is the most that it may be."""
    charger, smallest = parts.charger, min(packs, key=lambda one: one.effective_ah)
    current_a, binding = joint_setting_a(joined=parts.labelled, charger=charger, one_pack=one_pack, limits=limits, smallest=smallest)
    step_mah = charger.capacity_step_mah if charger else USUAL_CAPACITY_STEP_MAH
    step = Figure(step_mah, MILLIAMPERE_HOURS.to_step(step_mah))
    of_step = "the charger's step of {}" if charger else "a step of {}, as most chargers have it (common practice, no source)"
    labels = label_settings(
        pack=one_pack,
        capacity_step_mah=step_mah,
        chemistry=packs[0].chemistry,
        capacity_by=worded(f"{capacity_by}, rounded up to {of_step}", step),
        capacity_note=AUTOMATIC_KNOWS_NOTHING,
        packs=len(packs),
    )
    current = current_setting(
        pack=one_pack,
        current_step_a=charger.current_step_a if charger else None,
        current_a=current_a,
        binding=binding,
        limits=limits,
        quantity=AMPERES,
    )
    return {"joint_current": current, **held_by(labels)}


def joint_partial(known: JointSoFar, entered: Entered, parts: PartsSoFar, packs: Sequence[NumberedPack]) -> PartialAnswer:
    """Return the answer with what is not counted yet. It starts no card: that is for the answer to everything."""
    no_voltages = [one.title for one in packs if one.entries.resting_v is None]
    no_degrees = [one.title for one in packs if one.entries.coolest_degc is None]
    unread = no_voltages or no_degrees
    rests_on = ["the labels", *([] if unread else ["your readings"]), *(["your charger"] if parts.charger else [])]
    if no_voltages == no_degrees:
        missing = [f"the voltages and the temperature of {joined_with_and(unread)}"] if unread else []
    else:
        missing = [f"the {what} of {joined_with_and(of)}" for what, of in (("voltages", no_voltages), ("temperature", no_degrees)) if of]
    if parts.charger is None:
        missing.append("your charger, and with it your supply" if parts.supply else "your charger")
    elif parts.supply:
        rests_on.append("your supply")
    if not parts.supply:
        missing.append("your supply with its lead")
    return PartialAnswer(
        known=replace(
            known,
            cautions=(*charge_feed_cautions(parts.supply, parts.charger), *known.cautions, *joint_cautions(packs, with_settings=False)),
        ),
        basis=f"By {joined_with_and(rests_on)}",
        not_counted=f"Not counted yet: {joined_with_and(missing)}. What is missing can only lower the current, or forbid the charge.",
        may_start=False,
        begun=entered.begun,
    )
