"""What is asked about a flight: a row of a calculator that reckons from several."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import MILLIAMPERE_HOURS, MINUTES
from calc.inputs.equipment import PACK
from calc.inputs.fields import number

MOST_FLIGHTS = 10


@dataclass(frozen=True, kw_only=True)
class FlightEntries:
    """One flight, from the stopwatch and the charger."""

    flown_min: float = number(
        "Minutes flown", MINUTES, group=PACK, least=0.5, most=240, hint="6.5 is six and a half minutes, and so is 6:30."
    )
    put_back_mah: float = number(
        "Put back afterwards",
        MILLIAMPERE_HOURS,
        group=PACK,
        asked_as="the charge put back afterwards",
        least=5,
        most=60_000,
        hint="What the charger counted until the pack was full.",
    )
