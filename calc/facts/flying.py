"""What a flight timer rests on: the reserve, the margins, and what the cold leaves of a pack."""

from __future__ import annotations

from calc.facts.cited import Cited, Provenance, practice

RESERVE_PERCENT = Cited(20, "ksu-drones", Provenance.SECOND_HAND, "no flight below 20 percent; a go-around and an old cell need it too")
ONE_FLIGHT_MARGIN_PERCENT = practice(50, "one flight says nothing of the next, which may take half as much again")
LEAST_MARGIN_PERCENT = practice(5, "a stopwatch and a charger's count are no better than that")
TIMER_STEP_S = practice(10, "finer than ten seconds no pilot lands")

# A straight line between the two: all of it when warm, and the least that the standard asks of a cell in the cold.
WARM_DEGC = practice(20, "the temperature of the capacity on the label")
COLD_DEGC = Cited(-20, "iec-61960-3", Provenance.MEMORY, "discharge performance at low temperature; the standard could not be read")
COLD_LEFT_PERCENT = Cited(
    30, "iec-61960-3", Provenance.MEMORY, "at least 30 % of the rated capacity at -20 °C; the standard could not be read"
)
