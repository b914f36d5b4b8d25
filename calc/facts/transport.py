"""What may be carried and sent: watt-hours, numbers of packs, and the charge that freight by air allows.

Rules of this kind change every year. Each source says when it was read or since when it is in force.
"""

from __future__ import annotations

from calc.facts.cited import Cited, Provenance, practice

LABEL_ROUNDING_WH = practice(0.5, "labels are printed in whole watt-hours at the coarsest")

# In the cabin of a passenger aircraft.
FREE_WH = Cited(100, "faa-packsafe", Provenance.READ, "spare packs up to 100 Wh without approval, as 49 CFR 175.10(a)(18)")
APPROVAL_WH = Cited(160, "faa-packsafe", Provenance.READ, "over 100 and up to 160 Wh with the airline's approval")
APPROVAL_PACKS = Cited(2, "faa-packsafe", Provenance.READ, "two of these for each person")
# The US text sets no number up to 100 Wh; the airlines' own table does, and the stricter one is used.
SPARE_PACKS = Cited(20, "iata-dgr", Provenance.SECOND_HAND, "20 spares for each person unless the airline approves more")

# Sent as freight or by post.
AIR_FREIGHT_PERCENT = Cited(30, "phmsa-hm-224i", Provenance.READ, "at most 30 % charged, on cargo aircraft only")
SMALL_CELL_WH = Cited(20, "adr-sp-188", Provenance.SECOND_HAND, "a small battery's cell, at most")
SMALL_BATTERY_WH = Cited(100, "adr-sp-188", Provenance.SECOND_HAND, "a small battery, at most")
POST_IN_EQUIPMENT = Cited(2, "upu-2013", Provenance.SECOND_HAND, "two batteries at most, installed in equipment; no loose ones")
