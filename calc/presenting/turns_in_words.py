"""What must have happened before something goes on an output, in the words of its line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from calc.rules.plan.day import Turn


def first_to_end(turns: Iterable[Turn], begun: Iterable[int], outputs: Sequence[int], *, one_at_a_time: bool) -> list[int | None]:
    """Return, for each turn in order of time, the number of the other output whose charge must have ended first; None where none must.

    `begun` has the outputs that something is on at the start, as the turns have theirs: as places in `outputs`, where the first is 0.

    >>> on_the_second = Turn(lot=0, output=1, starts_min=5, ends_min=65, ends_at_latest_min=80)
    >>> first_to_end([on_the_second, on_the_second], [0], (0, 1), one_at_a_time=True)
    [1, None]
    """
    on, found = set(begun), []
    for turn in turns:
        others = sorted(on - {turn.output}) if one_at_a_time else []
        found.append(outputs[others[0]] + 1 if others else None)
        on = {turn.output}
    return found


def put_on_words(off: str | None, first: int | None) -> str:
    """Return how a line begins: what comes off this output, and the other output that must be ready first; nothing where neither is so.

    >>> put_on_words("Pack 1", None), put_on_words(None, 2), put_on_words("Pack 1", 2)
    ('Pack 1 off, then ', 'once output 2 is ready, ', 'Pack 1 off, then once output 2 is ready, ')
    """
    return f"{f'{off} off, then ' if off else ''}{f'once output {first} is ready, ' if first else ''}"
