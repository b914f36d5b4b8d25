"""Which of the packs may go on one output together: those with one label, that rest next to each other, by the rules of joining."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import fsum

from calc.facts.practice import BALANCE_LEAST_A, JOIN_DIFFERENCE_CELL_V, SERIES_APART_PERCENT
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent
from calc.inputs.equipment import ChargerEntries
from calc.physics.cell.forecasting import balancing_minutes
from calc.physics.pack.balance_ports import plugs_in_series, ports_of
from calc.rules.charge.own_plugs import needs_two_ports
from calc.rules.joined.imbalance import imbalance_ah
from calc.rules.joined.joined_packs import SoundPack, unlike_chemistry, unlike_temperature
from calc.rules.joined.levelling import coming_level
from calc.rules.joined.moment_of_joining import joining_of, plugs_in, widest_place
from calc.rules.joined.packs_in_parallel import unequal_cells, unlike_size
from calc.rules.joined.packs_in_series import problems_of_series_charger, unlike_capacity
from calc.rules.pack.acceptance import problems_of_charger

_MOST_TOGETHER = 4
# Each takes time to judge; those whose packs rest nearest to each other come first.
_MOST_JOINTS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class JoiningLead:
    """The lead from each pack to a joint: its resistance there and back, and the cross-section of one wire."""

    resistance_ohm: Span
    area_mm2: float


def candidates(packs: Sequence[SoundPack]) -> list[tuple[int, ...]]:
    """Return the sets of packs that are worth judging, as places in the list, the nearest first.

    Packs alike have one label. Of these only such as rest next to each other are put together: others would be farther apart.
    """
    places = sorted(range(len(packs)), key=lambda place: (_label(packs[place]), packs[place].reading.pack_v, place))
    found = []
    for _, group in groupby(places, key=lambda place: _label(packs[place])):
        alike = list(group)
        for count in range(2, _MOST_TOGETHER + 1):
            for first in range(len(alike) - count + 1):
                chosen = alike[first : first + count]
                apart_v = packs[chosen[-1]].reading.pack_v - packs[chosen[0]].reading.pack_v
                found.append((apart_v, tuple(sorted(chosen))))
    return [chosen for _, chosen in sorted(found)[:_MOST_JOINTS]]


def _label(pack: SoundPack) -> tuple[str, int, float, float]:
    entries = pack.entries
    return (entries.chemistry, pack.cells, entries.capacity_mah, entries.label_charge_rate_c)


def wait_side_by_side(packs: Sequence[SoundPack], charger: ChargerEntries, lead: JoiningLead) -> Span | None:
    """Return the minutes until packs side by side have come level, or None where they may not be joined now.

    As on the page for packs in parallel: as a whole within the largest difference, every cell read and near those beside it, and no
    current through a balance plug above what it may carry. Packs with two balance plugs go on alone: that page must know which cells
    are on the first, and a plan does not ask it.
    """
    if needs_two_ports(packs[0].cells, charger):
        return None
    unlike = [*unlike_chemistry(packs), *unequal_cells(packs), *unlike_size(packs), *unlike_temperature(packs)]
    if unlike or problems_of_charger(charger, packs[0].cells) or not _are_read_and_even(packs):
        return None
    joining = joining_of(packs, lead_ohm=lead.resistance_ohm, lead_area_mm2=lead.area_mm2)
    if not joining.is_level or widest_place(packs).difference_v > JOIN_DIFFERENCE_CELL_V.value:
        return None
    levelling = coming_level(packs, lead.resistance_ohm) if joining.flows else None
    if plugs_in(packs, lead.resistance_ohm, levelling.afterwards if levelling else ()).passed:
        return None
    return levelling.span(lambda run: run[-1].time_min) if levelling else Span(0.0, 0.0, 0.0)


def balancing_in_series(packs: Sequence[SoundPack], charger: ChargerEntries, *, series_balance_lead: bool) -> Span | None:
    """Return the minutes of balancing of packs one after the other, or None where they may not be charged so.

    As on the page for packs in series: one capacity, not too many cells for charger and hands, a port for each balance plug, and no
    farther apart than a balancer is for.
    """
    if unlike_chemistry(packs) or unlike_capacity(packs) or unlike_temperature(packs) or not _are_read_and_even(packs):
        return None
    if problems_of_series_charger(fsum(one.cells for one in packs), charger, packs[0].chemistry):
        return None
    plugs = plugs_in_series([[one.cells] for one in packs])
    if ports_of(plugs, ports=int(charger.balance_ports), port_cells=int(charger.port_cells), joined=series_balance_lead) is None:
        return None
    apart = imbalance_ah(packs)
    if apart.likely > min(one.effective_ah for one in packs) * fraction_from_percent(SERIES_APART_PERCENT.value):
        return None
    return balancing_minutes(apart, charger.balance_current_a or BALANCE_LEAST_A.value)


def _are_read_and_even(packs: Sequence[SoundPack]) -> bool:
    """Whether each cell was read. A sum hides the cell that is out of line; one that is must be balanced alone."""
    return all(one.reading.each_cell and not one.reading.is_uneven for one in packs)
