"""What the trade does and no standard states, with the standard's own value beside it where there is one."""

from __future__ import annotations

from calc.facts.cited import Cited, Sure, practice

TIME_CUTOUT_MIN = practice(120, "a charge at 1C is over well before; a charger that still runs then has lost count")
TEMPERATURE_STOP_DEGC = practice(49, "120 °F: a lithium pack that gets this warm on charge is in trouble")
CAPACITY_CUTOUT_MARGIN = practice(1.10, "a tenth more than the pack can hold means that something is wrong")
COLD_RATE_C = Cited(0.5, "jeita-2007", Sure.SECOND_HAND, "half of the current from 0 to 10 °C, counted from 1C")
COLD_SHARE = Cited(0.5, "jeita-2007", Sure.SECOND_HAND, "half of the current from 0 to 10 °C")
AIR_LEAST_DEGC = Cited(0, "nfpa-lithium", Sure.READ, "do not charge below 32 °F")
AIR_MOST_DEGC = Cited(40, "nfpa-lithium", Sure.READ, "do not charge above 105 °F, which is 40.6 °C; the stricter number is used")
READING_TOLERANCE_CELL_V = practice(0.02, "what a good cell checker may be off")
SPREAD_TO_WATCH_CELL_V = practice(0.03, "a healthy pack's cells rest within 10 to 30 mV of each other")
FLAGGED_RATE_C = practice(1.05, "more than one part in twenty over 1C is worth setting by hand")
IMBALANCE_PERCENT_LEAST = practice(0, "a pack whose cells are level needs no balancing")
IMBALANCE_PERCENT_MOST = practice(5, "a pack whose cells differ by more is a pack to check, not to wait for")
AUTOMATIC_RATE_C = practice(1.0, "a charger that picks the current itself takes 1C of the capacity it was given")
AGED_PERCENT = Cited(80, "usabc-1996", Sure.MEMORY, "end of life at 80 % of the rated capacity; exactly 80 % counts")
LEFT_AFTER_FLIGHT_PERCENT = practice(20, "land while the pack still holds a fifth")
MEASUREMENT_KEEPS_MIN = practice(120, "a voltage or a temperature from this morning says nothing about this afternoon")
REST_MIN = practice(30, "so long the voltage still creeps after a flight or a charge")
SPREAD_TO_CHARGE_SLOWLY_CELL_V = practice(0.10, "more than balancing alone explains: a cell leaks or ages faster than the others")
FALLEN_BEHIND_PERCENT = practice(20, "a cell that holds a fifth less than its mates after the same charge has dropped away")
RESISTANCE_OVER_OTHERS = practice(1.5, "half as much again as the middle of the other cells: this one ages faster")
DOUBLED_RESISTANCE = Cited(2.0, "freedomcar-2003", Sure.MEMORY, "end of life by power: the resistance has doubled")
SLOW_RATE_C = practice(0.5, "half of the usual 1C gives time to see a cell that goes wrong")
