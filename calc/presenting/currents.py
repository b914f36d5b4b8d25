"""A current to dial in, with the limit that set it and all that were compared."""

from __future__ import annotations

from collections.abc import Sequence

from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.figures.limits import Limit
from calc.figures.quantities import PACK_AMPERES, RATE, Figure, Quantity
from calc.figures.rounding import down_to_step
from calc.figures.showing import Ceiling, Setting
from calc.physics.pack.packs import rate_c_of_current


def current_setting(
    pack: PackEntries,
    charger: ChargerEntries,
    current_a: float,
    binding: Limit,
    limits: Sequence[Limit],
    quantity: Quantity = PACK_AMPERES,
) -> Setting:
    """Return a current ready to be shown, with its rate and every limit that was compared, lowest first.

    Args:
        pack: the pack's entries.
        charger: the charger's entries.
        current_a: on a step of the charger, A.
        binding: the limit that set it.
        limits: all of them, in A.
        quantity: amperes of one pack, which can be shown in C; plain amperes where several packs are charged as one.

    Returns:
        The setting.

    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), pack_degc=20, label_charge_rate_c=1)
    >>> charger = ChargerEntries(charger_current_a=5, charger_power_w=50, charger_cells=6, balance_ports=1, port_cells=6,
    ...                          current_step_a=0.1, capacity_step_mah=100, charger_input_least_v=11,
    ...                          efficiency_percent=85)
    >>> label = Limit(2.65, "the label")
    >>> current_setting(pack, charger, 2.6, label, [label]).ceilings[0].figure.number
    '2.65'
    """
    amperes = quantity.to_step(charger.current_step_a)
    fine_step_a = min(charger.current_step_a, 0.01)
    return Setting(
        figure=Figure(current_a, amperes),
        also=Figure(rate_c_of_current(pack.effective_capacity_mah, current_a), RATE),
        set_by=binding.because,
        note=f"Rounded down to the charger's step of {Figure(charger.current_step_a, amperes)}.",
        ceilings=tuple(
            Ceiling(
                because=limit.because,
                figure=Figure(down_to_step(limit.ceiling, fine_step_a), quantity.to_step(fine_step_a)),
                binds=limit is binding,
            )
            for limit in sorted(limits, key=lambda limit: limit.ceiling)
        ),
    )
