"""The moment at which packs are joined side by side: how far apart they may rest, and what flows through main leads and plugs.

The main leads see whole packs, the balance plugs see each cell. Packs that rest alike as a whole may hold cells that do not, and
then only the thin wires of the plugs are between these. So packs are judged twice, and the stricter verdict stands.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from calc.facts.practice import (
    BALANCE_CONTACT_A,
    BALANCE_CONTACT_LEAST_MOHM,
    BALANCE_CONTACT_LIKELY_MOHM,
    BALANCE_CONTACT_MOST_MOHM,
    BALANCE_WIRE_GAUGE,
    BALANCE_WIRE_LENGTH_M,
    JOIN_DIFFERENCE_CELL_V,
    METER_STEP_V,
)
from calc.figures.gauges import area_mm2_of_gauge
from calc.figures.limits import Limit, lowest
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.spans import Span
from calc.figures.units import ohm_from_mohm
from calc.physics.pack.balance_network import Flow, Ladder, flows_on_the_board
from calc.physics.pack.joining import Branch, currents_into_a, resistance_to_others_ohm
from calc.physics.supply.leads import allowed_current_a, lead_span_ohm
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.pack.pack_limits import pack_current_limits

# What sets a largest difference that every pack and lead would bear.
PRACTICE = f"common practice, no source: {Figure(JOIN_DIFFERENCE_CELL_V.value, CELL_VOLTS)} for each cell"
# A difference is shown and compared in hundredths of a volt of the whole pack.
VOLT_STEP = 0.01
# A low resistance makes a high current.
ENDS: tuple[Callable[[Span], float], ...] = (lambda ohm: ohm.most, lambda ohm: ohm.likely, lambda ohm: ohm.least)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """The moment at which main leads are joined: the difference, what is allowed, and the currents that would flow.

    `difference_v` and `limits` are in V of the whole pack. `main_a` is the highest current into a pack; `taker` takes up to `taken_c` of
    its capacity, more than any other.
    """

    difference_v: float
    limits: tuple[Limit, ...]
    main_a: Span
    taken_c: float
    taker: SoundPack

    @property
    def binding(self) -> Limit:
        """The lowest limit on the difference."""
        return lowest(self.limits)

    @property
    def largest_v(self) -> float:
        """How far apart whole packs may rest, V, as it is shown."""
        return down_to_step(self.binding.ceiling, VOLT_STEP)

    @property
    def is_level(self) -> bool:
        """Whether whole packs rest within that."""
        return self.difference_v <= self.largest_v + VOLT_STEP * 1e-6

    @property
    def flows(self) -> bool:
        """Whether a meter would tell these packs apart. What lies below its step is noise, and drives no current worth a picture."""
        return self.difference_v > METER_STEP_V.value / 2


def joining_of(packs: Sequence[SoundPack], *, lead_ohm: Span, lead_area_mm2: float) -> Joining:
    """Return what happens when the main leads of these packs are joined, and how far apart they may rest at most.

        dU = I_k (R_k + R of the others, side by side)        the lowest of all packs k; R as low as it may be

    With dU between the lowest and the highest, the current through any pack is at most that for which its ceiling was made,
    whatever the others rest at in between. `lead_ohm` is that of one pack's leads there and back, `lead_area_mm2` that of one wire.

    Source: Kirchhoff's rules; the labels; IEC 60028, IEC 60228 and 33 CFR 183.425 for the leads; common practice, no source, beside them.
    """
    rest_v = [one.reading.pack_v for one in packs]

    def currents(of: Callable[[Span], float]) -> list[float]:
        return currents_into_a(
            [Branch(one.reading.pack_v, path_ohm(one, cell_ohm=of(one.cell_resistance_ohm), lead_ohm=of(lead_ohm))) for one in packs]
        )

    main = [currents(of) for of in ENDS]
    taken_c = [into_a / one.effective_ah for into_a, one in zip(main[-1], packs, strict=True)]
    return Joining(
        difference_v=max(rest_v) - min(rest_v),
        limits=tuple(_difference_limits(packs, lead_ohm=lead_ohm, lead_area_mm2=lead_area_mm2)),
        main_a=_rising([max(found) for found in main]),
        taken_c=max(taken_c),
        taker=packs[taken_c.index(max(taken_c))],
    )


def _rising(ends: list[float]) -> Span:
    return Span(min(ends), sorted(ends)[1], max(ends))


def path_ohm(pack: SoundPack, *, cell_ohm: float, lead_ohm: float) -> float:
    """Return what a pack has on its way to the joint: R = n r + R of the leads there and back."""
    return pack.cells * cell_ohm + lead_ohm


def _difference_limits(packs: Sequence[SoundPack], *, lead_ohm: Span, lead_area_mm2: float) -> list[Limit]:
    """Ceilings on the difference between the packs, in V of the whole pack."""
    paths_ohm = [path_ohm(one, cell_ohm=one.cell_resistance_ohm.least, lead_ohm=lead_ohm.least) for one in packs]
    limits = [Limit(packs[0].cells * JOIN_DIFFERENCE_CELL_V.value, PRACTICE)]
    for place, one in enumerate(packs):
        loop_ohm = resistance_to_others_ohm(paths_ohm, place)
        limits += [
            Limit(current_a * loop_ohm, because)
            for current_a, because in (
                (charge_ceiling_a(one), f"the fastest charge that {one.title} may have, by its label, its condition and the cold"),
                giving_ceiling_a(one),
                (allowed_current_a(lead_area_mm2), f"the lead of {one.title}: the current that a wire this thin may carry"),
            )
        ]
    return limits


def charge_ceiling_a(pack: SoundPack) -> float:
    """Return what a pack may be charged with, by its label and in the cold: the lowest of `pack_current_limits`."""
    return min(limit.ceiling for limit in pack_current_limits(pack.entries, pack.chemistry))


def giving_ceiling_a(pack: SoundPack) -> tuple[float, str]:
    """Return what a pack may give, A, and why: by its discharge rate, or its charge rate, since it gives at least what it takes."""
    if (rate_c := pack.entries.label_discharge_rate_c) is not None:
        return rate_c * pack.effective_ah, f"the discharge rate on the label of {pack.title}"
    because = f"the charge rate of {pack.title}: it must not give more than it may take, since no discharge rate is entered"
    return pack.entries.label_charge_rate_c * pack.effective_ah, because


class Place(NamedTuple):
    """The place in the packs at which two cells rest furthest apart: its number from the minus, the two packs, and V between them."""

    cell: int
    highest: SoundPack
    lowest: SoundPack
    difference_v: float


def widest_place(packs: Sequence[SoundPack]) -> Place:
    """Return where cells that are to be joined rest furthest apart, the first of equals. Each cell of each pack must have been read.

    dU = max over k of U_kj - min over k of U_kj        the largest of all places j; k the packs
    """
    found = []
    for cell in range(packs[0].cells):
        by_voltage = sorted(packs, key=lambda one: one.reading.cell_v[cell])
        lowest, highest = by_voltage[0], by_voltage[-1]
        # To the hundredth of a millivolt, as a spread is counted: 3.83 - 3.80 is not 0.03.
        found.append(Place(cell + 1, highest, lowest, round(highest.reading.cell_v[cell] - lowest.reading.cell_v[cell], 5)))
    return max(found, key=lambda place: place.difference_v)


class Passed(NamedTuple):
    """A ceiling on a current that the balance plugs would make flow: both in A, and what it is about, in words."""

    current_a: float
    ceiling_a: float
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugsIn:
    """What the balance plugs make flow: through the busiest contact, after the main leads and before them, and what that passes."""

    after_a: Span
    before_a: Span
    passed: tuple[Passed, ...]


class Rested(NamedTuple):
    """Cells as they rest at a moment: each pack's, from the minus on, V, and which end of the resistances goes with it."""

    cell_v: Sequence[Sequence[float]]
    end: int


def plugs_in(packs: Sequence[SoundPack], lead_ohm: Span, come_level: Sequence[Rested] = ()) -> PlugsIn:
    """Return what flows through the balance plugs of packs whose main leads are joined, and through plugs that come first.

    A contact is judged at once and after the wait, since not everybody waits; the cells after the wait alone, since the limits of
    the first moment are those of `joining_of`. Most goes through a contact where the main leads have the most that they may, and into a
    cell where they have the least. Each cell of each pack must have been read. `come_level` is where the cells rest after the wait, once
    for each course that they may take; none where they rest so already.

    Source: `physics.pack.balance_network`; IEC 60028 and IEC 60228 for the wires; common practice, no source, for contacts and lengths.
    """
    as_read = [Rested([one.reading.cell_v for one in packs], end) for end in range(len(ENDS))]
    waited = list(come_level) or as_read

    def flows(rested: Rested, main_lead_ohm: float | None) -> list[Flow]:
        ladders = [
            Ladder(tuple(cell_v), ENDS[rested.end](one.cell_resistance_ohm)) for one, cell_v in zip(packs, rested.cell_v, strict=True)
        ]
        return flows_on_the_board(ladders, wire_ohm=_WIRES_OHM[rested.end], lead_ohm=main_lead_ohm)

    def contact_a(rested: Rested) -> float:
        return _busiest_a(flows(rested, ENDS[-1 - rested.end](lead_ohm)))

    level = [flows(rested, ENDS[rested.end](lead_ohm)) for rested in waited]
    after = [max(contact_a(rested) for rested in (*as_read, *waited) if rested.end == end) for end in range(len(ENDS))]
    return PlugsIn(
        after_a=_rising(after),
        before_a=_rising([_busiest_a(flows(rested, None)) for rested in as_read]),
        passed=tuple(one for one in _judged(packs, max(after), level) if one.current_a > one.ceiling_a),
    )


_WIRE_OHM = lead_span_ohm(BALANCE_WIRE_LENGTH_M.value, area_mm2_of_gauge(BALANCE_WIRE_GAUGE.value)).times(0.5)
_WIRES_OHM = tuple(
    of(_WIRE_OHM) + ohm_from_mohm(contact.value)
    for of, contact in zip(ENDS, (BALANCE_CONTACT_MOST_MOHM, BALANCE_CONTACT_LIKELY_MOHM, BALANCE_CONTACT_LEAST_MOHM), strict=True)
)


def _busiest_a(flows: Sequence[Flow]) -> float:
    return max(abs(wire_a) for flow in flows for wire_a in flow.wires_a)


def _judged(packs: Sequence[SoundPack], contact_a: float, level: Sequence[Sequence[Flow]]) -> list[Passed]:
    found = [Passed(contact_a, BALANCE_CONTACT_A.value, "through a contact of a balance plug")]
    for place, one in enumerate(packs):
        cells_a = [cell_a for flows in level for cell_a in flows[place].cells_a]
        giving_a, _ = giving_ceiling_a(one)
        found += [
            Passed(max(cells_a), charge_ceiling_a(one), f"into a cell of {one.title}"),
            Passed(-min(cells_a), giving_a, f"out of a cell of {one.title}"),
        ]
    return found
