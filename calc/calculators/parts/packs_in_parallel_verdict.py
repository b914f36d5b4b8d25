"""Whether packs may be joined side by side: what happens when they are, and in words the first thing that stands against it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from calc.facts.practice import BALANCE_CONTACT_A, JOIN_DIFFERENCE_CELL_V
from calc.figures.quantities import AMPERES, CELL_VOLTS, RATE, Figure
from calc.figures.sentences import joined_with_and
from calc.figures.showing import Verdict
from calc.figures.spans import Span
from calc.presenting.level_first import balance_first, uneven_because
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.joined.levelling import ComingLevel, coming_level
from calc.rules.joined.moment_of_joining import Joining, Place, PlugsIn, joining_of, plugs_in, widest_place


@dataclass(frozen=True, slots=True, kw_only=True)
class JoiningVerdict:
    """Whether to join them: in words, and why not in a sentence of its own where they must wait."""

    join: Verdict
    warning: str = ""
    unread: bool = False

    @property
    def may_join(self) -> bool:
        """Whether they may be joined now."""
        return not self.warning

    @property
    def wants_levelling(self) -> bool:
        """Whether they are to be charged one by one first, until they rest alike; to read every cell comes before that."""
        return not self.may_join and not self.unread


class JudgedJoining(NamedTuple):
    """The moment of joining; how the packs then come level; where their cells rest furthest apart, and what flows through the plugs, if
    every cell was read; and the verdict.
    """

    joining: Joining
    levelling: ComingLevel | None
    place: Place | None
    plugs: PlugsIn | None
    verdict: JoiningVerdict


def judged_joining(packs: Sequence[SoundPack], lead_ohm: Span, lead_area_mm2: float) -> JudgedJoining:
    """Return what happens when these packs are joined, and whether they may be; the leads are those of one pack to the joint."""
    joining = joining_of(packs, lead_ohm=lead_ohm, lead_area_mm2=lead_area_mm2)
    levelling = coming_level(packs, lead_ohm) if joining.is_level and joining.flows else None
    place, plugs = None, None
    if all(one.reading.each_cell for one in packs):
        place, plugs = widest_place(packs), plugs_in(packs, lead_ohm, levelling.afterwards if levelling else ())
    return JudgedJoining(joining, levelling, place, plugs, verdict_on_joining(packs, joining, place, plugs))


def verdict_on_joining(packs: Sequence[SoundPack], joining: Joining, place: Place | None, plugs: PlugsIn | None) -> JoiningVerdict:
    """Return whether these packs may be joined: as a whole first, then cell by cell.

    Where not every cell was read there is no `place` where the cells rest furthest apart, and nothing is known of the `plugs`.
    """
    if not joining.is_level:
        return JoiningVerdict(
            join=Verdict(
                may=False,
                figure="Not yet: bring them level first",
                set_by=f"they are further apart than is allowed by {joining.binding.because}",
                note=f"{joining.taker.title} would take most, up to {Figure(joining.taken_c, RATE.as_it_is)} at once.",
            ),
            warning="Do not join these packs yet: their voltages are too far apart.",
        )
    if place is None or plugs is None:
        unread = joined_with_and([one.title for one in packs if not one.reading.each_cell])
        return JoiningVerdict(
            join=Verdict(
                may=False,
                figure="Not yet: read every cell first",
                set_by=f"{unread}: measured as a whole, and a sum hides the cell that is out of line",
                note="Enter each cell's voltage, with spaces between. The balance plugs join cell to cell, so each cell counts.",
            ),
            warning="Do not join these packs yet: not every cell has been read.",
            unread=True,
        )
    if place.difference_v > JOIN_DIFFERENCE_CELL_V.value or plugs.passed or any(one.reading.is_uneven for one in packs):
        return _cells_apart(packs, place, plugs)
    return JoiningVerdict(
        join=Verdict(
            may=True,
            figure="Yes, main leads first",
            set_by="they rest within the largest difference, as a whole and cell by cell, as below",
        )
    )


def _cells_apart(packs: Sequence[SoundPack], place: Place, plugs: PlugsIn) -> JoiningVerdict:
    high_v, low_v = (Figure(one.reading.cell_v[place.cell - 1], CELL_VOLTS) for one in (place.highest, place.lowest))
    because = f"cell {place.cell} rests at {low_v} in {place.lowest.title} and at {high_v} in {place.highest.title}"
    if plugs.passed:
        worst = max(plugs.passed, key=lambda one: one.current_a / one.ceiling_a)
        # What is too much never reads as what may flow.
        flows, may = Figure(worst.current_a, AMPERES, "up"), Figure(worst.ceiling_a, AMPERES, "down")
        currents = f"up to {flows} would flow {worst.because}, and {may} may"
        because = f"{because}; {currents}"
    elif place.difference_v > JOIN_DIFFERENCE_CELL_V.value:
        because = f"{because}, and {Figure(JOIN_DIFFERENCE_CELL_V.value, CELL_VOLTS)} is the most (common practice, no source)"
    else:
        because = uneven_because(packs)
    uneven = [one.title for one in packs if one.reading.is_uneven]
    return JoiningVerdict(
        join=Verdict(
            may=False,
            figure=f"Not yet: {balance_first(packs) if uneven else 'bring them level first'}",
            set_by=because,
            note="Alone, at a low current. Watch it, and read every cell again afterwards." if uneven else "",
        ),
        warning="Do not join these packs yet: their cells are too far apart.",
    )


def contact_note() -> str:
    """Return what a contact of a balance plug is made for."""
    return f"A contact of the usual balance plug is made for {Figure(BALANCE_CONTACT_A.value, AMPERES)} (common practice, no source)."
