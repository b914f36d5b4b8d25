"""The one door: a calculator's name and typed entries go in; an answer, an answer with what is missing, or a refusal comes out."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import ModuleType
from typing import Any

from calc import calculators
from calc.figures.counted import CountedPack
from calc.figures.quantities import Quantity
from calc.inputs.entries import read, read_so_far
from calc.inputs.equipment import LabelledPack
from calc.inputs.pack_units import counted_pack
from calc.inputs.refusals import Refusal, Refused
from calc.inputs.rows import out_of_row
from calc.presenting.chosen_units import Choices, InUnits, kinds_in, not_counted
from calc.presenting.partial_answers import PartialAnswer
from calc.rules.pack.findings import Standing

__all__ = ["AnswerInUnits", "PartialAnswer", "answer", "answer_in_units", "calculator", "calculator_keys", "standing_of"]


@cache
def calculator_keys() -> tuple[str, ...]:
    """Return the key of every calculator, in alphabetical order: the names of the modules in `calc.calculators`.

    What one of them alone needs stands in `calc.calculators.parts`, named after it.
    """
    return tuple(sorted(module.name for module in pkgutil.iter_modules(calculators.__path__) if not module.ispkg))


def calculator(key: str) -> ModuleType:
    """Return a calculator's module, which holds `Inputs`, `Answer` and `work_out`, and `so_far` where its answer grows with the entries.

    Raises:
        LookupError: the key is none of `calculator_keys()`. That is our fault, not the pilot's.
    """
    if key not in calculator_keys():
        raise LookupError(f"there is no calculator {key!r}")
    return importlib.import_module(f"calc.calculators.{key}")


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerInUnits:
    """A calculator's answer, whole or partial, or its refusal, in the units that were chosen.

    `units` pairs each quantity in it that has other units with the one in which it is shown; `remarks` says which choice
    could not be followed.
    """

    found: Any
    units: tuple[tuple[Quantity, Quantity], ...]
    remarks: tuple[str, ...]


def answer(key: str, entries: Mapping[str, str]) -> Any:
    """Return a calculator's answer to entries as typed, field name to text; a `Refusal` with every problem found, or a `PartialAnswer` where
    entries are merely missing and it can do without them.

    Raises:
        LookupError: an unknown key. Any other exception is a fault of ours and passes through.

    >>> [problem.sentence for problem in answer("voltages", {"chemistry": "lipo"}).problems]
    ['Enter the number of cells in series.']
    """
    return _worked_out(key, entries)[0]


def answer_in_units(key: str, entries: Mapping[str, str], choices: Choices) -> AnswerInUnits:
    """Return `answer` in the units that the pilot chose.

    `choices` leads from a kind of thing to the suffix of its unit, as `figures.quantities.UNITS` has them; empty for the units as asked.
    """
    found, pack = _worked_out(key, entries)
    in_units, held = InUnits(choices, pack), kinds_in(found)
    pairs = [(quantity, in_units.unit_of(quantity) or quantity) for quantity in sorted(held, key=lambda one: one.suffix)]
    return AnswerInUnits(found=in_units.shown(found), units=tuple(pairs), remarks=tuple(not_counted(held, choices, pack)))


def standing_of(found: Any) -> Standing:
    """Return what an answer or a refusal says of a pack beyond today: why it is out of use, or that a check of every cell has passed it."""
    if isinstance(found, Refusal):
        lasting = dict(reversed([out_of_row(problem) for problem in found.problems if problem.lasts]))  # the first of each row holds
        return Standing(taken_out=lasting.pop("", ""), rows_taken_out=lasting)
    return getattr(found, "standing", Standing())


def _worked_out(key: str, entries: Mapping[str, str]) -> tuple[Any, CountedPack]:
    chosen = calculator(key)
    try:
        if not hasattr(chosen, "so_far"):
            given = read(chosen.Inputs, entries)
            return chosen.work_out(given), counted_pack(given)
        entered = read_so_far(chosen.Inputs, entries)
        whole = entered.of(chosen.Inputs)
        found = chosen.so_far(entered) if whole is None else chosen.work_out(whole)
        return found, counted_pack(whole or entered.of(LabelledPack))
    except Refused as refused:
        return Refusal(refused.problems), CountedPack()
