"""What heat a pack holds and how it gives it off, for the temperature after a flight. What it weighs stands with its chemistry.

None of this stands on a label. Each is a span: a light pack, a cell that holds little heat and still air make it warmest.
"""

from __future__ import annotations

from calc.facts.cited import Cited, Estimate, Provenance, practice

SPECIFIC_HEAT_J_PER_KG_K = Estimate(
    least=Cited(830, "heat-capacity", Provenance.SECOND_HAND, "nickel-cobalt-aluminium oxide, the lowest of the chemistries"),
    likely=Cited(1040, "heat-capacity", Provenance.SECOND_HAND, "nickel-manganese-cobalt oxide, 1040 ± 34"),
    most=Cited(1130, "heat-capacity", Provenance.SECOND_HAND, "iron phosphate, the highest of the chemistries"),
)

# Free convection in gases is 2 to 25 W/(m² K), forced convection 25 and more.
HEAT_TRANSFER_W_PER_M2_K = Estimate(
    least=Cited(2, "cengel-convection", Provenance.READ, "free convection in gases, its lower end: a pack closed in"),
    likely=practice(10, "some air through the model"),
    most=Cited(25, "cengel-convection", Provenance.READ, "free convection in gases, its upper end, where a fan's wind begins"),
)

DENSITY_KG_PER_M3 = practice(2000, "a pouch pack with its leads: 180 g in 90 cm³")
# Surface over volume to the power of two thirds: 6 for a cube, 7.3 for a brick of 1 : 2 : 5.
BRICK_SHAPE = practice(7.3, "a brick of 1 : 2 : 5, as most packs are")

FORECAST_ENDS_DEGC = Cited(
    80, "feng-2018", Provenance.MEMORY, "from 80 to 120 °C on the cell itself breaks down and gives off heat; abstract read"
)
