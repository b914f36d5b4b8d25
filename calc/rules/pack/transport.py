"""Watt-hours as carriers count them, and what follows from them for a pack."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from calc.facts.chemistries import Chemistry
from calc.facts.transport import APPROVAL_PACKS, APPROVAL_WH, FREE_WH, LABEL_ROUNDING_WH, SMALL_BATTERY_WH, SMALL_CELL_WH, SPARE_PACKS
from calc.figures.rounding import up_to_step
from calc.physics.pack.packs import watt_hours

# Labels and carriers count to a hundredth of a watt-hour at most.
WH_STEP = 0.01


class Cabin(Enum):
    """What a carrier makes of a pack in the cabin of a passenger aircraft."""

    FREE = "free"
    ASK = "ask"
    TOO_LARGE = "too large"
    DAMAGED = "damaged"


def rated_wh(*, capacity_mah: float, cells: float, chemistry: Chemistry, label_wh: float | None) -> float:
    """Return the watt-hours that a carrier counts for a pack, in whole hundredths: the label's, or the most that its cells may be called.

        E = Q x n x V        V the highest nominal voltage in use, if no watt-hours are printed

    The label's count, unless they are too few for what it says beside them: see `label_disagrees`. It is rounded up, so that a pack a
    hair above a limit never reads as on it.

    Source: 49 CFR 171.8.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> rated_wh(capacity_mah=13514, cells=2, chemistry=CHEMISTRIES["lipo"], label_wh=None)
    100.01
    >>> [rated_wh(capacity_mah=5000, cells=4, chemistry=CHEMISTRIES["liion"], label_wh=wh) for wh in (None, 72, 70)]
    [74.0, 72.0, 74.0]
    """
    most_wh = watt_hours(capacity_mah, cells, chemistry.highest_nominal_cell_v.value)
    if label_wh is None:
        return up_to_step(most_wh, WH_STEP)
    too_few = label_wh < _least_wh(capacity_mah, cells, chemistry)
    return up_to_step(max(label_wh, most_wh) if too_few else label_wh, WH_STEP)


def label_disagrees(*, capacity_mah: float, cells: float, chemistry: Chemistry, label_wh: float | None) -> bool:
    """Return whether printed watt-hours and the capacity beside them cannot both be right, by more than a label rounds.

        Q x n x V_least - 0.5 Wh <= E <= Q x n x V_highest + 0.5 Wh        V the nominal voltages in use

    Source: 49 CFR 171.8; the rounding is common practice, no source.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> [label_disagrees(capacity_mah=5000, cells=4, chemistry=CHEMISTRIES["liion"], label_wh=wh) for wh in (None, 71.4, 72, 74, 75)]
    [False, True, False, False, True]
    """
    if label_wh is None:
        return False
    most_wh = watt_hours(capacity_mah, cells, chemistry.highest_nominal_cell_v.value) + LABEL_ROUNDING_WH.value
    return not _least_wh(capacity_mah, cells, chemistry) <= label_wh <= most_wh


def _least_wh(capacity_mah: float, cells: float, chemistry: Chemistry) -> float:
    """The fewest watt-hours that a label may give a pack, Wh."""
    return watt_hours(capacity_mah, cells, chemistry.nominal_cell_v.value) - LABEL_ROUNDING_WH.value


def cabin_class(pack_wh: float, *, damaged: bool) -> Cabin:
    """Return what may be done with a pack as a passenger's spare; one that is damaged, swollen or recalled stays, whatever it holds.

        up to 100 Wh: free        over 100 and up to 160 Wh: ask        over 160 Wh: not at all

    Source: 49 CFR 175.10(a)(18), FAA PackSafe, IATA DGR table 2.3.A; 49 CFR 173.185(f) for damaged packs.

    >>> [cabin_class(wh, damaged=False).value for wh in (99.9, 100.0, 100.01, 160.0, 162.06)]
    ['free', 'free', 'ask', 'ask', 'too large']
    """
    if damaged:
        return Cabin.DAMAGED
    if pack_wh <= FREE_WH.value:
        return Cabin.FREE
    return Cabin.ASK if pack_wh <= APPROVAL_WH.value else Cabin.TOO_LARGE


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowed:
    """How many packs one passenger may take into the cabin, and how many of which kind not."""

    free: int
    by_approval: int
    damaged: int = 0
    too_large: int = 0
    over_approval: int = 0
    over_number: int = 0

    @property
    def left(self) -> int:
        """Packs that stay at home."""
        return self.damaged + self.too_large + self.over_approval + self.over_number


def allowed_in_cabin(packs: Sequence[tuple[Cabin, int]]) -> Allowed:
    """Return how many packs one passenger may take, and how many stay by reason, from numbers of packs by their class.

        with approval at most 2; all together at most 20

    Source: FAA PackSafe for the two, IATA DGR table 2.3.A for the twenty.

    >>> allowed = allowed_in_cabin([(Cabin.FREE, 25), (Cabin.ASK, 3), (Cabin.DAMAGED, 1)])
    >>> allowed.free, allowed.by_approval, allowed.left
    (18, 2, 9)
    """
    counts = {kind: sum(number for one, number in packs if one is kind) for kind in Cabin}
    by_approval = min(counts[Cabin.ASK], int(APPROVAL_PACKS.value))
    free = min(counts[Cabin.FREE], int(SPARE_PACKS.value) - by_approval)
    return Allowed(
        free=free,
        by_approval=by_approval,
        damaged=counts[Cabin.DAMAGED],
        too_large=counts[Cabin.TOO_LARGE],
        over_approval=counts[Cabin.ASK] - by_approval,
        over_number=counts[Cabin.FREE] - free,
    )


def is_small_on_the_road(pack_wh: float, *, cells: float) -> bool:
    """Return whether a sound pack may be sent by road as a small battery: E <= 100 Wh, and E / n <= 20 Wh for each cell.

    Cells in parallel are counted as one, which is the stricter reading.

    Source: ADR special provision 188; 49 CFR 173.185(c)(1)(i) has the same numbers.

    >>> [is_small_on_the_road(pack_wh, cells=cells) for pack_wh, cells in ((74.0, 4), (62.16, 3), (111.0, 6))]
    [True, False, False]
    """
    return pack_wh <= SMALL_BATTERY_WH.value and pack_wh / cells <= SMALL_CELL_WH.value
