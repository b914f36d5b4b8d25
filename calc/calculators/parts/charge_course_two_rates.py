"""Two charges of one pack side by side, each at a rate of its own, and the minutes that the faster one saves."""

from dataclasses import dataclass

from calc.figures.quantities import AMPERES, MINUTES, RATE, WATT_HOURS, Figure
from calc.figures.showing import Range, Row, Table
from calc.figures.spans import Span
from calc.physics.pack.packs import rate_c_of_current
from calc.presenting.ranges import minutes_range
from calc.rules.charge.charge_outlook import Outlook


@dataclass(frozen=True, slots=True)
class AtRate:
    """A charge at one rate: its current, what limits that, and how the charge goes."""

    current_a: float
    because: str
    outlook: Outlook


def two_rates(*charges: AtRate, capacity_mah: float, current_step_a: float) -> Table:
    """Return the table with one row for each charge."""
    return Table(
        caption="Two rates side by side, most likely course",
        columns=("Current", "Rate", "Set by", "To full", "At the full current", "At the full voltage", "Heat in the pack"),
        rows=tuple(
            Row(
                heading=str(Figure(charge.current_a, AMPERES.to_step(current_step_a))),
                cells=(
                    Figure(rate_c_of_current(capacity_mah, charge.current_a), RATE.as_it_is),
                    charge.because,
                    Figure(charge.outlook.charge_min.likely, MINUTES),
                    Figure(charge.outlook.coming.constant_current_min.likely, MINUTES),
                    Figure(charge.outlook.coming.constant_voltage_min.likely, MINUTES),
                    Figure(charge.outlook.coming.heat_wh.likely, WATT_HOURS),
                ),
            )
            for charge in charges
        ),
    )


def saved(one: AtRate, other: AtRate) -> Range | None:
    """Return the minutes between two charges, or None where there is less than half of one.

    They are compared run by run, since both are of the same pack: the ends of the two forecasts do not combine freely.
    """
    first, second = one.outlook.coming, other.outlook.coming
    runs = [(first.likely, second.likely), *zip(first.corners, second.corners, strict=True)]
    minutes = [abs(at_one.time_min - at_other.time_min) for at_one, at_other in runs]
    if max(minutes) < 0.5:
        return None
    return minutes_range(
        Span(min(minutes), minutes[0], max(minutes)),
        "the state of charge at the start, and the resistance",
        note="A faster charge ends its constant current sooner, and then takes longer at the full voltage.",
    )
