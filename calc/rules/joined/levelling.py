"""How packs that were joined by their main leads come level: the likely course, and those at the corners of curve and resistance."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.physics.cell.cells import Cell, edge_curves, state_at
from calc.physics.pack.joining import JoinedPack, Levelling, level_out
from calc.rules.joined.joined_packs import SoundPack
from calc.rules.joined.moment_of_joining import ENDS, Rested

_MOST, _LIKELY, _LEAST = range(len(ENDS))


@dataclass(frozen=True, slots=True, kw_only=True)
class ComingLevel:
    """How joined packs come level: the likely course, and those at the corners of curve and resistance."""

    likely: tuple[Levelling, ...]
    corners: tuple[tuple[Levelling, ...], ...]
    afterwards: tuple[Rested, ...]

    def span(self, of: Callable[[tuple[Levelling, ...]], float]) -> Span:
        """Return the least, the likely and the most of one thing over all courses, in its own unit."""
        likely = of(self.likely)
        found = [likely, *(of(run) for run in self.corners)]
        return Span(min(found), likely, max(found))


def coming_level(packs: Sequence[SoundPack], lead_ohm: Span) -> ComingLevel:
    """Return how these packs come level once they are joined, with nothing else connected, each course to a twentieth of its first current.

    corners = {lowest, highest curve} x {least, most resistance}, for all packs alike
    """
    key = packs[0].entries.chemistry

    def run(curve: tuple[float, ...], end: int) -> tuple[Levelling, ...]:
        return level_out(
            [
                JoinedPack(
                    cell=Cell(
                        curve=curve, capacity_ah=one.effective_ah, resistance_ohm_ah=ENDS[end](one.cell_resistance_ohm) * one.effective_ah
                    ),
                    start_states=tuple(state_at(curve, cell_v) for cell_v in one.each_cell_v),
                    lead_ohm=ENDS[end](lead_ohm),
                )
                for one in packs
            ]
        )

    likely = run(CHEMISTRIES[key].resting.likely.cell_v, _LIKELY)
    ends = [end for _ in edge_curves(key) for end in (_MOST, _LEAST)]
    corners = tuple(run(curve, end) for curve in edge_curves(key) for end in (_MOST, _LEAST))
    return ComingLevel(
        likely=likely,
        corners=corners,
        afterwards=tuple(Rested(course[-1].cell_v, end) for course, end in zip((likely, *corners), (_LIKELY, *ends), strict=True)),
    )
