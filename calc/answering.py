"""The one door: a calculator's name and typed entries go in, an answer or a refusal comes out, never half of one."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from types import ModuleType
from typing import Any

from calc import calculators
from calc.asking.entries import read
from calc.asking.refusals import Refusal, Refused


@cache
def calculator_keys() -> tuple[str, ...]:
    """Return the key of every calculator: the names of the modules in `calc.calculators`.

    Returns:
        Keys in alphabetical order.

    Source: none; no number is involved.

    >>> "charge_settings" in calculator_keys()
    True
    """
    return tuple(sorted(module.name for module in pkgutil.iter_modules(calculators.__path__)))


def calculator(key: str) -> ModuleType:
    """Return a calculator's module, which holds `Inputs`, `Answer` and `work_out`.

    Args:
        key: one of `calculator_keys()`.

    Returns:
        The module.

    Refuses:
        An unknown key raises LookupError: that is our fault, not the pilot's.

    Source: none; no number is involved.

    >>> calculator("voltages").__name__
    'calc.calculators.voltages'
    """
    if key not in calculator_keys():
        raise LookupError(f"there is no calculator {key!r}")
    return importlib.import_module(f"calc.calculators.{key}")


def answer(key: str, entries: Mapping[str, str]) -> Any:
    """Return a calculator's answer to entries as typed, or its refusal.

    Args:
        key: one of `calculator_keys()`.
        entries: field name to text, as typed.

    Returns:
        The calculator's Answer, or a Refusal with every problem found.

    Refuses:
        Nothing by exception but an unknown key, LookupError. Any other exception is a fault of ours and passes through.

    Source: none; no number is involved.

    >>> type(answer("voltages", {"cells": "0"})).__name__
    'Refusal'
    """
    chosen = calculator(key)
    try:
        return chosen.work_out(read(chosen.Inputs, entries))
    except Refused as refused:
        return Refusal(refused.problems)
