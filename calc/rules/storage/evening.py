"""Several packs brought to storage one after the other on one charger: in which order, and which of them tonight.

The slowest starts first, since it is the one that is put off. A pack that may not be done in the time left waits for another
day, and the next shorter one takes its turn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.facts.practice import CHANGE_PACKS_MIN
from calc.figures.spans import Span

_NOTHING = Span(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """Places in the list that was given: those that fit tonight in their order, each with its start, and those that do not."""

    tonight: tuple[int, ...]
    starts_min: tuple[Span, ...]
    whole_min: Span
    not_tonight: tuple[int, ...]


def evening_of(times_min: Sequence[Span], time_left_min: float) -> Evening:
    """Return the order of an evening on one charger, slowest first, and what does not fit.

        a pack fits if  t_so_far + t_change + t_pack <= t_left        by the most that each may take

    >>> evening = evening_of([Span(20, 30, 40), Span(100, 150, 200), Span(50, 60, 70)], time_left_min=120)
    >>> evening.tonight, evening.not_tonight
    ((2, 0), (1,))
    """
    change_min = CHANGE_PACKS_MIN.value
    slowest_first = sorted(range(len(times_min)), key=lambda place: -times_min[place].likely)
    tonight: list[int] = []
    starts: list[Span] = []
    not_tonight: list[int] = []
    ends = _NOTHING
    for place in slowest_first:
        starts_at = ends.plus(Span(change_min, change_min, change_min)) if tonight else _NOTHING
        ends_at = starts_at.plus(times_min[place])
        if ends_at.most > time_left_min:
            not_tonight.append(place)
            continue
        tonight.append(place)
        starts.append(starts_at)
        ends = ends_at
    return Evening(tonight=tuple(tonight), starts_min=tuple(starts), whole_min=ends, not_tonight=tuple(not_tonight))
