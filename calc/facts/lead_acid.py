"""The 12 V lead-acid battery that feeds a charger at the field."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, Provenance, practice


@dataclass(frozen=True, slots=True, kw_only=True)
class LeadAcid:
    """A kind of lead-acid battery: rest voltage by charge, Peukert's exponent, and what it is called.

    `rest_v` holds (state of charge in %, volts at rest of a 12 V battery), rising. Above `rested_most_v` none has come to rest:
    a charge still stands on the plates, and the battery would seem to hold more than it does.
    """

    name: str
    rest_v: tuple[tuple[float, Cited], ...]
    rested_most_v: Cited
    peukert_exponent: Cited


LEAD_ACID: dict[str, LeadAcid] = {
    "flooded": LeadAcid(
        name="Flooded",
        rest_v=(
            (0, Cited(11.89, "bci-rest", Provenance.SECOND_HAND, "other reprints differ by up to 0.1 V")),
            (25, Cited(12.06, "bci-rest", Provenance.SECOND_HAND)),
            (50, Cited(12.24, "bci-rest", Provenance.SECOND_HAND)),
            (75, Cited(12.45, "bci-rest", Provenance.SECOND_HAND)),
            (100, Cited(12.65, "bci-rest", Provenance.SECOND_HAND)),
        ),
        rested_most_v=Cited(12.80, "bci-rest", Provenance.COMPUTED, "full at 12.65 V, and the 0.15 V by which the reprints differ"),
        # The upper end of 1.2 to 1.3: a promise of charges that the battery then keeps.
        peukert_exponent=Cited(1.30, "peukert", Provenance.READ, "1.2 to 1.3 for flooded batteries: the careful end"),
    ),
    "agm": LeadAcid(
        name="Sealed: glass mat or gel",
        rest_v=(
            (0, practice(11.90, "reads higher than a flooded one at the same charge")),
            (25, practice(12.20, "reads higher than a flooded one at the same charge")),
            (50, practice(12.40, "reads higher than a flooded one at the same charge")),
            (75, practice(12.65, "reads higher than a flooded one at the same charge")),
            (100, Cited(12.85, "army-agm", Provenance.READ, "12.8 to 13 V at rest is a full one: near the lower end")),
        ),
        rested_most_v=Cited(12.95, "army-agm", Provenance.READ, "12.8 to 13 V at rest is a full one; 12.95 V is the stricter bound"),
        peukert_exponent=Cited(1.15, "peukert", Provenance.SECOND_HAND, "1.05 to 1.15 for glass mat: the careful end"),
    ),
}

# Before that the plates still hold more, or less, than the acid around them, and the voltage says nothing.
REST_AFTER_CHARGE_H = Cited(
    8, "army-rest", Provenance.READ, "eight hours of rest after a charge; another manual asks for three, and prefers eight"
)
REST_AFTER_LOAD_H = practice(1, "at least")
# What stands at a 12 V battery while its engine or its own charger runs: a charger that is made for 12 V bears it. Of no charger
# may more be taken for granted.
CHARGING_MOST_V = Cited(
    15.0, "navy-electrician", Provenance.COMPUTED, "2.5 V per cell: the middle of the 2.4 to 2.6 V at the end of a charge"
)
NOMINAL_V = Cited(12.0, "us-army-tm-9-6140", Provenance.READ, "12 V batteries, as its title calls them: six cells of 2.0 V")
# What a cold battery gives, in % of its capacity, by its own temperature in °F, as printed. Between the rows on a straight line.
COLD_CAPACITY_PERCENT: tuple[tuple[float, Cited], ...] = (
    (0, Cited(40, "us-army-tm-9-6140", Provenance.READ, "0 °F, fully charged")),
    (32, Cited(75, "us-army-tm-9-6140", Provenance.READ, "32 °F, fully charged")),
    (80, Cited(100, "sae-j537", Provenance.SECOND_HAND, "80 °F, the temperature at which a capacity is rated")),
)
# Starting: what a petrol or small diesel engine takes for a few tries. The floor above keeps far more.
STARTING_CURRENT_A = practice(300, "a small engine's starter; a cold diesel takes more")
STARTING_MIN = practice(0.5, "three tries of ten seconds")
# Refilling. By the ampere-hour law the current falls with what is missing, with a time constant of one hour; a battery that
# is held at a constant voltage takes longer at the end.
ACCEPTANCE_H = Cited(1.0, "woodbridge-1935", Provenance.SECOND_HAND, "amperes at most the ampere-hours still missing")
SLOW_ACCEPTANCE_H = practice(3.0, "an old, cold or sealed battery takes in its last quarter over the night")
REFILL_FACTOR_LEAST = practice(1.05, "a sealed battery wants a little more put in than was taken out")
REFILL_FACTOR_MOST = Cited(1.15, "woodbridge-1935", Provenance.SECOND_HAND, "a total charging time with 15 % of overcharge")
FULL_AGAIN_PERCENT = practice(98, "the charger's current is next to nothing then")
REFILL_RATE_C = Cited(0.1, "imi-glossary", Provenance.READ, "charging rate: usually one tenth of the ampere-hours")

CUTOFF_V = Cited(10.5, "navy-electrician", Provenance.READ, "about 1.75 V per cell at the end of the ten-hour test")
FLOOR_PERCENT = practice(50, "a battery that is to last is not taken below half")
# A starter battery gives its cranking current only while it is well charged, and less in the cold: its floor is higher.
VEHICLE_FLOOR_PERCENT = Cited(
    75, "army-battery-test", Provenance.READ, "a vehicle's battery is good from 75 % up; below it, it is tested under load"
)
RATED_HOURS = Cited(20, "peukert", Provenance.READ, "the label's capacity is that of a twenty-hour discharge")
LARGEST_RATE_C = practice(0.5, "more than half its capacity per hour, and it gives far less than its label")
# 5 mΩ on 100 Ah; a small or old one has more. The resistance falls as the battery grows.
RESISTANCE_OHM_AH = Cited(0.5, "linden", Provenance.MEMORY, "a healthy 12 V battery of 100 Ah has about 5 mΩ; no text found")
