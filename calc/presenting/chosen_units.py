"""An answer in the units that the pilot chose: every figure of it, in settings, sentences, tables and pictures.

The answer is worked out first, in the units of the label and the dial, and only then shown in others. What is rounded down as
a ceiling stays rounded down, and a range never gets narrower. A setting keeps the unit of the dial beside the chosen one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from operator import is_
from typing import Any

from calc.figures.counted import CountedPack
from calc.figures.quantities import UNITS, Band, Figure, Quantity, units_beside
from calc.figures.sentences import Sentence, worded
from calc.figures.showing import Ceiling, Panel, Range, Setting, Step

# Most of what an answer holds: it has no unit, and is passed over without a second look.
_WITHOUT_UNIT = frozenset({str, bool, int, float, type(None)})

# For each kind of thing, the suffix of the unit that was chosen. A kind that is not in it stays as it is asked.
Choices = Mapping[str, str]


class InUnits:
    """Shows things in chosen units. What C and watt-hours count from may be missing: then those stay as they are."""

    def __init__(self, choices: Choices, pack: CountedPack) -> None:
        """Take the choices; one that is not in `UNITS` is passed over."""
        self._chosen = {kind: unit for kind, units in UNITS.items() for unit in units if choices.get(kind) == unit.suffix}
        self._pack = pack

    def unit_of(self, quantity: Quantity) -> Quantity | None:
        """Return the unit in which a quantity is shown other than in its own.

        None where its own was chosen, or nothing, or where the pack does not tell how to count.

        >>> from calc.figures.quantities import DEGREES_FAHRENHEIT
        >>> InUnits({"temperature": "degf"}, CountedPack()).unit_of(DEGREES_FAHRENHEIT) is None
        True
        """
        unit = self._chosen.get(quantity.measures)
        if unit is None or unit.suffix == quantity.suffix:
            return None
        needed = quantity.counts_from(unit)
        return None if needed and self._pack.number(needed) is None else unit

    def shown(self, thing: Any) -> Any:
        """Return a thing that an answer holds, and all that is in it, in the chosen units; words as they are.

        >>> from calc.figures.quantities import DEGREES_CELSIUS
        >>> InUnits({"temperature": "degf"}, CountedPack()).shown(worded("Stop at {}.", Figure(49, DEGREES_CELSIUS, "down")))
        'Stop at 120\\xa0°F.'
        """
        if isinstance(thing, Figure):
            return self._figure(thing)
        if isinstance(thing, Band):
            return self._band(thing)
        if isinstance(thing, Sentence):
            return Sentence(thing.pattern, tuple(self._in_sentence(figure) for figure in thing.figures))
        if isinstance(thing, tuple):
            parts = [one if type(one) in _WITHOUT_UNIT else self.shown(one) for one in thing]
            return thing if all(map(is_, parts, thing)) else tuple(parts)
        names = _field_names(thing.__class__)
        if not names or isinstance(thing, Quantity):
            return thing
        if isinstance(thing, Panel):
            return self._panel(thing)
        changed = {name: self.shown(held) for name in names if type(held := getattr(thing, name)) not in _WITHOUT_UNIT}
        if isinstance(thing, (Setting, Step)):
            changed |= self._with_dial(thing)
        elif isinstance(thing, Range):
            changed |= self._ends(thing)
        elif isinstance(thing, Ceiling):
            changed["figure"] = self._figure(thing.figure, "down")
        # Most of an answer stays as it is, and to make it anew takes long.
        changed = {name: new for name, new in changed.items() if new is not getattr(thing, name)}
        return replace(thing, **changed) if changed else thing

    def _figure(self, figure: Figure, rounds: str = "") -> Figure:
        unit = self.unit_of(figure.quantity)
        return figure if unit is None else self._converted(figure, unit, figure.rounds or rounds)

    def _converted(self, figure: Figure, unit: Quantity, rounds: str) -> Figure:
        value = self._value(figure.value, figure.quantity, unit)
        if value is None:
            return figure
        if unit.falls:
            # What is rounded up to a thicker wire is rounded down as a number.
            rounds = {"up": "down", "down": "up"}.get(rounds, rounds)
        return Figure(value, unit.as_fine_as(figure, value), rounds)

    def _value(self, value: float, quantity: Quantity, unit: Quantity) -> float | None:
        try:
            return quantity.in_unit(value, unit, self._pack)
        except ValueError:  # no wire of that gauge
            return None

    def _band(self, band: Band) -> Band:
        return Band(self._figure(band.least, "down"), self._figure(band.most, "up"))

    def _in_sentence(self, figure: Figure | Band | str) -> Figure | Band | str:
        shown: Figure | Band | str = self.shown(figure)
        if isinstance(figure, (Figure, Band)) and (other := self._second(figure)) is not None:
            return worded("{} ({})", shown, other)
        return shown

    def _second(self, figure: Figure | Band) -> Any:
        """A temperature in °F too, as long as nothing was chosen."""
        if isinstance(figure, Band):
            ends = self._second(figure.least), self._second(figure.most)
            return None if None in ends else Band(*ends)
        kind = figure.quantity.measures
        beside = None if kind in self._chosen else next((unit for unit in UNITS.get(kind, ()) if unit.stands_beside), None)
        return None if beside is None else self._converted(figure, beside, figure.rounds)

    def _with_dial(self, thing: Setting | Step) -> dict[str, Any]:
        """The figure in the chosen unit, and beside it the one on the dial; without a choice, °F beside °C."""
        if not isinstance(thing.figure, Figure):
            return {}
        # A wire may be thicker than it must be, and nothing else may be more.
        shown = self._figure(thing.figure, "up" if thing.figure.quantity.measures == "wire" else "down")
        is_other_unit = isinstance(thing.also, Figure) and thing.also.quantity.measures == thing.figure.quantity.measures
        if thing.also is not None and not is_other_unit:
            return {"figure": shown, "also": self.shown(thing.also)}
        if shown is not thing.figure:
            return {"figure": shown, "also": thing.figure}
        return {"figure": shown, "also": thing.also or self._second(replace(thing.figure, rounds="down"))}

    def _ends(self, thing: Range) -> dict[str, Any]:
        ends = self._band(thing.ends)
        likely = None if thing.likely is None else self._figure(thing.likely)
        beside = self._second(Band(replace(thing.least, rounds="down"), replace(thing.most, rounds="up")))
        return {"least": ends.least, "most": ends.most, "likely": likely, "beside": beside}

    def _panel(self, panel: Panel) -> Panel:
        unit = self.unit_of(panel.quantity)
        if unit is None or unit.falls:
            return panel

        def converted(line: tuple[float, ...]) -> tuple[float, ...]:
            return tuple(panel.quantity.in_unit(value, unit, self._pack) for value in line)

        least, most = converted((panel.least, panel.most))
        return replace(
            panel,
            quantity=unit,
            least=least,
            most=most,
            likely=converted(panel.likely),
            lowest=converted(panel.lowest),
            highest=converted(panel.highest),
            points=tuple(zip((place for place, _ in panel.points), converted(tuple(value for _, value in panel.points)), strict=True)),
            levels=self.shown(panel.levels),
        )


def kinds_in(thing: Any) -> frozenset[Quantity]:
    """Return the quantities in an answer's parts that can be shown in other units, without the decimals of a dial.

    >>> from calc.figures.quantities import RATE
    >>> [quantity.sign for quantity in kinds_in((Figure(1, RATE), "words"))]
    ['C']
    """
    found: set[Quantity] = set()
    left = [thing]
    while left:
        part = left.pop()
        if isinstance(part, Quantity):
            found.update(unit for unit in UNITS.get(part.measures, ()) if unit.suffix == part.suffix)
        elif isinstance(part, tuple):
            left += part
        elif isinstance(part, Sentence):
            left += part.figures
        else:
            left += [held for name in _field_names(part.__class__) if type(held := getattr(part, name)) not in _WITHOUT_UNIT]
    return frozenset(found)


@cache
def _field_names(kind: type) -> tuple[str, ...]:
    """The fields of a dataclass; none of anything else. An answer has hundreds of parts of a few kinds."""
    return tuple(one.name for one in fields(kind)) if is_dataclass(kind) else ()


def not_counted(quantities: frozenset[Quantity], choices: Choices, pack: CountedPack) -> list[str]:
    """Return a sentence for each chosen unit that cannot be shown, since the page knows no pack to count from.

    >>> from calc.figures.quantities import MILLIAMPERE_HOURS
    >>> not_counted(frozenset({MILLIAMPERE_HOURS}), {"capacity": "wh"}, CountedPack(capacity_ah=2.65))
    ['Wh needs one pack, with its chemistry and its cells: capacities stay in mAh here.']
    """
    in_units = InUnits(choices, pack)
    found = []
    for quantity in sorted(quantities, key=lambda one: one.suffix):
        chosen = choices.get(quantity.measures)
        unit = next((unit for unit in units_beside(quantity)[1:] if unit.suffix == chosen), None)
        if unit is None or in_units.unit_of(quantity) is not None:
            continue
        if quantity.counts_from(unit) == "nominal_v":
            found.append(f"{unit.sign} needs one pack, with its chemistry and its cells: capacities stay in {quantity.sign} here.")
        else:
            found.append(f"{unit.sign} needs one pack, with its capacity: what is in {quantity.sign} stays so here.")
    return found
