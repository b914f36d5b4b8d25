"""A current to dial in, with the limit that set it and all that were compared."""

from __future__ import annotations

from collections.abc import Sequence

from calc.figures.limits import Limit
from calc.figures.quantities import PACK_AMPERES, RATE, Figure, Quantity
from calc.figures.rounding import down_to_step
from calc.figures.showing import Ceiling, Setting
from calc.inputs.equipment import FINEST_CURRENT_STEP_A, LabelledPack
from calc.physics.pack.packs import rate_c_of_current

_MOST = "The most that it may have: dial in the highest step of your charger that is not above it."


def current_setting(
    *,
    pack: LabelledPack,
    current_step_a: float | None,
    current_a: float,
    binding: Limit,
    limits: Sequence[Limit],
    quantity: Quantity = PACK_AMPERES,
) -> Setting:
    """Return a current on a step of the charger, with its rate and every limit that was compared, the lowest first.

    The quantity is amperes of one pack, which can be shown in C, or plain amperes where several packs are charged as one. Of a charger
    that is not known yet the step is None.
    """
    step_a = FINEST_CURRENT_STEP_A if current_step_a is None else current_step_a
    amperes = quantity.to_step(step_a)
    return Setting(
        figure=Figure(current_a, amperes),
        also=Figure(rate_c_of_current(pack.effective_capacity_mah, current_a), RATE),
        set_by=binding.because,
        note=_MOST if current_step_a is None else f"Rounded down to the charger's step of {Figure(step_a, amperes)}.",
        ceilings=tuple(
            Ceiling(
                because=limit.because,
                figure=Figure(down_to_step(limit.ceiling, FINEST_CURRENT_STEP_A), quantity.to_step(FINEST_CURRENT_STEP_A)),
                binds=limit is binding,
            )
            for limit in sorted(limits, key=lambda limit: limit.ceiling)
        ),
    )
