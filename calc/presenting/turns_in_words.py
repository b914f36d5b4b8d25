"""What must have happened before something goes on an output, in the words of its line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from calc.rules.plan.day import Turn


def turns_in_words(
    turns: Iterable[Turn], on_it: Mapping[int, str], outputs: Sequence[int], *, one_at_a_time: bool, names_of: Callable[[Turn], str]
) -> list[tuple[Turn, str]]:
    """Return the turns in order of time, each with how its line begins: what comes off its output, and the other output that must be ready first.

    `on_it` names what is on at the start by its output, as the turns have theirs: as places in `outputs`, where the first is 0.

    >>> first, second = (Turn(lot=lot, output=1, starts_min=5 + lot, ends_min=65, ends_at_latest_min=80) for lot in (0, 1))
    >>> lines = turns_in_words([second, first], {0: "Pack 1"}, (0, 1), one_at_a_time=True, names_of=lambda turn: f"Pack {turn.lot + 2}")
    >>> [(turn.lot, begins) for turn, begins in lines]
    [(0, 'once output 1 is ready, '), (1, 'Pack 2 off, then ')]
    """
    names, charging, found = dict(on_it), set(on_it), []
    for turn in sorted(turns, key=lambda turn: (turn.starts_min, turn.output)):
        off = f"{names[turn.output]} off, then " if turn.output in names else ""
        others = sorted(charging - {turn.output}) if one_at_a_time else []
        first = f"once output {outputs[others[0]] + 1} is ready, " if others else ""
        found.append((turn, off + first))
        names[turn.output] = names_of(turn)
        charging = {turn.output}
    return found
