"""How fast a cell ages in storage and in use: one published model with its bounds, and what the log of a pack is read by.

The model is of a round nickel-manganese-cobalt oxide cell, and none of a pouch-type model pack is published. So its percentages are shown
only for a pack whose own log is too short, as what another kind of cell did; elsewhere only its comparisons are.
"""

from __future__ import annotations

from calc.facts.cited import Cited, Estimate, Provenance, practice

_WHERE = "capacity lost by storage; read in an open library that restates the paper"

# The rate of calendar ageing is proportional to (slope V + offset) exp(-temperature / T), T in K.
AGEING_SLOPE_PER_V = Cited(7.543, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
AGEING_OFFSET = Cited(-23.75, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
AGEING_TEMPERATURE_K = Cited(6976, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
# Outside these resting voltages the cells of the paper were not stored.
AGEING_LEAST_CELL_V = Cited(3.33, "schmalstieg-2014", Provenance.SECOND_HAND, "the cell's resting voltage when empty")
AGEING_MOST_CELL_V = Cited(4.16, "schmalstieg-2014", Provenance.SECOND_HAND, "the cell's resting voltage when full")

# Calendar ageing takes s = (slope V + offset) 1e6 exp(-temperature / T) t^0.75, t in days; cycle ageing (a (V - b)^2 + c + d depth) sqrt(Q), Q in
# the ampere-hours in and out of the paper's cell, V the mean voltage of a cycle.
AGEING_SCALE = Cited(1e6, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
AGEING_DAYS_POWER = Cited(0.75, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
_BY_USE = "capacity lost by cycles; read in an open library that restates the paper"
CYCLE_BEND_PER_V2 = Cited(7.348e-3, "schmalstieg-2014", Provenance.SECOND_HAND, _BY_USE)
CYCLE_MILDEST_V = Cited(3.667, "schmalstieg-2014", Provenance.SECOND_HAND, _BY_USE)
CYCLE_LEAST = Cited(7.6e-4, "schmalstieg-2014", Provenance.SECOND_HAND, _BY_USE)
CYCLE_BY_DEPTH = Cited(4.081e-3, "schmalstieg-2014", Provenance.SECOND_HAND, _BY_USE)
CYCLE_CELL_AH = Cited(
    2.15, "schmalstieg-2014", Provenance.SECOND_HAND, "capacity of its cell; read in an open library that restates the paper"
)
CYCLE_MEAN_V = practice(3.7, "the nominal voltage, which a cell has on average between full and flown")
CYCLE_DEPTH = Estimate(
    least=practice(0.5, "short flights"),
    likely=practice(0.8, "flown to the fifth that stays in it"),
    most=practice(1.0, "flown to the end"),
)
STORED_DEGC = Estimate(least=practice(10, "a cold cellar"), likely=practice(20, "a cool room"), most=practice(30, "a warm attic"))

TREND_MISSES_PERCENT = practice(10, "nine times in ten is what a pilot can plan by; with five lines no more can be promised")
TREND_FOLLOWED_TIMES = practice(2, "a straight line is not believed for longer than twice the time over which it was seen")
TREND_PROMISED_TIMES = practice(
    1,
    "no end is promised to be further off than the lines go back: cells of an open data set fell faster later on, and broke longer promises",
)
FIRST_WITHIN_CHARGES = practice(5, "so early nothing has aged yet; the middle of several lines is surer than the first")
DEPTH_TO_COUNT = practice(0.5, "of a charge from less than half empty the voltage tells too little")
NEAR_END_CHARGES = practice(20, "a month or two of flying, in which another can be had")
NEAR_END_DAYS = practice(60, "two months, in which another can be had")
FULL_STATE = practice(0.9, "from here on a resting cell ages fast, and it is flown as a full one")
CHARGES_FOR_TREND = practice(5, "with fewer charges between the first and the last line it is time that ages a pack")

ROOM_DEGC = Cited(20, "uw-lithium", Provenance.READ, "stored at 5 to 20 °C: the warmest of it")
HOT_CAR_DEGC = Cited(47, "mclaren-2005", Provenance.READ, "117 °F, reached on the coolest of the 16 days; hotter days go higher")
