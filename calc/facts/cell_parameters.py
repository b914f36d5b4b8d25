"""How a label or a resistance reading becomes a cell of the charge forecast, and when a charger calls a pack full.

Resistance stands as ohm ampere-hours (resistance of one cell x its capacity): the volts that it costs per C of rate. One
number then serves a small pack and a large one alike.
"""

from __future__ import annotations

from calc.facts.cited import Cited, Estimate, Provenance, practice

# A reading is a pulse of seconds; a charge of an hour meets more. Fitted to full runs of nine published parameter sets.
CHARGE_OVER_READING = Estimate(
    least=Cited(1.0, "prada-2013", Provenance.COMPUTED, "effective resistance over a 10 s pulse: 1.0"),
    likely=Cited(2.0, "ai-2020", Provenance.COMPUTED, "1.75 to 2.0 in five of nine sets"),
    most=Cited(4.0, "ecker-2015", Provenance.COMPUTED, "the highest of nine sets: 3.3 to 3.5 by a fit, and 4 for a charge that ends early"),
)

# Ohm ampere-hours x the label's discharge rate: the volts that a cell loses at that rate.
LOSS_AT_LABEL_RATE_V = Estimate(
    least=practice(0.2, "an honest label"),
    likely=practice(0.4, "a full cell at 3.8 V that holds 3.4 V at the label's rate"),
    most=practice(1.6, "a label that promises four times too much"),
)
HIGHEST_BELIEVED_LABEL_RATE_C = practice(40, "labels go on climbing, the packs under them do not")

# See `Chemistry.lead_share`.
LEAD_RISE_V = Cited(0.8, "chen-2020", Provenance.COMPUTED, "with it a resistance over a whole charge is the same with a lead as without")

# Resistance follows exp(B (1/T - 1/298.15 K)). In the cold the forecast is at its weakest, hence the wide ends.
RESISTANCE_TEMPERATURE_K = Estimate(
    least=Cited(1150, "ai-2020", Provenance.COMPUTED, "fitted to runs of the two sets at 10 and 40 °C: the lowest"),
    likely=practice(2100, "the middle between the two published sets"),
    most=Cited(3050, "marquis-2019", Provenance.COMPUTED, "fitted to runs of the two sets at 10 and 40 °C: the highest"),
)
REFERENCE_TEMPERATURE_DEGC = Cited(25, "ai-2020", Provenance.READ, "the temperature of the parameter sets")

# The charge ends when the current has fallen to this many C. Chargers differ, and few say what they do.
TAPER_RATE_C = Estimate(
    least=practice(0.20, "the quickest chargers stop at a fifth"),
    likely=Cited(0.05, "cell-data-sheet", Provenance.READ, "held at full until the current is 0.05 C"),
    most=practice(0.02, "a patient charger goes on to a fiftieth"),
)
