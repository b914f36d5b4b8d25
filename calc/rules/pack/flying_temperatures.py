"""Whether a pack, and the air around it, may be flown at their temperatures: one rule for every page that sends a pack up."""

from __future__ import annotations

from calc.facts.chemistries import Chemistry
from calc.facts.practice import COLD_TO_FLY_DEGC, WARM_LANDING_DEGC
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.figures.sentences import worded
from calc.inputs.refusals import Problem
from calc.rules.pack.readings import TROUBLE


def problems_of_flying_temperature(pack_degc: float, chemistry: Chemistry, *, air_degc: float | None = None) -> list[Problem]:
    """Return what speaks against a flight at these temperatures, one problem for each entry; the air may not have been asked.

        pack: above 0 °C, and below the 50 °C at which it should land at most        air: below the same 50 °C

    Source: common practice, no source, for 0 and 50 °C; JEITA and BAJ 2007 for the 60 °C at which danger begins.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> [problem.field for problem in problems_of_flying_temperature(50, CHEMISTRIES["lipo"], air_degc=50)]
    ['pack_degc', 'air_degc']
    """
    window, warm = chemistry.temperatures, Figure(WARM_LANDING_DEGC.value, DEGREES_CELSIUS, "down")
    found = []
    if pack_degc >= window.discharge_most_degc.value:
        sentence = "The pack is dangerously hot: do not fly it. Get away from it, and see what to do."
        found.append(Problem("pack_degc", sentence, TROUBLE))
    elif pack_degc >= WARM_LANDING_DEGC.value:
        found.append(Problem("pack_degc", worded("The pack is at {} or above already: leave it in the shade until it has cooled.", warm)))
    elif pack_degc <= window.discharge_least_degc.value:
        sentence = "The pack is too cold to fly: its voltage sags and it gives far less. Warm it through first, indoors or in a pocket with its contacts covered."
        found.append(Problem("pack_degc", sentence))
    if air_degc is not None and air_degc >= WARM_LANDING_DEGC.value:
        found.append(Problem("air_degc", worded("In air of {} or more no pack cools: fly when it is cooler.", warm)))
    return found


def caution_of_cold(pack_degc: float) -> str | None:
    """Return what to say of a pack that may be flown, but is cold; None if it is warm enough."""
    if pack_degc >= COLD_TO_FLY_DEGC.value:
        return None
    sentence = "A pack below {} sags: keep it warm until you fly, indoors or in a pocket with its contacts covered, and go easy on the throttle at first."
    return worded(sentence, Figure(COLD_TO_FLY_DEGC.value, DEGREES_CELSIUS))
