"""The steps of a charge from its start on: when to look, and what to do once it is done."""

from __future__ import annotations

from calc.calculators.parts.charge_settings_known import Measured
from calc.figures.quantities import CELL_VOLTS, MILLIAMPERE_HOURS, MINUTES, Figure
from calc.figures.showing import Blank, Step

FIRST_LOOK_MIN = 5
LOOK_EVERY_MIN = 15


def charging_steps(settings: Measured) -> tuple[Step, ...]:
    """Return the steps from the last comparison to the likely end; the tick that starts the charge starts its timers."""
    expected = settings.charge_time.likely
    return (
        Step(
            key="count-again",
            act="compare",
            title="Compare before you start",
            say="The charger has counted the cells by itself, and its count, mode and current are those of this card. If one "
            "differs, stop and unplug.",
            figure=settings.cells.figure,
            set_by=settings.cells.set_by,
            asks_count=True,
            done="All is as on this card",
            writes=(Blank(title="Cells counted"),),
        ),
        Step(
            key="start",
            act="start",
            title="Start the charge",
            say="The time runs from this tick. From here on you stay within sight, awake.",
            starts=("first-look", "expected-end"),
            done="It charges",
            writes=(Blank(title="Started at"),),
        ),
        Step(
            key="first-look",
            act="look",
            title="First look",
            say="The current is that of the card, every cell rises, and the pack is no warmer than the air.",
            timer=Figure(FIRST_LOOK_MIN, MINUTES),
            starts=("next-look",),
            done="They rise together",
        ),
        Step(
            key="next-look",
            act="feel",
            title="Look again, and again",
            say="Feel the pack, read the cells: they stay together. You are called again after each look. Tick this once the current falls.",
            timer=Figure(LOOK_EVERY_MIN, MINUTES),
            timer_repeats=True,
            done="The current falls",
        ),
        Step(
            key="expected-end",
            act="wait",
            title="The likely end",
            say="If the charger still runs when this is up, compare what it has put in with the card.",
            figure=expected,
            set_by="the forecast; balancing comes on top",
            timer=expected,
            on_top=True,
            done="Done, or compared",
        ),
    )


def steps_afterwards() -> tuple[Step, ...]:
    """Return the steps once the charger says done."""
    return (
        Step(
            key="done",
            act="full",
            title="The charger says done",
            say="Every cell is at its full voltage, and they are level.",
            stops=("next-look", "expected-end"),
            done="They are level",
        ),
        Step(
            key="unplug",
            act="unplug",
            title="Unplug, in this order",
            say="Balance lead, then the pack from the main lead, then the main lead from the charger, then the supply.",
            done="All is unplugged",
        ),
        Step(
            key="feel",
            act="feel",
            title="Look and feel once more",
            say="No swelling, no smell, at most hand-warm. Let it cool before it flies.",
            done="It is sound",
        ),
        Step(
            key="note",
            act="write",
            title="Write it down",
            say="Minutes, mAh put in, the lowest and the highest cell: next time you will see it age.",
            takes_note=True,
            logs_as=("put_in_mah", "line_degc", "to_v", "each_mohm"),
            writes=(
                Blank(title="Time", quantity=MINUTES),
                Blank(title="Put in", quantity=MILLIAMPERE_HOURS),
                Blank(title="Lowest and highest cell", quantity=CELL_VOLTS, boxes=2),
            ),
        ),
    )
