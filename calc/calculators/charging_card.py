"""How do I charge this pack, step by step, from an empty table to the pack unplugged?

The settings are those of `charge_settings`, each with the limit that set it; nothing is worked out a second time. Assumes that
the pilot stays with the pack from the first step to the last.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc.calculators import charge_settings
from calc.calculators.parts.charge_settings_known import Measured
from calc.calculators.parts.charging_card_looks import charging_steps, steps_afterwards
from calc.facts.chemistries import CHEMISTRIES, Chemistry
from calc.facts.practice import SPREAD_TO_WATCH_CELL_V
from calc.facts.warmth import WARMTHS
from calc.figures.quantities import CELL_VOLTS, MILLIAMPERE_HOURS, PERCENT, SUPPLY_VOLTS, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Blank, Caution, Range, Setting, Step, Steps, shown
from calc.inputs.entered import Entered
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.known_pack import COLD
from calc.inputs.refusals import Refused, within_sentence
from calc.inputs.supply import SupplyEntries
from calc.presenting.partial_answers import PartialAnswer
from calc.rules.supply.battery_floor import floor_of

# What is compared with the charger again and again while it works.
ON_TOP = ("full", "current", "capacity", "time", "temperature")


@dataclass(frozen=True, kw_only=True)
class Inputs(charge_settings.Inputs):
    """The same entries as for the settings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The steps in the order in which they are done, and what ends the charge at once."""

    charge_current: Setting = shown("Charge current")
    charge_time: Range = shown("Minutes to full")
    cautions: tuple[Caution, ...] = shown("Look out")
    stop_at_once: tuple[Caution, ...] = shown("Stop the charge at once if", "Stop the charge at once if")
    steps: tuple[Steps, ...] = shown("Steps", "Step by step")


def work_out(given: Inputs) -> Answer:
    """Return one charge as steps to tick; their order is common practice, no source.

    There is no card for a charge that `charge_settings` refuses.
    """
    return _card(charge_settings.work_out(given), pack=given, charger=given, supply=given)


def so_far(entered: Entered) -> PartialAnswer:
    """Return the card of a pack that was read, by whatever is entered of charger and supply.

    There is none for a pack that was not: refuses its readings as missing, and what `charge_settings` refuses.
    """
    partial, pack = charge_settings.so_far(entered), entered.of(PackEntries)
    if pack is None:
        raise Refused(*entered.missing_of(PackEntries))
    return replace(partial, known=_card(partial.known, pack=pack, charger=entered.of(ChargerEntries), supply=entered.of(SupplyEntries)))


def _card(settings: Measured, *, pack: PackEntries, charger: ChargerEntries | None, supply: SupplyEntries | None) -> Answer:
    return Answer(
        charge_current=settings.charge_current,
        charge_time=settings.charge_time,
        cautions=settings.cautions,
        stop_at_once=_stop_at_once(settings),
        steps=(
            Steps(title="Before anything is plugged in", steps=_before(pack, supply, settings)),
            Steps(title="Plug in, in this order", steps=_plugging_in(charger, settings)),
            Steps(title="Set the charger", steps=_dialling(settings, charger)),
            Steps(title="Start, and stay", steps=charging_steps(settings)),
            Steps(title="When it is done", steps=steps_afterwards()),
        ),
    )


def _stop_at_once(settings: Measured) -> tuple[Caution, ...]:
    stop = settings.temperature_stop
    return tuple(
        Caution(sentence=sentence, grave=True)
        for sentence in (
            "The pack swells, smells, hisses or smokes: get away from it, and open the page for a pack in trouble.",
            worded("The pack reaches {}, or is too warm to hold.", stop.figure),
            f"A cell reads above {settings.full_voltage.set_by.split(' for')[0]}.",
            "The charger shows another cell count, another mode or a higher current than this card.",
            _not_done(settings),
            "You have to leave.",
        )
    )


def _not_done(settings: Measured) -> str:
    if isinstance(settings.capacity_cutout.figure, str):
        return worded("It is not done at the time cut-out, {}.", settings.time_cutout.figure)
    return worded("It is not done at the time cut-out, {}, or after {}.", settings.time_cutout.figure, settings.capacity_cutout.figure)


def _before(pack: PackEntries, supply: SupplyEntries | None, settings: Measured) -> tuple[Step, ...]:
    return (
        Step(
            key="label",
            act="label",
            title="Compare the label in your hand",
            say="The card's numbers are those of one pack. Its kind, its cells and its capacity are on the label just like this. If one "
            "differs, this is the card of another pack: end it.",
            figure=worded(
                "{}, {}, {}", settings.chemistry_mode.figure, settings.cells.figure, Figure(pack.capacity_mah, MILLIAMPERE_HOURS)
            ),
            set_by="the label that you entered",
            done="It is this pack",
        ),
        Step(
            key="place",
            act="place",
            title="Choose the place",
            say="A surface that does not burn, nothing that burns within reach, shade, and a clear way out. Not in a vehicle, "
            "not in the model, not where somebody sleeps. Water to cool it is within reach.",
            done="It is safe here",
        ),
        Step(key="look", act="feel", title="Look at the pack, and feel it", say=_felt_said(pack), done="It is sound"),
        Step(
            key="cells",
            act="measure",
            title="Read every cell",
            say=_cells_said(pack, CHEMISTRIES[pack.chemistry]),
            done="They are as they must be",
            writes=(Blank(title="Cells", quantity=CELL_VOLTS, boxes=int(pack.cells)),),
        ),
        _of_supply(supply),
    )


def _felt_said(pack: PackEntries) -> str:
    if pack.pack_warmth in (None, COLD):
        return "No swelling, dent, tear, smell or bare wire, and no warmth. If you find any, this charge ends here."
    return worded(
        "No swelling, dent, tear, smell or bare wire. If you find any, this charge ends here. You said that it feels "
        f"{pack.pack_warmth}, {{}}: if it feels otherwise now, enter it anew.",
        WARMTHS[pack.pack_warmth].span,
    )


def _of_supply(supply: SupplyEntries | None) -> Step:
    if supply is None:
        return Step(
            key="supply",
            act="supply",
            title="Check the supply",
            say="You entered nothing about it, so these figures do not count its limits. A battery has rested; a mains supply is dry and whole.",
        )
    if supply.is_lead_acid:
        return Step(
            key="supply",
            act="battery",
            title="Check the battery",
            say="It rests at the voltage that you entered, its terminals are tight, and no flame or spark is near it.",
            figure=Figure(supply.battery_resting_v, SUPPLY_VOLTS),
            set_by=f"your entry; its floor is at {Figure(floor_of(supply).value, PERCENT)} charged",
        )
    return Step(
        key="supply",
        act="supply",
        title="Check the power supply",
        say="It is dry, its cable is whole, and nothing covers its vents. Leave it off.",
        figure=Figure(supply.supply_v, SUPPLY_VOLTS),
        set_by="your entry",
    )


def _cells_said(given: PackEntries, chemistry: Chemistry) -> str:
    floor, full = (Figure(one.value, CELL_VOLTS) for one in (chemistry.never_below_cell_v, chemistry.full_cell_v))
    if len(given.resting_v) < given.cells:
        apart = Figure(SPREAD_TO_WATCH_CELL_V.value, CELL_VOLTS)
        return (
            "You entered the whole pack alone: this card holds until every cell has been read. Each lies between "
            f"{floor} and {full}, and they differ by no more than {apart}. If not, enter each of them before you go on."
        )
    if given.cells == 1:
        return f"It lies between {floor} and {full}. If it has moved since, enter it anew."
    apart = Figure(max(SPREAD_TO_WATCH_CELL_V.value, max(given.resting_v) - min(given.resting_v)), CELL_VOLTS)
    return f"Each lies between {floor} and {full}, and they differ by no more than {apart}. If one has moved since, enter them anew."


def _plugging_in(charger: ChargerEntries | None, settings: Measured) -> tuple[Step, ...]:
    if settings.ports is not None:
        plugs = (f"{within_sentence(row.heading)}, into {row.cells[0]}: the charger shows {row.cells[2]}" for row in settings.ports.rows)
        ports = f"with its two plugs, {'; '.join(plugs)}"
    elif charger is None:
        ports = "into a balance port that takes all of its cells; of a pack with two plugs the first, at the minus, into the first port"
    else:
        ports = "into one balance port"
    return (
        Step(
            key="supply-lead",
            act="supply-lead",
            title="Charger to the supply",
            say="Red to plus, black to minus, then switch the supply on. The charger lights up and shows no fault.",
        ),
        Step(
            key="main-lead",
            act="main-lead",
            title="Main lead",
            say="First the lead into the charger, then the pack onto the lead, red to red. Never the other way round: bare plugs touch and burn.",
        ),
        Step(
            key="balance-lead",
            act="balance-plug",
            title="Balance lead",
            say=f"Push it in the right way round, {ports}. Never charge a pack of several cells without it.",
            figure=settings.cells.figure,
            set_by=settings.cells.set_by,
        ),
    )


def _dialling(settings: Measured, charger: ChargerEntries | None) -> tuple[Step, ...]:
    asked: tuple[tuple[str, str, Setting, str], ...] = (
        ("mode", "Chemistry mode", settings.chemistry_mode, "Choose the balance charge of this mode."),
        ("count", "Cells", settings.cells, f"The label calls it {settings.cells.also}."),
        ("size", "Capacity", settings.capacity_setting, "Where the charger asks for it."),
        ("full", "Full voltage", settings.full_voltage, "What the charger shows for this mode and these cells."),
        ("current", "Charge current", settings.charge_current, "Set exactly this figure." if charger else settings.charge_current.note),
        ("capacity", "Charge capacity cut-out", settings.capacity_cutout, _counted(settings)),
        ("time", "Time cut-out", settings.time_cutout, "The charger stops when this time is up."),
        ("temperature", "Temperature stop", settings.temperature_stop, "With a probe on the pack if you have one, else by hand."),
    )
    return tuple(
        Step(
            key=f"set-{key}",
            act="set",
            title=title,
            say=say,
            figure=setting.figure,
            set_by=setting.set_by,
            on_top=key in ON_TOP,
            done="It is set",
        )
        for key, title, setting, say in asked
    )


def _counted(settings: Measured) -> str:
    cutout = settings.capacity_cutout
    return cutout.note if isinstance(cutout.figure, str) else "The charger stops when it has put this much in."
