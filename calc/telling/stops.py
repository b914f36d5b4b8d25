"""The stops to set on the charger: they end a charge that went wrong, and a discharge before it harms a cell."""

from __future__ import annotations

from calc.asking.equipment import ChargerEntries, PackEntries
from calc.facts.chemistries import Chemistry
from calc.facts.practice import CAPACITY_CUTOUT_MARGIN, TEMPERATURE_STOP_DEGC, TIME_CUTOUT_MIN
from calc.figures.limits import Limit, lowest
from calc.figures.quantities import (
    CELL_VOLTS,
    CELLS,
    DEGREES_CELSIUS,
    MILLIAMPERE_HOURS,
    MINUTES,
    PACK_AMPERES,
    PACK_VOLTS,
    Figure,
)
from calc.figures.rounding import down_to_step, up_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Setting
from calc.figures.units import mah_from_ah
from calc.physics.charge_outlook import Outlook
from calc.physics.discharge_limits import discharge_current_limits, discharge_power_limit

# A time cut-out is dialled in tens of minutes.
_TIME_STEP_MIN = 10


def stops_of(pack: PackEntries, charger: ChargerEntries, chemistry: Chemistry, outlook: Outlook) -> dict[str, Setting | None]:
    """Return the stops to set on the charger, by name: capacity, time, temperature, and those of a discharge.

        capacity = up to step (1.1 x the lower of label and most charge to come)        time = 120 min, or longer if needed

    Args:
        pack: the pack's entries.
        charger: the charger's entries.
        chemistry: the pack's facts.
        outlook: the charge to come.

    Returns:
        Settings, each with what set it; `discharge_current` is None where the charger's is not known.

    Source: `facts.practice`; IEC 62133-2 for the standard's temperature.

    >>> from calc.facts.chemistries import CHEMISTRIES
    >>> from calc.physics.readings import clear_reading
    >>> from calc.physics.charge_outlook import outlook_of
    >>> pack = PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.1,), pack_degc=25,
    ...                    label_charge_rate_c=1, label_discharge_rate_c=35)
    >>> charger = ChargerEntries(charger_current_a=5, charger_power_w=50, charger_cells=6, balance_ports=1, port_cells=6,
    ...                          current_step_a=0.1, capacity_step_mah=100, charger_input_least_v=11,
    ...                          efficiency_percent=85)
    >>> lipo = CHEMISTRIES["lipo"]
    >>> outlook = outlook_of(pack, charger, lipo, clear_reading(pack, lipo), current_a=2.6)
    >>> stops_of(pack, charger, lipo, outlook)["time_cutout"].figure.number
    '120'
    """
    label_mah = pack.capacity_mah * CAPACITY_CUTOUT_MARGIN.value
    needed_mah = mah_from_ah(outlook.charge_in_ah.most) * CAPACITY_CUTOUT_MARGIN.value
    cutout_mah = up_to_step(max(min(label_mah, needed_mah), charger.capacity_step_mah), charger.capacity_step_mah)
    from_state = needed_mah < label_mah
    stop_degc = TEMPERATURE_STOP_DEGC.value
    standard_degc = chemistry.temperatures.charge_most_degc.value
    careful, maker = chemistry.careful_cutoff_cell_v, chemistry.maker_cutoff_cell_v
    return {
        "capacity_cutout": Setting(
            figure=Figure(cutout_mah, MILLIAMPERE_HOURS.to_step(charger.capacity_step_mah)),
            set_by="a tenth more than it can take from its state now, rounded up to the charger's step" if from_state
            else "a tenth more than the label, rounded up to the charger's step",
            note="The margin is common practice, no source.",
        ),
        "time_cutout": _time_cutout(outlook),
        "temperature_stop": Setting(
            figure=Figure(stop_degc, DEGREES_CELSIUS, "down"),
            set_by="common practice, no source",
            note=worded(
                "The standard's charging range ends at {} by IEC 62133-2, from memory: the stricter of the two, if your charger "
                "can be set to it.",
                Figure(standard_degc, DEGREES_CELSIUS, "down"),
            ),
        ),
        "discharge_cutoff": Setting(
            figure=Figure(careful.value, CELL_VOLTS),
            set_by="common practice, with a margin",
            note=f"The maker's own limit is {Figure(maker.value, CELL_VOLTS)}, which leaves none for the weakest cell.",
        ),
        "pack_discharge_cutoff": Setting(
            figure=Figure(pack.cells * careful.value, PACK_VOLTS),
            set_by=f"{Figure(careful.value, CELL_VOLTS)} for each of {Figure(pack.cells, CELLS)}",
        ),
        "discharge_current": _discharge_current(pack, charger, chemistry),
    }


def _time_cutout(outlook: Outlook) -> Setting:
    needed_min = up_to_step(outlook.whole_min.most, _TIME_STEP_MIN)
    if needed_min <= TIME_CUTOUT_MIN.value:
        return Setting(
            figure=Figure(TIME_CUTOUT_MIN.value, MINUTES),
            set_by="common practice, no source",
            note="The longest time predicted, balancing included, is within it.",
        )
    return Setting(
        figure=Figure(needed_min, MINUTES),
        set_by="the longest time predicted, balancing included, rounded up to ten minutes",
        note=f"Longer than the usual {Figure(TIME_CUTOUT_MIN.value, MINUTES)}: {outlook.slow_because}.",
    )


def _discharge_current(pack: PackEntries, charger: ChargerEntries, chemistry: Chemistry) -> Setting | None:
    if charger.discharge_current_a is None:
        return None
    limits = discharge_current_limits(pack, charger)
    power = discharge_power_limit(charger)
    if power is not None:
        full_pack_v = pack.cells * chemistry.full_cell_v.value
        limits.append(Limit(power.ceiling / full_pack_v, f"{power.because}, at the full voltage"))
    binding = lowest(limits)
    current_a = down_to_step(binding.ceiling, charger.current_step_a)
    amperes = PACK_AMPERES.to_step(charger.current_step_a)
    if current_a == 0:
        return Setting(figure=worded("less than {}", Figure(charger.current_step_a, amperes)), set_by=binding.because)
    return Setting(figure=Figure(current_a, amperes), set_by=binding.because)
