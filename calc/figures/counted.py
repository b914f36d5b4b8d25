"""What a pack's C and watt-hours are counted with."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedPack:
    """A pack's capacity, from which a C rate counts, and its nominal voltage. None for what is not known, or not of one pack."""

    capacity_ah: float | None = None
    nominal_v: float | None = None

    def number(self, name: str) -> float | None:
        """Return one of the two by its name, as a unit that counts from it has it."""
        return {"capacity_ah": self.capacity_ah, "nominal_v": self.nominal_v}[name]
