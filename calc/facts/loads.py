"""Resistors and lamps as loads that empty a pack: the values that are sold, how hard they may be driven, how hot they get."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, Provenance, practice


@dataclass(frozen=True, slots=True, kw_only=True)
class PreferredValues:
    """The values of one decade in which resistors are made, rising from 1 to below 10, with their source."""

    values: tuple[float, ...]
    source: str
    provenance: Provenance
    where: str


E12 = PreferredValues(
    values=(1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2),
    source="iec-60063",
    provenance=Provenance.SECOND_HAND,
    where="series E12",
)
RESISTOR_TOLERANCE_PERCENT = Cited(10, "iec-60063", Provenance.SECOND_HAND, "the tolerance that belongs to series E12")

POWER_DERATING = Cited(0.5, "mil-prf-26", Provenance.SECOND_HAND, "6.4: drive them with less than half of their rating")
RATED_IN_AIR_DEGC = Cited(25, "mil-prf-26", Provenance.SECOND_HAND, "6.4: full load in air of 25 °C")
HOT_SPOT_LOW_DEGC = Cited(
    275,
    "mil-prf-26",
    Provenance.MEMORY,
    "characteristic U: hottest spot at full load; table I could not be read, but MIL-R-39007 takes the last load off at 275 °C",
)
HOT_SPOT_HIGH_DEGC = Cited(350, "mil-prf-26", Provenance.MEMORY, "characteristic V: hottest spot at full load; table I could not be read")
CONVECTION_EXPONENT = Cited(0.8, "heat-transfer", Provenance.COMPUTED, "rise against power: 1 / 1.25, as h = 1.42 (rise / length)^0.25")

LAMP_CURRENT_EXPONENT = Cited(0.55, "fink-beaty-1978", Provenance.SECOND_HAND, "current of a filament lamp against its voltage")
LAMP_TOLERANCE_PERCENT = practice(10, "lamps of one kind differ by as much")

TOO_HOT_TO_TOUCH_DEGC = Cited(60, "iec-62368-1", Provenance.SECOND_HAND, "metal touched for 1 to 10 s")

EMPTYING_RATE_C = Cited(0.2, "iec-61960-3", Provenance.SECOND_HAND, "the capacity test")
EMPTYING_MOST_RATE_C = practice(1.0, "a worn pack is emptied no harder than it is charged")
OLD_PACK_HOLDS_PERCENT = practice(60, "a pack at the end of its life may hold little more than half of its label")
