"""TOML -> checked objects. What does not fit is a `ContentFault` that names the line."""

import re
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from site_builder.reading.faults import ContentFault

Model = TypeVar("Model", bound=BaseModel)


class Strict(BaseModel):
    """A table in which a key that nobody knows is a fault, and which stays as it was read."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


def read_table(model: type[Model], toml: str, file: Path, first_line: int = 1) -> Model:
    """Return the table that `toml` holds. `first_line` is its place in the file."""
    try:
        return model.model_validate(tomllib.loads(toml))
    except tomllib.TOMLDecodeError as broken:
        at = re.search(r"at line (\d+)", str(broken))
        # Without a line number the text broke off at its end.
        line = first_line + (int(at[1]) - 1 if at else toml.count("\n"))
        sentence = f"This is not TOML: {broken}. Put the line right; text stands in quotation marks."
        raise ContentFault(file, sentence, line) from broken
    except ValidationError as misfit:
        first = misfit.errors()[0]
        where = [str(part) for part in first["loc"]]
        sentence = _sentence(first["type"], first["msg"], ".".join(where))
        raise ContentFault(file, sentence, _line(toml, where, first_line)) from misfit


def _sentence(kind: str, message: str, name: str) -> str:
    if kind == "extra_forbidden":
        return f"`{name}` is not known here. Take it out, or correct its name."
    if kind == "missing":
        return f"`{name}` is missing. Add it."
    return f"`{name}` does not fit: {message.removeprefix('Value error, ')}."


def _line(toml: str, where: list[str], first_line: int) -> int | None:
    """Return the line of the key, or of the nearest table above it."""
    for depth in range(len(where), 0, -1):
        table, key = ".".join(where[: depth - 1]), where[depth - 1]
        for number, heading, name in _places(toml, first_line):
            if (name is None and heading == ".".join(where[:depth])) or (name == key and heading == table):
                return number
    return None


def _places(toml: str, first_line: int) -> Iterator[tuple[int, str, str | None]]:
    """Yield each heading and each key: its line, the table that it stands in, and its name. A list's tables are counted from 0."""
    heading = ""
    counts = Counter[str]()
    for number, line in enumerate(toml.splitlines(), first_line):
        found = re.match(r"\s*(?:\[\[([^\]]+)\]\]|\[([^\]]+)\]|([\w-]+)\s*=)", line)
        if not found:
            continue
        listed, table, key = found.groups()
        if listed:
            above, _, own = listed.rpartition(".")
            within = f"{above}.{counts[above] - 1}.{own}" if above else own
            heading = f"{within}.{counts[within]}"
            counts[within] += 1
        elif table:
            heading = table
        yield number, heading, key
