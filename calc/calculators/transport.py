"""Which of my packs may come with me, by air, by road or by post, and how full may they be?

The watt-hours on the label decide, and for freight by air the charge as well. A damaged pack goes by no aircraft, whatever its
number. Assumes one passenger, packs for their own use, and the rules as each source had them on its date.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from calc.calculators.parts.transport_carriage import cabin_shown, charge_to_travel, other_ways
from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.transport import APPROVAL_WH, FREE_WH
from calc.figures.quantities import CELLS, MILLIAMPERE_HOURS, PACKS, WATT_HOURS, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Row, Setting, Table, shown
from calc.inputs.equipment import NICKEL, UNKNOWN
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, several
from calc.inputs.travelling import DAMAGED, TravelPack
from calc.rules.pack.touch_limit import beyond_touch
from calc.rules.pack.transport import Allowed, Cabin, allowed_in_cabin, cabin_class, is_small_on_the_road, label_disagrees, rated_wh

_CABIN_WORDS = {
    Cabin.FREE: "may come",
    Cabin.ASK: "ask the airline",
    Cabin.TOO_LARGE: "may not come",
    Cabin.DAMAGED: "may not come: damaged",
}


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The packs that are to travel, kind by kind."""

    packs: tuple[TravelPack, ...] = several(TravelPack, "Pack", group_key="packs", least=1, most=12)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What each pack counts, what may come into the cabin, the other ways, and the charge that freight allows."""

    cautions: tuple[Caution, ...] = shown("Look out")
    kinds: Table = shown("Your packs", "What you carry")
    all_energy: Setting = shown("Watt-hours in all", "What you carry")
    free: Setting = shown("May come without asking", "By air, with you in the cabin")
    by_approval: Setting | None = shown("May come if the airline agrees", "By air, with you in the cabin")
    left: Setting | None = shown("Stay at home", "By air, with you in the cabin")
    checked_in: Setting = shown("In checked baggage", "By air, with you in the cabin")
    car: Setting = shown("In your own car", "Other ways")
    post: Setting = shown("By post", "Other ways")
    road_freight: Setting = shown("Sent by road", "Other ways")
    air_freight: Setting = shown("Sent by air", "Other ways")
    charge: Table | None = shown("Charge", "How full")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Counted:
    """A kind of pack with what was found of it."""

    pack: TravelPack
    chemistry: Chemistry
    pack_wh: float
    cabin: Cabin

    @property
    def number(self) -> int:
        return int(self.pack.alike_packs)


def work_out(given: Inputs) -> Answer:
    """Return what may be done with each pack; watt-hours are rounded up, numbers of packs and voltages down.

    Refuses a pack that is not lithium, which other rules are for, and one whose chemistry is not known. One with more volts than anybody
    may touch must travel too, and is warned of.
    """
    counted = each_row(given, "packs", _counted)
    allowed = allowed_in_cabin([(one.cabin, one.number) for one in counted])
    all_small = all(is_small_on_the_road(one.pack_wh, cells=one.pack.cells) for one in counted)
    cabin, ways = cabin_shown(allowed), other_ways(any_damaged=allowed.damaged > 0, all_small=all_small)
    return Answer(
        cautions=_cautions(allowed, counted),
        kinds=_kinds(counted),
        all_energy=Setting(
            figure=Figure(fsum(one.number * one.pack_wh for one in counted), WATT_HOURS.to_step(0.01)),
            set_by="each pack's watt-hours, rounded up, times the number of packs",
            note="No rule named here limits the sum, but a carrier may. A large number is a reason to ask.",
        ),
        free=cabin.free,
        by_approval=cabin.by_approval,
        left=cabin.left,
        checked_in=cabin.checked_in,
        car=ways.car,
        post=ways.post,
        road_freight=ways.road_freight,
        air_freight=ways.air_freight,
        charge=charge_to_travel(
            [
                (_name(place, one), one.pack.chemistry, one.pack.cells, one.pack.capacity_mah)
                for place, one in enumerate(counted, 1)
                if one.cabin is not Cabin.DAMAGED
            ]
        ),
    )


def _counted(pack: TravelPack) -> _Counted:
    if pack.chemistry == UNKNOWN:
        sentence = "No carrier takes a pack whose kind is not known. Find its label or ask its maker, or take it out of use."
        raise Refused(Problem("chemistry", sentence))
    if pack.chemistry == NICKEL:
        sentence = (
            "This page is for lithium packs. A nickel-metal hydride pack has rules of its own: cover its contacts, and ask the carrier."
        )
        raise Refused(Problem("chemistry", sentence))
    chemistry = CHEMISTRIES[pack.chemistry]
    pack_wh = rated_wh(capacity_mah=pack.capacity_mah, cells=pack.cells, chemistry=chemistry, label_wh=pack.label_wh)
    return _Counted(pack=pack, chemistry=chemistry, pack_wh=pack_wh, cabin=cabin_class(pack_wh, damaged=pack.condition == DAMAGED))


def _name(place: int, one: _Counted) -> str:
    return worded(f"Pack {place}: {{}}, {{}}", Figure(one.pack.cells, CELLS), Figure(one.pack.capacity_mah, MILLIAMPERE_HOURS))


def _kinds(counted: tuple[_Counted, ...]) -> Table:
    hundredths = WATT_HOURS.to_step(0.01)
    return Table(
        caption="Each kind of pack",
        columns=("Pack", "Each", "How many", "Together", "In the cabin"),
        rows=tuple(
            Row(
                heading=_name(place, one),
                cells=(
                    Figure(one.pack_wh, hundredths),
                    Figure(one.number, PACKS),
                    Figure(one.number * one.pack_wh, hundredths),
                    _CABIN_WORDS[one.cabin],
                ),
            )
            for place, one in enumerate(counted, 1)
        ),
        notes=(
            (
                "Watt-hours: the label's, or capacity times the highest nominal voltage of such cells (49 CFR 171.8), rounded up. "
                f"Up to {Figure(FREE_WH.value, WATT_HOURS.to_step(1))} a pack may come, up to {Figure(APPROVAL_WH.value, WATT_HOURS.to_step(1))} the airline is asked."
            ),
        ),
    )


def _cautions(allowed: Allowed, counted: tuple[_Counted, ...]) -> tuple[Caution, ...]:
    found = [
        Caution(
            sentence="Rules change, and carriers and countries add their own: check the airline and each country on your way before you pack."
        )
    ]
    for place, one in enumerate(counted, 1):
        pack = one.pack
        if label_disagrees(capacity_mah=pack.capacity_mah, cells=pack.cells, chemistry=one.chemistry, label_wh=pack.label_wh):
            sentence = f"Pack {place}: its watt-hours do not fit its cells and capacity. Read the label again: until then the higher watt-hours count."
            found.append(Caution(sentence=sentence))
        if beyond := beyond_touch(pack.cells, one.chemistry):
            sentence = f"Pack {place}: {beyond} Have its contacts covered by somebody who is trained for such voltages."
            found.append(Caution(sentence=sentence, grave=True))
    if allowed.by_approval:
        found.append(Caution(sentence="Ask the airline before the day of the flight, and carry its answer with you."))
    if allowed.damaged:
        sentence = "A harmed or recalled pack goes by no aircraft and in no post, however small it is. See the page Pack in trouble."
        found.insert(0, Caution(sentence=sentence, grave=True))
    return tuple(found)
