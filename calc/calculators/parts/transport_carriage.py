"""How packs may travel, in words with the rule, its date and its source: the cabin, the other ways, and the charge to travel with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.facts.transport import (
    AIR_FREIGHT_PERCENT,
    APPROVAL_PACKS,
    APPROVAL_WH,
    FREE_WH,
    POST_IN_EQUIPMENT,
    SMALL_BATTERY_WH,
    SMALL_CELL_WH,
    SPARE_PACKS,
)
from calc.figures.quantities import CELL_VOLTS, MILLIAMPERE_HOURS, PACK_VOLTS, PACKS, PERCENT, WATT_HOURS, Band, Figure
from calc.figures.rounding import down_to_step, up_to_step
from calc.figures.showing import Row, Setting, Table
from calc.figures.units import fraction_from_percent
from calc.physics.cell.cells import edge_curves, resting_cell_v, voltage_and_slope
from calc.presenting.source_lines import dated
from calc.rules.pack.transport import Allowed

_WHOLE_WH = WATT_HOURS.to_step(1)
_DAMAGED = "a damaged pack goes by no aircraft"


@dataclass(frozen=True, slots=True, kw_only=True)
class CabinShown:
    """Numbers of packs in the cabin and out of it; None where no pack is meant."""

    free: Setting
    by_approval: Setting | None
    left: Setting | None
    checked_in: Setting


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWays:
    """What each way but the cabin allows."""

    car: Setting
    post: Setting
    road_freight: Setting
    air_freight: Setting


def cabin_shown(allowed: Allowed) -> CabinShown:
    """Return what one passenger may take into the cabin."""
    free_wh, approval_wh = Figure(FREE_WH.value, _WHOLE_WH), Figure(APPROVAL_WH.value, _WHOLE_WH)
    two, twenty = Figure(APPROVAL_PACKS.value, PACKS), Figure(SPARE_PACKS.value, PACKS)
    reasons = {
        f"{_DAMAGED} ({dated('49-cfr-173-185')})": allowed.damaged,
        f"{approval_wh} each is the most that any passenger may carry ({dated('faa-packsafe')})": allowed.too_large,
        f"{two} with approval are the most": allowed.over_approval,
        f"{twenty} in all are the most": allowed.over_number,
    }
    return CabinShown(
        free=Setting(
            figure=Figure(allowed.free, PACKS),
            set_by=f"up to {free_wh} each ({dated('faa-packsafe')}), and {twenty} in all ({dated('iata-dgr')})",
            note="In the cabin, for your own use, each with its contacts covered. The US rule sets no number; the airlines' table does.",
        ),
        by_approval=Setting(
            figure=Figure(allowed.by_approval, PACKS),
            set_by=f"over {free_wh} and up to {approval_wh} each, {two} for each person ({dated('faa-packsafe')}; {dated('iata-dgr')})",
            note="The airline must agree beforehand.",
        )
        if allowed.by_approval
        else None,
        left=Setting(
            figure=Figure(allowed.left, PACKS),
            set_by="; ".join(reason for reason, number in reasons.items() if number),
            note="If you only have too many, another passenger may carry some for their own use, or the airline may approve more. A pack that is too large goes as freight.",
        )
        if allowed.left
        else None,
        checked_in=Setting(
            figure=Figure(0, PACKS),
            set_by=f"no spare pack in checked baggage ({dated('49-cfr-175-10')}; {dated('faa-packsafe')})",
            note="If your bag is taken from you at the gate, take the packs out first and keep them with you.",
        ),
    )


def other_ways(*, any_damaged: bool, all_small: bool) -> OtherWays:
    """Return what may be done by car, post, road freight and air freight."""
    if any_damaged:
        return _damaged_ways()
    of_a_pack, of_a_cell = Figure(SMALL_BATTERY_WH.value, _WHOLE_WH), Figure(SMALL_CELL_WH.value, _WHOLE_WH)
    full = Figure(AIR_FREIGHT_PERCENT.value, PERCENT)
    return OtherWays(
        car=Setting(
            figure="may come",
            set_by=f"private use, packed so that nothing leaks or shorts ({dated('adr-1-1-3-1')})",
            note="Out of the sun, fixed so that nothing falls on them, and never left in a hot car. Some countries limit the amount: check yours.",
        ),
        post=Setting(
            figure="ask first",
            set_by=f"across borders only {Figure(POST_IN_EQUIPMENT.value, PACKS)} at most, installed in equipment, no loose ones ({dated('upu-2013')})",
            note="Within a country each post has its own rule, and many take no loose pack. Never hide one in a parcel: it may fly.",
        ),
        road_freight=Setting(
            figure="as small batteries" if all_small else "as dangerous goods",
            set_by=f"{'at most' if all_small else 'one is over'} {of_a_pack} a pack {'and' if all_small else 'or'} {of_a_cell} a cell ({dated('adr-sp-188')})",
            note="Of a tested kind (UN 38.3), watt-hours on the case, each packed by itself, the parcel marked. Ask the carrier for its form."
            if all_small
            else "UN 3480, class 9, in tested packaging with papers: work for a shipper who is trained for it.",
        ),
        air_freight=Setting(
            figure=f"{full} charged at most",
            set_by=f"cargo aircraft only, as dangerous goods UN 3480 ({dated('phmsa-hm-224i')}; {dated('iata-dgr')})",
            note=f"Packed together with equipment, UN 3481, {full} holds too since 1 January 2026 (IATA DGR, second hand). For a trained shipper.",
        ),
    )


def _damaged_ways() -> OtherWays:
    law = f"{_DAMAGED}, and in no ordinary parcel ({dated('49-cfr-173-185')}; {dated('phmsa-24-0050')})"
    return OtherWays(
        car=Setting(
            figure="only to where it is handed in",
            set_by="common practice, no source",
            note="Ask the collection point how to bring it, after it has been watched in the open. Leave it where it is while it is warm or swelling.",
        ),
        post=Setting(figure="not at all", set_by=law, note="Take the damaged ones out of the list to see what holds for the others."),
        road_freight=Setting(
            figure="special packing only", set_by=law, note="By a shipper who is trained for damaged batteries (ADR special provision 376)."
        ),
        air_freight=Setting(figure="not at all", set_by=law),
    )


def charge_to_travel(kinds: Sequence[tuple[str, str, float, float]]) -> Table | None:
    """Return at what voltage each kind of sound pack rests when it holds the 30 % that freight by air allows; None if there is none."""
    if not kinds:
        return None
    share = fraction_from_percent(AIR_FREIGHT_PERCENT.value)
    rows = []
    for name, key, cells, capacity_mah in kinds:
        low_v, high_v = (voltage_and_slope(curve, share)[0] for curve in edge_curves(key))
        likely_v = down_to_step(resting_cell_v(key, share), 0.01)
        between = Band(Figure(low_v, CELL_VOLTS), Figure(high_v, CELL_VOLTS))
        rows.append(
            Row(
                heading=name,
                cells=(
                    Figure(likely_v, CELL_VOLTS),
                    between if high_v - low_v > 0.01 else "the same",
                    Figure(likely_v * cells, PACK_VOLTS),
                    Figure(up_to_step((1 - share) * capacity_mah, 1), MILLIAMPERE_HOURS),
                ),
            )
        )
    full = Figure(AIR_FREIGHT_PERCENT.value, PERCENT)
    return Table(
        caption=f"What a pack rests at with {full} in it",
        columns=("Pack", "A cell, likely", "A cell, from and to", "The pack, likely", "Taken out of a full one"),
        rows=tuple(rows),
        notes=(
            "A passenger's spare packs have no such limit in the US rule. Less charge is still safer.",
            (
                "The label does not say which cell is inside, so a voltage shows the charge only roughly. Where the number must hold, count what "
                "the charger takes out of a full pack."
            ),
            "Voltages: half an hour after use, from published curves of each kind of cell.",
        ),
    )
