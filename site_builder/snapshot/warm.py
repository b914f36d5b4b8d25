"""Runs in Pyodide before its memory is kept: does once whatever a page may ask for, and fails once in every way.

From then on there is no library and no file. What Python imports late, for an answer or on the way of a fault, is here
after this, or it is nowhere.
"""

import json
import traceback
import warnings
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import NoReturn

from calc.answering import calculator, calculator_keys
from calc.figures.quantities import UNITS
from calc.inputs.equipment import PackEntries
from calc.inputs.fields import entries_of
from site_builder.engine.answer import ENVIRONMENT, respond_in_json
from site_builder.engine.restore import renew

import_module("jinja2.debug")  # by Jinja2 itself only once a template fails
import_module("site_builder.engine.qr_code")
ENVIRONMENT.get_template("parts/qr_code.html").render(size=1, bars="")
WORKED_EXAMPLES: str = globals()["worked_examples"]  # handed over by freeze.mjs


def ask(key: str, entries: Mapping[str, object], units: Mapping[str, str] | None = None) -> str:
    return respond_in_json(key, json.dumps(entries), json.dumps(units or {}))


def without_end() -> NoReturn:
    without_end()


def two_at_once() -> NoReturn:
    raise ExceptionGroup("two", [ZeroDivisionError("one"), ValueError("another")]) from ZeroDivisionError("first")


renew()
for key, entries in json.loads(WORKED_EXAMPLES):
    ask(key, entries)
    if hasattr(calculator(key), "so_far"):
        read = {name: text for name, text in entries.items() if name in entries_of(PackEntries)}
        ask(key, read)
        ask(key, read | {"resting_v": ""})
    for place in (0, -1):
        ask(key, entries, {kind: units[place].suffix for kind, units in UNITS.items()})
for key in calculator_keys():
    ask(key, {})
    ask(key, dict.fromkeys(entries_of(calculator(key).Inputs), "?"))

ANY = calculator_keys()[0]
FAULTS: tuple[Callable[[], object], ...] = (
    lambda: ask("none", {}),
    lambda: ask(ANY, dict.fromkeys(entries_of(calculator(ANY).Inputs), 3)),
    lambda: respond_in_json(ANY, "{"),
    "\ud800".encode,
    b"\xff".decode,
    lambda: eval("nothing"),
    lambda: eval("json.dunps"),
    lambda: __import__("calc.none"),
    without_end,
    two_at_once,
    lambda: 10.0**400,
    lambda: compile("one two", "none", "exec"),
    lambda: ENVIRONMENT.get_template("none.html"),
    lambda: ENVIRONMENT.from_string("{% if %}"),
    lambda: ENVIRONMENT.from_string("{{ none.none }}").render(),
    lambda: ENVIRONMENT.from_string("{{ 1 / 0 }}").render(),
    lambda: ENVIRONMENT.from_string("{% import 'parts/shown.html' as shown %}{{ shown.none() }}").render(),
)
for fault in FAULTS:
    try:
        fault()
    except Exception:  # noqa: BLE001  # each fails in a way of its own
        traceback.format_exc()
    else:
        raise AssertionError("this was meant to fail")

with warnings.catch_warnings(record=True):
    warnings.simplefilter("always")
    warnings.warn("once", stacklevel=1)
