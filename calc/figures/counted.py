"""What a pack's C and watt-hours are counted with."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedPack:
    """A pack's capacity, from which a C rate counts, and its nominal voltage. None for what is not known, or not of one pack."""

    capacity_ah: float | None = None
    nominal_v: float | None = None
