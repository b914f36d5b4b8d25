"""Which packs to charge alone before several are charged as one, and how much to put into each."""

from __future__ import annotations

from collections.abc import Sequence

from calc.facts.practice import SPREAD_TO_WATCH_CELL_V
from calc.figures.quantities import CELL_VOLTS, MILLIAMPERE_HOURS, Band, Figure
from calc.figures.sentences import joined_with_and, worded
from calc.figures.showing import Row, Table
from calc.figures.units import mah_from_ah
from calc.physics.cell.cells import share_between
from calc.rules.joined.joined_packs import SoundPack


def level_first(packs: Sequence[SoundPack]) -> Table:
    """Return what to put into each pack alone, so that all rest where the highest does; an uneven one is balanced first.

    put in = share of the capacity between the two resting voltages x Q
    """
    # Where an uneven pack will rest once it is balanced, nobody knows before.
    target_v = max((one.reading.mean_cell_v for one in packs if not one.reading.is_uneven), default=0.0)
    return Table(
        caption="Bring them level first",
        columns=("Pack", "A cell rests at", "What to do", "Put into it"),
        rows=tuple(_row(one, target_v) for one in packs),
        notes=(
            (
                "Charge such a pack alone, with its own settings. Count the charge that goes in: meanwhile its voltage reads too high. Put "
                "in the lower amount, let it rest half an hour, measure it, and go on from there. Then measure all packs with one meter."
            ),
        ),
    )


def _row(pack: SoundPack, target_v: float) -> Row:
    if pack.reading.is_uneven:
        ends = Band(Figure(pack.reading.lowest_cell_v, CELL_VOLTS), Figure(pack.reading.highest_cell_v, CELL_VOLTS))
        return Row(heading=pack.title, cells=(ends, "balance it alone, at a low current, and read every cell again", "what it takes"))
    rest = Figure(pack.reading.mean_cell_v, CELL_VOLTS)
    target = Figure(target_v, CELL_VOLTS)
    if rest.number == target.number:
        return Row(heading=pack.title, cells=(rest, "leave it as it is", "nothing"))
    share = share_between(pack.entries.chemistry, pack.reading.mean_cell_v, target_v)
    least, likely, most = (
        Figure(mah_from_ah(end * pack.effective_ah), MILLIAMPERE_HOURS) for end in (share.least, share.likely, share.most)
    )
    ends = Band(least, most)
    amount = likely if str(ends) == str(likely) else worded("{}, most likely {}", ends, likely)
    return Row(heading=pack.title, cells=(rest, f"charge it alone until a cell rests at {target}", amount))


def balance_first(packs: Sequence[SoundPack]) -> str:
    """Return which packs to balance by themselves; at least one of them is uneven."""
    uneven = [one.title for one in packs if one.reading.is_uneven]
    return f"balance {joined_with_and(uneven)} by {'themselves' if len(uneven) > 1 else 'itself'} first"


def uneven_because(packs: Sequence[SoundPack]) -> str:
    """Return how far apart the cells of the most uneven pack rest, and how far they may."""
    worst = max(packs, key=lambda one: one.reading.spread_v)
    may = f"a healthy pack's rest within {Figure(SPREAD_TO_WATCH_CELL_V.value, CELL_VOLTS)} (common practice, no source)"
    return f"the cells of {worst.title} rest {Figure(worst.reading.spread_v, CELL_VOLTS)} apart, and {may}"
