"""What the trade does and no standard states, with the standard's own value beside it where there is one."""

from __future__ import annotations

from calc.facts.cited import Cited, Provenance, practice

TIME_CUTOUT_MIN = practice(120, "a charge at 1C is over well before; a charger that still runs then has lost count")
TEMPERATURE_STOP_MOST_DEGC = practice(49, "120 °F, where many stop a charge: the charging range of the cell ends before")
TIME_CUTOUT_MARGIN = practice(1.10, "a tenth longer than the longest time predicted means that something is wrong")
CAPACITY_CUTOUT_MARGIN = practice(1.10, "a tenth more than the pack can hold means that something is wrong")
COLD_RATE_C = Cited(0.5, "jeita-2007", Provenance.SECOND_HAND, "half of the current from 0 to 10 °C, counted from 1C")
COLD_SHARE = Cited(0.5, "jeita-2007", Provenance.SECOND_HAND, "half of the current from 0 to 10 °C")
AIR_LEAST_DEGC = Cited(0, "nfpa-lithium", Provenance.READ, "do not charge below 32 °F")
AIR_MOST_DEGC = Cited(40, "nfpa-lithium", Provenance.READ, "do not charge above 105 °F, which is 40.6 °C; the stricter number is used")
READING_TOLERANCE_CELL_V = practice(0.02, "what a good cell checker may be off")
SPREAD_TO_WATCH_CELL_V = practice(0.03, "a healthy pack's cells rest within 10 to 30 mV of each other")
FLAGGED_RATE_C = practice(1.05, "more than one part in twenty over 1C is worth setting by hand")
IMBALANCE_PERCENT_LEAST = practice(0, "a pack whose cells are level needs no balancing")
IMBALANCE_PERCENT_MOST = practice(5, "a pack whose cells differ by more is a pack to check, not to wait for")
AUTOMATIC_RATE_C = practice(1.0, "a charger that picks the current itself takes 1C of the capacity it was given")
AGED_PERCENT = Cited(80, "cell-data-sheet", Provenance.READ, "its life tests end at 80 % of the first capacity; exactly 80 % counts")
MEASUREMENT_KEEPS_MIN = practice(120, "a voltage or a temperature from this morning says nothing about this afternoon")
REST_MIN = practice(30, "so long the voltage still creeps after a flight or a charge")
SPREAD_TO_CHARGE_SLOWLY_CELL_V = Cited(0.10, "pack-maker-guide", Provenance.READ, "cells more than 0.1 V apart are abnormal")
FALLEN_BEHIND_PERCENT = Cited(
    20,
    "cell-data-sheet",
    Provenance.COMPUTED,
    "a cell's life ends at 80 % of its first capacity: it then holds a fifth less than a new one",
)
RESISTANCE_OVER_OTHERS = practice(1.5, "half as much again as the middle of the other cells: this one ages faster")
DOUBLED_RESISTANCE = Cited(
    2.0, "battery-encyclopedia", Provenance.READ, "out of use at 80 % of the capacity, or at 200 % of the resistance"
)
SLOW_RATE_C = Cited(0.5, "tartu-batteries", Provenance.READ, "0.5C to 1C by the age of the pack: the lower end")
BALANCE_LEAST_A = practice(0.2, "what a small charger burns off a full cell")
BALANCE_MOST_A = practice(0.5, "what a larger charger burns off a full cell")
UNLIKE_CAPACITY_PERCENT = practice(10, "packs in series are bought as a pair; one that holds a tenth less is a pack of its own")
SERIES_APART_PERCENT = practice(10, "a tenth of the capacity keeps a balancer busy for hours; charging one pack alone is quicker")
JOIN_DIFFERENCE_CELL_V = practice(0.10, "the strictest of what pilots allow before they join packs side by side")
BALANCE_CONTACT_A = practice(3, "what a contact of the usual balance plug is made for")
BALANCE_CONTACT_LEAST_MOHM = practice(2, "a clean contact; the least counts where a current is to be limited")
BALANCE_CONTACT_LIKELY_MOHM = practice(5, "several milliohms, as small contacts have")
BALANCE_CONTACT_MOST_MOHM = practice(20, "a worn or dull contact")
METER_STEP_V = practice(0.001, "the finest step that a pilot's meter shows; packs that are nearer read alike")
UNLIKE_SIZE = practice(2, "at 1C of both a plug that slips leaves the smaller one with 3C; beyond that the larger is charged apart")
PACKS_APART_K = practice(10, "so much warmer a pack takes a quarter more than its share")
BALANCE_WIRE_GAUGE = practice(22, "the thickest wire that the usual balance plug takes")
BALANCE_WIRE_LENGTH_M = practice(0.15, "from the pack to its balance plug")
STORE_WITHIN_DAYS = Cited(2, "brandeis-lab", Provenance.READ, "never full for more than 2 to 3 days: the stricter number")
STORED_CHECK_DAYS = practice(30, "once a month: look, smell, read every cell")
MEASURED_KEEPS_DAYS = practice(180, "capacity and resistance are measured once a season")
REFILL_WITHIN_DAYS = practice(1, "a lead-acid battery that stands empty ages by the day: it is filled up the same evening")
SUPPLY_CHECK_DAYS = Cited(30, "army-battery-storage", Provenance.READ, "stored batteries are checked every 30 days")
CHANGE_PACKS_MIN = practice(3, "unplug, look the next one over, plug in, set and check")
WARM_LANDING_DEGC = practice(50, "a pack that lands too hot to hold was worked too hard, and ages fast")
COLD_TO_FLY_DEGC = practice(10, "below it a pack sags so much that pilots warm it before the flight")
# Packs of 7, 9, 11 and 13 cells are hardly sold: they are made of smaller ones, or they are another count misread.
ANY_COUNT_SOLD_UP_TO = practice(6, "cells; longer packs are sold in even counts")
BELOW_FLOWN_CELL_V = practice(0.05, "flown somewhat too far, and still usual")
