"""What has been entered so far, of a form that an answer can do without a part of: the charger, say, or the readings.

A part counts as a whole or not at all. What is typed and cannot be read is no part of this: it is sent back before.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from calc.inputs.fields import entries_of
from calc.inputs.refusals import Problem
from calc.inputs.rows import gathered

Found = TypeVar("Found")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """The values of a form by name, a problem for each entry that is missing, and of these the ones whose group is begun."""

    values: Mapping[str, Any]
    missing: tuple[Problem, ...]
    begun: tuple[Problem, ...]

    def of(self, asks: type[Found]) -> Found | None:
        """Return a part of the form, a dataclass of entries, or None where one of its entries is missing, or none of them asked.

        >>> from calc.inputs.equipment import RateEntries
        >>> Entered(values={"requested_rate_c": 1.0}, missing=(), begun=()).of(RateEntries)
        RateEntries(requested_rate_c=1.0)
        """
        if self.missing_of(asks) or not entries_of(asks).keys() & self.values.keys():
            return None
        return asks(**gathered(asks, self.values))

    def missing_of(self, asks: type) -> tuple[Problem, ...]:
        """Return the entries of a part that are missing, each as a problem."""
        needed = {name for name, entry in entries_of(asks).items() if not entry.optional}
        return tuple(problem for problem in self.missing if problem.field in needed)
