"""The root of a rising function, bracketed: in few steps where it is smooth, and in few more than bisection takes where it is not."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, log2

# Steps above those of bisection: without some to spare, a poor start would leave nothing but bisection.
_SPARE_STEPS = 4


def root_bracket(past_by: Callable[[float], float], before: float, past: float, width: float) -> tuple[float, float]:
    """Return two places, no farther apart than `width`, between which a rising function has its root, in whatever unit a place has.

        x = the secant's place, a little towards the middle, and as near to the middle as bisection would leave it

    The function is below 0 at the first, and 0 or more at the second. Where no float lies between two places they stay wider apart than
    `width`; `before` comes back twice where the function is 0 or more there already.

    Source: I. Oliveira and R. Takahashi, An enhancement of the bisection method average performance preserving minmax
    optimality, ACM Transactions on Mathematical Software 47 (2020), algorithm ITP: the title as a library cites
    it, the steps from memory.

    >>> low, high = root_bracket(lambda place: place * place - 2, 0.0, 2.0, 1e-9)
    >>> round(low, 6), high - low <= 1e-9
    (1.414214, True)
    """
    value_before, value_past = past_by(before), past_by(past)
    if value_before >= 0:
        return before, before
    first = past - before
    allowed = width / 2 * 2 ** (ceil(log2(max((past - before) / width, 1.0))) + _SPARE_STEPS)
    while past - before > width:
        middle, half = (before + past) / 2, (past - before) / 2
        secant = (before * value_past - past * value_before) / (value_past - value_before)
        towards = 1.0 if middle >= secant else -1.0
        moved = 0.2 * (past - before) ** 2 / first
        place = secant + towards * moved if moved <= abs(middle - secant) else middle
        if abs(place - middle) > allowed - half:
            place = middle - towards * (allowed - half)
        if not before < place < past:
            place = middle
            if not before < place < past:
                break
        value = past_by(place)
        if value >= 0:
            past, value_past = place, value
        else:
            before, value_before = place, value
        allowed /= 2
    return before, past
