"""What the log of a pack says, line by line: charges and days so far, what it held, its resistance at one temperature, how far its cells were apart.

A capacity is measured, or follows from a charge: what went in, over the part of the weakest cell that was empty before. One curve
of the chemistry serves all lines of a pack, so that its error is much the same in each and falls out of a share.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.facts.ageing import CHARGES_FOR_TREND, DEPTH_TO_COUNT, FIRST_WITHIN_CHARGES, FULL_STATE
from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.log_lines import CHARGE, FLIGHT, STORAGE, LineEntries
from calc.physics.cell.cell_resistance import likely_factor
from calc.physics.cell.cells import state_at
from calc.physics.pack.trends import median


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """One line, with what had been until then; None for what it does not say. `resistance_mohm` is that at 25 °C."""

    entries: LineEntries
    charges: float
    full_days: float
    capacity_mah: float | None
    resistance_mohm: float | None
    spread_v: float | None

    @property
    def day(self) -> float:
        """The day of the line."""
        return self.entries.day


@dataclass(frozen=True, slots=True)
class History:
    """All lines in the order of their days."""

    lines: tuple[LogLine, ...]

    @property
    def first(self) -> LogLine:
        """The first line."""
        return self.lines[0]

    @property
    def last(self) -> LogLine:
        """The last line."""
        return self.lines[-1]

    @property
    def goes_by_charges(self) -> bool:
        """Whether it is charges that the pack is followed by, and not days."""
        return self.last.charges - self.first.charges >= CHARGES_FOR_TREND.value

    def place_of(self, line: LogLine) -> float:
        """Return how far a line is from the first: in charges or in days."""
        return line.charges - self.first.charges if self.goes_by_charges else line.day - self.first.day

    def capacities(self) -> tuple[tuple[float, float], ...]:
        """Return what the pack held, mAh, at each place where that is known."""
        return tuple((self.place_of(one), one.capacity_mah) for one in self.lines if one.capacity_mah is not None)

    def resistances(self) -> tuple[tuple[float, float], ...]:
        """Return the resistance of the worst cell at 25 °C, mΩ, at each place where it is known."""
        return tuple((self.place_of(one), one.resistance_mohm) for one in self.lines if one.resistance_mohm is not None)


def history_of(entered: Sequence[LineEntries], *, chemistry_key: str, cells: int) -> History:
    """Return what the lines say, in the order of their days; lines of one day keep theirs.

        Q = Q_in / (s_after - s_before)        of the weakest cell, s a state by its resting voltage, 1 after a full charge
        R25 = R / f        f the temperature factor of the cell model

    Source: the definition of the state of charge; `likely_factor`.

    >>> line = LineEntries(day=739000, kind="charge", put_in_mah=1600, from_v=(3.695, 3.70))
    >>> round(history_of([line], chemistry_key="lipo", cells=2).first.capacity_mah)
    1998
    """
    lines: list[LogLine] = []
    full_since: float | None = None
    charges = full_days = 0.0
    for line in sorted(entered, key=lambda one: one.day):
        charges += line.charges_since
        # Where a line stands for several charges, nobody knows how it lay between them.
        if full_since is not None and line.charges_since <= 1:
            full_days += line.day - full_since
        if line.kind == CHARGE:
            full_since = line.day if _ends_full(line, chemistry_key, cells) else None
        elif line.kind in (FLIGHT, STORAGE):
            full_since = None
        elif full_since is not None:
            full_since = line.day
        lines.append(
            LogLine(
                entries=line,
                charges=charges,
                full_days=full_days,
                capacity_mah=_capacity_mah(line, chemistry_key, cells),
                resistance_mohm=_resistance_mohm(line),
                spread_v=_spread_v(line),
            )
        )
    return History(tuple(lines))


def first_of(points: Sequence[tuple[float, float]], *, by_charges: bool) -> float:
    """Return what a pack began with: the middle of its first lines, in the unit of the points.

    >>> first_of([(0, 5000), (2, 5060), (3, 5010), (30, 4700)], by_charges=True)
    5010
    """
    begins = points[0][0]
    return median(value for place, value in points if place == begins or (by_charges and place - begins <= FIRST_WITHIN_CHARGES.value))


def cells_of(read: tuple[float, ...] | None, cells: int) -> tuple[float, ...] | None:
    """Return the voltage of each cell, V, as read, or of the mean cell where the whole pack was.

    >>> cells_of((7.5,), 2), cells_of((3.75, 3.74), 2)
    ((3.75,), (3.75, 3.74))
    """
    if read is None:
        return None
    return (read[0] / cells,) if len(read) == 1 and cells > 1 else read


def _state(chemistry_key: str, cell_v: float) -> float:
    return min(max(state_at(CHEMISTRIES[chemistry_key].resting.likely.cell_v, cell_v), 0.0), 1.0)


def _ends_full(line: LineEntries, chemistry_key: str, cells: int) -> bool:
    after = cells_of(line.to_v, cells)
    return after is None or _state(chemistry_key, max(after)) >= FULL_STATE.value


def _capacity_mah(line: LineEntries, chemistry_key: str, cells: int) -> float | None:
    if line.measured_capacity_mah is not None:
        return line.measured_capacity_mah
    before, after = cells_of(line.from_v, cells), cells_of(line.to_v, cells)
    if line.kind != CHARGE or line.put_in_mah is None or before is None:
        return None
    # The weakest cell is the one of which most was empty: it fills first, and it empties first in the air.
    ends = after if after is not None and len(after) == len(before) else (max(after),) * len(before) if after else None
    parts = [(_state(chemistry_key, ends[place]) if ends else 1.0) - _state(chemistry_key, cell_v) for place, cell_v in enumerate(before)]
    return line.put_in_mah / max(parts) if max(parts) >= DEPTH_TO_COUNT.value else None


def _resistance_mohm(line: LineEntries) -> float | None:
    if line.highest_mohm is None or line.line_degc is None:
        return None
    return line.highest_mohm / likely_factor(line.line_degc)


def _spread_v(line: LineEntries) -> float | None:
    """How far the cells of a line were apart, before or afterwards: the wider, since a bad cell may show in one of the two alone."""
    spreads = [max(read) - min(read) for read in (line.from_v, line.to_v) if read is not None and len(read) > 1]
    # To the hundredth of a millivolt, as a reading counts it.
    return round(max(spreads), 5) if spreads else None
