"""How a label or a resistance reading becomes a cell of the charge forecast, and when a charger calls a pack full.

Resistance stands as ohm ampere-hours (resistance of one cell x its capacity): the volts that it costs per C of rate. One
number then serves a small pack and a large one alike.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, Provenance, practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Likelihood:
    """The least, the likely and the most of a number that is not known well."""

    least: Cited
    likely: Cited
    most: Cited


# A reading is a pulse of seconds; a charge of an hour meets more. Fitted to full runs of nine published parameter sets.
CHARGE_OVER_READING = Likelihood(
    least=Cited(1.0, "prada-2013", Provenance.COMPUTED, "effective resistance over a 10 s pulse: 1.0"),
    likely=Cited(2.0, "ai-2020", Provenance.COMPUTED, "1.75 to 2.0 in five of nine sets"),
    most=Cited(4.0, "ecker-2015", Provenance.COMPUTED, "the highest of nine sets: 3.3 to 3.5 by a fit, and 4 for a charge that ends early"),
)

# Ohm ampere-hours x the label's discharge rate: the volts that a cell loses at that rate.
LOSS_AT_LABEL_RATE_V = Likelihood(
    least=practice(0.2, "an honest label"),
    likely=practice(0.4, "a full cell at 3.8 V that holds 3.4 V at the label's rate"),
    most=practice(1.6, "a label that promises four times too much"),
)
HIGHEST_BELIEVED_LABEL_RATE_C = practice(40, "labels go on climbing, the packs under them do not")

RESISTANCE_CLASSES_OHM_AH: dict[str, Likelihood] = {
    "lipo": Likelihood(
        least=practice(0.004, "the best of new high-rate packs: 2200 mAh and 2 mΩ; most have 0.004 to 0.013"),
        likely=practice(0.03, "a model pack in use"),
        most=Cited(0.21, "ai-2020", Provenance.COMPUTED, "an energy-type pouch: 0.20 over a charge, 0.21 down to a fiftieth"),
    ),
    "lihv": Likelihood(
        least=practice(0.004, "as for 4.20 V packs"),
        likely=practice(0.03, "as for 4.20 V packs"),
        most=Cited(0.21, "ai-2020", Provenance.COMPUTED, "as for 4.20 V packs"),
    ),
    "liion": Likelihood(
        least=Cited(0.035, "kim-2011", Provenance.COMPUTED, "a power-type cell, over a charge"),
        likely=practice(0.10, "between a power-type and an energy-type cell"),
        most=Cited(0.31, "chen-2020", Provenance.COMPUTED, "an energy-type round cell, over a charge to any cut-off"),
    ),
    "life": Likelihood(
        least=practice(0.02, "a high-rate cell"),
        likely=Cited(0.07, "prada-2013", Provenance.COMPUTED, "effective over a charge, and by pulse"),
        most=Cited(0.15, "prada-2013", Provenance.COMPUTED, "effective over a charge, with a finer resting table"),
    ),
}

# Of what a whole charge shows as resistance, the share that is the surface of the grains ahead of their whole.
LEAD_SHARE: dict[str, Cited] = {
    "lipo": Cited(0.0, "marquis-2019", Provenance.COMPUTED, "any share makes one of the two cobalt-oxide pouches worse"),
    "lihv": Cited(0.0, "marquis-2019", Provenance.COMPUTED, "as for 4.20 V packs"),
    "liion": Cited(0.7, "chen-2020", Provenance.COMPUTED, "the fit to every cut-off from a fifth to a fiftieth; two others hold with it"),
    "life": Cited(0.0, "prada-2013", Provenance.COMPUTED, "any share makes it worse"),
}
LEAD_RISE_V = Cited(0.8, "chen-2020", Provenance.COMPUTED, "with it a resistance over a whole charge is the same with a lead as without")

# Resistance follows exp(B (1/T - 1/298.15 K)). In the cold the forecast is at its weakest, hence the wide ends.
RESISTANCE_TEMPERATURE_K = Likelihood(
    least=Cited(1150, "ai-2020", Provenance.COMPUTED, "fitted to runs of the two sets at 10 and 40 °C: the lowest"),
    likely=practice(2100, "the middle between the two published sets"),
    most=Cited(3050, "marquis-2019", Provenance.COMPUTED, "fitted to runs of the two sets at 10 and 40 °C: the highest"),
)
REFERENCE_TEMPERATURE_DEGC = Cited(25, "ai-2020", Provenance.READ, "the temperature of the parameter sets")

# The charge ends when the current has fallen to this many C. Chargers differ, and few say what they do.
TAPER_RATE_C = Likelihood(
    least=practice(0.20, "the quickest chargers stop at a fifth"),
    likely=Cited(0.05, "cell-data-sheet", Provenance.READ, "held at full until the current is 0.05 C"),
    most=practice(0.02, "a patient charger goes on to a fiftieth"),
)
