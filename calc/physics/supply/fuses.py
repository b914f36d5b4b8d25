"""The fuse in a supply lead: large enough for the load, small enough for the wire."""

from __future__ import annotations

from calc.facts.fuses import BLADE_FUSES, FUSE_OVER_LOAD, BladeFuse


def fuse_carries_a(rating_a: float) -> float:
    """Return the current that a fuse carries hour after hour, A: I = rating / 1.25.

    Source: NEC 210.20(A).

    >>> fuse_carries_a(25)
    20.0
    """
    return rating_a / FUSE_OVER_LOAD.value


def fuse_in_lead_a(wire_a: float, fitted_a: float | None) -> float:
    """Return the rating of the fuse that a lead is counted with, A: the one fitted, or the largest that still protects the wire.

        rating <= what the wire may carry

    A fitted fuse that is too large protects nothing, and the lead is counted with the one that belongs there; so is one with no fuse.
    0 A for a wire that may carry less than the smallest blade fuse.

    Source: 33 CFR 183.455, tightened from 150 % of the wire's current to 100 %; ISO 8820-3 for the ratings.

    >>> fuse_in_lead_a(wire_a=25, fitted_a=None), fuse_in_lead_a(wire_a=25, fitted_a=10), fuse_in_lead_a(wire_a=25, fitted_a=30)
    (25, 10, 25)
    """
    if fitted_a is not None and fitted_a <= wire_a:
        return fitted_a
    fuse = largest_fuse_for_wire(wire_a)
    return fuse.rating_a.value if fuse else 0


def fuse_for(current_a: float, wire_a: float) -> BladeFuse | None:
    """Return the smallest blade fuse that carries a current for hours and still protects the wire, or None: the wire is too thin for it.

        1.25 x I <= rating <= what the wire may carry        in A

    Source: NEC 210.20(A) below, 33 CFR 183.455 above (tightened from 150 % of the wire's current to 100 %).

    >>> fuse_for(current_a=20, wire_a=35).rating_a.value, fuse_for(current_a=20, wire_a=20)
    (25, None)
    """
    fitting = (fuse for fuse in BLADE_FUSES if fuse.rating_a.value <= wire_a and current_a <= fuse_carries_a(fuse.rating_a.value))
    return next(fitting, None)


def largest_fuse_for_wire(wire_a: float) -> BladeFuse | None:
    """Return the largest blade fuse that still protects a wire, rating <= what it may carry in A; None below the smallest rating.

    Source: 33 CFR 183.455, tightened from 150 % of the wire's current to 100 %.

    >>> largest_fuse_for_wire(20).colour
    'yellow'
    """
    return max((fuse for fuse in BLADE_FUSES if fuse.rating_a.value <= wire_a), key=lambda fuse: fuse.rating_a.value, default=None)
