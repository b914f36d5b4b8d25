"""Which resistor or row of lamps empties this pack, and may the one that is at hand be used for it?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from calc.facts.loads import EMPTYING_MOST_RATE_C, LAMP_TOLERANCE_PERCENT, RESISTOR_TOLERANCE_PERCENT
from calc.figures.quantities import AMPERES, OHMS, RATE, SUPPLY_VOLTS, WATTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.units import fraction_from_percent
from calc.inputs.refusals import Problem, Refused
from calc.physics.pack.loads import lamp_current_a, lamps_in_series, preferred_ohm, rating_w, resistor_current_a

# Below this a bulb is not sold.
_SMALLEST_LAMP_W = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What empties a pack: the current that it draws at a voltage, A for V, and how far two of a kind may differ.

    A resistor has `ohm` and `rated_w`, a row of lamps has `lamps`.
    """

    draws: Callable[[float], float]
    tolerance: float
    ohm: float | None = None
    rated_w: float | None = None
    lamps: int | None = None

    @property
    def currents_of(self) -> tuple[Callable[[float], float], Callable[[float], float], Callable[[float], float]]:
        """The current that the load draws at its least, its likely and its most."""
        return (lambda v: self.draws(v) * (1 - self.tolerance), self.draws, lambda v: self.draws(v) * (1 + self.tolerance))

    def power_w(self, pack_v: float) -> float:
        """Return what the load turns into heat at a voltage: P = V I."""
        return pack_v * self.draws(pack_v)


def ohm_figure(ohm: float) -> Figure:
    """Return a resistance with the decimals that stand on the part, three at most: 0.82 Ω, 4.7 Ω, 22 Ω.

    >>> [ohm_figure(ohm).number for ohm in (0.82, 4.7, 22.0)]
    ['0.82', '4.7', '22']
    """
    decimals = next((count for count in range(3) if round(ohm, count) == ohm), 3)
    return Figure(ohm, replace(OHMS, decimals=decimals))


def resistor_for(
    *, full_pack_v: float, capacity_ah: float, rate_c: float, own_ohm: float | None = None, own_w: float | None = None
) -> Load:
    """Return the resistor that empties a pack at a rate, or the one at hand if it may be used.

        R = V_full / (C x Q), up to the next value of series E12;  P_rated = 2 V_full^2 / R

    The rate is that at the full voltage. Refuses a resistor at hand that draws more than the pack may give, or that is rated too low;
    where its rating is not known, the load has the rating that it needs.

    Source: Ohm's law; IEC 60063 for the values; MIL-PRF-26 for the rating.

    >>> load = resistor_for(full_pack_v=16.8, capacity_ah=5.0, rate_c=0.2)
    >>> load.ohm, load.rated_w
    (18.0, 32.0)
    """
    most_a = EMPTYING_MOST_RATE_C.value * capacity_ah
    if own_ohm is not None and resistor_current_a(full_pack_v, own_ohm) > most_a:
        least = ohm_figure(preferred_ohm(full_pack_v / most_a))
        sentence = (
            f"This resistor would draw more than {Figure(EMPTYING_MOST_RATE_C.value, RATE.as_it_is)} from a full pack: use {least} or more."
        )
        raise Refused(Problem("resistor_ohm", sentence))
    ohm = preferred_ohm(full_pack_v / (rate_c * capacity_ah)) if own_ohm is None else own_ohm
    needed_w = rating_w(full_pack_v * resistor_current_a(full_pack_v, ohm))
    if own_w is not None and own_w < needed_w:
        sentence = f"A resistor of {ohm_figure(ohm)} gets too hot on this pack: use one rated for {Figure(needed_w, WATTS)} or more."
        raise Refused(Problem("resistor_w", sentence))
    return Load(
        draws=partial(resistor_current_a, resistor_ohm=ohm),
        tolerance=fraction_from_percent(RESISTOR_TOLERANCE_PERCENT.value),
        ohm=ohm,
        rated_w=needed_w if own_w is None else own_w,
    )


def lamps_for(*, full_pack_v: float, capacity_ah: float, lamp_v: float, lamp_w: float) -> Load:
    """Return the row of filament lamps that empties a pack, none of them above its own voltage. Voltage and watts are those on one lamp.

        n = V_full / V_lamp, rounded up;  I = P / V_lamp x (V / (n V_lamp))^0.55

    Refuses lamps that draw more than the pack may give.

    >>> lamps_for(full_pack_v=25.2, capacity_ah=5.0, lamp_v=12.0, lamp_w=21.0).lamps
    3
    """
    lamps = lamps_in_series(full_pack_v, lamp_v)
    draws = partial(lamp_current_a, lamps=lamps, lamp_v=lamp_v, lamp_w=lamp_w)
    most_a = EMPTYING_MOST_RATE_C.value * capacity_ah
    if draws(full_pack_v) > most_a:
        fitting_w = down_to_step(lamp_w * most_a / draws(full_pack_v), 1)
        use = (
            f"use lamps of {Figure(fitting_w, WATTS)} at most for {Figure(lamp_v, SUPPLY_VOLTS)}"
            if fitting_w >= _SMALLEST_LAMP_W
            else "use a resistor"
        )
        drawn = Figure(draws(full_pack_v), AMPERES)
        sentence = f"These lamps would draw {drawn}, more than {Figure(EMPTYING_MOST_RATE_C.value, RATE.as_it_is)} of this pack: {use}."
        raise Refused(Problem("lamp_w", sentence))
    return Load(draws=draws, tolerance=fraction_from_percent(LAMP_TOLERANCE_PERCENT.value), lamps=lamps)
