"""The settings for several packs that are charged as one, and what to say beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.facts.chemistries import Chemistry
from calc.figures.limits import Limit
from calc.figures.quantities import AMPERES, MILLIAMPERE_HOURS, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Setting, held_by
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.inputs.refusals import within_sentence
from calc.presenting.currents import current_setting
from calc.presenting.labels import label_settings
from calc.presenting.ranges import charge_put_in, minutes_range
from calc.presenting.stops import stops_of, warming_sentence
from calc.presenting.verdicts import LOOK_FIRST, UNTIL_READ, slow_sentences
from calc.rules.charge.charge_heat import minutes_at_full_current
from calc.rules.charge.charge_outlook import Outlook, outlook_of
from calc.rules.joined.joined_packs import NumberedPack, SoundPack, at_its_warmest, joint_reading, joint_setting_a

AUTOMATIC_KNOWS_NOTHING = "Set the current by hand, as above: an automatic one counts from this capacity and knows nothing of the joint."
_LEVELLING_IS_LONGER = (
    "Bringing the packs level may take longer than that: the stop then ends it, and you read every cell before you start again."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointCharge:
    """Several packs that are charged as one: the entries of that one, its current with what sets it, and the charge to come."""

    one_pack: PackEntries
    chemistry: Chemistry
    limits: list[Limit]
    binding: Limit
    current_a: float
    outlook: Outlook


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSettings:
    """What packs in series and packs side by side have alike; all of it None where they may not be charged as one yet."""

    joint_current: Setting | None = None
    chemistry_mode: Setting | None = None
    cells: Setting | None = None
    capacity_setting: Setting | None = None
    full_voltage: Setting | None = None
    capacity_cutout: Setting | None = None
    time_cutout: Setting | None = None
    temperature_stop: Setting | None = None
    charge_time: Range | None = None
    charge_put_in: Range | None = None


def joint_charge(
    *, joined: JoinedPackEntries, charger: ChargerEntries, packs: Sequence[SoundPack], one_pack: PackEntries, limits: list[Limit]
) -> JointCharge:
    """Return the charge of several packs as one, at the current that the limits allow."""
    chemistry, smallest = packs[0].chemistry, min(packs, key=lambda one: one.effective_ah)
    current_a, binding = joint_setting_a(joined=joined, charger=charger, one_pack=one_pack, limits=limits, smallest=smallest)
    reading = joint_reading(packs, one_pack.resting_v[0])
    outlook = outlook_of(
        pack=one_pack,
        balance_current_a=charger.balance_current_a,
        chemistry=chemistry,
        reading=reading,
        current_a=current_a,
        warmest_degc=min(one.entries.warmest_degc for one in packs),
    )
    return JointCharge(one_pack=one_pack, chemistry=chemistry, limits=limits, binding=binding, current_a=current_a, outlook=outlook)


def joint_settings(
    charge: JointCharge, *, charger: ChargerEntries, packs: Sequence[SoundPack], capacity_by: str, shared: str, levelling_min: float = 0.0
) -> JointSettings:
    """Return the settings of such a charge.

    `capacity_by` says what makes their capacity, `shared` how the charge is shared among them, and `levelling_min` how long the
    balancer may take to bring them level.
    """
    one_pack, chemistry, outlook, current_a = charge.one_pack, charge.chemistry, charge.outlook, charge.current_a
    step = Figure(charger.capacity_step_mah, MILLIAMPERE_HOURS.to_step(charger.capacity_step_mah))
    labels = label_settings(
        pack=one_pack,
        capacity_step_mah=charger.capacity_step_mah,
        chemistry=chemistry,
        capacity_by=worded(f"{capacity_by}, rounded up to the charger's step of {{}}", step),
        capacity_note=AUTOMATIC_KNOWS_NOTHING,
        packs=len(packs),
    )
    stops = stops_of(pack=one_pack, capacity_step_mah=charger.capacity_step_mah, chemistry=chemistry, outlook=outlook)
    time_cutout = stops.time_cutout
    if isinstance(time_cutout.figure, Figure) and outlook.charge_min.most + levelling_min > time_cutout.figure.value:
        time_cutout = replace(time_cutout, note=_LEVELLING_IS_LONGER)
    return JointSettings(
        joint_current=current_setting(
            pack=one_pack,
            current_step_a=charger.current_step_a,
            current_a=current_a,
            binding=charge.binding,
            limits=charge.limits,
            quantity=AMPERES,
        ),
        **held_by(labels),
        capacity_cutout=stops.capacity_cutout,
        time_cutout=time_cutout,
        temperature_stop=stops.temperature_stop,
        charge_time=minutes_range(outlook.charge_min, outlook.wide_because),
        charge_put_in=charge_put_in(outlook, shared),
    )


def warming_cautions(charge: JointCharge, packs: Sequence[SoundPack], *, each_takes_all: bool = False) -> tuple[Caution, ...]:
    """Return that the charge itself may warm its packs past their stop, where it may.

    The current follows from the coldest pack; what the charge adds counts from the warmest. Where each pack takes all of the current it is
    judged by itself too: what was read of one counts though the resistance of another is not known.
    """
    minutes = minutes_at_full_current(charge.outlook)
    for one in (at_its_warmest(charge.one_pack, packs), *(each.entries for each in packs if each_takes_all)):
        if warms := warming_sentence(one, charge.chemistry, minutes, charge.current_a):
            return (Caution(sentence=warms, grave=True),)
    return ()


def joint_cautions(packs: Sequence[NumberedPack], *, with_settings: bool) -> tuple[Caution, ...]:
    """Return what to say of each pack by itself: a cell count that is open to doubt, and its condition.

    Where no settings for a charge stand beside the cautions, there is nothing that could hold for now.
    """
    found = []
    for one in packs:
        found += [Caution(sentence=f"{one.title}: {doubt.sentence}", grave=doubt.grave) for doubt in one.condition.doubts]
        found += [Caution(sentence=f"{one.title}: {within_sentence(sentence)}") for sentence in slow_sentences(one.condition)]
    unread = [one.title for one in packs if not one.condition.each_cell]
    not_looked_over = [one.title for one in packs if not one.condition.looked_over]
    for titles, sentence, go_to in ((unread, UNTIL_READ, ""), (not_looked_over, LOOK_FIRST, "cell-check")):
        if with_settings and titles:
            found.append(Caution(sentence=f"{', '.join(titles)}: {within_sentence(sentence)}", go_to=go_to))
    return tuple(found)
