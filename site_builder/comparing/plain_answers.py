"""Answer questions with the calc that PYTHONPATH leads to, and write each answer as plain lines: place, kind, text.

Run by its path, with the calc of any commit: it takes nothing from this one, and knows an answer's types by their fields alone.

    python -P site_builder/comparing/plain_answers.py questions.json answers.json
"""

from __future__ import annotations

import inspect
import json
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path
from typing import Any

# The place of a value in its answer, what it is ("number": a number, a unit or a limit; "words": the rest), and its text.
Line = tuple[str, str, str]


def answer_in_units() -> Callable[[str, Mapping[str, str], Mapping[str, str]], Any]:
    """Return the function of `calc.answering` that takes a key, entries and chosen units, whatever this commit calls it."""
    from calc import answering

    own = [one for name, one in vars(answering).items() if inspect.isfunction(one) and not name.startswith("_")]
    found = [one for one in own if one.__module__ == answering.__name__ and len(inspect.signature(one).parameters) == 3]
    if len(found) != 1:
        raise SystemExit(f"calc.answering has {len(found)} functions of a key, entries and units: one is wanted.")
    return found[0]


def lines_of(thing: Any, place: str = "") -> Iterator[Line]:
    """Take a thing apart into lines, in the order of its fields."""
    if thing is None:
        return
    if isinstance(thing, str) and not isinstance(thing, Enum):
        yield place, "words", str(thing)
    elif isinstance(thing, (bool, int)):
        yield place, "number", str(thing)
    elif isinstance(thing, float):
        # Two orders of one sum differ in the last of 17 digits: nothing that is shown has so many.
        yield place, "number", f"{thing:.12g}"
    elif isinstance(thing, Mapping):
        for name, held in thing.items():
            yield from lines_of(held, f"{place}.{name}")
    elif isinstance(thing, (tuple, list)):
        for number, held in enumerate(thing):
            yield from lines_of(held, f"{place}[{number}]")
    elif is_dataclass(thing):
        yield from _lines_of_fields(thing, place)
    else:
        yield place, "words", str(thing)


def _lines_of_fields(thing: Any, place: str) -> Iterator[Line]:
    names = [one.name for one in fields(thing)]
    if {"suffix", "sign", "decimals"} <= set(names):
        yield place, "number", f"{thing.suffix}, {thing.sign}, {thing.decimals} decimals"
        return
    yield f"{place}:type", "words", type(thing).__name__
    is_figure = "__str__" in vars(type(thing))
    if is_figure:
        yield f"{place}:shown", "number", str(thing)
    for name in names:
        for at, kind, text in lines_of(getattr(thing, name), f"{place}.{name}"):
            # Words inside of a figure say how it is rounded.
            yield at, "number" if is_figure else kind, text


def main(questions: Path, answers: Path) -> None:
    ask = answer_in_units()
    found = []
    for question in json.loads(questions.read_text(encoding="utf-8")):
        try:
            found.append(list(lines_of(ask(question["key"], question["entries"], question["units"]))))
        except Exception as fault:  # noqa: BLE001  # a fault of that commit's is to be compared like an answer
            found.append([("fault", "number", f"{type(fault).__name__}: {fault}")])
    answers.write_text(json.dumps(found, ensure_ascii=False), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
