"""An answer with what is missing: what holds by what has been entered so far, and in words what is not counted yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calc.inputs.refusals import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class PartialAnswer:
    """What is known so far; whatever is entered besides can only lower its currents, its voltages and its stops, or refuse it.

    `known` is a dataclass of parts that are shown, as an Answer is. `basis` says what it rests on ("By the label"), `not_counted` what
    is missing and what that may do. It `may_start` a card once the pack was read and passed. `begun` are the entries that are missing
    of something that is partly entered, which does not count until it is whole.
    """

    known: Any
    basis: str
    not_counted: str
    may_start: bool
    begun: tuple[Problem, ...] = ()
