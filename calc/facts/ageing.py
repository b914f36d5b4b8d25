"""How fast a cell that only lies there ages, by its voltage and its temperature: one published model, and its bounds.

The model is of a round nickel-manganese-cobalt oxide cell. No such model of a pouch-type model pack is published, so only
its comparisons are shown, never its per cents.
"""

from __future__ import annotations

from calc.facts.cited import Cited, Provenance, practice

_WHERE = "capacity lost by storage; read in an open library that restates the paper"

# The rate goes with (slope V + offset) exp(-temperature / T), T in K.
AGEING_SLOPE_PER_V = Cited(7.543, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
AGEING_OFFSET = Cited(-23.75, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
AGEING_TEMPERATURE_K = Cited(6976, "schmalstieg-2014", Provenance.SECOND_HAND, _WHERE)
# Outside these resting voltages the cells of the paper were not stored.
AGEING_LEAST_CELL_V = Cited(3.33, "schmalstieg-2014", Provenance.SECOND_HAND, "the cell's resting voltage when empty")
AGEING_MOST_CELL_V = Cited(4.16, "schmalstieg-2014", Provenance.SECOND_HAND, "the cell's resting voltage when full")

ROOM_DEGC = practice(20, "a cool room")
HOT_CAR_DEGC = Cited(47, "mclaren-2005", Provenance.READ, "117 °F, reached on the coolest of the 16 days; hotter days go higher")
