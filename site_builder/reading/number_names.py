"""content/number-names.toml -> what each number of `calc.facts` is called on the page of what each document gives."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import Field, RootModel

from site_builder.reading.faults import ContentFault
from site_builder.reading.tables import read_table

_Name = Annotated[str, Field(min_length=1)]


class _Table(RootModel[dict[str, _Name]]):
    pass


@dataclass(frozen=True, slots=True)
class NumberNames:
    """The names, each by what the number is called in the code."""

    names: dict[str, str]
    file: Path

    def of(self, way: list[str]) -> str:
        """Return the name of the last field on a way that has one, with its row: what stands on the way besides.

        Raises:
            ContentFault: none of them has.
        """
        for place in range(len(way) - 1, -1, -1):
            if name := self.names.get(way[place]):
                row = way[-1] if place < len(way) - 1 else way[max(place - 1, 0)]
                return name.replace("{row}", row)
        raise ContentFault(self.file, f'`{way[-1]}` is a number of calc/facts and has no name. Add a line: {way[-1]} = "What it is"')

    def must_be_of(self, known: Set[str]) -> None:
        """Raise a ContentFault where a name stands for no number."""
        for name in self.names:
            if name not in known:
                raise ContentFault(self.file, f"`{name}` is no number of calc/facts. Take it out, or correct its name.")


def read_number_names(file: Path) -> NumberNames:
    """Return the names.

    Raises:
        ContentFault: the file is no table of names.
    """
    return NumberNames(read_table(_Table, file.read_text(encoding="utf-8"), file).root, file)
