"""What must have happened before something goes on an output, in the words of its line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from calc.rules.plan.day import Turn

# The page of one charge knows of no other that draws on its supply: what it gives may be more than a line does.
OTHER_TAKES_A_PART = "the other output takes a part of what feeds both"


@dataclass(frozen=True, slots=True)
class TurnInWords:
    """A turn, how its line begins, and the other output that must be ready before it, counted from 1, if there is one."""

    turn: Turn
    begins: str
    waits_for: int | None


def turns_in_words(
    turns: Sequence[Turn],
    waited_for: Sequence[int | None],
    on_it: Mapping[int, str],
    outputs: Sequence[int],
    *,
    one_at_a_time: bool,
    names_of: Callable[[Turn], str],
) -> list[TurnInWords]:
    """Return the turns in order of time, each with how its line begins: what comes off its output, and the other output that must be ready first.

    `waited_for` has that output for each turn, or None. `on_it` names what is on at the start by its output, as the turns have theirs: as
    places in `outputs`, where the first is 0. Where it is the power that a turn waits for, it is put on meanwhile, and starts later.

    >>> first, second = (Turn(lot=lot, output=1, starts_min=5 + lot, ends_min=65, ends_at_latest_min=80) for lot in (0, 1))
    >>> lines = turns_in_words([second, first], (None, 0), {0: "Pack 1"}, (0, 1), one_at_a_time=False, names_of=lambda turn: f"Pack {turn.lot + 2}")
    >>> [(line.turn.lot, line.begins, line.waits_for) for line in lines]
    [(0, 'to start once output 1 is ready, ', 1), (1, 'Pack 2 off, then ', None)]
    """
    names, found = dict(on_it), []
    for turn, other in sorted(zip(turns, waited_for, strict=True), key=lambda one: (one[0].starts_min, one[0].output)):
        waits_for = None if other is None else outputs[other] + 1
        waits_for_power = waits_for is not None and not one_at_a_time
        off = f"{names[turn.output]} off, then{',' if waits_for_power else ''} " if turn.output in names else ""
        first = f"{'to start ' if waits_for_power else ''}once output {waits_for} is ready, " if waits_for else ""
        found.append(TurnInWords(turn, off + first, waits_for))
        names[turn.output] = names_of(turn)
    return found
