"""How far several packs are apart: the charge that the fullest cell has ahead of the emptiest, which a balancer must burn off."""

from __future__ import annotations

from collections.abc import Sequence

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.practice import IMBALANCE_PERCENT_MOST
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent
from calc.physics.cell.cells import state_at
from calc.rules.joined.joined_packs import SoundPack


def imbalance_ah(packs: Sequence[SoundPack]) -> Span:
    """Return how much more charge, Ah, the emptiest cell needs to be full than the fullest does: what a balancer must lead past the fullest.

        dQ = max((1 - s) Q) - min((1 - s) Q)        over all cells, s on one curve of the chemistry, Q in Ah

    The voltages are read with one meter, so that its error counts once between two cells. Cells that read alike may still be
    apart by what a healthy pack's are.

    Source: `CHEMISTRIES`; a healthy pack's imbalance is common practice, no source.
    """
    table = CHEMISTRIES[packs[0].entries.chemistry].resting
    error_v = table.reading_error_v.value

    def apart(curve: tuple[float, ...], nearer_v: float) -> float:
        lows = [_lacking_ah(curve, one, one.reading.lowest_cell_v + nearer_v / 2) for one in packs]
        highs = [_lacking_ah(curve, one, one.reading.highest_cell_v - nearer_v / 2) for one in packs]
        return max(0.0, max(lows) - min(highs))

    found = [apart(curve.cell_v, nearer_v) for curve in table.curves for nearer_v in (-error_v, 0.0, error_v)]
    healthy_ah = max(one.effective_ah for one in packs) * fraction_from_percent(IMBALANCE_PERCENT_MOST.value)
    return Span(min(found), apart(table.likely.cell_v, 0.0), max(*found, healthy_ah))


def _lacking_ah(curve: tuple[float, ...], pack: SoundPack, cell_v: float) -> float:
    return (1 - min(max(state_at(curve, cell_v), 0.0), 1.0)) * pack.effective_ah
