"""How warm a pack is by the hand, in words: the span that each word stands for."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, practice
from calc.figures.quantities import DEGREES_CELSIUS, Band, Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmth:
    """A word for how warm a pack feels, and the coolest and the warmest that it may then be, °C."""

    words: str
    coolest_degc: Cited
    warmest_degc: Cited

    @property
    def span(self) -> Band:
        """Both, as they are shown."""
        return Band(*(Figure(end.value, DEGREES_CELSIUS) for end in (self.coolest_degc, self.warmest_degc)))


# Cold is no span: below where "cool" begins every degree counts, and the hand does not tell them apart.
WARMTHS = {
    "cool": Warmth(
        words="Cool: cooler than a room",
        coolest_degc=practice(10, "a hand calls it cool, and not cold"),
        warmest_degc=practice(18, "cooler than a room that people sit in"),
    ),
    "normal": Warmth(
        words="Normal: as a room", coolest_degc=practice(18, "a room that people sit in"), warmest_degc=practice(28, "a room in summer")
    ),
    "warm": Warmth(
        words="Warm: as a hand, no warmer",
        coolest_degc=practice(28, "warmer than a room"),
        warmest_degc=practice(38, "no warmer than the hand that feels it"),
    ),
}
