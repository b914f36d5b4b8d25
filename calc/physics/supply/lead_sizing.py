"""Which lead for which length: the thinnest that loses little enough, may carry the current, and can be fused."""

from __future__ import annotations

from collections.abc import Sequence

from calc.physics.supply.fuses import fuse_carries_a, fuse_for
from calc.physics.supply.leads import allowed_current_a, lead_resistance_ohm


def carries(area_mm2: float, current_a: float) -> bool:
    """Return whether a lead of this cross-section, mm², may carry a current, A, for hours with a fuse that protects it.

        1.25 x I <= fuse <= what the wire may carry; above the largest blade fuse, 1.25 x I <= what the wire may carry

    Source: 33 CFR 183.425 and 183.455, NEC 210.20(A), ISO 8820-3.

    >>> carries(2.5, 16), carries(2.5, 17)
    (True, False)
    """
    wire_a = allowed_current_a(area_mm2)
    if fuse_for(current_a, wire_a):
        return True
    # Past the largest blade fuse another kind is fitted, of a rating that we do not know: none may be rated above the wire.
    return fuse_for(current_a, float("inf")) is None and current_a <= fuse_carries_a(wire_a)


def thinnest_area_mm2(
    sizes_mm2: Sequence[float], *, length_m: float, current_a: float, most_drop_v: float, connector_ohm: float
) -> float | None:
    """Return the thinnest of several leads, mm² and rising, that will do for a length one way and a current; None if the thickest will not.

        I (R_lead + R_connectors) <= most drop in V, and `carries`

    Source: ABYC E-11 for the drop and for the rule to take the larger of the two sizes.

    >>> thinnest_area_mm2((1.5, 2.5, 4.0, 6.0), length_m=1.5, current_a=10, most_drop_v=0.36, connector_ohm=0)
    2.5
    """
    return next(
        (
            area_mm2
            for area_mm2 in sizes_mm2
            if current_a * (lead_resistance_ohm(length_m, area_mm2) + connector_ohm) <= most_drop_v and carries(area_mm2, current_a)
        ),
        None,
    )
