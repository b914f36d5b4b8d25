"""What the entries of a pack have in common, on whichever page it is asked: its capacity, what it is judged by, what was read on it."""

from __future__ import annotations

from calc.facts.warmth import WARMTHS

# The warmth that no word stands for: a pack that feels cold is measured.
COLD = "cold"


class WithCapacity:
    """What is asked for both capacities of a pack, the label's and the one last measured, knows what it holds."""

    capacity_mah: float
    measured_capacity_mah: float | None

    @property
    def effective_capacity_mah(self) -> float:
        """What the pack holds, and a C rate counts from, mAh: the capacity last measured, but never more than the label."""
        return min(self.capacity_mah, self.holds_mah)

    @property
    def holds_mah(self) -> float:
        """What a charge from empty puts in, mAh: the capacity last measured, which in a new pack may be above the label, or the label."""
        return self.measured_capacity_mah or self.capacity_mah


class WithCondition:
    """What a pack is judged by. A page that does not ask for something does not know it: so a pack has one condition on every page."""

    chemistry: str | None = None
    cells: float | None = None
    pack_degc: float | None = None
    pack_warmth: str | None = None
    capacity_mah: float | None = None
    measured_capacity_mah: float | None = None
    cell_resistance_mohm: float | None = None
    cell_resistances_mohm: tuple[float, ...] | None = None
    new_resistance_mohm: float | None = None
    look: str | None = None
    read_when: str | None = None
    air_degc: float | None = None

    @property
    def highest_resistance_mohm(self) -> float | None:
        """The resistance of the worst cell, mΩ, if any was read."""
        return max((self.cell_resistance_mohm or 0, *(self.cell_resistances_mohm or ()))) or None

    @property
    def coolest_degc(self) -> float | None:
        """The temperature of the pack, °C, or the lowest that its warmth in a word stands for."""
        return self.pack_degc if self.pack_warmth in (None, COLD) else WARMTHS[self.pack_warmth].coolest_degc.value

    @property
    def warmest_degc(self) -> float | None:
        """The same, or the highest that the word stands for: each limit counts from the stricter of the two."""
        return self.pack_degc if self.pack_warmth in (None, COLD) else WARMTHS[self.pack_warmth].warmest_degc.value


class WithTemperature(WithCondition):
    """A pack whose temperature is asked: as a number, or in a word that stands for a span."""

    @property
    def coolest_degc(self) -> float:
        """The temperature of the pack, or the lowest that it may have, °C."""
        found = super().coolest_degc
        assert found is not None, "the number was asked, or a word told it"
        return found

    @property
    def warmest_degc(self) -> float:
        """The temperature of the pack, or the highest that it may have, °C."""
        found = super().warmest_degc
        assert found is not None, "the number was asked, or a word told it"
        return found

    @property
    def ends_degc(self) -> tuple[float, ...]:
        """Both of them, or the one that was measured, °C."""
        return tuple(dict.fromkeys((self.coolest_degc, self.warmest_degc)))


class WithReading(WithTemperature):
    """A pack whose voltages are asked, so that it can be read and judged. Where a page asks for these with some looks alone, it judges
    with those alone.
    """

    chemistry: str
    cells: float
    resting_v: tuple[float, ...]
